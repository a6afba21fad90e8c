package growth_test

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"slipleaf/build/almanac"
	"slipleaf/build/dynamics"
	"slipleaf/build/growth"
	"slipleaf/build/ledger"
	"slipleaf/build/quantity"
)

// counted is a plant of a tank on a day: so many stems on each of some days of February, in turn a week apart; the journal trims at
// 40 stems.
func counted(t *testing.T, on quantity.Date, growing string, stems ...int) *growth.Growth {
	t.Helper()
	all := countedFacts(t, on, growing, stems...).All()
	if len(all) != 1 {
		t.Fatalf("%d series", len(all))
	}
	return all[0]
}

// countedFacts are the facts of that tank.
func countedFacts(t *testing.T, on quantity.Date, growing string, stems ...int) *growth.Facts {
	t.Helper()
	entries := map[string]string{}
	for i, n := range stems {
		entries[quantity.Date{Year: 2026, Month: 2, Day: 1}.Add(7*i).String()] = count(fmt.Sprintf("stems: %d", n))
	}
	j := book(t, entries, "")
	j.TrimWhen.Stems = 40
	return growth.New(j, func(string) (s almanac.Species) { s.Growth = growing; return s }, on)
}

func TestFirstWindowComesWithTheThirdCount(t *testing.T) {
	on := quantity.Date{Year: 2026, Month: 2, Day: 16}
	if g := counted(t, on, "fast", 20, 27); g.Next.Known() || g.Early != nil {
		t.Errorf("two counts make a window: %+v", g.Next)
	}
	if g := counted(t, on, "", 20, 26, 33); g.Next.Known() || g.Early != nil {
		t.Errorf("three counts of a plant of which nothing is known make a window: %+v", g.Next)
	}
	g := counted(t, on, "fast", 20, 26, 33)
	if !g.Next.Known() || g.Fit != nil || g.Early == nil || g.Early.PriorShare <= 0 || g.Early.PriorShare >= 1 {
		t.Fatalf("three counts: %+v, %+v", g.Next, g.Early)
	}
	var few *dynamics.TooFewCounts
	if !errors.As(g.Why, &few) {
		t.Errorf("three counts show a rate: %v", g.Why)
	}
}

// Three counts of a plant of which the almanac knows nothing make a window where it grows in another tank, from what it does there.
func TestFirstWindowFromAnotherTank(t *testing.T) {
	on := quantity.Date{Year: 2026, Month: 2, Day: 16}
	entries := map[string]string{}
	for i, n := range []int{20, 26, 33} {
		entries[on.Add(7*i-14).String()] = count(fmt.Sprintf("stems: %d", n))
	}
	var memory growth.Memory
	facts := func(rate float64) (one, other *growth.Growth) {
		for i := range 10 {
			entries["tray/"+on.Add(7*i-70).String()] = count(fmt.Sprintf("stems: %.0f", 20*math.Exp(rate*7*float64(i))))
		}
		j := book(t, entries, "")
		j.TrimWhen.Stems = 60
		f := memory.Facts(j, func(string) (s almanac.Species) { return s }, on)
		one, _ = f.Now("vat", "rotala-rotundifolia")
		other, _ = f.Now("tray", "rotala-rotundifolia")
		return one, other
	}
	slow, there := facts(0.02)
	if slow == nil || slow.Early == nil || slow.Kin != 1 || there.Kin != 0 || there.Fit == nil {
		t.Fatalf("three counts beside ten in another tank: %+v", slow)
	}
	if again, _ := facts(0.02); again != slow {
		t.Error("the same journal is fitted again")
	}
	fast, _ := facts(0.05)
	if fast == slow || fast.Early.Rate.Value <= slow.Early.Rate.Value {
		t.Errorf("the other tank grows at 0.05 instead of 0.02: rate %v, was %v", fast.Early.Rate, slow.Early.Rate)
	}
}

