package main

import (
	"fmt"
	"io"
	"regexp"
	"strconv"
	"strings"

	"slipleaf/build/block"
	"slipleaf/build/journal"
	"slipleaf/build/quantity"
)

// codeAlphabet are the 32 letters of codes: no i, l, o or u, which are misread or make words.
const codeAlphabet = "0123456789abcdefghjkmnpqrstvwxyz"

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

// record is a parcel as send writes it down.
type record struct {
	lot   string
	count int
	on    quantity.Date
	sent  bool // else promised
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
	b.WriteString("---\n")
	line("lot", r.lot)
	line("count", strconv.Itoa(r.count))
	if r.sent {
		line("sent", r.on.String())
	} else {
		line("reserved", r.on.String())
	}
	line("how", r.about.How)
	line("code", r.code)
	if r.about.UnitsSaid {
		line("units", map[quantity.System]string{quantity.Metric: "metric", quantity.US: "us"}[r.about.Units])
	}
	line("region", r.about.Region)
	line("water", waterYAML(r.about.Water))
	if t := tankYAML(r.about.Tank); t != "" {
		b.WriteString("tank:\n" + t)
	}
	if r.about.Name != "" {
		line("private", "{name: "+quoted(r.about.Name)+"}")
	}
	b.WriteString("---\n")
	return []byte(b.String())
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
	return flow("temperature", p.Temperature.String(), "ph", p.PH.String(), "gh", p.GH.String(), "kh", p.KH.String(), "conductivity", p.Conductivity.String())
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
