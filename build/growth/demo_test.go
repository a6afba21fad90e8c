package growth_test

import (
	"context"
	"encoding/json"
	"os"
	"testing"

	"slipleaf/build/almanac"
	"slipleaf/build/growth"
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

func demoFacts(t testing.TB) *growth.Facts {
	j, a := demo(t)
	return growth.New(j, lookUp(j, a), demoDay)
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
