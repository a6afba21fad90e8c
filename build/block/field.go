package block

import (
	"cmp"
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"slipleaf/build/journal"
	"slipleaf/build/quantity"
	"slipleaf/build/spelling"
	"slipleaf/build/usual"
)

// field is a key of the block: how its value is read into it, how it is printed out of it ("" where it says nothing),
// and an example for the empty form.
type field struct {
	key, example string
	read         func(b *Block, value string) error
	print        func(b *Block) string
}

// unasked is the example of a key that is read but not in the empty form, which is long enough.
const unasked = "-"

// fields are the keys in the order in which they are printed.
var fields = []field{
	saying("lot", "HZ-0603", ofBlock, func(b *Block) *string { return &b.Lot }),
	{"count", "6", func(b *Block, v string) error { return whole(v, &b.Count) }, func(b *Block) string { return printWhole(b.Count) }},
	measured("temperature", "24 C or 75 F", ofBlock, func(b *Block) *quantity.Reading[quantity.Temperature] { return &b.Water.Temperature }),
	measured("ph", "7.2", ofBlock, func(b *Block) *quantity.Reading[quantity.PH] { return &b.Water.PH }),
	measured("gh", "8 dGH or 140 ppm", ofBlock, func(b *Block) *quantity.Reading[quantity.Hardness] { return &b.Water.GH }),
	measured("kh", "5 dKH or 90 ppm", ofBlock, func(b *Block) *quantity.Reading[quantity.Alkalinity] { return &b.Water.KH }),
	measured("ammonia", unasked, ofBlock, func(b *Block) *quantity.Reading[quantity.Concentration] { return &b.Water.Ammonia }),
	measured("nitrite", unasked, ofBlock, func(b *Block) *quantity.Reading[quantity.Concentration] { return &b.Water.Nitrite }),
	measured("conductivity", "300 uS/cm", ofBlock, func(b *Block) *quantity.Reading[quantity.Conductivity] { return &b.Water.Conductivity }),
	measured("par", "60 umol/m2/s at the bottom", ofBlock, func(b *Block) *quantity.Reading[quantity.PhotonFlux] { return &b.Water.Light }),
	measured("lux", "or 4000 lux at the bottom", ofBlock, func(b *Block) *quantity.Reading[quantity.Illuminance] { return &b.Water.Lux }),
	measured("tank length", "60 cm or 24 in", ofTank, func(t *journal.Recipient) *quantity.Reading[quantity.Length] { return &t.Inside.Length }),
	measured("tank width", "30 cm", ofTank, func(t *journal.Recipient) *quantity.Reading[quantity.Length] { return &t.Inside.Width }),
	measured("tank height", "36 cm", ofTank, func(t *journal.Recipient) *quantity.Reading[quantity.Length] { return &t.Inside.Height }),
	measured("water depth", "28 cm, from the surface to the substrate", ofTank, func(t *journal.Recipient) *quantity.Reading[quantity.Length] { return &t.WaterDepth }),
	choosing("co2", "yes or no: do you add it?", ofTank, func(t *journal.Recipient) *journal.Tristate { return &t.CO2 },
		choice[journal.Tristate]{journal.Yes, "yes|y|injected|true"}, choice[journal.Tristate]{journal.No, "no|n|none|false"}),
	white(measured("lamp output", "1500 lm", ofLamp, func(l *journal.Lamp) *quantity.Reading[quantity.LuminousFlux] { return &l.Output })),
	saying("lamp kind", "white led", ofLamp, func(l *journal.Lamp) *string { return &l.Kind }),
	measured("lamp power", "or 30 W", ofLamp, func(l *journal.Lamp) *quantity.Reading[quantity.Power] { return &l.Power }),
	measured("lamp efficacy", "with 2.2 umol/J", ofLamp, func(l *journal.Lamp) *quantity.Reading[quantity.Efficacy] { return &l.Efficacy }),
	measured("lamp length", "50 cm", ofLamp, func(l *journal.Lamp) *quantity.Reading[quantity.Length] { return &l.Length }),
	measured("lamp above water", "6 cm", ofLamp, func(l *journal.Lamp) *quantity.Reading[quantity.Length] { return &l.AboveWater }),
	{"light hours", "8", readHours, printHours},
	saying("substrate", "plain gravel", ofLayer, func(l *journal.Layer) *string { return &l.Material }),
	measured("substrate depth", "5 cm", ofLayer, func(l *journal.Layer) *quantity.Reading[quantity.Length] { return &l.Depth }),
	choosing("substrate nutrients", "none, some or rich", ofLayer, func(l *journal.Layer) *string { return &l.Nutrients },
		choice[string]{"none", "none"}, choice[string]{"some", "some"}, choice[string]{"rich", "rich"}),
	{"livestock", "20 small tetras, 3 snails", readLivestock, printLivestock},
	measured("floating", "30 %, of the surface under floating plants", ofTank, func(t *journal.Recipient) *quantity.Reading[quantity.Share] { return &t.Floating }),
	{"region", "GB, or US-OH", func(b *Block, v string) error { return readRegion(b, v) }, func(b *Block) string { return b.Region }},
	{"units", "metric or us", readUnits, printUnits},
	{"language", "en or de, for the care sheet", readLanguage, func(b *Block) string { return b.Language }},
	choosing("how", "post or by hand", ofBlock, func(b *Block) *string { return &b.How }, choice[string]{"post", "post|by post"}, choice[string]{"by-hand", "by-hand|hand"}),
	saying("name", "", ofBlock, func(b *Block) *string { return &b.Name }),
}

