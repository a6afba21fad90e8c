package growth_test

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"slipleaf/build/almanac"
	"slipleaf/build/growth"
	"slipleaf/build/journal"
	"slipleaf/build/ledger"
	"slipleaf/build/quantity"
	"slipleaf/build/reckon"
)

func demoSpace(t *testing.T) []*growth.Place {
	t.Helper()
	j, a := demo(t)
	f := growth.New(j, lookUp(j, a), demoDay)
	return f.Space(ledger.New(j, demoDay, f.Forecast), lookUp(j, a))
}

// The score is the product of its parts, and its interval holds it.
func TestSpaceIsTheProductOfItsParts(t *testing.T) {
	seen := 0
	for _, p := range demoSpace(t) {
		if !p.Known {
			if p.Why == "" {
				t.Errorf("%s in %s has neither score nor reason", p.Plant, p.Tank)
			}
			continue
		}
		seen++
		want := p.Yield.Weekly() * p.Claim.Posterior.Value * p.Established.Value
		if math.Abs(p.Product.Value-want) > 1e-9 {
			t.Errorf("%s in %s: product %v, want %v", p.Plant, p.Tank, p.Product.Value, want)
		}
		if !(p.Score.Low >= 0 && p.Score.Low < p.Score.Value && p.Score.Value < p.Score.High) {
			t.Errorf("%s in %s: interval %+v does not hold its value", p.Plant, p.Tank, p.Score)
		}
	}
	if seen < 8 {
		t.Errorf("only %d places have a score", seen)
	}
}

func TestSpaceIsSortedAndKnownFirst(t *testing.T) {
	ps := demoSpace(t)
	if !slices.IsSortedFunc(ps, func(a, b *growth.Place) int {
		switch {
		case a.Known && !b.Known:
			return -1
		case b.Known && !a.Known:
			return 1
		case a.Score.Value > b.Score.Value:
			return -1
		case a.Score.Value < b.Score.Value:
			return 1
		}
		return 0
	}) {
		t.Error("the ranking is not sorted")
	}
}

func TestGainOfTheDemonstration(t *testing.T) {
	ps := demoSpace(t)
	g, ok := growth.GainOf(ps)
	if !ok {
		t.Fatal("no gain in the demonstration")
	}
	if want := g.Area * (g.First.Score.Value - g.Last.Score.Value); math.Abs(g.Weekly.Value-want) > 1e-9 {
		t.Errorf("gain %v, want %v", g.Weekly.Value, want)
	}
	if g.Chance != (g.Weekly.Low <= 0) {
		t.Error("chance is not said where the interval holds 0")
	}
	if !(g.Weekly.Low < g.Weekly.Value && g.Weekly.Value < g.Weekly.High) {
		t.Errorf("%+v", g.Weekly)
	}
}

func TestNoGainWithoutTwoScores(t *testing.T) {
	if _, ok := growth.GainOf([]*growth.Place{{Plant: "a"}, {Plant: "b"}}); ok {
		t.Error("a gain from nothing")
	}
}

// A lot is judged when its four weeks are over and not before, whatever came of it: else those that are asked for soon count
// sooner than those that nobody wants, and the share asked for is too high.
func TestALotIsJudgedWhenItsTimeIsOver(t *testing.T) {
	began := quantity.Date{Year: 2026, Month: 2, Day: 1}
	rapid.Check(t, func(r *rapid.T) {
		count, asked, after := 2*rapid.IntRange(1, 5).Draw(r, "count"), rapid.IntRange(0, 45).Draw(r, "asked"), rapid.IntRange(0, 60).Draw(r, "after")
		j := book(t, map[string]string{began.String(): fmt.Sprintf("counts: [{plant: rotala-rotundifolia, stems: 30}]\nlots: [{lot: RR-1, plant: rotala-rotundifolia, form: cuttings, count: %d}]", count)}, "")
		j.Parcels = append(j.Parcels, &journal.Parcel{Lot: "RR-1", Count: rapid.IntRange(1, count).Draw(r, "sent"), Sent: began.Add(asked)})
		on := began.Add(after)
		f := growth.New(j, func(string) (s almanac.Species) { return s }, on)
		ps := f.Space(ledger.New(j, on, nil), func(string) (s almanac.Species) { return s })
		want := reckon.Tally{}
		if after >= growth.ClaimDays {
			if want.Of = 1; asked <= growth.ClaimDays && 2*j.Parcels[0].Count >= count {
				want.Yes = 1
			}
		}
		if len(ps) != 1 || ps[0].Claim.Tally != want {
			r.Fatalf("%d days after: %+v, want %+v", after, ps[0].Claim.Tally, want)
		}
	})
}
