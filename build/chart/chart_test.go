package chart

import (
	"encoding/xml"
	"html/template"
	"math"
	"reflect"
	"strings"
	"testing"
)

func TestGrowthTable(t *testing.T) {
	g := sampleGrowth("g")
	g.Counts = []Count{{Day(2026, 3, 1), 240, 1}, {Day(2026, 3, 20), 490.4, 1}, {Day(2026, 3, 20), 215, 2}}
	g.Changes = []Change{{Day(2026, 3, 20), Trimmed, "22", "22 cuttings"}, {Day(2026, 3, 10), Lost, "−4", ""}}
	want := Table{
		Head: []Column{{"Counted", false}, {"cm of stem", true}, {"Run", true}, {"What changed", false}},
		Rows: [][]string{
			{"1 March 2026", "240", "1", ""},
			{"10 March 2026", "", "", "−4"},
			{"20 March 2026", "490", "1", ""},
			{"20 March 2026", "215", "2", ""},
			{"20 March 2026", "", "", "22 cuttings"},
			{"2 July 2026 – 12 July 2026", "720", "", "next trim"},
		},
	}
	if got := g.Table(); !reflect.DeepEqual(got, want) {
		t.Errorf("got  %v\nwant %v", got, want)
	}
}

func TestOtherTables(t *testing.T) {
	c := sampleNitrate("c")
	c.Readings = c.Readings[:2]
	if got := c.Table().Rows; !reflect.DeepEqual(got, [][]string{{"10 January 2026", "< 2"}, {"25 January 2026", "5"}}) {
		t.Errorf("%q", got)
	}
	r := sampleRanking("r")
	want := [][]string{
		{"Stargrass in the trough", "1.42", "0.96–1.91", "9"},
		{"Broad-leaved sword with a long name that goes on", "0.84", "0.50–1.30", "14"},
		{"Vesicularia dubyana, the tray", "0.41", "", "6"},
		{"Dwarf lily", "0.00", "0.00–0.32", "5"},
	}
	if got := r.Table().Rows; !reflect.DeepEqual(got, want) {
		t.Errorf("%q", got)
	}
}

// The value beside the last mark is the table's.
func TestPictureAndTableAgree(t *testing.T) {
	p := sampleCourse("c").Draw()
	last := p.Table.Rows[len(p.Table.Rows)-1][1]
	if !strings.Contains(string(p.Broad), ">"+last+"</text>") {
		t.Errorf("%q of the table is not in the picture", last)
	}
	q := sampleRanking("r").Draw()
	for _, row := range q.Table.Rows {
		if !strings.Contains(string(q.Narrow), ">"+row[1]+"</text>") {
			t.Errorf("%q of the table is not in the picture", row[1])
		}
	}
}

