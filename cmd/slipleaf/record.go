package main

import (
	"fmt"
	"io"
	"regexp"
	"slipleaf/build/change"
	"strconv"
	"strings"

	"slipleaf/build/block"
	"slipleaf/build/journal"
	"slipleaf/build/quantity"
)

// codeAlphabet are the 32 letters of codes: no i, l, o or u, which are misread or make words.
const codeAlphabet = "0123456789abcdefghjkmnpqrstvwxyz"

// codeLength is how many letters a code has: 125 random bits.
const codeLength = 25

// mint draws letters of the alphabet, five random bits each.
func mint(random io.Reader, letters int) (string, error) {
	b := make([]byte, letters)
	if _, err := io.ReadFull(random, b); err != nil {
		return "", fmt.Errorf("no randomness for the code: %w", err)
	}
	for i := range b {
		b[i] = codeAlphabet[b[i]&31] // 256 is a multiple of 32, so that no letter is favoured
	}
	return string(b), nil
}

// record is a parcel as reserve and send write it down.
type record struct {
	items []journal.Item
	on    quantity.Date
	sent  bool // else reserved
	code  string
	about block.Block
}

// text writes the record's file.
func (r record) text() []byte {
	var b strings.Builder
	line := func(key, value string) {
		if value != "" {
			b.WriteString(key + ": " + value + "\n")
		}
	}
	b.WriteString("---\n" + plantsText(r.items))
	line(stateKey(r.sent), r.on.String())
	line("code", r.code)
	for _, k := range aboutKeys(r.about) {
		b.WriteString(k.text)
	}
	if r.about.Name != "" {
		line("private", "{name: "+quoted(r.about.Name)+"}")
	}
	b.WriteString("---\n")
	return []byte(b.String())
}

// keyText is a key of a head with its lines.
type keyText struct{ key, text string }

// aboutKeys writes what is known of a recipient.
func aboutKeys(about block.Block) []keyText {
	var out []keyText
	add := func(key, value string) {
		if value != "" {
			out = append(out, keyText{key, key + ": " + value + "\n"})
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
		out = append(out, keyText{"tank", "tank:\n" + t})
	}
	return out
}

// sends is the record of a reservation with its plants sent: the date, the plants, a code where it has none, and what has
// become known of the recipient. Every other byte of the file stays.
func (x *draft) sends(p *journal.Parcel, items []journal.Item, about block.Block) error {
	d := x.d
	old, err := d.bytesOf(p)
	if err != nil {
		return err
	}
	data, ok := withKey(old, "sent", d.on.String(), "reserved")
	if ok {
		data, ok = withPlants(data, p.Record(), items)
	}
	if ok {
		data, ok = d.withCode(p, data, "sent")
	}
	if ok {
		data, ok = x.corrected(p, data, about)
	}
	if !ok {
		return wrongUse("I can't edit %s safely; add this line by hand: sent: %s", shownPath(d.dir, p.Path), d.on)
	}
	x.put(change.File{Path: p.Path, Before: old, After: data}, items)
	return nil
}

// withCode is a record with a code, which one that was written by hand may lack.
func (d *desk) withCode(p *journal.Parcel, data []byte, behind string) ([]byte, bool) {
	if p.Code != "" || hasKey(data, "code") {
		return data, true
	}
	code, err := mint(d.w.Random, codeLength)
	if err != nil {
		return nil, false
	}
	return withKey(data, "code", code, behind)
}

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
	switch t.CO2 {
	case journal.Yes:
		line("co2", "{injected: true}")
	case journal.No:
		line("co2", "{injected: false}")
	}
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

// word writes a text as YAML: plain where that is safe, else in quotes.
func word(s string) string {
	switch strings.ToLower(s) {
	case "", "true", "false", "null", "yes", "no", "on", "off":
	default:
		if plainWords.MatchString(s) {
			return s
		}
	}
	if s == "" {
		return ""
	}
	return quoted(s)
}

// quoted writes a text in double quotes; the escapes of Go that it can need are those of YAML too.
func quoted(s string) string { return strconv.Quote(s) }
