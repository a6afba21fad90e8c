package sheet

import (
	"testing"

	"pgregory.net/rapid"

	"slipleaf/build/almanac"
	"slipleaf/build/journal"
	"slipleaf/build/quantity"
	"slipleaf/build/reckon"
)

// wider draws a reading that holds another one.
func wider[T quantity.Scalar](t *rapid.T, name string, r quantity.Reading[T], by float64) quantity.Reading[T] {
	if !r.Known() {
		return r
	}
	return quantity.Between(max(r.Low()-T(rapid.Float64Range(0, by).Draw(t, name+" lower")), 0), r.High()+T(rapid.Float64Range(0, by).Draw(t, name+" higher")))
}

// Who knows less is not told more: of a swing both ends count, so that a wider one is never judged better; of an interval
// the truth may lie anywhere, so that a wider one never comes to lie outside, nor well inside.
func TestWideningNeverMakesAVerdictMoreCertain(t *testing.T) {
	weight := map[Outcome]int{WellInside: 0, NearEdge: 1, Outside: 2}
	rapid.Check(t, func(t *rapid.T) {
		low, width := rapid.Float64Range(0, 20).Draw(t, "low"), rapid.Float64Range(0.5, 20).Draw(t, "width")
		b := Band{rapid.SampledFrom([]Parameter{Temperature, GH, KH, PH, LightAt}).Draw(t, "of"), low, low + width, true}
		best := rapid.Float64Range(0, 45).Draw(t, "best")
		ends := func(name string) float64 { return rapid.Float64Range(0, 10).Draw(t, name) }
		v := Value{Of: b.Of, Low: best - ends("down"), Best: best, High: best + ends("up"), Known: true}
		w := v
		w.Low, w.High = v.Low-ends("further down"), v.High+ends("further up")
		if was, _ := Judge(b, v); weight[was] > 0 {
			if now, _ := Judge(b, w); weight[now] < weight[was] {
				t.Fatalf("a swing %+v in %+v is %s, and the wider %+v is %s", v, b, was, w, now)
			}
		}
		v.Below, w.Below = true, true
		was, _ := Judge(b, v)
		now, _ := Judge(b, w)
		if now == Outside && was != Outside || now == WellInside && was != WellInside {
			t.Fatalf("an interval %+v in %+v is %s, and the wider %+v is %s", v, b, was, w, now)
		}
	})
}

// A figure under a test's limit may be any below it: it is outside only where the limit itself is.
func TestBelowALimitIsOutsideOnlyWithTheLimit(t *testing.T) {
	for _, c := range []struct {
		kh, needs string
		want      Outcome
	}{{"<1 dKH", "2..12 dKH", NearEdge}, {"<1 dKH", "4..12 dKH", Outside}, {"<4 dKH", "3..12 dKH", NearEdge}, {"<4 dKH", "0..12 dKH", WellInside}} {
		has, _ := quantity.Parse[quantity.Alkalinity](c.kh)
		needs, _ := quantity.Parse[quantity.Alkalinity](c.needs)
		f := Fit(FittingOf(almanac.Species{Profile: almanac.Profile{KH: needs}}, journal.Parameters{KH: has}))
		if got := f.Verdicts.Of(KH).Outcome; got != c.want {
			t.Errorf("%s where it needs %s is %s, want %s", c.kh, c.needs, got, c.want)
		}
	}
	acid, _ := quantity.Parse[quantity.PH]("<6") // the lowest colour of a usual drop test (common practice)
	needs, _ := quantity.Parse[quantity.PH]("6..7.5")
	if v := Fit(FittingOf(almanac.Species{Profile: almanac.Profile{PH: needs}}, journal.Parameters{PH: acid})).Verdicts.Of(PH); v.Outcome != NearEdge {
		t.Errorf("a pH below 6 where it needs 6 to 7.5 is %s by %v: half a pH is no measure of anything", v.Outcome, v.By)
	}
}

// Whatever is known of a tank with gas: no pH to go for may mean more than the 30 mg/L of common practice, as far as tests
// of ±0.1 pH and ±0.5 dKH tell; who told KH and temperature is not asked for them; and who knows less of the water is never
// told to give more gas than who knows more.
func TestGasIsAskedForOnlyWhereItIsSafe(t *testing.T) {
	a, err := almanac.Open()
	if err != nil {
		t.Fatal(err)
	}
	all := a.All()
	seen := map[Gas]int{}
	rapid.Check(t, func(t *rapid.T) {
		c := drawCase(t, all)
		c.Parcel.Tank = &journal.Recipient{CO2: journal.Yes}
		w := &c.Parcel.Water
		w.KH = quantity.Of(quantity.Alkalinity(rapid.Float64Range(0, 12).Draw(t, "KH")) * quantity.DKH)
		if rapid.Bool().Draw(t, "temperature?") {
			w.Temperature = quantity.Of(quantity.Temperature(rapid.Float64Range(15, 32).Draw(t, "temperature")))
		}
		if rapid.Bool().Draw(t, "pH?") {
			w.PH = quantity.Of(quantity.PH(rapid.Float64Range(5, 8.5).Draw(t, "pH")))
		}
		s := New(c)
		p := s.CO2
		seen[p.Gas]++
		if asked := p.Gas == GasAsk && !p.Checker; asked == (w.KH.Known() && w.Temperature.Known()) {
			t.Fatalf("asked for KH and temperature: %v, of %v and %v", asked, w.KH, w.Temperature)
		}
		if p.PH.Best > 0 {
			water := reckon.Carbonate{KH: quantity.Of(w.KH.High() + quantity.DKH/2), Temperature: w.Temperature.Mid(), Minerals: reckon.Minerals{GH: w.GH, Conductivity: w.Conductivity}}
			if now, err := reckon.DissolvedCO2(water, quantity.Of(p.PH.Best-0.1)); err == nil && now.CO2.Best > 31 {
				t.Fatalf("pH %v is to go for, and may mean %v mg/L at %v", p.PH.Best, now.CO2.Best, w.KH)
			}
		}
		w.KH, w.PH = wider(t, "KH", w.KH, 2), wider(t, "pH", w.PH, 0.5)
		if wide := New(c).CO2; wide.Gas == GasMore && p.Gas != GasMore {
			t.Fatalf("more gas at KH %v and pH %v, and %s for who knows more", w.KH, w.PH, p.Gas)
		}
	})
	for _, g := range []Gas{GasKeep, GasLess, GasMore, GasAim, GasAsk} {
		if seen[g] == 0 && !testing.Short() {
			t.Errorf("no sheet says %s", g)
		}
	}
}
