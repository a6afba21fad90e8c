package sheet

import (
	"math"
	"math/rand/v2"
	"testing"

	"slipleaf/build/journal"
	"slipleaf/build/quantity"
)

func TestJudge(t *testing.T) {
	b := Band{Temperature, 20, 30, true} // 15 % of the width: 1.5; the noise of a thermometer is 1
	for _, c := range []struct {
		name string
		v    Value
		want Outcome
		by   float64
	}{
		{"in the middle", one(25), WellInside, 0},
		{"at the margin", one(21.5), WellInside, 0},
		{"just short of the margin", one(21.4), NearEdge, 0},
		{"at the lower end", one(20), NearEdge, 0},
		{"at the upper end", one(30), NearEdge, 0},
		{"too low by less than a thermometer's error", one(19.1), NearEdge, 0},
		{"too high by just that error", one(31), NearEdge, 0},
		{"too low", one(18), Outside, -2},
		{"too high", one(33.5), Outside, 3.5},
		{"a swing that leaves the band", Value{"", 24, 27, 31.5, true, false}, Outside, 1.5},
		{"a swing within it", Value{"", 23, 25, 27, true, false}, WellInside, 0},
		{"a model whose end leaves the band", Value{"", 15, 25, 28, true, true}, NearEdge, 0},
		{"a model whose best lies outside", Value{"", 10, 19, 28, true, true}, NearEdge, 0},
		{"a model that lies outside with all of it", Value{"", 10, 14, 18, true, true}, Outside, -2},
		{"not known", Value{}, NotKnown, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			if o, by := Judge(b, c.v); o != c.want || math.Abs(by-c.by) > 1e-9 {
				t.Errorf("%s by %v, want %s by %v", o, by, c.want, c.by)
			}
		})
	}
	if o, _ := Judge(Band{GH, 0, 20, true}, one(0)); o != WellInside {
		t.Errorf("where the lower end is nothing, that end is no edge: %s", o)
	}
	if o, _ := Judge(Band{}, one(25)); o != NotKnown {
		t.Errorf("without a band: %s", o)
	}
}

func one(f float64) Value { return Value{Low: f, Best: f, High: f, Known: true} }

// A second hand's rule, written from the words of the rule and not from the code above: it counts in hundredths, so
// that no rounding of one hides in the other.
func secondHand(f Fitting) (Summary, map[Parameter]Outcome) {
	got := map[Parameter]Outcome{}
	off := map[Parameter]int{} // hundredths outside; negative: too low
	for p, b := range f.Bands {
		v := f.Values[p]
		if !b.Known || !v.Known {
			got[p] = NotKnown
			continue
		}
		lo, hi := hundredths(b.Low), hundredths(b.High)
		x := hundredths(v.Best)
		width := hi - lo
		noise := map[Parameter]int{Temperature: 100, GH: 100, KH: 100, PH: 20}[p]
		under, over := noise, noise
		if p == LightAt {
			under, over = lo/10, hi/10
		}
		switch {
		case x < lo-under:
			got[p], off[p] = Outside, x-lo
		case x > hi+over:
			got[p], off[p] = Outside, x-hi
		case lo > 0 && 100*(x-lo) < 15*width, 100*(hi-x) < 15*width:
			got[p] = NearEdge
		default:
			got[p] = WellInside
		}
	}
	noGas := f.Need == "needed" && f.Injected == journal.No
	if got[Temperature] == NotKnown && got[GH] == NotKnown && got[KH] == NotKnown && f.Salt <= max(2000, f.SaltMost) {
		return CannotSay, got
	}
	counting := []Parameter{Temperature, GH, KH, LightAt}
	starved := off[PH] > 0 && !f.Bicarbonate && 3.27*f.Values[KH].Best*math.Pow(10, 7-f.Values[PH].Best) < 0.3
	if got[KH] == NotKnown || starved {
		counting = append(counting, PH)
	}
	bad := 0
	for _, p := range counting {
		if got[p] == Outside {
			bad++
		}
	}
	if noGas {
		bad++
	}
	tooFar := off[Temperature] > 300 || off[Temperature] < -300 || off[KH] > 400
	switch {
	case f.Salt > max(2000, f.SaltMost), bad > 1, bad == 1 && (noGas || tooFar):
		return PoorMatch, got
	case bad == 1, f.StepClass == LargeStep, f.StepClass == VeryLargeStep:
		return OneChange, got
	}
	return GoodMatch, got
}

func hundredths(f float64) int { return int(math.Round(f * 100)) }

func TestFitAgreesWithASecondHand(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 2026))
	seen := map[Summary]int{}
	for i := range 10_000 {
		f := randomFitting(r)
		want, verdicts := secondHand(f)
		got := Fit(f)
		if got.Summary != want {
			t.Fatalf("case %d: %s, want %s\n%+v", i, got.Summary, want, f)
		}
		for _, v := range got.Verdicts {
			if v.Parameter != CO2 && v.Outcome != verdicts[v.Parameter] {
				t.Fatalf("case %d: %s is %s, want %s\n%+v", i, v.Parameter, v.Outcome, verdicts[v.Parameter], f)
			}
		}
		if got.Summary == OneChange && !got.Change.Is() {
			t.Fatalf("case %d: one change, but none is named", i)
		}
		seen[want]++
	}
	for _, s := range []Summary{GoodMatch, OneChange, PoorMatch, CannotSay} {
		if seen[s] < 100 {
			t.Errorf("%s came up %d times only: %v", s, seen[s], seen)
		}
	}
}

