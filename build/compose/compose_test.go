package compose

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"slipleaf/build/almanac"
	"slipleaf/build/journal"
	"slipleaf/build/quantity"
)

const day = "2026-04-18"

// read gives an entry as the journal's reader reads it, in a journal with the tank alone.
func read(t rapid.TB, names *almanac.Almanac, text string, photos ...Photo) (*journal.Entry, journal.Complaints) {
	t.Helper()
	files := fstest.MapFS{
		"journal.yaml":                {Data: []byte("title: A bench\ngrower: K.\nlanguage: en\nunits: metric\n")},
		"tanks/trough/tank.md":        {Data: []byte("---\nname: The trough\nbegan: 2026-01-05\ninside: {length: 60 cm, width: 30 cm, height: 30 cm}\n---\n")},
		"tanks/trough/" + day + ".md": {Data: []byte(text)},
	}
	for _, p := range photos {
		files["photos/"+p.File] = &fstest.MapFile{Data: []byte("a picture")}
	}
	on, _ := quantity.ParseDate(day)
	j, cs, err := journal.Read(context.Background(), files, names, journal.Options{On: on.Add(30)})
	if err != nil {
		t.Fatal(err)
	}
	tank, ok := j.Tank("trough")
	if !ok || len(tank.Entries) != 1 {
		t.Fatalf("no entry was read of\n%s\n%v", text, cs)
	}
	return tank.Entries[0], cs
}

var plants = []string{"heteranthera-zosterifolia", "anubias-barteri", "cryptocoryne-wendtii", "vallisneria-spiralis", "taxiphyllum-barbieri"}

func number(low, high int) *rapid.Generator[string] {
	return rapid.Map(rapid.IntRange(low, high), func(n int) string { return fmt.Sprint(n) })
}

// maybe leaves a field empty half of the time.
func maybe(g *rapid.Generator[string]) *rapid.Generator[string] {
	return rapid.OneOf(rapid.Just(""), g)
}

func measured(low, high int, unit string) *rapid.Generator[string] {
	return rapid.Map(rapid.IntRange(low*10, high*10), func(n int) string { return strings.TrimSpace(quantityText(float64(n)/10) + " " + unit) })
}

func quantityText(f float64) string { return strings.TrimSuffix(fmt.Sprintf("%.1f", f), ".0") }

