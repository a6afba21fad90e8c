package journal

import (
	"fmt"
	"reflect"
	"regexp"
	"slices"
	"strings"

	"slipleaf/build/format"
	"slipleaf/build/head"
	"slipleaf/build/quantity"
	"slipleaf/build/spelling"
	"slipleaf/build/usual"
)

// decoder reads the head of one file. What it finds depends on that file and the limits alone.
type decoder struct {
	file   string
	limits Limits
	scan   *head.Scanner
	out    Complaints
	more   int // complaints that are not listed
	fixes  []usual.Fix
	blanks bool // a key without a value is one that was left blank
	blank  bool // there is one
}

// maxComplaints is how many complaints are made of one file: whoever has more begins with the first.
const maxComplaints = 200

func (d *decoder) complain(r rule, line, column int, message, hint string) {
	if len(d.out) >= maxComplaints {
		if d.more++; d.more > 1 {
			return
		}
		r, hint = ruleLimit, "fix the ones above first"
	}
	d.out = append(d.out, complaint(r, d.file, line, column, message, hint))
}

func (d *decoder) at(n *head.Node, r rule, message, hint string) {
	line, column := n.Place()
	d.complain(r, line, column, message, hint)
}

// mapping reads the keys of n into to, which is of b's type, complaining of every key that b does not have.
func (d *decoder) mapping(n *head.Node, b *binding, to reflect.Value) bool {
	if n.Faulty { // an alias in a list: said already
		return false
	}
	if n.Shape != head.Mapping {
		d.at(n, ruleWrongShape, fmt.Sprintf("expected keys and values such as {%s: …}, but this is %s", b.Keys[0].Name, n.Describe()), "write it as in "+b.Sample())
		return false
	}
	seen := make(map[string]bool, len(n.Kids))
	for i := range n.Kids {
		kid := &n.Kids[i]
		k := b.index(kid.Key)
		if k < 0 {
			k = d.writtenOtherwise(kid, b)
		}
		again := seen[kid.Key]
		seen[kid.Key] = true
		switch {
		case kid.Faulty:
		case again:
			d.duplicate(kid)
		case k < 0:
			d.unknownKey(kid, b.Names())
		case kid.Shape == head.Nothing && d.blanks:
			d.blank = true
		case kid.Shape == head.Nothing:
			d.at(kid, ruleNoValue, fmt.Sprintf("%q has no value", kid.Key), "give a value, write unknown, or delete the key")
		case d.commaMissing(kid, b, k):
		case b.Keys[k].Is.ByPlant:
			d.byPlant(kid, b.parts[k], b.at(k, to))
		case b.parts[k] != nil && b.Keys[k].Is.List:
			d.list(kid, b.parts[k], b.at(k, to))
		case b.parts[k] != nil:
			d.part(kid, b.parts[k], b.at(k, to))
		case b.Keys[k].Is.OrAll && d.all(kid, to.Addr().Interface()):
		default:
			d.value(kid, b.Keys[k].Is, b.at(k, to).Addr().Interface())
		}
	}
	if d.blanks { // what is looked at next finds a blank key missing
		n.Kids = slices.DeleteFunc(n.Kids, func(kid head.Node) bool { return kid.Shape == head.Nothing && !kid.Faulty })
	}
	return true
}

var keyWithin = regexp.MustCompile(`\s([a-z][a-z-]*):\s`)

// commaMissing complains of a value that holds a key of its own mapping: {plant: anubias-barteri leaves: 3}.
func (d *decoder) commaMissing(n *head.Node, b *binding, k int) bool {
	if !strings.Contains(n.Text, ": ") {
		return false
	}
	m := keyWithin.FindStringSubmatch(n.Text)
	if kind := b.Keys[k].Is.Kind; m == nil || kind == format.Line || kind == format.Text || !slices.Contains(b.Names(), m[1]) {
		return false
	}
	d.at(n, ruleWrongShape, fmt.Sprintf("%s is followed by another key: %s", n.Key, n.Describe()), "put a comma before "+m[1]+":")
	return true
}

// part reads a mapping within another; one behind a pointer is made.
func (d *decoder) part(n *head.Node, b *binding, to reflect.Value) {
	if to.Kind() == reflect.Pointer {
		to.Set(reflect.New(b.typ))
		to = to.Elem()
	}
	if blank := d.blanks && leftBlank(n.Key, n); d.mapping(n, b, to) && blank {
		to.SetZero()
	}
}

// list reads a sequence of mappings, and checks each.
func (d *decoder) list(n *head.Node, b *binding, to reflect.Value) {
	if n.Shape != head.Sequence {
		d.at(n, ruleWrongShape, fmt.Sprintf("%s must be a list, but this is %s", n.Key, n.Describe()), "write a line for each, as in: - "+b.Sample())
		return
	}
	out := reflect.MakeSlice(to.Type(), len(n.Kids), len(n.Kids))
	there := 0
	for i := range n.Kids {
		kid, item := &n.Kids[i], out.Index(there)
		blank := d.blanks && leftBlank(n.Key, kid)
		if blank && kid.Shape == head.Nothing {
			d.blank = true
			continue
		}
		if ok := d.mapping(kid, b, item); blank {
			item.SetZero()
			continue
		} else if ok && b.check != nil {
			b.check(d, kid, item.Addr().Interface())
		}
		there++
	}
	to.Set(out.Slice(0, there))
}