// randomFitting draws whole numbers and tenths, so that ends and margins are often met exactly.
func randomFitting(r *rand.Rand) Fitting {
	f := Fitting{Bands: map[Parameter]Band{}, Values: map[Parameter]Value{}, Need: []string{"", "none", "helps", "needed"}[r.IntN(4)],
		Injected: journal.Tristate(r.IntN(3)), StepClass: Class(r.IntN(5)), Bicarbonate: r.IntN(3) == 0}
	for p, span := range map[Parameter][2]int{Temperature: {10, 30}, GH: {0, 25}, KH: {0, 15}, LightAt: {5, 200}, PH: {4, 9}} {
		lo := span[0] + r.IntN(max((span[1]-span[0])/3, 1))
		hi := lo + 1 + r.IntN(span[1]-lo)
		f.Bands[p] = Band{p, float64(lo), float64(hi), r.IntN(12) > 0}
		if r.IntN(10) < 7 {
			x := float64(lo) + float64(r.IntN(10*(hi-lo)+20)-10)/10
			if r.IntN(12) == 0 {
				x = float64(hi) + float64(r.IntN(80))/10
			}
			f.Values[p] = one(x)
		}
	}
	if r.IntN(30) == 0 {
		f.Salt, f.SaltMost = float64(r.IntN(9000)), float64(r.IntN(2)*5000)
	}
	return f
}

func TestStepBetween(t *testing.T) {
	water := func(temp, gh, kh float64) journal.Parameters {
		return journal.Parameters{Temperature: quantity.Of(quantity.Temperature(temp)), GH: quantity.Of(quantity.Hardness(gh) * quantity.DGH),
			KH: quantity.Of(quantity.Alkalinity(kh) * quantity.DKH)}
	}
	soft := Band{KH, 0, 5, true}
	for _, c := range []struct {
		name             string
		from, to         journal.Parameters
		fromCO2, toCO2   journal.Tristate
		how              Sensitive
		want, worstClass Class
	}{
		{"the same water", water(24, 6, 4), water(24, 6, 4), journal.No, journal.No, Sensitive{Need: "none"}, SmallStep, SmallStep},
		{"KH by 3 is small", water(24, 6, 4), water(24, 6, 7), journal.No, journal.No, Sensitive{Need: "none"}, SmallStep, SmallStep},
		{"KH by 3.1 is medium", water(24, 6, 4), water(24, 6, 7.1), journal.No, journal.No, Sensitive{Need: "none"}, MediumStep, MediumStep},
		{"GH by 15 is large", water(24, 0, 4), water(24, 15, 4), journal.No, journal.No, Sensitive{Need: "none"}, LargeStep, LargeStep},
		{"over 10 C is very large", water(14, 6, 4), water(24.5, 6, 4), journal.No, journal.No, Sensitive{Need: "none"}, VeryLargeStep, VeryLargeStep},
		{"melts 2 raises a medium step", water(24, 6, 4), water(28, 6, 4), journal.No, journal.No, Sensitive{Need: "none", Melts: 2}, LargeStep, MediumStep},
		{"melts 2 leaves a small one", water(24, 6, 4), water(25, 6, 4), journal.No, journal.No, Sensitive{Need: "none", Melts: 2}, SmallStep, SmallStep},
		{"melts 3 raises a small one", water(24, 6, 4), water(25, 6, 4), journal.No, journal.No, Sensitive{Need: "none", Melts: 3}, MediumStep, SmallStep},
		{"a soft-water plant whose KH rises", water(24, 6, 2), water(24, 6, 5.5), journal.No, journal.No, Sensitive{Need: "none", KHMax: soft}, LargeStep, MediumStep},
		{"a soft-water plant whose KH falls", water(24, 6, 5.5), water(24, 6, 2), journal.No, journal.No, Sensitive{Need: "none", KHMax: soft}, MediumStep, MediumStep},
		{"it loses its CO2", water(24, 6, 4), water(24, 6, 4), journal.Yes, journal.No, Sensitive{Need: "helps"}, LargeStep, LargeStep},
		{"it loses CO2 that it does not need", water(24, 6, 4), water(24, 6, 4), journal.Yes, journal.No, Sensitive{Need: "none"}, SmallStep, SmallStep},
		{"nothing is known", journal.Parameters{}, journal.Parameters{}, journal.NotSaid, journal.NotSaid, Sensitive{Melts: 3}, UnknownStep, UnknownStep},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := StepBetween(c.from, c.to, c.fromCO2, c.toCO2, c.how)
			if s.Class != c.want || s.Worst.Class != c.worstClass {
				t.Errorf("%s of %s, want %s of %s", s.Class, s.Worst.Class, c.want, c.worstClass)
			}
		})
	}
}
