package diary_test

import (
	"context"
	"encoding/json"
	"os"
	"testing"

	"slipleaf/build/almanac"
	"slipleaf/build/diary"
	"slipleaf/build/journal"
	"slipleaf/build/quantity"
)

var demoDay = quantity.Date{Year: 2026, Month: 11, Day: 25}

// demo reads the demonstration journal.
func demo(t testing.TB) (*journal.Journal, *almanac.Almanac) {
	t.Helper()
	a, err := almanac.Open()
	if err != nil {
		t.Fatal(err)
	}
	j, cs, err := journal.Read(context.Background(), os.DirFS("../../content"), a, journal.Options{On: demoDay})
	if err != nil || j == nil {
		t.Fatal(err, cs)
	}
	return j, a
}

func demoFacts(t testing.TB) *diary.Facts {
	j, a := demo(t)
	return diary.New(j, lookUp(j, a), demoDay)
}

func lookUp(j *journal.Journal, a *almanac.Almanac) func(string) almanac.Species {
	return func(id string) almanac.Species {
		if own, ok := j.Plant(id); ok {
			return a.Introduce(id, own.Taxon, own.Common, own.Profile)
		}
		s, _ := a.Species(id)
		return s
	}
}

// truth is what the demonstration's counts were made from.
type truth struct {
	Series []struct {
		Tank, Plant, Measure string
		R, Q, M, Holds       float64
		Start, End           quantity.Date
		Switches             quantity.Date
	}
}

func demoTruth(t testing.TB) truth {
	t.Helper()
	b, err := os.ReadFile("../../testdata/demo/truth.json")
	if err != nil {
		t.Fatal(err)
	}
	var out truth
	if err := json.Unmarshal(b, &out); err != nil {
		t.Fatal(err)
	}
	return out
}

func testDump(t *testing.T) {
	for _, g := range demoFacts(t).Growth {
		if g.Fit == nil {
			t.Logf("%s %s %s life %d: %v", g.Tank, g.Plant, g.Measure, g.Life, g.Why)
			continue
		}
		t.Logf("%s %s %s life %d break %d left %v n %d model %s r %.4f (%.4f %.4f) reg %.4f (%.4f %.4f) goal %.0f %v next %v %v hits %d/%d today %.1f keep %+v", g.Tank, g.Plant, g.Measure, g.Life, g.Break, g.Left, g.Counts, g.Fit.Model(),
			g.Fit.Diary.Rate.Value, g.Fit.Diary.Rate.Low, g.Fit.Diary.Rate.High, g.Fit.Line.Rate.Value, g.Fit.Line.Rate.Low, g.Fit.Line.Rate.High, g.Goal, g.GoalFrom, g.Next, g.NextWhy, g.Hits, g.Of, g.Today.Value, g.Keep)
	}
	f := demoFacts(t)
	for _, g := range f.Growth {
		y := f.Yield(g.Tank, g.Plant)
		t.Logf("%s %s %+v", g.Tank, g.Plant, y)
	}
	for _, s := range demoTruth(t).Series {
		t.Log(s.Tank, s.Plant, s.R, s.Holds)
	}
}

func BenchmarkFacts(b *testing.B) {
	j, a := demo(b)
	for b.Loop() {
		diary.New(j, lookUp(j, a), demoDay)
	}
}
