// Package compose writes a diary entry from what a form says: always the same text for the same form, which the journal's
// reader reads back to what was said. It knows no disk and no page.
package compose

import (
	"reflect"
	"strings"
)

// Entry is what a form says of a tank on a day. Values are written as the format writes them: "24.6 C", "31 cm", "12".
// Empty ones were not filled in.
type Entry struct {
	Title       string     `json:"title"`
	Parameters  []Reading  `json:"parameters"` // in the order of the format
	Counts      []Count    `json:"counts"`
	Plantings   []Planting `json:"plantings"`
	Trims       []Trim     `json:"trims"`
	Losses      []Loss     `json:"losses"`
	WaterChange Change     `json:"water-change"`
	Lots        []Lot      `json:"lots"`
	StillThere  []string   `json:"still-there"` // names of lots
	Photos      []Photo    `json:"photos"`
	Words       string     `json:"words"` // Markdown
}

// Reading is one parameter of the water by its key.
type Reading struct {
	Key   string `json:"key"`
	Value string `json:"value"`
}

// Amount is how much of a plant, in the measures that were counted.
type Amount struct {
	Stems     string `json:"stems"`
	Plantlets string `json:"plantlets"`
	Leaves    string `json:"leaves"`
	Length    string `json:"length"`
	Cover     string `json:"cover"`
	Mass      string `json:"mass"`
	Area      string `json:"area"`
}

// Count is how much of a plant there is, before any cutting.
type Count struct {
	Plant string `json:"plant"`
	Amount
}

// Planting is plants put in.
type Planting struct {
	Plant string `json:"plant"`
	Amount
	From string `json:"from" is:"words"`
}

// Trim is what was cut of a plant.
type Trim struct {
	Plant     string `json:"plant"`
	Cuttings  string `json:"cuttings"`
	Length    string `json:"length"`
	Replanted string `json:"replanted"`
	Removed   string `json:"removed"`
}

// Loss is plants of the tank that died or, with Lot, Count plants of a lot's stock.
type Loss struct {
	Plant string `json:"plant"`
	Amount
	Lot   string `json:"lot"`
	Count string `json:"count"`
	Cause string `json:"cause" is:"words"`
}

// Change is the part of the water that was changed, and for what.
type Change struct {
	Share string `json:"share"`
	With  string `json:"with" is:"words"`
}

// Lot is plants that are offered.
type Lot struct {
	Lot          string `json:"lot"`
	Plant        string `json:"plant"`
	Form         string `json:"form"`
	Count        string `json:"count"`
	Ready        string `json:"ready"`
	ReceivedAs   string `json:"received-as" is:"words"`
	Identity     string `json:"identity"`
	Grown        string `json:"grown"`
	SubmersedFor string `json:"submersed-for"`
	Length       string `json:"length"`
	Rooted       string `json:"rooted"`
	Pests        string `json:"pests" is:"words"`
	Dips         string `json:"dips" is:"words"`
	Copper       string `json:"copper" is:"words"`
}

// Photo is a picture and what it shows.
type Photo struct {
	File string `json:"file" is:"words"`
	Alt  string `json:"alt" is:"words"`
}

// Text is the entry's file.
func (e Entry) Text() string {
	var b strings.Builder
	b.WriteString("---\n")
	if t := Line(e.Title); t != "" {
		b.WriteString("title: " + Quoted(t) + "\n")
	}
	var water []pair
	for _, r := range e.Parameters {
		water = append(water, pair{r.Key, r.Value, false})
	}
	section(&b, "parameters", flow(water))
	list(&b, "counts", e.Counts)
	list(&b, "plantings", e.Plantings)
	list(&b, "trims", e.Trims)
	list(&b, "losses", e.Losses)
	section(&b, "water-change", flow(pairs(e.WaterChange)))
	list(&b, "lots", e.Lots)
	section(&b, "still-there", names(e.StillThere))
	list(&b, "photos", e.Photos)
	b.WriteString("---\n")
	if w := body(e.Words); w != "" {
		b.WriteString("\n" + w + "\n")
	}
	return b.String()
}

// Empty reports whether a form says nothing but a title.
func (e Entry) Empty() bool {
	e.Title = ""
	return e.Text() == Entry{}.Text()
}

// pair is a key with its value; words are always quoted.
type pair struct {
	key, value string
	words      bool
}

// pairs are the keys of a mapping with their values, in the order of its fields.
func pairs(mapping any) []pair {
	v := reflect.ValueOf(mapping)
	var out []pair
	for _, f := range reflect.VisibleFields(v.Type()) {
		if !f.Anonymous {
			out = append(out, pair{f.Tag.Get("json"), v.FieldByIndex(f.Index).String(), f.Tag.Get("is") == "words"})
		}
	}
	return out
}
