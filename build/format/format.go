// Package format is the format of a journal's files as one table: every mapping, its keys, what may be behind each, an
// example, and a line of help in English and German. The reader, the schemas, the help of the forms and the page of all
// keys come from it. It is pure data.
package format

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"sync"

	"slipleaf/build/quantity"
)

// Kind is what kind of value a key has.
type Kind uint8

// The kinds of values.
const (
	Line     Kind = iota // words on one line
	Text                 // words, on several lines if need be
	Date                 // a day: 2026-04-18
	Truth                // true, false or unknown
	Whole                // a whole number from Low to High
	Hours                // hours of a day, without a unit
	Word                 // one of Words
	Amount               // a quantity of the kind Of, with its unit
	Removed              // what a trim took: a share, parts, a mass or a length
	Address              // an http or https address
	Site                 // the address of the site itself
	Requests             // a mailto or https address with {lot} and {plant} to fill in
	NewFile              // an https address with {path} and {text} to fill in
	Region               // ISO 3166-1 or -2
	Language             // BCP 47
	Zone                 // a timezone's IANA name
	Folder               // a folder of the journal
	LotName              // a lot's name
	TankName             // a tank's folder
	Plant                // a plant's id or any name that is known for it
	Code                 // a sheet's code
	Private              // any keys with words, never published
	Part                 // the mapping of that name
)

// Value is what may be behind a key.
type Value struct {
	Kind      Kind
	Of        quantity.Kind // of an Amount
	Zero      bool          // of an Amount: nothing is possible too, where its kind must be more than 0
	Words     []string      // of a Word
	Low, High int           // of a Whole, both included
	Part      string        // the mapping's name, of a Part
	List      bool          // several of them
	ByPlant   bool          // one for each plant, by its id
	OrAll     bool          // or the word all
}

// Key is a key of a mapping.
type Key struct {
	Name    string
	Is      Value
	Help    Help
	Example any // a right value; nil where the part has its own
}

// Help is a line of help, in English and German.
type Help struct{ EN, DE string }

// In is the help in a language, by its BCP 47 tag: German for de and its regions, English for all others.
func (h Help) In(language string) string {
	if base, _, _ := strings.Cut(language, "-"); base == "de" {
		return h.DE
	}
	return h.EN
}

// Mapping is one mapping of the format: the head of a kind of file, or a part of one.
type Mapping struct {
	Name  string // journal, tank, entry, plant, sent, page, and the parts
	Task  Task   // what the grower is doing who writes it
	Help  Help
	Needs []string // keys that must be there
	Any   []string // keys of which one must be there; several in one string, apart by a space, go together
	Pair  []string // two keys that go together or not at all
	Keys  []Key
}

// Sample is the mapping on one line with the keys that it needs, as a hint has it.
func (m Mapping) Sample() string {
	want := slices.Clone(m.Needs)
	if len(m.Any) > 0 {
		want = append(want, strings.Fields(m.Any[0])...)
	}
	if len(want) == 0 {
		want = []string{m.Keys[0].Name}
	}
	var out []string
	for _, k := range m.Keys {
		if slices.Contains(want, k.Name) && k.Example != nil {
			text := fmt.Sprint(k.Example)
			switch k.Example.(type) {
			case []int, []string:
				text = strings.ReplaceAll(text, " ", ", ")
			case string:
				if strings.ContainsAny(text, "{}[]") {
					text = strconv.Quote(text)
				}
			}
			out = append(out, k.Name+": "+text)
		}
	}
	return "{" + strings.Join(out, ", ") + "}"
}

// Task is what a grower does when writing a key.
type Task uint8

// The tasks, in the order in which a grower meets them.
const (
	Begin Task = iota
	Tank
	Diary
	Offer
	Send
	OwnPlant
	OwnPage
)

// Most is the highest count that is taken: nobody has grown more of a plant at home.
const Most = 1_000_000

// Heads are the mappings that are heads of files; all others are parts.
var Heads = [...]string{"journal", "tank", "entry", "plant", "sent", "page"}

// Mappings gives the whole table, heads and parts, by task.
func Mappings() []Mapping { return slices.Clone(mappings()) }

// mappings are put together once: every command reads heads.
var mappings = sync.OnceValue(func() []Mapping {
	return slices.Concat(journalMappings(), tankMappings(), entryMappings(), sentMappings(), plantMappings())
})

// Find gives the mapping of a name.
func Find(name string) (Mapping, bool) {
	all := mappings()
	if i := slices.IndexFunc(all, func(m Mapping) bool { return m.Name == name }); i >= 0 {
		return all[i], true
	}
	return Mapping{}, false
}

// Key finds a key by its name.
func (m Mapping) Key(name string) (Key, bool) {
	if i := slices.IndexFunc(m.Keys, func(k Key) bool { return k.Name == name }); i >= 0 {
		return m.Keys[i], true
	}
	return Key{}, false
}

// Names lists the keys.
func (m Mapping) Names() []string {
	out := make([]string, len(m.Keys))
	for i, k := range m.Keys {
		out[i] = k.Name
	}
	return out
}

func of(k Kind) Value              { return Value{Kind: k} }
func amount(k quantity.Kind) Value { return Value{Kind: Amount, Of: k} }
func whole(low, high int) Value    { return Value{Kind: Whole, Low: low, High: high} }
func word(words ...string) Value   { return Value{Kind: Word, Words: words} }
func part(name string) Value       { return Value{Kind: Part, Part: name} }
func listOf(v Value) Value         { v.List = true; return v }
func orNothing(v Value) Value      { v.Zero = true; return v }
func key(name string, is Value, en, de string, example any) Key {
	return Key{name, is, Help{en, de}, example}
}
