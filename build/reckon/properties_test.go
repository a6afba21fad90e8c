package reckon

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"slipleaf/build/quantity"
)

func drawIn[T ~float64](t *rapid.T, name string, low, high T) T {
	return T(rapid.Float64Range(float64(low), float64(high)).Draw(t, name))
}

func near(a, b, relative float64) bool {
	return math.Abs(a-b) <= relative*math.Max(1, math.Max(math.Abs(a), math.Abs(b)))
}

// Every unit of hardness and alkalinity leads back to where it came from.
func TestConversionsInvert(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		h := drawIn[quantity.Hardness](t, "gh", 0, 20)
		a := drawIn[quantity.Alkalinity](t, "kh", 0, 20)
		for _, u := range quantity.Units(quantity.HardnessKind) {
			n, _ := quantity.In(h, u)
			if back, _ := quantity.From[quantity.Hardness](n, u); !near(float64(back), float64(h), 1e-12) {
				t.Fatalf("%v by %s is %v", h, u, back)
			}
		}
		for _, u := range quantity.Units(quantity.AlkalinityKind) {
			n, _ := quantity.In(a, u)
			if back, _ := quantity.From[quantity.Alkalinity](n, u); !near(float64(back), float64(a), 1e-12) {
				t.Fatalf("%v by %s is %v", a, u, back)
			}
		}
	})
}

// The pH at which a CO2 is reached gives that CO2 back.
func TestTargetPHInvertsCO2(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := Carbonate{KH: quantity.Of(drawIn(t, "kh", lowKH, highKH)), Temperature: drawIn[quantity.Temperature](t, "t", 5, 35),
			Minerals: Minerals{Conductivity: quantity.Of(drawIn[quantity.Conductivity](t, "ec", 0, 5000))}}
		want := drawIn[quantity.Concentration](t, "co2", lowCO2, highCO2)
		p, err := TargetPH(w, want)
		if err != nil {
			return // that KH cannot hold it
		}
		c, err := DissolvedCO2(w, quantity.Of(p.PH.Best))
		if err != nil || !near(float64(c.CO2.Best), float64(want), 1e-6) {
			t.Fatalf("wanted %v, pH %v gives %v, %v", want, p.PH.Best, c.CO2.Best, err)
		}
	})
}

// CO2 falls as pH rises and grows with KH, and its span holds the best figure.
func TestCO2IsMonotone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := Carbonate{KH: quantity.Of(drawIn(t, "kh", lowKH, highKH/2)), Temperature: drawIn[quantity.Temperature](t, "t", 5, 35), Minerals: minerals(0.005)}
		ph := drawIn[quantity.PH](t, "ph", 6, 8.9) // below, a high KH would mean more than pure gas holds, which is refused
		a, err := DissolvedCO2(w, quantity.Of(ph))
		b, err2 := DissolvedCO2(w, quantity.Of(ph+0.1))
		w.KH = quantity.Of(2 * w.KH.Mid())
		c, err3 := DissolvedCO2(w, quantity.Of(ph))
		if err := FirstError(err, err2, err3); err != nil {
			t.Fatal(err)
		}
		if !(b.CO2.Best < a.CO2.Best && a.CO2.Best < c.CO2.Best) {
			t.Fatalf("CO2 %v, at a higher pH %v, at a higher KH %v", a.CO2.Best, b.CO2.Best, c.CO2.Best)
		}
		for _, r := range []Range[quantity.Concentration]{a.CO2, a.ByPH, a.ByKH} {
			if !(0 <= r.Low && r.Low <= r.Best && r.Best <= r.High) {
				t.Fatalf("span %+v", r)
			}
		}
	})
}