// value reads what is no mapping into the place of a key. The kind of the key says what may be written, the type of the
// place what is kept of it.
func (d *decoder) value(n *head.Node, v format.Value, to any) {
	switch to := to.(type) {
	case *string:
		*to = d.word(n, v)
	case *quantity.Date:
		*to = d.date(n)
	case *Tristate:
		*to = d.yes(n)
	case *bool:
		*to = d.yes(n) == Yes
	case *int:
		*to, _ = d.whole(n, v.Low, v.High)
	case **int:
		if i, ok := d.whole(n, v.Low, v.High); ok {
			*to = &i
		}
	case *float64:
		*to = d.hours(n)
	case *[]int:
		*to = d.months(n)
	case *[]string:
		*to = d.words(n, v)
	case *quantity.System:
		*to = d.units(n)
	case *Amount:
		*to = d.amount(n)
	case *Private:
		*to = d.private(n)
	default:
		quantities[v.Of](d, n, to, v.Zero)
	}
}

// words reads a list of words of a kind.
func (d *decoder) words(n *head.Node, v format.Value) (out []string) {
	if n.Shape != head.Sequence {
		d.at(n, ruleWrongShape, fmt.Sprintf("%s must be a list, but this is %s", n.Key, n.Describe()), "put it in [ ]")
		return nil
	}
	for i := range n.Kids {
		out = append(out, d.word(&n.Kids[i], v))
	}
	return out
}

// word reads words of a kind.
func (d *decoder) word(n *head.Node, v format.Value) string {
	switch v.Kind {
	case format.Text:
		return d.text(n)
	case format.Word:
		return d.choice(n, v.Words...)
	case format.LotName:
		return d.lotName(n)
	case format.Code:
		return d.code(n)
	case format.Address:
		return d.address(n, "https", "http")
	case format.Site:
		return d.siteAddress(n)
	case format.Requests:
		return d.filledIn(n, "{lot}", "{plant}", "mailto", "https")
	case format.NewFile:
		return d.filledIn(n, "{path}", "{text}", "https")
	case format.Region:
		return d.region(n)
	case format.Language:
		return d.language(n)
	case format.Zone:
		return d.timezone(n)
	case format.Folder:
		return d.folder(n)
	}
	return d.line(n)
}

func (d *decoder) duplicate(kid *head.Node) {
	d.complain(ruleDuplicateKey, int(kid.KeyLine), int(kid.KeyColumn), fmt.Sprintf("%q appears twice", spelling.Clip(kid.Key)), "delete one")
}

func (d *decoder) unknownKey(kid *head.Node, keys []string) {
	if len(d.out) > maxComplaints { // a hint takes time, and would not be listed
		d.more++
		return
	}
	hint := ""
	first, rest, two := strings.Cut(kid.Key, " ")
	if two && kid.Shape == head.Nothing && slices.Contains(keys, first) {
		hint = fmt.Sprintf("write %s: %s, with a colon and a space", first, spelling.Clip(strings.TrimSpace(rest)))
	} else if near := spelling.Nearest(kid.Key, keys); near != "" {
		hint = "did you mean " + near + "?"
	} else if kid.Shape == head.Nothing && kid.Key != "" && kid.Key[0] >= '0' && kid.Key[0] <= '9' {
		hint = "use a decimal point, not a comma; put text with commas in quotes"
	}
	d.complain(ruleUnknownKey, int(kid.KeyLine), int(kid.KeyColumn),
		fmt.Sprintf("unknown key %q; keys allowed here: %s", spelling.Clip(kid.Key), strings.Join(keys, ", ")), hint)
}

// writtenOtherwise finds the key that is written in capitals, or with another sign for its hyphen; -1 if there is none.
func (d *decoder) writtenOtherwise(kid *head.Node, b *binding) int {
	i := b.index(usual.Key(strings.TrimSpace(kid.Key)))
	if i >= 0 {
		d.rename(kid, b.Keys[i].Name)
	}
	return i
}

// rename takes a key for another.
func (d *decoder) rename(kid *head.Node, as string) {
	if kid.Key != as {
		d.fixes = append(d.fixes, usual.Fix{Line: int(kid.KeyLine), Column: int(kid.KeyColumn), Old: kid.Key, As: as})
		kid.Key = as
	}
}

// need complains of a mapping without a key.
func (d *decoder) need(n *head.Node, key, of string) bool {
	if n.Child(key) != nil {
		return true
	}
	d.at(n, ruleMissingKey, of+" needs "+key, "")
	return false
}
