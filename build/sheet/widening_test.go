package sheet

import (
	"math"
	"slices"
	"strconv"
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
		v.Interval, w.Interval = true, true
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

// same writes a reading in another unit of its kind.
func same[T quantity.Scalar](t *rapid.T, name string, r quantity.Reading[T]) quantity.Reading[T] {
	units := quantity.Units(T(0).Kind())
	if !r.Known() || len(units) == 0 {
		return r
	}
	unit := rapid.SampledFrom(units).Draw(t, name+" in")
	figure := func(v T) string {
		n, ok := quantity.In(v, unit)
		if !ok {
			t.Fatalf("no %s in %s", name, unit)
		}
		return strconv.FormatFloat(n, 'f', -1, 64)
	}
	text := figure(r.Low())
	if r.IsRange() {
		text += ".." + figure(r.High())
	}
	out, err := quantity.Parse[T](text + " " + unit)
	if err != nil {
		t.Fatalf("%s of %s: %v", name, text, err)
	}
	return out
}

// A tank told in other units gets the same sheet.
func TestUnitsMakeNoOtherSheet(t *testing.T) {
	a, err := almanac.Open()
	if err != nil {
		t.Fatal(err)
	}
	all := a.All()
	rapid.Check(t, func(t *rapid.T) {
		c := drawCase(t, all)
		other := c
		p := *c.Parcel
		w := &p.Water
		w.Temperature, w.GH, w.KH = same(t, "temperature", w.Temperature), same(t, "GH", w.GH), same(t, "KH", w.KH)
		w.Conductivity, w.Light = same(t, "conductivity", w.Conductivity), same(t, "light", w.Light)
		if p.Tank != nil {
			tank := *p.Tank
			in := &tank.Inside
			in.Length, in.Width, in.Height = same(t, "length", in.Length), same(t, "width", in.Width), same(t, "height", in.Height)
			tank.WaterDepth = same(t, "depth", tank.WaterDepth)
			p.Tank = &tank
		}
		other.Parcel = &p
		s, o := New(c), New(other)
		if s.Summary != o.Summary || s.CO2.Gas != o.CO2.Gas || s.CO2.Checker != o.CO2.Checker || s.Change != o.Change || !slices.Equal(s.Tasks, o.Tasks) || s.Melt.Level != o.Melt.Level {
			t.Fatalf("%s, %s, %+v, %v, and in other units %s, %s, %+v, %v", s.Summary, s.CO2.Gas, s.Change, s.Tasks, o.Summary, o.CO2.Gas, o.Change, o.Tasks)
		}
		near := func(name string, a, b float64) {
			if math.Abs(a-b) > 1e-6*(1+math.Abs(a)) {
				t.Fatalf("%s is %v, and in other units %v", name, a, b)
			}
		}
		for i, v := range s.Verdicts {
			if v.Outcome != o.Verdicts[i].Outcome {
				t.Fatalf("%s is %s, and in other units %s", v.Parameter, v.Outcome, o.Verdicts[i].Outcome)
			}
			near(string(v.Parameter), v.By, o.Verdicts[i].By)
		}
		near("the volume", float64(s.Water.Volume.Best), float64(o.Water.Volume.Best))
		near("the pH to go for", float64(s.CO2.PH.Best), float64(o.CO2.PH.Best))
		near("the light", float64(s.Light.At(Bottom).Best), float64(o.Light.At(Bottom).Best))
		near("the first trim", s.Trim.Best, o.Trim.Best)
		for i, r := range []*Raise{s.Water.GH, s.Water.KH} {
			if q := []*Raise{o.Water.GH, o.Water.KH}[i]; r != nil {
				near("a dose", float64(r.Doses[0].Mass), float64(q.Doses[0].Mass))
			}
		}
	})
}