func TestDoseIsLinear(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.SampledFrom(salts[:]).Draw(t, "salt")
		v := drawIn[quantity.Volume](t, "volume", 1, 1000)
		m := drawIn(t, "mass", 0, quantity.Mass(v))
		one, err := DoseOf(s, m, v)
		two, err2 := DoseOf(s, 2*m, v)
		half, err3 := DoseOf(s, m, 2*v)
		if err := FirstError(err, err2, err3); err != nil {
			t.Fatal(err)
		}
		if !near(float64(two.GH), 2*float64(one.GH), 1e-12) || !near(float64(two.KH), 2*float64(one.KH), 1e-12) || !near(2*float64(half.GH), float64(one.GH), 1e-12) {
			t.Fatalf("%v, %v, %v", one, two, half)
		}
		for _, i := range one.Ions {
			if !near(float64(two.Of(i.Ion)), 2*float64(i.Rise), 1e-12) {
				t.Fatalf("%s: %v, %v", i.Ion, i.Rise, two.Of(i.Ion))
			}
			back, err := DoseForIon(s, v, i.Ion, i.Rise)
			if err != nil || !near(float64(back.Mass), float64(m), 1e-9) {
				t.Fatalf("%v of %s comes back as %v, %v", m, s.Name, back.Mass, err)
			}
		}
	})
}

func TestBlendLiesBetweenItsWaters(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := drawIn[quantity.Hardness](t, "a", 0, 10), drawIn[quantity.Hardness](t, "b", 0, 10)
		x := drawIn[quantity.Share](t, "share", 0, 1)
		m := min(max(b+(a-b)*quantity.Hardness(x), min(a, b)), max(a, b))
		if math.Abs(float64(a-b)) < 1e-3 {
			return
		}
		back, err := MixFor(a, b, m, 0)
		if err != nil || !near(float64(back.ShareA), float64(x), 1e-9) || !near(float64(back.ShareA+back.ShareB), 1, 1e-12) {
			t.Fatalf("%v of %v and %v comes back as %v, %v", x, a, b, back.ShareA, err)
		}
	})
}

// Changes lead from the tank toward the tap, each nearer and never past it; as many as are needed arrive, one fewer do not.
func TestWaterChangesLeadToTheTap(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		start, tap := drawIn[quantity.Concentration](t, "start", 0, 100), drawIn[quantity.Concentration](t, "tap", 0, 100)
		share := drawIn[quantity.Share](t, "share", 0.05, 0.95)
		r, err := WaterChanges(start, tap, share, 12)
		if err != nil {
			t.Fatal(err)
		}
		before := math.Abs(float64(start - tap))
		for _, v := range r.After {
			d := math.Abs(float64(v - tap))
			if d > before || v < min(start, tap)-1e-9 || v > max(start, tap)+1e-9 {
				t.Fatalf("from %v to %v by %v: %v", start, tap, share, r.After)
			}
			before = d
		}
		if math.Abs(float64(start-tap)) < 1 {
			return
		}
		want := tap + (start-tap)*quantity.Concentration(rapid.Float64Range(0.01, 0.99).Draw(t, "left"))
		needed, err := ChangesNeeded(start, tap, want, share)
		n := needed.Times
		if err != nil || n < 1 || n > mostChanges {
			t.Fatalf("%d changes, %v", n, err)
		}
		done, err := WaterChanges(start, tap, share, n)
		if err != nil {
			t.Fatal(err)
		}
		gap := func(v quantity.Concentration) float64 { return math.Abs(float64(v - tap)) }
		if gap(done.After[n-1]) > gap(want)+1e-6 || n > 1 && gap(done.After[n-2]) < gap(want)-1e-6 {
			t.Fatalf("%d changes from %v for %v: %v", n, start, want, done.After)
		}
	})
}