// Whatever comes, a chart is drawn: a page never fails for a figure that nobody can have counted.
func TestWhatCannotBeIsDrawnAllTheSame(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	growth := func(change func(*Growth)) Picture {
		g := sampleGrowth("g")
		change(&g)
		return g.Draw()
	}
	course := func(change func(*TimeSeries)) Picture {
		c := sampleCourse("c")
		change(&c)
		return c.Draw()
	}
	ranking := func(rows ...Ranked) Picture { return Ranking{Caption: Caption{"r", "t"}, Rows: rows}.Draw() }
	ranged := func(r Range) Picture { return Picture{Broad: r.Draw()} }
	for name, p := range map[string]Picture{
		"a count that is no number":             growth(func(g *Growth) { g.Counts[3].Size = nan }),
		"a count without bound":                 growth(func(g *Growth) { g.Counts[0].Size = inf }),
		"fewer than none":                       growth(func(g *Growth) { g.Counts[0].Size = -1 }),
		"a day beyond the calendar":             growth(func(g *Growth) { g.Counts[2].Day = lastDay + 1 }),
		"a cut beyond the calendar":             growth(func(g *Growth) { g.Changes[1].Day = firstDay - 1 }),
		"a fit that is no number":               growth(func(g *Growth) { g.Runs[1][2].High = nan }),
		"a fit that runs backwards":             growth(func(g *Growth) { g.Runs[1][2].Day = 0 }),
		"an interval upside down":               growth(func(g *Growth) { g.Ahead[0].Low = 1e6 }),
		"an interval without bound":             growth(func(g *Growth) { g.Ahead[0].High = inf }),
		"a day that is no number":               growth(func(g *Growth) { g.Ahead[1].Day = nan }),
		"a window that runs backwards":          growth(func(g *Growth) { g.Window.To = g.Window.From - 1 }),
		"a goal that is no number":              growth(func(g *Growth) { g.Goal = nan }),
		"an id with a quote":                    growth(func(g *Growth) { g.ID = `a"b` }),
		"a reading without bound":               course(func(c *TimeSeries) { c.Readings[1].Value = inf }),
		"a reading that is no number":           course(func(c *TimeSeries) { c.Readings[1].Value = nan }),
		"limits upside down":                    course(func(c *TimeSeries) { c.Good = Limits{3, 2} }),
		"a target that is no number":            course(func(c *TimeSeries) { c.Target = &nan }),
		"days upside down":                      course(func(c *TimeSeries) { c.From, c.To = 3, 2 }),
		"a row that is no number":               ranking(Ranked{Name: "moss", Value: nan}),
		"an interval beside its value":          ranking(Ranked{Name: "moss"}, Ranked{Name: "fern", Value: 3, Low: 1, High: 2}),
		"a range that is no number":             ranged(Range{Low: nan, High: 1, To: 1}),
		"a range upside down":                   ranged(Range{Low: 2, High: 1, To: 3}),
		"a range without length, and its value": ranged(Range{Here: &inf}),
	} {
		for _, svg := range []template.HTML{p.Broad, p.Narrow} {
			if svg == "" {
				continue
			}
			var any struct{}
			if err := xml.Unmarshal([]byte(svg), &any); err != nil || strings.Contains(string(svg), `="NaN`) || strings.Contains(string(svg), "Inf") {
				t.Errorf("%s: %v: %s", name, err, svg)
			}
		}
		if p.Broad == "" {
			t.Errorf("%s: nothing is drawn", name)
		}
	}
	for name, p := range map[string]Picture{
		"no count": Growth{}.Draw(), "no reading": TimeSeries{}.Draw(), "no row": ranking(), "no month": Months{}.Draw(), "no branch": Tree{}.Draw(),
		"no parcel": {Broad: Tally{}.Draw()},
	} {
		if p.Broad != "" || p.Narrow != "" {
			t.Errorf("%s: something is drawn", name)
		}
	}
}

func TestUnusualSeriesAreDrawn(t *testing.T) {
	for name, g := range map[string]Growth{
		"one count":     {Counts: []Count{{Day: 20000, Size: 12}}},
		"equal counts":  {Counts: []Count{{Day: 20000, Size: 12}, {Day: 20030, Size: 12}}},
		"nothing left":  {Counts: []Count{{Day: 20000, Size: 12}, {Day: 20030, Size: 0}}},
		"never any":     {Counts: []Count{{Day: 20000}, {Day: 20030}}},
		"one of none":   {Counts: []Count{{Day: 20000}}},
		"a whole life":  {Counts: []Count{{Day: firstDay, Size: 1}, {Day: lastDay, Size: largest}}},
		"all on a day":  {Counts: []Count{{Day: 20000, Size: 3}, {Day: 20000, Size: 9}}},
		"goal far away": {Counts: []Count{{Day: 20000, Size: 3}}, Goal: largest},
	} {
		g.Caption, g.Words = Caption{"u", name}, english()
		p := g.Draw()
		marks, nothing := 0, 0
		for _, class := range append(read(t, p.Broad).classes, read(t, p.Narrow).classes...) {
			if class == "pt" || class == "nil" {
				marks++
			}
			if class == "nil" {
				nothing++
			}
		}
		for _, c := range g.Counts {
			if c.Size == 0 {
				nothing -= 2
			}
		}
		if marks != 2*len(g.Counts) || nothing != 0 {
			t.Errorf("%s: %d marks for %d counts in two layouts, %d crosses too many", name, marks, len(g.Counts), nothing)
		}
	}
}

