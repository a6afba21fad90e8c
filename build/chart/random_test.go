package chart

import (
	"html/template"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// Generators: series as odd as a diary may hold them, with texts of any length and script.
var (
	anyDay   = rapid.OneOf(rapid.IntRange(20000, 20400), rapid.IntRange(15000, 22000), rapid.IntRange(firstDay, lastDay))
	anySize  = rapid.OneOf(rapid.Float64Range(0, 1000), rapid.SampledFrom([]float64{0, 1e-12, 1e-9, 1, 5, 5, largest}), rapid.Float64Range(0, largest))
	anyValue = rapid.OneOf(rapid.Float64Range(-10, 40), rapid.SampledFrom([]float64{0, 7, -7, 1e-12, largest, -largest}), rapid.Float64Range(-largest, largest))
	anyText  = rapid.OneOf(rapid.StringMatching(`[A-Za-z0-9 ,–]{0,40}`), rapid.String(), rapid.Just(""))
)

func anyLabel(t *rapid.T, name string) Label {
	return Label{anyText.Draw(t, name), anyText.Draw(t, name+" in short")}
}

func anyWords(t *rapid.T) Words {
	w := english()
	if rapid.Bool().Draw(t, "own words") {
		for i := range 12 {
			w.Months[i], w.ShortMonths[i] = anyText.Draw(t, "month"), anyText.Draw(t, "short month")
		}
		w.Decimal = ","
	}
	return w
}

// nearDays draws days within some months of each other, or from anywhere.
func nearDays(t *rapid.T, count int) []int {
	first, span := anyDay.Draw(t, "first day"), rapid.IntRange(0, 800).Draw(t, "span")
	days := make([]int, count)
	for i := range days {
		days[i] = min(first+rapid.IntRange(0, span).Draw(t, "day"), lastDay)
	}
	slices.Sort(days)
	return days
}

func anyCurve(t *rapid.T) (curve []CurvePoint) {
	for _, d := range nearDays(t, rapid.IntRange(0, 6).Draw(t, "points")) {
		v := []float64{anySize.Draw(t, "low"), anySize.Draw(t, "fit"), anySize.Draw(t, "high")}
		slices.Sort(v)
		curve = append(curve, CurvePoint{float64(d), v[1], v[0], v[2]})
	}
	return curve
}

func anyGrowth(t *rapid.T) Growth {
	g := Growth{Caption: Caption{"r", "T" + anyText.Draw(t, "title")}, Words: anyWords(t), Unit: anyText.Draw(t, "unit"),
		Decimals: rapid.IntRange(-1, 12).Draw(t, "decimals")}
	for _, d := range nearDays(t, rapid.IntRange(1, 12).Draw(t, "counts")) {
		g.Counts = append(g.Counts, Count{d, anySize.Draw(t, "size"), rapid.IntRange(0, 5).Draw(t, "run")})
	}
	for range rapid.IntRange(0, 4).Draw(t, "runs") {
		g.Runs = append(g.Runs, anyCurve(t))
	}
	for _, d := range nearDays(t, rapid.IntRange(0, 9).Draw(t, "changes")) {
		g.Changes = append(g.Changes, Change{d, Kind(rapid.IntRange(0, 2).Draw(t, "kind")), anyText.Draw(t, "mark"), ""})
	}
	if rapid.Bool().Draw(t, "ahead") {
		g.Ahead, g.Goal = anyCurve(t), anySize.Draw(t, "goal")
		days := nearDays(t, 2)
		g.Window, g.Today = Window{days[0], days[1]}, anyDay.Draw(t, "today")
	}
	g.Labels = GrowthLabels{anyLabel(t, "count"), anyLabel(t, "fit"), anyLabel(t, "goal"), anyLabel(t, "forecast"), anyLabel(t, "window"), anyLabel(t, "today"), anyLabel(t, "scale"), anyLabel(t, "changes"), anyLabel(t, "planted"), anyLabel(t, "lost"), anyLabel(t, "none")}
	return g
}

func readBoth(t *rapid.T, p Picture, title string) {
	for _, svg := range []template.HTML{p.Broad, p.Narrow} {
		d := read(t, svg)
		if want := plainXML(title); d.title != want {
			t.Fatalf("title %q came out as %q", want, d.title)
		}
		for _, m := range marksOf(t, svg, "pt") {
			for _, x := range d.texts {
				if m.grow(-0.2).meets(x.box()) {
					t.Fatalf("%q lies on a mark at %v in %s", x.s, m, svg)
				}
			}
		}
	}
	for _, row := range p.Table.Rows {
		if len(row) != len(p.Table.Head) {
			t.Fatalf("row %q under %v", row, p.Table.Head)
		}
	}
}

// plainXML is what XML can hold of s, by the Char production of XML 1.0.
func plainXML(s string) string {
	return strings.Map(func(r rune) rune {
		if r == '\t' || r == '\n' || r == '\r' || r >= 0x20 && r <= 0xd7ff || r >= 0xe000 && r <= 0xfffd || r >= 0x10000 {
			return r
		}
		return '\ufffd'
	}, s)
}

func TestAnyGrowth(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := anyGrowth(t)
		p := g.Draw()
		readBoth(t, p, g.Title)
		again := g.Draw()
		if again.Broad != p.Broad || again.Narrow != p.Narrow {
			t.Fatal("drawn twice, it differs")
		}
	})
}