func TestAWindowThatIsOverWasDue(t *testing.T) {
	stems := []int{14, 18, 22, 28, 34}
	soon := counted(t, quantity.Date{Year: 2026, Month: 3, Day: 2}, "", stems...)
	if !soon.Next.Known() || soon.Next.Overdue {
		t.Fatalf("the day after the last count: %+v", soon.Next)
	}
	late := counted(t, quantity.Date{Year: 2026, Month: 4, Day: 20}, "", stems...)
	if !late.Next.Overdue || !late.Next.High.Before(quantity.Date{Year: 2026, Month: 4, Day: 20}) || late.Next.Best != soon.Next.Best {
		t.Errorf("seven weeks later: %+v, where it was %+v", late.Next, soon.Next)
	}
}

func TestAGoalThatIsFarHasAChance(t *testing.T) {
	g := counted(t, quantity.Date{Year: 2026, Month: 3, Day: 2}, "", 10, 10, 11, 11, 12)
	var far *dynamics.TooFar
	if !errors.As(g.NextWhy, &far) || far.Chance >= 0.5 || far.Chance < 0 || math.IsNaN(far.Chance) {
		t.Errorf("%v, %+v", g.NextWhy, g.Next)
	}
}

// drawStems are four to most counts of a plant that began with least stems or some more, and grew by up to a share a week.
func drawStems(r *rapid.T, least float64, most int, fastest float64) (stems []int) {
	size := rapid.Float64Range(least, 28).Draw(r, "size")
	for range rapid.IntRange(4, most).Draw(r, "counts") {
		stems = append(stems, int(math.Round(size)))
		size *= 1 + rapid.Float64Range(0.02, fastest).Draw(r, "grown")
	}
	return stems
}

// However long nobody counts, a window without an end stays one: that the goal was to be reached within the days that the counts
// could see, rather than not, does not become unlikely when those are over.
func TestAWindowWithoutAnEndStaysOpen(t *testing.T) {
	if g := counted(t, quantity.Date{Year: 2026, Month: 3, Day: 1}, "", 20, 22, 25, 28, 31); !g.Next.Open {
		t.Fatalf("such counts have a window with an end: %+v", g.Next)
	}
	file, err := countedFacts(t, quantity.Date{Year: 2026, Month: 3, Day: 1}, "", 20, 22, 25, 28, 31).GrowthJSON("rotala-rotundifolia", nil)
	if s := string(file); err != nil || !strings.Contains(s[strings.Index(s, "next-trim"):], `"level": 0.9,`) {
		t.Errorf("a window without an end is not before its first day in 90 %%: %s", s)
	}
	rapid.Check(t, func(r *rapid.T) {
		stems := drawStems(r, 20, 6, 0.12)
		last := quantity.Date{Year: 2026, Month: 2, Day: 1}.Add(7 * (len(stems) - 1))
		first := counted(t, last, "", stems...)
		on := last.Add(rapid.IntRange(0, 200).Draw(r, "later"))
		later := counted(t, on, "", stems...)
		if !first.Next.Open {
			return
		}
		if !later.Next.Open || later.Next.Overdue || later.Next.Low.Before(on) && later.Next.Low != first.Next.Low {
			r.Fatalf("on %v %+v (%v), on %v %+v", last, first.Next, stems, on, later.Next)
		}
	})
}

// A lot is announced for days to come. When they are over and nobody counted, or never could be seen to their end, it has no day any
// more: a lot that is expected today on every day is no forecast.
func TestALotIsNotExpectedTodayForEver(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		stems := drawStems(r, 14, 9, 0.3)
		last := quantity.Date{Year: 2026, Month: 2, Day: 1}.Add(7 * (len(stems) - 1))
		if counted(t, last, "", stems...).Next.High == last {
			return // large enough when it was last counted: it can be cut on any day
		}
		known := 0
		for later := 0; later <= 120; later += 5 {
			on := last.Add(later)
			if w := countedFacts(t, on, "", stems...).Forecast(ledger.Key{Tank: "vat", Plant: "rotala-rotundifolia"}); w.Known() {
				if known++; w.Low.Before(on) || w.Best.Before(w.Low) || w.High.Before(w.Best) {
					r.Fatalf("on %v %+v", on, w)
				}
			}
		}
		if known > int(dynamics.Horizon)/5+1 {
			r.Fatalf("%v: expected on %d days, five apart", stems, known)
		}
	})
}