func fieldOf(key string) *field {
	for i := range fields {
		if fields[i].key == key {
			return &fields[i]
		}
	}
	return nil
}

// Keys lists the keys of the block in the order in which they are printed.
func Keys() []string {
	out := make([]string, len(fields))
	for i := range fields {
		out[i] = fields[i].key
	}
	return out
}

// ofBlock, ofTank, ofLamp and ofLayer are the parts of a block that fields speak of. Where nothing was said of a part it is nil, or
// made.
func ofBlock(b *Block, _ bool) *Block { return b }

func ofTank(b *Block, made bool) *journal.Recipient {
	if b.Tank == nil && made {
		b.Tank = new(journal.Recipient)
	}
	return b.Tank
}

func ofLamp(b *Block, made bool) *journal.Lamp {
	if t := ofTank(b, made); t != nil {
		return first(&t.Light, made)
	}
	return nil
}

func ofLayer(b *Block, made bool) *journal.Layer {
	if t := ofTank(b, made); t != nil {
		return first(&t.Substrate, made)
	}
	return nil
}

func first[T any](list *[]T, made bool) *T {
	if len(*list) == 0 {
		if !made {
			return nil
		}
		*list = make([]T, 1)
	}
	return &(*list)[0]
}

// printed prints what a part says.
func printed[P any](of func(b *Block, made bool) *P, says func(*P) string) func(b *Block) string {
	return func(b *Block) string {
		if p := of(b, false); p != nil {
			return says(p)
		}
		return ""
	}
}

func measured[P any, T quantity.Scalar](key, example string, of func(b *Block, made bool) *P, at func(*P) *quantity.Reading[T]) field {
	return field{key, example, func(b *Block, v string) error {
		var r quantity.Reading[T]
		err := reading(v, &r)
		if err == nil {
			*at(of(b, true)) = r
		}
		return err
	}, printed(of, func(p *P) string { return at(p).String() })}
}

func saying[P any](key, example string, of func(b *Block, made bool) *P, at func(*P) *string) field {
	return field{key, example, func(b *Block, v string) error {
		if v != "?" {
			*at(of(b, true)) = strings.Join(strings.Fields(v), " ")
		}
		return nil
	}, printed(of, func(p *P) string { return *at(p) })}
}

// choice is a value that a key can have, with the words for it; the first is printed.
type choice[V comparable] struct {
	value V
	words string // parted by |
}

func choosing[P any, V comparable](key, example string, of func(b *Block, made bool) *P, at func(*P) *V, choices ...choice[V]) field {
	return field{key, example, func(b *Block, v string) error {
		said, expected := strings.ReplaceAll(strings.ToLower(v), "-", " "), []string{}
		for _, c := range choices {
			all := strings.Split(strings.ReplaceAll(c.words, "-", " "), "|")
			if slices.Contains(all, said) {
				*at(of(b, true)) = c.value
				return nil
			}
			expected = append(expected, all[0])
		}
		if v == "?" {
			return nil
		}
		return fmt.Errorf("%q is not one of %s", spelling.Clip(v), strings.Join(expected, ", "))
	}, printed(of, func(p *P) string {
		for _, c := range choices {
			if *at(p) == c.value {
				word, _, _ := strings.Cut(c.words, "|")
				return word
			}
		}
		return ""
	})}
}

// white takes a lamp of which only the lumens are told for a white LED, as the sums do: a record needs its kind.
func white(f field) field {
	read := f.read
	f.read = func(b *Block, v string) error {
		err := read(b, v)
		if l := ofLamp(b, false); err == nil && l != nil && l.Output.Known() && l.Kind == "" {
			l.Kind = "white led"
		}
		return err
	}
	return f
}

// comma is a decimal comma: people write to a grower as they are used to. Three digits after it might be thousands.
var comma = regexp.MustCompile(`^(\d+),(\d{1,2})(\D|$)`)

// reading reads a quantity; its unit is never guessed.
func reading[T quantity.Scalar](v string, to *quantity.Reading[T]) error {
	r, err := quantity.Parse[T](comma.ReplaceAllString(v, "$1.$2$3"))
	if err != nil {
		return err
	}
	*to = r
	return nil
}