func TestAnyCourse(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		good := []float64{anyValue.Draw(t, "low"), anyValue.Draw(t, "high")}
		slices.Sort(good)
		c := TimeSeries{Caption: Caption{"r", "T" + anyText.Draw(t, "title")}, Words: anyWords(t), Unit: anyText.Draw(t, "unit"),
			Good: Limits{good[0], good[1]}, Decimals: rapid.IntRange(-1, 12).Draw(t, "decimals"),
			Labels: CourseLabels{anyLabel(t, "name"), anyLabel(t, "good"), anyLabel(t, "target")}}
		if rapid.Bool().Draw(t, "targeted") {
			c.Target = new(anyValue.Draw(t, "target"))
		}
		for _, d := range nearDays(t, rapid.IntRange(1, 20).Draw(t, "readings")) {
			c.Readings = append(c.Readings, Reading{d, anyValue.Draw(t, "value"), rapid.Bool().Draw(t, "below")})
		}
		p := c.Draw()
		readBoth(t, p, c.Title)
	})
}

func TestAnyRanking(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := Ranking{Caption: Caption{"r", "T" + anyText.Draw(t, "title")}, Words: anyWords(t), Unit: anyText.Draw(t, "unit"), Decimals: rapid.IntRange(0, 9).Draw(t, "decimals"), Heads: RankingHeads{N: anyText.Draw(t, "n")}}
		for range rapid.IntRange(1, 12).Draw(t, "rows") {
			v := []float64{anyValue.Draw(t, "low"), anyValue.Draw(t, "value"), anyValue.Draw(t, "high")}
			slices.Sort(v)
			r.Rows = append(r.Rows, Ranked{anyText.Draw(t, "name"), rapid.Bool().Draw(t, "latin"), anyText.Draw(t, "where"), v[1], v[0], v[2], rapid.IntRange(0, math.MaxInt32).Draw(t, "count")})
		}
		p := r.Draw()
		readBoth(t, p, r.Title)
	})
}

// anyTwig draws a parcel with what was passed on from it: twelve at most, which have room side by side.
func anyTwig(t *rapid.T, most int) (twig Twig, all int) {
	twig.Outcome, all = Outcome(rapid.IntRange(0, 2).Draw(t, "outcome")), 1
	for all < most && rapid.IntRange(0, 2).Draw(t, "kid") == 0 {
		kid, more := anyTwig(t, most-all)
		twig.Kids, all = append(twig.Kids, kid), all+more
	}
	return twig, all
}

