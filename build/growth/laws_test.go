package growth_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"slipleaf/build/growth"
	"slipleaf/build/journal"
	"slipleaf/build/quantity"
)

// diaries draws a tank with one plant: entries on some days, each with a line or two, mostly in one measure, and in most
// diaries of a plant that grows and is cut.
func diaries() *rapid.Generator[*journal.Tank] {
	return rapid.Custom(func(t *rapid.T) *journal.Tank {
		tank := &journal.Tank{ID: "vat", Inside: journal.Inside{Length: quantity.Of(quantity.Length(100)), Width: quantity.Of(quantity.Length(40))}}
		day := quantity.Date{Year: 2026, Month: 1, Day: 1}
		d := drawn{T: t, usual: rapid.IntRange(0, 5).Draw(t, "usual measure"), grows: rapid.IntRange(0, 3).Draw(t, "grows") > 0}
		d.stands = rapid.IntRange(4, 20).Draw(t, "begins with")
		for range rapid.IntRange(0, 9).Draw(t, "entries") + rapid.IntRange(0, 9).Draw(t, "more entries") {
			days := rapid.IntRange(1, 20).Draw(t, "days")
			day = day.Add(days)
			d.stands += d.stands*days/40 + rapid.IntRange(-1, 2).Draw(t, "noise")
			e := &journal.Entry{Tank: "vat", Date: day}
			if d.grows || rapid.Bool().Draw(t, "counted") {
				e.Counts = append(e.Counts, journal.Count{Plant: "p", Amount: d.amount(d.stands), Area: area(t)})
			}
			d.change(e)
			tank.Entries = append(tank.Entries, e)
		}
		return tank
	})
}

// drawn is a diary on the way.
type drawn struct {
	*rapid.T
	usual  int
	grows  bool
	stands int
}

func (d *drawn) change(e *journal.Entry) {
	n := max(0, d.stands/2)
	if d.grows && d.stands < 40 {
		return
	}
	switch rapid.IntRange(0, 5).Draw(d.T, "change") {
	case 0, 1:
		e.Trims = append(e.Trims, journal.Trim{Plant: "p", Removed: d.amount(n)})
	case 2:
		back := rapid.IntRange(0, n).Draw(d.T, "back")
		e.Trims = append(e.Trims, journal.Trim{Plant: "p", Cuttings: &n, Replanted: &back, Length: quantity.Of(quantity.Length(rapid.IntRange(1, 20).Draw(d.T, "cm")))})
	case 3:
		e.Losses = append(e.Losses, journal.Loss{Plant: "p", Amount: d.amount(n)})
	case 4:
		e.Plantings = append(e.Plantings, journal.Planting{Plant: "p", Amount: d.amount(n), Area: area(d.T)})
		d.stands += 2 * n
	}
	d.stands -= n
}

// amount is what there is, in the usual measure, now and then in another or a number at random.
func (d *drawn) amount(n int) (a journal.Amount) {
	measure := d.usual
	if n = max(0, n); !d.grows {
		n = rapid.IntRange(0, 40).Draw(d.T, "n")
		measure = rapid.IntRange(0, 5).Draw(d.T, "measure")
	}
	switch measure {
	case 0:
		a.Stems = &n
	case 1:
		a.Stems, a.Length = &n, quantity.Of(quantity.Length(rapid.IntRange(18, 22).Draw(d.T, "cm")))
	case 2:
		a.Plantlets = &n
	case 3:
		a.Leaves = &n
	case 4:
		a.Cover = quantity.Of(quantity.Share(float64(min(n, 400)) / 400))
	case 5:
		a.Mass = quantity.Of(quantity.Mass(n))
	}
	return a
}

func area(t *rapid.T) (r quantity.Reading[quantity.Area]) {
	if rapid.Bool().Draw(t, "area") {
		r = quantity.Of(quantity.Area(rapid.IntRange(1, 12).Draw(t, "dm2")))
	}
	return r
}

// factsOf tells them on the last day of the diary, for a grower who trims at fifty of anything.
func factsOf(tank *journal.Tank) *growth.Facts {
	on := demoDay
	if n := len(tank.Entries); n > 0 {
		on = tank.Entries[n-1].Date
	}
	when := journal.TrimWhen{Plantlets: 50, Leaves: 50, Stems: 50, Mass: quantity.Of(quantity.Mass(50))}
	return growth.New(&journal.Journal{Tanks: []*journal.Tank{tank}, TrimWhen: when}, nothingKnown, on)
}