// Light never increases with depth, whatever hangs above; the range holds the best guess; nothing is negative or
// endless; two equal lamps give twice the light of one.
func TestLightFallsWithDepth(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := LightSetting{Length: drawIn[quantity.Length](t, "length", 10, 200), Width: drawIn[quantity.Length](t, "width", 10, 80), WaterDepth: drawIn[quantity.Length](t, "depth", 1, 150)}
		name := rapid.SampledFrom(ClarityNames()).Draw(t, "water")
		s.Water, _ = ClarityNamed(name)
		for range rapid.IntRange(1, 3).Draw(t, "lamps") {
			s.Lamps = append(s.Lamps, drawLamp(t, s.Width))
		}
		if rapid.Bool().Draw(t, "measured") {
			s.Measured = quantity.Of(drawIn[quantity.PhotonFlux](t, "light", 5, 300))
		}
		m, err := s.Model()
		if err != nil {
			t.Fatal(err)
		}
		last := m.Surface()
		for i := 1; i <= 20; i++ {
			a, err := m.At(s.WaterDepth * quantity.Length(i) / 20)
			if err != nil {
				t.Fatal(err)
			}
			checkFalls(t, a, last)
			last = a
		}
		s.Lamps = append(s.Lamps, s.Lamps...)
		s.Measured = quantity.Reading[quantity.PhotonFlux]{}
		double, err := s.Model()
		if err != nil {
			t.Fatal(err)
		}
		s.Lamps = s.Lamps[:len(s.Lamps)/2]
		single, _ := s.Model()
		if !near(float64(double.Bottom().Mean.Best), 2*float64(single.Bottom().Mean.Best), 1e-9) {
			t.Fatalf("twice the lamps: %v, once: %v", double.Bottom().Mean.Best, single.Bottom().Mean.Best)
		}
	})
}

func drawLamp(t *rapid.T, width quantity.Length) Lamp {
	l := Lamp{Along: drawIn[quantity.Length](t, "along", -50, 50), Across: drawIn[quantity.Length](t, "across", -20, 20), Hours: drawIn(t, "hours", 0.0, 24)}
	if rapid.Bool().Draw(t, "lumens") {
		l.Output, l.Kind = quantity.Of(drawIn[quantity.LuminousFlux](t, "output", 100, 9000)), rapid.SampledFrom([]string{"", "white led", "metal halide"}).Draw(t, "kind")
	} else {
		l.Power = quantity.Of(drawIn[quantity.Power](t, "power", 1, 200))
		if rapid.Bool().Draw(t, "efficacy known") {
			l.Efficacy = quantity.Of(drawIn[quantity.Efficacy](t, "efficacy", 0.5, 3))
		}
	}
	if rapid.Bool().Draw(t, "measures known") {
		l.Length, l.Width = quantity.Of(drawIn[quantity.Length](t, "lamp length", 1, 200)), quantity.Of(drawIn[quantity.Length](t, "lamp width", 0.5, 60))
		l.AboveWater = quantity.Of(drawIn(t, "above", 0, width))
	}
	return l
}

func checkFalls(t *rapid.T, a, above LightAt) {
	const slack = 1 + 1e-6 // of the sum of 16 terms
	if a.Mean.Best > above.Mean.Best*slack || a.Mean.Low > above.Mean.Low*slack || a.Mean.High > above.Mean.High*slack || a.DLI.Best > above.DLI.Best*slack {
		t.Fatalf("light rises from %+v to %+v", above, a)
	}
	if !(0 <= a.Mean.Low && a.Mean.Low <= a.Mean.Best && a.Mean.Best <= a.Mean.High) || !Finite(float64(a.Mean.High)) {
		t.Fatalf("range %+v", a)
	}
	if a.Brightest < a.Mean.Best || !(a.Arriving.Low >= 0 && a.Arriving.High <= slack) {
		t.Fatalf("places %+v", a)
	}
}

// Intervals of a share lie in 0 to 1, hold the share, and shrink as the same share rests on more reports.
func TestShareIntervals(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 400).Draw(t, "of")
		x := rapid.IntRange(0, n).Draw(t, "yes")
		level := drawIn[quantity.Share](t, "level", 0.5, 0.999)
		for name, f := range map[string]func(Tally, quantity.Share) (Interval, error){"wilson": Wilson, "jeffreys": Jeffreys} {
			a, err := f(Tally{x, n}, level)
			b, err2 := f(Tally{4 * x, 4 * n}, level)
			if err := FirstError(err, err2); err != nil {
				t.Fatal(err)
			}
			if !(0 <= a.Low && a.Low <= a.Value+1e-12 && a.Value <= a.High+1e-12 && a.High <= 1) {
				t.Fatalf("%s %d of %d: %+v", name, x, n, a)
			}
			if b.High-b.Low >= a.High-a.Low {
				t.Fatalf("%s %d of %d is no narrower four times over: %+v, %+v", name, x, n, a, b)
			}
		}
	})
}