// Whatever was sent: each parcel has one mark in the picture, no two marks meet, and no text lies on a mark.
func TestAnyTree(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tree := Tree{Caption: Caption{"r", "T" + anyText.Draw(t, "title")}, Foot: anyText.Draw(t, "foot")}
		all := 0
		for range rapid.IntRange(1, 8).Draw(t, "branches") {
			b := Branch{Name: anyText.Draw(t, "name"), Note: anyText.Draw(t, "note")}
			for range rapid.IntRange(1, 4).Draw(t, "lots") {
				var lot []Twig
				for range rapid.IntRange(1, 9).Draw(t, "parcels") {
					twig, more := anyTwig(t, 12)
					lot, all = append(lot, twig), all+more
				}
				b.Lots = append(b.Lots, lot)
			}
			tree.Branches = append(tree.Branches, b)
		}
		p := tree.Draw()
		readBoth(t, p, tree.Title)
		for _, svg := range []template.HTML{p.Broad, p.Narrow} {
			marks, texts := marksOf(t, svg, "gap"), read(t, svg).texts
			if len(marks) != all {
				t.Fatalf("%d marks of %d parcels", len(marks), all)
			}
			for i, m := range marks {
				for _, o := range marks[:i] {
					if m.grow(-1.5).meets(o.grow(-1.5)) {
						t.Fatalf("two parcels on one spot: %v and %v in %s", m, o, svg)
					}
				}
				for _, x := range texts {
					if m.grow(-1).meets(x.box()) {
						t.Fatalf("%q lies on a mark in %s", x.s, svg)
					}
				}
			}
		}
	})
}

// circles finds the discs of a class.
var circles = regexp.MustCompile(`<circle class="(\w+)" cx="([-0-9.]+)" cy="([-0-9.]+)" r="([-0-9.]+)"/>`)

func marksOf(t failer, svg template.HTML, class string) (out []box) {
	t.Helper()
	for _, m := range circles.FindAllStringSubmatch(string(svg), -1) {
		if m[1] != class {
			continue
		}
		var v [3]float64
		for i := range v {
			var err error
			if v[i], err = strconv.ParseFloat(m[i+2], 64); err != nil {
				t.Fatalf("%v", err)
			}
		}
		out = append(out, box{v[0] - v[2], v[1] - v[2], v[0] + v[2], v[1] + v[2]})
	}
	return out
}

func TestAnyInset(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ends := []float64{anyValue.Draw(t, "low"), anyValue.Draw(t, "high")}
		slices.Sort(ends)
		r := Range{Low: ends[0], High: ends[1], From: -largest, To: largest, Here: new(anyValue.Draw(t, "here")), There: new(anyValue.Draw(t, "there"))}
		svg := r.Draw()
		d := read(t, svg)
		if slices.Contains(d.classes, "off") {
			t.Fatal("a line that holds all values leaves one out")
		}
		some := rapid.IntRange(0, 90)
		tally := Tally{1 + some.Draw(t, "well"), some.Draw(t, "gone"), some.Draw(t, "silent")}
		svg = tally.Draw()
		marks := 0
		for _, c := range read(t, svg).classes {
			if c == "well" || c == "gone" || c == "silent" {
				marks++
			}
		}
		if all := tally.Established + tally.Gone + tally.Silent; all <= tallyMost && marks != all {
			t.Fatalf("%d marks for %d parcels", marks, all)
		}
	})
}

func FuzzWords(f *testing.F) {
	f.Add("Reed & rush <i>", "a\x00b\xff\u202e]]>")
	f.Add("\ud7ff\ue000\ufffe", "“”’ – …")
	f.Fuzz(func(t *testing.T, a, b string) {
		g := sampleGrowth("f")
		a = "T" + a
		g.Title, g.Unit, g.Changes[0].Mark = a, b, a
		g.Labels = GrowthLabels{Label{a, b}, Label{b, a}, Label{a, b}, Label{a, b}, Label{b, a}, Label{b, ""}, Label{a, ""}, Label{a, b}, Label{a, b}, Label{b, a}, Label{a, ""}}
		p := g.Draw()
		for _, svg := range []template.HTML{p.Broad, p.Narrow} {
			if d := read(t, svg); d.title != plainXML(a) {
				t.Fatalf("title %q came out as %q", a, d.title)
			}
		}
	})
}
