package chart

import (
	"math"
	"reflect"
	"testing"

	"pgregory.net/rapid"
)

func TestTicksAreRound(t *testing.T) {
	for _, c := range []struct {
		name   string
		ticks  func(float64, float64, int) []valueTick
		lo, hi float64
		want   []float64
	}{
		{"from nothing", linearTicks, 0, 780, []float64{0, 200, 400, 600}},
		{"a narrow range", linearTicks, 5.9, 7.2, []float64{6, 6.5, 7}},
		{"across nothing", linearTicks, -3, 4, []float64{-2, 0, 2, 4}},
		{"by ratio within a decade", logTicks, 180, 800, []float64{200, 400, 800}},
		{"by ratio over two decades", logTicks, 8, 900, []float64{20, 80, 320}},
		{"by ratio over many decades", logTicks, 0.5, 5e6, []float64{1, 100, 10000, 1e6}},
		{"by ratio where it hardly differs", logTicks, 100, 130, []float64{100, 110, 120, 130}},
	} {
		got := c.ticks(c.lo, c.hi, 4)
		if len(got) != len(c.want) {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
			continue
		}
		for i, k := range got {
			if math.Abs(k.v-c.want[i]) > 1e-9*math.Abs(c.want[i]) {
				t.Errorf("%s: %v, want %v", c.name, got, c.want)
			}
		}
	}
}

// Two ticks at least and no more than asked for, all within the range, ascending, and told apart by their names.
func TestTicksHoldTheirLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lo := rapid.Float64Range(1e-6, 1e6).Draw(t, "low")
		hi := lo * (1.2 + rapid.Float64Range(0, 1e6).Draw(t, "ratio"))
		for _, ticks := range []func(float64, float64, int) []valueTick{linearTicks, logTicks} {
			got := ticks(lo, hi, 4)
			if len(got) < 2 || len(got) > 4 {
				t.Fatalf("%v in %v..%v", got, lo, hi)
			}
			for i, k := range got {
				if k.v < lo*(1-1e-6) || k.v > hi*(1+1e-6) || i > 0 && k.v <= got[i-1].v {
					t.Fatalf("%v in %v..%v", got, lo, hi)
				}
				if i > 0 && (Words{}).Number(k.v, k.decimals) == (Words{}).Number(got[i-1].v, got[i-1].decimals) {
					t.Fatalf("%v and %v have one name", k, got[i-1])
				}
			}
		}
	})
}

func TestAxisKeepsOrderAndEnds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := axis{2, 900, 276, 50, rapid.Bool().Draw(t, "log")}
		u, v := rapid.Float64Range(-100, 2000).Draw(t, "u"), rapid.Float64Range(-100, 2000).Draw(t, "v")
		if u < v && a.at(u) < a.at(v) {
			t.Fatalf("%v stands at %v, %v at %v", u, a.at(u), v, a.at(v))
		}
		if p := a.at(u); p > 276 || p < 50 {
			t.Fatalf("%v stands at %v", u, p)
		}
	})
	a := axis{1, 100, 0, 10, true}
	if got := a.at(10); math.Abs(got-5) > 1e-12 {
		t.Errorf("10 stands at %v between 1 and 100", got)
	}
}

func TestDayTicksByTheSpan(t *testing.T) {
	w := english()
	for _, c := range []struct {
		name     string
		from, to int
		long     bool
		want     []string
	}{
		{"a week: days", Day(2026, 5, 4), Day(2026, 5, 10), false, []string{"4 May", "5 May", "6 May", "7 May", "8 May", "9 May", "10 May"}},
		{"six weeks: Mondays", Day(2026, 5, 1), Day(2026, 6, 12), false, []string{"4 May", "11 May", "18 May", "25 May", "1 Jun", "8 Jun"}},
		{"four months", Day(2026, 3, 1), Day(2026, 7, 12), true, []string{"March", "April", "May", "June", "July"}},
		{"a winter: January bears the year", Day(2025, 10, 20), Day(2026, 3, 20), true, []string{"November", "December", "2026", "February", "March"}},
		{"two years: quarters", Day(2025, 2, 1), Day(2027, 1, 20), false, []string{"Apr", "Jul", "Oct", "2026", "Apr", "Jul", "Oct", "2027"}},
		{"ten years", Day(2016, 2, 1), Day(2026, 1, 20), true, []string{"2018", "2020", "2022", "2024", "2026"}},
	} {
		ticks, long := dayTicks(float64(c.from), float64(c.to), 500, 8, w)
		var got []string
		for _, k := range ticks {
			if long {
				got = append(got, k.long)
			} else {
				got = append(got, k.short)
			}
		}
		if !reflect.DeepEqual(got, c.want) || long != c.long {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}

func TestThinKeepsTheBend(t *testing.T) {
	var at []spot
	for x := 0.0; x <= 300; x++ {
		at = append(at, spot{x, 100 * math.Exp(x/300)})
	}
	got := thin(at)
	if len(got) > 20 || got[0] != at[0] || got[len(got)-1] != at[300] {
		t.Fatalf("%d of %d points remain, from %v to %v", len(got), len(at), got[0], got[len(got)-1])
	}
	k := 0
	for _, s := range at {
		for got[k+1].x < s.x {
			k++
		}
		if d := away(s, got[k], got[k+1]); d > 0.26 {
			t.Errorf("%v lies %v away from the thinned line", s, d)
		}
	}
	if straight := thin([]spot{{0, 0}, {1, 1}, {2, 2}, {3, 3}}); len(straight) != 2 {
		t.Errorf("a straight line keeps %v", straight)
	}
}