func whole(v string, to *int) error {
	word, _, _ := strings.Cut(v, " ")
	n, err := strconv.Atoi(word)
	if err != nil || n < 1 || n > 100_000 {
		return fmt.Errorf("%q is no count", spelling.Clip(v))
	}
	*to = n
	return nil
}

func printWhole(n int) string {
	if n == 0 {
		return ""
	}
	return strconv.Itoa(n)
}

func readHours(b *Block, v string) error {
	word, _, _ := strings.Cut(comma.ReplaceAllString(v, "$1.$2$3"), " ")
	h, err := strconv.ParseFloat(strings.TrimSuffix(word, "h"), 64)
	if err != nil || !(h > 0 && h <= 24) {
		return errors.New("the hours of a day are expected, as in 8")
	}
	ofLamp(b, true).Hours = h
	return nil
}

func printHours(b *Block) string {
	if l := ofLamp(b, false); l != nil && l.Hours > 0 {
		return strconv.FormatFloat(l.Hours, 'f', -1, 64)
	}
	return ""
}

// readLivestock reads "20 small tetras, 3 snails"; a kind without a number is kept without one.
func readLivestock(b *Block, v string) error {
	if v == "?" {
		return nil
	}
	var out []journal.Livestock
	for part := range strings.SplitSeq(v, ",") {
		words := strings.Fields(part)
		if len(words) == 0 {
			continue
		}
		l := journal.Livestock{Kind: strings.Join(words, " ")}
		if n, err := strconv.Atoi(words[0]); err == nil && n > 0 && n <= 100_000 && len(words) > 1 {
			l = journal.Livestock{Kind: strings.Join(words[1:], " "), Count: n}
		}
		if kind := said(l.Kind); kind != "" && kind != "?" {
			out = append(out, l)
		}
	}
	if len(out) == 0 {
		return nil
	}
	if len(livestock(out)) > MaxLine {
		return errLine
	}
	ofTank(b, true).Livestock = out
	return nil
}

func printLivestock(b *Block) string {
	if b.Tank == nil {
		return ""
	}
	return livestock(b.Tank.Livestock)
}

// livestock prints animals in the way in which they are read.
func livestock(all []journal.Livestock) string {
	var out []string
	for _, l := range all {
		s := l.Kind
		if l.Count > 0 {
			s = strconv.Itoa(l.Count) + " " + s
		}
		out = append(out, s)
	}
	return strings.Join(out, ", ")
}

// readLanguage takes a tag of BCP 47, or the name of a language that the program speaks.
func readLanguage(b *Block, v string) error {
	tag := cmp.Or(usual.Language(v), strings.ToLower(v))
	if !languageTag.MatchString(tag) {
		return errors.New("a language is written en or de")
	}
	b.Language = tag
	return nil
}

var languageTag = regexp.MustCompile(`^[a-z]{2,3}(-[a-z0-9]{2,8})?$`)

var region = regexp.MustCompile(`^[A-Za-z]{2}(-[A-Za-z0-9]{1,3})?$`)

func readRegion(b *Block, v string) error {
	if v == "?" {
		return nil
	}
	if !region.MatchString(v) {
		return fmt.Errorf("%q is no code of a country, such as GB, or of its part, such as US-OH", spelling.Clip(v))
	}
	b.Region = strings.ToUpper(v)
	return nil
}

func readUnits(b *Block, v string) error {
	switch strings.ToLower(v) {
	case "metric":
		b.Units = quantity.Metric
	case "us":
		b.Units = quantity.US
	default:
		return errors.New("metric or us is expected")
	}
	b.UnitsSaid = true
	return nil
}

func printUnits(b *Block) string {
	switch {
	case !b.UnitsSaid:
		return ""
	case b.Units == quantity.US:
		return "us"
	}
	return "metric"
}

// String prints the block with the lines that say something. [Parse] reads it back to an equal block.
func (b Block) String() string { return b.lines(false) }

// Form prints the block to be filled in: what b says already, and an example in brackets behind every other key.
func (b Block) Form() string { return b.lines(true) }

func (b Block) lines(form bool) string {
	var s strings.Builder
	s.WriteString(begin + "\n")
	for i := range fields {
		f := &fields[i]
		v := f.print(&b)
		switch {
		case v != "":
			v = " " + closed(v)
		case !form || f.example == unasked:
			continue
		case f.example != "":
			v = " (" + f.example + ")"
		}
		s.WriteString(f.key + ":" + v + "\n")
	}
	s.WriteString(end + "\n")
	return s.String()
}

// closed puts empty brackets behind a value that ends in its own, which would else be read as an example.
func closed(v string) string {
	if strings.HasSuffix(v, ")") {
		return v + " ()"
	}
	return v
}

// ReplaceOver lays what is said in c over b, key by key.
func (b Block) ReplaceOver(c Block) Block {
	for i := range fields {
		if v := fields[i].print(&c); v != "" {
			_ = fields[i].read(&b, v) // what was printed can be read: a law of the tests
		}
	}
	return b
}
