// Package record writes the text of a record under sent/, and changes it without touching another byte of what the grower
// wrote there. It knows the ways in which such texts are usually written and says so where it meets another one.
package record

import (
	"fmt"
	"io"
	"maps"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"slipleaf/build/block"
	"slipleaf/build/journal"
	"slipleaf/build/quantity"
)

// codeAlphabet are the 32 letters of codes: no i, l, o or u, which are misread or make words.
const codeAlphabet = "0123456789abcdefghjkmnpqrstvwxyz"

// CodeLength is how many letters a code has: 125 random bits.
const CodeLength = 25

// NewCode draws letters of the alphabet, five random bits each: [CodeLength] for a care sheet.
func NewCode(random io.Reader, letters int) (string, error) {
	b := make([]byte, letters)
	if _, err := io.ReadFull(random, b); err != nil {
		return "", fmt.Errorf("no randomness for the code: %w", err)
	}
	for i := range b {
		b[i] = codeAlphabet[b[i]&31] // 256 is a multiple of 32, so that no letter is favoured
	}
	return string(b), nil
}

// Record is what a new record says.
type Record struct {
	Items []journal.Item
	Plant string // that somebody waits for, where there are no items
	Count int    // of it; 0: not said
	State string // reserved, sent or asked
	On    quantity.Date
	Code  string // "" for a place on the waiting list
	About block.Block
}

// Text writes the record's file.
func (r Record) Text() []byte {
	var b strings.Builder
	line := func(key, value string) {
		if value != "" {
			b.WriteString(key + ": " + value + "\n")
		}
	}
	b.WriteString("---\n")
	if line("plant", r.Plant); r.Plant == "" {
		b.WriteString(PlantsText(r.Items))
	} else if r.Count > 0 {
		line("count", strconv.Itoa(r.Count))
	}
	line(r.State, r.On.String())
	line("code", r.Code)
	for _, k := range About(r.About) {
		b.WriteString(k.Text)
	}
	if r.About.Name != "" {
		line("private", "{name: "+quoted(r.About.Name)+"}")
	}
	b.WriteString("---\n")
	return []byte(b.String())
}

// PlantsText writes the plants of a record.
func PlantsText(items []journal.Item) string {
	if len(items) == 1 {
		return "lot: " + items[0].Lot + "\ncount: " + strconv.Itoa(items[0].Count) + "\n"
	}
	var b strings.Builder
	b.WriteString("items:\n")
	for _, i := range items {
		b.WriteString("  - {lot: " + i.Lot + ", count: " + strconv.Itoa(i.Count) + "}\n")
	}
	return b.String()
}

// ReportLine writes a report as an item of a list.
func ReportLine(on quantity.Date, lot, outcome, alive, cause string, water journal.Parameters) string {
	return flow("date", on.String(), "lot", lot, "outcome", outcome, "alive", alive, "cause", word(cause), "water", waterYAML(water))
}

// Key is a key of a head with its lines.
type Key struct{ Name, Text string }

// About writes what is known of a recipient.
func About(about block.Block) []Key {
	var out []Key
	add := func(key, value string) {
		if value != "" {
			out = append(out, Key{key, key + ": " + value + "\n"})
		}
	}
	add("how", about.How)
	if about.UnitsSaid {
		add("units", map[quantity.System]string{quantity.Metric: "metric", quantity.US: "us"}[about.Units])
	}
	add("language", about.Language)
	add("region", about.Region)
	add("water", waterYAML(about.Water))
	if t := tankYAML(about.Tank); t != "" {
		out = append(out, Key{"tank", "tank:\n" + t})
	}
	return out
}

// Private writes the private part of a record.
func Private(values map[string]string) Key {
	var pairs []string
	for _, k := range slices.Sorted(maps.Keys(values)) {
		name := k
		if !plainKey.MatchString(k) {
			name = quoted(k)
		}
		pairs = append(pairs, name, quoted(values[k]))
	}
	return Key{"private", "private: " + flow(pairs...) + "\n"}
}

var plainKey = regexp.MustCompile(`^[a-z][a-z0-9-]*$`)

// flow writes "{a: 1, b: 2}" of pairs of key and value without those that are empty; "" for none.
func flow(pairs ...string) string {
	var parts []string
	for i := 0; i+1 < len(pairs); i += 2 {
		if pairs[i+1] != "" {
			parts = append(parts, pairs[i]+": "+pairs[i+1])
		}
	}
	if len(parts) == 0 {
		return ""
	}
	return "{" + strings.Join(parts, ", ") + "}"
}

func waterYAML(p journal.Parameters) string {
	return flow("temperature", p.Temperature.String(), "ph", p.PH.String(), "gh", p.GH.String(), "kh", p.KH.String(), "conductivity", p.Conductivity.String(), "light", p.Light.String(), "lux", p.Lux.String())
}

func tankYAML(t *journal.Recipient) string {
	if t == nil {
		return ""
	}
	var b strings.Builder
	line := func(key, value string) {
		if value != "" {
			b.WriteString("  " + key + ": " + value + "\n")
		}
	}
	line("inside", flow("length", t.Inside.Length.String(), "width", t.Inside.Width.String(), "height", t.Inside.Height.String()))
	line("water-depth", t.WaterDepth.String())
	line("co2", map[journal.Tristate]string{journal.Yes: "{injected: true}", journal.No: "{injected: false}"}[t.CO2])
	for _, l := range t.Light {
		hours := ""
		if l.Hours > 0 {
			hours = strconv.FormatFloat(l.Hours, 'f', -1, 64)
		}
		line("light", "["+flow("power", l.Power.String(), "efficacy", l.Efficacy.String(), "output", l.Output.String(), "kind", word(l.Kind), "length", l.Length.String(),
			"above-water", l.AboveWater.String(), "hours", hours)+"]")
	}
	for _, l := range t.Substrate {
		line("substrate", "["+flow("material", word(l.Material), "depth", l.Depth.String(), "nutrients", l.Nutrients)+"]")
	}
	var stock []string
	for _, l := range t.Livestock {
		count := ""
		if l.Count > 0 {
			count = strconv.Itoa(l.Count)
		}
		stock = append(stock, flow("kind", word(l.Kind), "count", count))
	}
	if len(stock) > 0 {
		line("livestock", "["+strings.Join(stock, ", ")+"]")
	}
	line("floating", t.Floating.String())
	return b.String()
}

var plainWords = regexp.MustCompile(`^[A-Za-z][A-Za-z ]*$`)

// notWords are those that YAML, or an older YAML, reads as something else.
var notWords = []string{"true", "false", "null", "yes", "no", "on", "off"}

// word writes a text as YAML: plain where that is safe, else in quotes.
func word(s string) string {
	if s == "" || plainWords.MatchString(s) && !slices.Contains(notWords, strings.ToLower(s)) {
		return s
	}
	return quoted(s)
}

// quoted writes a text in double quotes; the escapes of Go that it can need are those of YAML too.
func quoted(s string) string { return strconv.Quote(s) }