func TestCoordinates(t *testing.T) {
	for v, want := range map[float64]string{0: "0", -0.04: "0", 12.34: "12.3", -7.96: "-8", 100: "100", math.Inf(1): "0", math.NaN(): "0"} {
		if got := n(v); got != want {
			t.Errorf("%v is printed as %q, want %q", v, got, want)
		}
	}
}

// No fitted line may run across a cut: each run is a path of its own, within its days.
func TestNoLineAcrossACut(t *testing.T) {
	g := sampleGrowth("g")
	svg := string(g.Draw().Broad)
	if got := strings.Count(svg, `class="fit" d="M`); got != len(g.Runs) {
		t.Errorf("%d fitted lines for %d runs", got, len(g.Runs))
	}
	for _, d := range strings.Split(svg, `class="fit" d="`)[1:] {
		if d, _, _ = strings.Cut(d, `"`); strings.Count(d, "M") != 1 {
			t.Errorf("a fitted line in parts: %s", d)
		}
	}
}

// A hundred counts in ten runs, with daily fits, cuts and a forecast, stay under 12 KB in each layout.
func TestWeight(t *testing.T) {
	const most = 12 << 10
	p, c := hundred().Draw(), sampleCourse("c")
	for len(c.Readings) < 100 {
		c.Readings = append(c.Readings, Reading{c.last().Day + 3, 6 + math.Sin(float64(len(c.Readings))), len(c.Readings)%5 == 0})
	}
	q := c.Draw()
	for name, svg := range map[string]int{"growth, broad": len(p.Broad), "growth, narrow": len(p.Narrow), "course, broad": len(q.Broad), "course, narrow": len(q.Narrow)} {
		if svg > most || svg < 3000 {
			t.Errorf("%s weighs %d bytes", name, svg)
		}
	}
}

func hundred() Growth {
	g := sampleGrowth("g")
	g.Counts, g.Runs, g.Changes = nil, nil, nil
	day := Day(2025, 1, 3)
	for run := range 10 {
		var curve []CurvePoint
		for k := 0.0; k <= 50; k++ {
			s := 150 * math.Exp(0.03*k)
			curve = append(curve, CurvePoint{float64(day) + k, s, s * (0.95 - 0.001*k), s * (1.05 + 0.002*k)})
			if int(k)%5 == 0 && k < 50 {
				g.Counts = append(g.Counts, Count{day + int(k), s * (1 + 0.05*math.Sin(k)), run + 1})
			}
		}
		day += 50
		g.Runs = append(g.Runs, curve)
		g.Changes = append(g.Changes, Change{day, Trimmed, "36", ""})
	}
	g.Today, g.Window = day+4, Window{day + 40, day + 55}
	g.Ahead = []CurvePoint{{float64(day), 150, 140, 160}, {float64(day) + 48, 650, 500, 800}}
	return g
}

func BenchmarkGrowth(b *testing.B) {
	g := hundred()
	for b.Loop() {
		g.Draw()
	}
}

func BenchmarkCourse(b *testing.B) {
	c := sampleCourse("c")
	for b.Loop() {
		c.Draw()
	}
}

// What is said of the fitted line must not point at a dot.
func TestFitLabelKeepsClearOfCounts(t *testing.T) {
	g := sampleGrowth("g")
	p := newPlot(newCanvas(broad(), g.Caption, 340), frame{words: g.Words, days: g.days(), values: g.sizes(), log: true, most: 4, top: 18, base: 276})
	for i, run := range g.Runs {
		at, ok := p.clearOf(g.spots(p), run)
		if !ok {
			t.Fatalf("run %d has no place", i)
		}
		for _, c := range g.spots(p) {
			if d := math.Hypot(at.x-c.x, at.y-c.y); d < 9 {
				t.Errorf("run %d: a count lies %.1f from the place of the label", i, d)
			}
		}
	}
	if _, ok := p.clearOf(nil, g.Runs[0][:1]); ok {
		t.Error("a run of one point has a place on its line")
	}
}
