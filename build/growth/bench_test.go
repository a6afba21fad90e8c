package growth_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"slipleaf/build/growth"
	"slipleaf/build/journal"
	"slipleaf/build/quantity"
)

func BenchmarkFactsOfTheDemonstration(b *testing.B) {
	j, a := demo(b)
	for b.Loop() {
		growth.New(j, lookUp(j, a), demoDay).All() // they are fitted when they are asked for
	}
}

// BenchmarkFactsOfTenYears is one plant, counted every week for ten years and cut every month.
func BenchmarkFactsOfTenYears(b *testing.B) {
	tank := &journal.Tank{ID: "vat"}
	day, size := quantity.Date{Year: 2016, Month: 1, Day: 1}, 20.0
	rng := rand.New(rand.NewPCG(1, 1))
	for i := range 520 {
		day = day.Add(7)
		size *= math.Exp(0.25 + 0.04*rng.NormFloat64())
		n := int(size * math.Exp(0.08*rng.NormFloat64()))
		e := &journal.Entry{Tank: "vat", Date: day, Counts: []journal.Count{{Plant: "p", Amount: journal.Amount{Plantlets: &n}}}}
		if i%4 == 3 {
			cut := int(size) - 20
			e.Trims = []journal.Trim{{Plant: "p", Removed: journal.Amount{Plantlets: &cut}}}
			size -= float64(cut)
		}
		tank.Entries = append(tank.Entries, e)
	}
	j := &journal.Journal{Tanks: []*journal.Tank{tank}}
	for b.Loop() {
		growth.New(j, nothingKnown, day).All()
	}
}