// TestLawsOfSeries: whatever a diary says, points stand in order of time, segments never fall, counts are no less than
// nothing, no count is told twice, and only the last series of a plant remains.
func TestLawsOfSeries(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tank := diaries().Draw(t, "tank")
		f := factsOf(tank)
		all := f.Of("vat", "p")
		counts := 0
		var before quantity.Date
		for i, g := range all {
			if i > 0 && (g.Life < all[i-1].Life || all[i-1].Standing()) {
				t.Fatalf("series %d begins in life %d after %d, which still stands: %v", i, g.Life, all[i-1].Life, all[i-1].Standing())
			}
			segment := 1
			for k, p := range g.Points {
				if p.Date.Before(before) || p.Segment < segment {
					t.Fatalf("%s %d: %v after %s, segment %d", g.Measure, k, p, before, segment)
				}
				if math.IsNaN(p.Size) || math.IsInf(p.Size, 0) || p.Event == growth.Count && p.Size < 0 || p.Event == growth.Planting && p.Size < 0 {
					t.Fatalf("size of %v", p)
				}
				before, segment = p.Date, p.Segment
				if p.Event == growth.Count {
					counts++
				}
			}
		}
		written := 0
		for _, e := range tank.Entries {
			written += len(e.Counts)
		}
		if counts > written {
			t.Fatalf("%d counts told of %d written", counts, written)
		}
	})
}

// TestLawsOfFacts: windows lie in order and not before the day, yields do not fall below nothing, the recent slips are no
// more than all, a file lists every point, and the same journal makes the same bytes.
func TestLawsOfFacts(t *testing.T) {
	fitted, foretold := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		tank := diaries().Draw(t, "tank")
		f := factsOf(tank)
		points := 0
		for _, g := range f.All() {
			points += len(g.Points)
			if g.Fit != nil {
				fitted++
			}
			if g.Next.Known() {
				foretold++
			}
			if w := g.Next; w.Known() && (w.Low.Before(f.On) || w.Best.Before(w.Low) || w.High.Before(w.Best)) {
				t.Fatalf("window %v on %s", w, f.On)
			}
			if g.Next.Known() && !g.Standing() {
				t.Fatal("a window for what is gone")
			}
		}
		y := f.Yield("vat", "p")
		if y.Recent.Slips > y.All.Slips || y.All.Slips < 0 || y.Recent.Weeks > growth.RecentWeeks || y.Recent.Weekly() < 0 {
			t.Fatalf("%+v", y)
		}
		csv := string(f.GrowthCSV("p"))
		if lines := strings.Count(csv, "\n"); lines != points+1 {
			t.Fatalf("%d lines for %d points", lines, points)
		}
		again := factsOf(tank)
		one, err1 := f.GrowthJSON("p", nil)
		two, err2 := again.GrowthJSON("p", nil)
		if err1 != nil || err2 != nil || string(one) != string(two) || csv != string(again.GrowthCSV("p")) {
			t.Fatal(err1, err2, "not the same bytes twice")
		}
	})
	if !testing.Short() && (fitted < 10 || foretold < 5) {
		t.Errorf("only %d fits and %d windows were drawn", fitted, foretold)
	}
}

// TestALaterDayKeepsThePast: what is told of a day does not change because the diary went on.
func TestALaterDayKeepsThePast(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tank := diaries().Draw(t, "tank")
		if len(tank.Entries) < 2 {
			return
		}
		cut := rapid.IntRange(1, len(tank.Entries)-1).Draw(t, "entries before")
		short := *tank
		short.Entries = tank.Entries[:cut]
		on := tank.Entries[cut-1].Date
		a := growth.New(&journal.Journal{Tanks: []*journal.Tank{tank}}, nothingKnown, on)
		b := growth.New(&journal.Journal{Tanks: []*journal.Tank{&short}}, nothingKnown, on)
		if fmt.Sprint(inShort(a)) != fmt.Sprint(inShort(b)) {
			t.Fatalf("%v\n%v", inShort(a), inShort(b))
		}
	})
}

func inShort(f *growth.Facts) []string {
	var out []string
	for _, g := range f.All() {
		out = append(out, fmt.Sprint(g.Measure, g.Life, g.Break, g.Left, g.Points, g.Next, g.Today))
	}
	return out
}