// typed are words as people and their enemies type them.
var typed = rapid.OneOf(rapid.String(), rapid.SampledFrom([]string{`"`, `\`, "a: b", "# no title", "- list", "{a: 1}", "null", "true", "it's", "a\r\nb", "---", "&x *y", "日本 ü ñ 🌱", "<script>", "%", "\u202eabc", "a\u2028b", "!tag", "1e5", " ", "x\ty"}))

// drawn draws a form that is filled in as a form can be: every field on its own, each plant counted once.
func drawn(t *rapid.T) Entry {
	e := Entry{Title: typed.Draw(t, "title")}
	for key, g := range map[string]*rapid.Generator[string]{"temperature": measured(10, 35, "C"), "ph": measured(4, 9, ""), "gh": measured(0, 30, "dGH"), "kh": measured(0, 20, "dKH"),
		"nitrate": rapid.OneOf(rapid.Just("<5 mg/L"), measured(1, 80, "mg/L")), "conductivity": measured(50, 900, "uS/cm")} {
		if v := maybe(g).Draw(t, key); v != "" {
			e.Parameters = append(e.Parameters, Reading{key, v})
		}
	}
	e.Parameters = InOrder(e.Parameters)
	for _, p := range plants {
		var a Amount
		switch rapid.IntRange(0, 5).Draw(t, "measure of "+p) {
		case 0:
			a = Amount{Stems: number(0, 99).Draw(t, "stems"), Length: maybe(measured(1, 60, "cm")).Draw(t, "length"), Area: maybe(measured(1, 9, "dm2")).Draw(t, "area")}
		case 1:
			a = Amount{Plantlets: number(0, 99).Draw(t, "plantlets")}
		case 2:
			a = Amount{Leaves: number(0, 99).Draw(t, "leaves")}
		case 3:
			a = Amount{Cover: measured(1, 100, "%").Draw(t, "cover"), Area: "4 dm2"}
		case 4:
			a = Amount{Mass: measured(1, 400, "g").Draw(t, "mass")}
		default:
			continue
		}
		e.Counts = append(e.Counts, Count{p, a})
		if rapid.Bool().Draw(t, "trim") {
			e.Trims = append(e.Trims, Trim{Plant: p, Cuttings: number(0, 40).Draw(t, "cuttings"), Length: maybe(measured(1, 30, "cm")).Draw(t, "length of cuttings")})
			if rapid.Bool().Draw(t, "offer") {
				e.Lots = append(e.Lots, Lot{Lot: fmt.Sprintf("L%d-0418", len(e.Lots)), Plant: p, Form: rapid.SampledFrom([]string{"", "cuttings", "divisions"}).Draw(t, "form"), Count: number(1, 40).Draw(t, "lot count"),
					Ready: maybe(rapid.Just("2026-05-02")).Draw(t, "ready"), Identity: rapid.SampledFrom([]string{"", "certain", "unsure"}).Draw(t, "identity"), Grown: rapid.SampledFrom([]string{"", "submersed", "emersed"}).Draw(t, "grown"),
					Rooted: rapid.SampledFrom([]string{"", "true", "false"}).Draw(t, "rooted"), Pests: typed.Draw(t, "pests"), SubmersedFor: maybe(rapid.Just("30 wk")).Draw(t, "for")})
			}
		}
	}
	if rapid.Bool().Draw(t, "planting") {
		e.Plantings = append(e.Plantings, Planting{Plant: plants[0], Amount: Amount{Stems: number(1, 20).Draw(t, "planted")}, From: typed.Draw(t, "from")})
	}
	if rapid.Bool().Draw(t, "loss") {
		e.Losses = append(e.Losses, Loss{Plant: plants[1], Amount: Amount{Leaves: number(1, 20).Draw(t, "lost")}, Cause: typed.Draw(t, "cause")})
	}
	if rapid.Bool().Draw(t, "water") {
		e.WaterChange = Change{measured(1, 100, "%").Draw(t, "share"), typed.Draw(t, "with")}
	}
	for _, l := range e.Lots {
		if rapid.Bool().Draw(t, "still there") {
			e.StillThere = append(e.StillThere, l.Lot)
		}
	}
	if alt := Line(typed.Draw(t, "alt")); alt != "" {
		e.Photos = append(e.Photos, Photo{"trough-front.jpg", alt})
	}
	e.Words = strings.Join(rapid.SliceOf(rapid.OneOf(typed, rapid.SampledFrom([]string{"\n", "\n\n", "Words.\n"}))).Draw(t, "words"), "")
	return e
}

func open(t testing.TB) *almanac.Almanac {
	t.Helper()
	a, err := almanac.Open()
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// What is composed is read without an error and says what the form said; and reading it gives the form again, so that a
// form's entry is known by its bytes.
func TestComposedTextIsReadAsItWasMeant(t *testing.T) {
	names := open(t)
	rapid.Check(t, func(t *rapid.T) {
		form := drawn(t)
		text := form.Text()
		e, cs := read(t, names, text, form.Photos...)
		if cs.Errors() > 0 {
			t.Fatalf("%v\n%s", cs, text)
		}
		if again := Of(e).Text(); again != text {
			t.Fatalf("it reads back as another text: %s", cmp.Diff(text, again))
		}
		if e.Title != Line(form.Title) || len(e.Counts) != len(form.Counts) || len(e.Trims) != len(form.Trims) || len(e.Lots) != len(form.Lots) ||
			len(e.Plantings) != len(form.Plantings) || len(e.Losses) != len(form.Losses) || !slices.Equal(e.StillThere, form.StillThere) || len(e.Photos) != len(form.Photos) {
			t.Fatalf("not all was read of\n%s", text)
		}
		for i, c := range form.Counts {
			if got := Of(e).Counts[i]; got != c {
				t.Fatalf("count %d was %v and is %v", i, c, got)
			}
		}
		if got := Of(e).Parameters; len(got) != len(form.Parameters) || len(got) > 0 && !cmp.Equal(got, form.Parameters) {
			t.Fatalf("readings were %v and are %v", form.Parameters, got)
		}
		for i, l := range form.Lots {
			l.Pests = Line(l.Pests)
			if got := LotOf(e.Lots[i]); got != l {
				t.Fatalf("lot %d was %v and is %v", i, l, got)
			}
		}
	})
}

// Adding to an entry leaves every line of it, and adds those of the form.
func TestJoinedEntriesSayBoth(t *testing.T) {
	names := open(t)
	rapid.Check(t, func(t *rapid.T) {
		a, b := drawn(t), drawn(t)
		for i := range b.Lots {
			b.Lots[i].Lot += "b"
		}
		both, ok := Join(a, b)
		if !ok {
			return
		}
		text := both.Text()
		e, cs := read(t, names, text, both.Photos...)
		if cs.Errors() > 0 {
			t.Fatalf("%v\n%s", cs, text)
		}
		if len(e.Counts) != len(a.Counts)+len(b.Counts) || len(e.Lots) != len(a.Lots)+len(b.Lots) || len(e.Trims) != len(a.Trims)+len(b.Trims) {
			t.Fatalf("not all is there\n%s", text)
		}
		for _, l := range strings.Split(a.Text(), "\n") {
			if strings.HasPrefix(l, "  - ") && !strings.Contains(text, l) {
				t.Fatalf("%q is gone from\n%s", l, text)
			}
		}
	})
}

func TestJoinRefusesAnotherLookAtTheSame(t *testing.T) {
	ph := Entry{Parameters: []Reading{{"ph", "6.7"}}}
	count := Entry{Counts: []Count{{plants[0], Amount{Stems: "4"}}}}
	trim := Entry{Trims: []Trim{{Plant: plants[0], Cuttings: "2"}}}
	for _, c := range []struct {
		name     string
		old, add Entry
		ok       bool
	}{
		{"a reading again", ph, ph, false}, {"a count again", count, count, false}, {"a count after a trim", trim, count, false},
		{"a trim after a count", count, trim, true}, {"a count beside a reading", ph, count, true},
	} {
		if _, ok := Join(c.old, c.add); ok != c.ok {
			t.Errorf("%s: %v", c.name, ok)
		}
	}
}

func TestText(t *testing.T) {
	got := Entry{Title: "Tips\noff", Parameters: []Reading{{"temperature", "24.6 C"}, {"nitrate", "<5 mg/L"}},
		Counts: []Count{{plants[0], Amount{Stems: "24", Length: "31 cm"}}}, Trims: []Trim{{Plant: plants[0], Cuttings: "12", Length: "12 cm"}},
		Lots: []Lot{{Lot: "HZ-0418", Plant: plants[0], Form: "cuttings", Count: "12", Pests: `"none" seen`}}, Words: "Took the tips off.\r\n"}.Text()
	want := `---
title: "Tips off"
parameters: {temperature: 24.6 C, nitrate: <5 mg/L}
counts:
  - {plant: heteranthera-zosterifolia, stems: 24, length: 31 cm}
trims:
  - {plant: heteranthera-zosterifolia, cuttings: 12, length: 12 cm}
lots:
  - {lot: HZ-0418, plant: heteranthera-zosterifolia, form: cuttings, count: 12, pests: "\"none\" seen"}
---

Took the tips off.
`
	if got != want {
		t.Error(cmp.Diff(want, got))
	}
	if !(Entry{Title: "x"}).Empty() || (Entry{Words: "x"}).Empty() {
		t.Error("Empty is wrong")
	}
}