// A shrunken share lies between the raw one and the prior's mean, and the prior of any groups is usable.
func TestShrinkageLiesBetween(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var groups []Tally
		for range rapid.IntRange(1, 12).Draw(t, "groups") {
			n := rapid.IntRange(1, 40).Draw(t, "of")
			groups = append(groups, Tally{rapid.IntRange(0, n).Draw(t, "yes"), n})
		}
		p, err := PriorOf(groups)
		if err != nil {
			t.Fatal(err)
		}
		for _, g := range groups {
			e, err := p.Shrink(g, 0.95)
			if err != nil {
				t.Fatal(err)
			}
			raw := float64(g.Yes) / float64(g.Of)
			if e.Value < min(raw, p.Mean)-1e-9 || e.Value > max(raw, p.Mean)+1e-9 || !(0 <= e.Low && e.Low <= e.Value+1e-9 && e.Value <= e.High+1e-9 && e.High <= 1) {
				t.Fatalf("%v toward %+v is %+v", g, p, e)
			}
		}
	})
}

// Shares established and died rise from 0 and never make more than 1.
func TestSurvivalCurves(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var ws []Observation
		for range rapid.IntRange(1, 40).Draw(t, "lots") {
			w := Observation{quantity.Span(rapid.IntRange(0, 60).Draw(t, "days")), Status(rapid.IntRange(0, 2).Draw(t, "status"))}
			ws = append(ws, w)
		}
		made, died, err := AalenJohansen(ws, 0.95)
		if err != nil {
			t.Fatal(err)
		}
		last := Interval{}
		for i, s := range made.Steps {
			all := s.Share.Value + died.Steps[i].Share.Value
			if s.Share.Value < last.Value-1e-12 || all > 1+1e-9 || !(0 <= s.Share.Low && s.Share.Low <= s.Share.Value+1e-12 && s.Share.Value <= s.Share.High+1e-12 && s.Share.High <= 1) {
				t.Fatalf("step %+v after %+v, with the dead %v", s, last, all)
			}
			last = s.Share
		}
	})
}

// The NH3 share rises with pH and with warmth, and lies in 0 to 1.
func TestAmmoniaRises(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ph, c := drawIn[quantity.PH](t, "ph", 4, 10), drawIn[quantity.Temperature](t, "t", 0, 49)
		a, err := UnionisedAmmonia(1, ph, c)
		b, err2 := UnionisedAmmonia(1, ph+1, c)
		d, err3 := UnionisedAmmonia(1, ph, c+1)
		if err := FirstError(err, err2, err3); err != nil {
			t.Fatal(err)
		}
		if !(0 < a.Share && a.Share < b.Share && a.Share < d.Share && b.Share < 1) {
			t.Fatalf("%v, %v, %v", a.Share, b.Share, d.Share)
		}
	})
}

// A tank's net water is no more than its gross volume, the ranges hold their best figures, and a wider one weighs more.
func TestTankAddsUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := TankShape{Length: drawIn[quantity.Length](t, "length", 5, 300), Width: drawIn[quantity.Length](t, "width", 5, 300), Height: drawIn[quantity.Length](t, "height", 6, 120)}
		s.Substrate = quantity.Of(s.Height * quantity.Length(rapid.Float64Range(0, 0.5).Draw(t, "substrate")))
		a, err := s.Measure()
		if err != nil {
			t.Fatal(err)
		}
		if !(0 < a.Net.Low && a.Net.Low <= a.Net.Best && a.Net.Best <= a.Net.High && a.Net.High <= a.Gross) || !(a.Filled.Low <= a.Filled.Best && a.Filled.Best <= a.Filled.High) {
			t.Fatalf("%+v", a)
		}
		s.Width *= 1.2
		b, err := s.Measure()
		if err != nil || b.Filled.Best <= a.Filled.Best || b.Net.Best <= a.Net.Best {
			t.Fatalf("wider: %+v, %v", b.Filled, err)
		}
	})
}
