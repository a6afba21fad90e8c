package reckon

import (
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"slipleaf/build/quantity"
)

// Assumed inputs are named as such, and given ones are not.
func TestWorkingNamesWhatWasAssumed(t *testing.T) {
	names := func(w Working) string {
		var out []string
		for _, i := range w.Assumed() {
			out = append(out, i.Name)
		}
		return strings.Join(out, " ")
	}
	soft := Carbonate{KH: quantity.Of(4 * quantity.DKH), Temperature: 25}
	guessed, err := DissolvedCO2(soft, quantity.Of[quantity.PH](6.8))
	if err != nil {
		t.Fatal(err)
	}
	soft.Conductivity = quantity.Of(quantity.Conductivity(300))
	known, err := DissolvedCO2(soft, quantity.Of[quantity.PH](6.8))
	if err != nil {
		t.Fatal(err)
	}
	bare, err := TankShape{Length: 60, Width: 30, Height: 36}.Measure()
	if err != nil {
		t.Fatal(err)
	}
	lamp := LightSetting{Length: 60, Width: 30, WaterDepth: 30, Lamps: []Lamp{{Power: quantity.Of(quantity.Power(20))}}}
	light, err := lamp.Model()
	if err != nil {
		t.Fatal(err)
	}
	for name, got := range map[string][2]string{
		"CO2 without conductivity": {names(guessed.Working), "ionic-strength"},
		"CO2 with conductivity":    {names(known.Working), ""},
		"a tank by three measures": {names(bare.Working), "substrate-depth rim-gap glass temperature"},
		"a lamp by its watts":      {names(light.Working), "dirt lamp-efficacy lamp-length lamp-width above-water hours"},
	} {
		if got[0] != got[1] {
			t.Errorf("%s assumes %q, want %q", name, got[0], got[1])
		}
	}
	if b := light.Bottom(); !(b.Mean.Low < b.Mean.Best*0.5 && b.Mean.High > b.Mean.Best*1.5) {
		t.Errorf("a lamp of which only the watts are known has the range %+v", b.Mean)
	}
}

// What can hurt carries its caution.
func TestCautionsStandWhereTheyApply(t *testing.T) {
	gypsum, _ := FindSalt("gypsum")
	soft := Carbonate{KH: quantity.Of(4 * quantity.DKH), Temperature: 25}
	co2, err1 := DissolvedCO2(soft, quantity.Of[quantity.PH](6.8))
	target, err2 := TargetPH(soft, 20)
	dose, err3 := DoseForGH(gypsum, 60, 3*quantity.DGH)
	tank, err4 := TankShape{Length: 60, Width: 30, Height: 36}.Measure()
	light, err5 := demoLight(0.4).Model()
	nh3, err6 := UnionisedAmmonia(1, 7.5, 25)
	if err := FirstError(err1, err2, err3, err4, err5, err6); err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct {
		name string
		got  []Caution
		want Caution
	}{
		{"CO2", co2.Cautions, CautionCO2Livestock}, {"CO2", co2.Cautions, CautionCarbonateOnly},
		{"target pH", target.Cautions, CautionCO2Livestock}, {"target pH", target.Cautions, CautionCO2Cylinder},
		{"dose", dose.Cautions, CautionSmallSteps}, {"tank", tank.Cautions, CautionFloor}, {"tank", tank.Cautions, CautionElectricity},
		{"light", light.Cautions, CautionElectricity}, {"light", light.Cautions, CautionLightModel}, {"ammonia", nh3.Cautions, CautionAmmonia},
	} {
		if !slices.Contains(tt.got, tt.want) || len(tt.want.Text) < 40 {
			t.Errorf("%s has %v, not %s with its words", tt.name, tt.got, tt.want.Key)
		}
	}
}

// A measured value is what the model then gives at that place, within the error of the meter.
func TestMeasurementBeatsTheModel(t *testing.T) {
	s := demoLight(0.4)
	plain, err := s.Model()
	if err != nil {
		t.Fatal(err)
	}
	s.Measured = quantity.Of(quantity.PhotonFlux(40))
	m, err := s.Model()
	if err != nil {
		t.Fatal(err)
	}
	b := m.Bottom()
	if !near(float64(b.Mean.Best), 40, 1e-9) || !near(float64(b.Mean.Low), 36, 1e-9) || !near(float64(b.Mean.High), 44, 1e-9) {
		t.Errorf("measured 40 at the bottom, model gives %+v", b.Mean)
	}
	c := 40 / float64(plain.Bottom().Mean.Best)
	if top := m.Surface(); !near(float64(top.Mean.Best), c*float64(plain.Surface().Mean.Best), 1e-9) || top.Mean.Low >= top.Mean.Best || top.Mean.High <= top.Mean.Best {
		t.Errorf("at the surface %+v, factor %g", top.Mean, c)
	}
	if lines := strings.Join(m.Working.Lines(), "\n"); !strings.Contains(lines, "measured value calibrates") {
		t.Errorf("the working does not say so:\n%s", lines)
	}
	s.MeasuredAt = quantity.Of(quantity.Length(10))
	if m, err = s.Model(); err != nil {
		t.Fatal(err)
	}
	if a, err := m.At(10); err != nil || !near(float64(a.Mean.Best), 40, 1e-9) {
		t.Errorf("measured 40 at 10 cm, model gives %+v, %v", a.Mean, err)
	}
}

// Lamps add, each with its own hours and its own share; cover and floating plants take their part.
func TestLampsCoverAndFloatingPlants(t *testing.T) {
	one := demoLight(0.4)
	base, err := bottomOf(one)
	if err != nil {
		t.Fatal(err)
	}
	ratio := func(name string, change func(*LightSetting), want, wantDay float64) {
		s := demoLight(0.4)
		change(&s)
		got, err := bottomOf(s)
		if err != nil {
			t.Fatal(err)
		}
		if r := float64(got.Mean.Best / base.Mean.Best); !near(r, want, 1e-9) {
			t.Errorf("%s: %g of the light, want %g", name, r, want)
		}
		if r := float64(got.DLI.Best / base.DLI.Best); !near(r, wantDay, 1e-9) {
			t.Errorf("%s: %g of the day, want %g", name, r, wantDay)
		}
	}
	ratio("a second lamp for half the hours", func(s *LightSetting) {
		l := s.Lamps[0]
		l.Hours = 4
		s.Lamps = append(s.Lamps, l)
	}, 2, 1.5)
	ratio("turned up to 60 %", func(s *LightSetting) { s.Lamps[0].Share = quantity.Of(quantity.Share(0.6)) }, 0.6, 0.6)
	ratio("a cover of clean glass", func(s *LightSetting) { s.Cover = quantity.Of(quantity.Share(0.9)) }, 0.9, 0.9)
	ratio("floating plants on 30 %", func(s *LightSetting) { s.Floating = quantity.Of(quantity.Share(0.3)) }, 0.7, 0.7)
	ratio("closed by floating plants", func(s *LightSetting) { s.Floating = quantity.Of(quantity.Share(1)) }, 0, 0)
}

func TestSaltsByAnyName(t *testing.T) {
	for given, want := range map[string]string{
		"gypsum": "gypsum", "Calcium Sulphate Dihydrate": "gypsum", "CaSO4.2H2O": "gypsum", "CaSO₄·2H₂O": "gypsum",
		"Epsom salt": "epsom-salt", "magnesium sulfate heptahydrate": "epsom-salt", "MgSO4*7H2O": "epsom-salt",
		"potassium bicarbonate": "potassium-bicarbonate", "potassium hydrogencarbonate": "potassium-bicarbonate", "khco3": "potassium-bicarbonate",
		"baking soda": "sodium-bicarbonate", "NaHCO3": "sodium-bicarbonate", "potassium dihydrogen phosphate": "monopotassium-phosphate",
		"KH2PO4": "monopotassium-phosphate", "K2SO4": "potassium-sulfate", "KNO3": "potassium-nitrate", "CaCO3": "calcium-carbonate", "CaCl2·2H2O": "calcium-chloride-dihydrate",
	} {
		if s, err := FindSalt(given); err != nil || s.Name != want {
			t.Errorf("%q is %q, %v; want %q", given, s.Name, err, want)
		}
	}
	for _, s := range salts {
		for _, name := range []string{s.Name, s.Chemical, s.Formula} {
			if got, err := FindSalt(name); err != nil || got.Name != s.Name {
				t.Errorf("%q is %q, %v; want %q", name, got.Name, err, s.Name)
			}
		}
	}
}

// Meters' dissolved solids lead back to a range that holds the conductivity.
func TestSolidsThereAndBack(t *testing.T) {
	s, _, err := SolidsOf(300)
	if err != nil {
		t.Fatal(err)
	}
	for _, v := range []quantity.Concentration{s.Low, s.Best, s.High} {
		c, _, err := ConductivityOf(v)
		if err != nil || c.Low > 300*(1+1e-12) || c.High < 300*(1-1e-12) {
			t.Errorf("%v comes back as %+v, %v", v, c, err)
		}
	}
}

// Log-normal factors multiply to a log-normal whose quantiles are known in closed form; 100 000 draws come within 1 %.
// The same seed gives the same figures, another one others.
func TestPropagationAgainstClosedForm(t *testing.T) {
	a, err1 := SpreadPart("yield", 2, 0.3)
	b, err2 := SpreadPart("claimed", 0.5, 0.4)
	if err := FirstError(err1, err2); err != nil {
		t.Fatal(err)
	}
	got, w, err := Product(Draws{Seed: 7, Count: 100000}, 0.8, a, b)
	if err != nil {
		t.Fatal(err)
	}
	z := 1.281551566 * 0.5 // normal quantile of 0.9 times √(0.3² + 0.4²)
	if got.Value != 1 || !near(got.Low, math.Exp(-z), 0.01) || math.Abs(got.High/math.Exp(z)-1) > 0.01 {
		t.Errorf("%+v, want 1 from %g to %g", got, math.Exp(-z), math.Exp(z))
	}
	if !strings.Contains(strings.Join(w.Lines(), " "), "100000 draws from seed 7") {
		t.Errorf("the working does not state the draws: %v", w.Notes)
	}
	again, _, _ := Product(Draws{Seed: 7, Count: 100000}, 0.8, a, b)
	other, _, _ := Product(Draws{Seed: 8, Count: 100000}, 0.8, a, b)
	if again != got || other == got {
		t.Errorf("seed 7 gives %+v and %+v, seed 8 %+v", got, again, other)
	}
}

// A share in a product is drawn from its posterior: its interval is that of the shrunken share.
func TestSharePartFollowsItsPosterior(t *testing.T) {
	prior, err := FixedPrior(0.7, 4)
	if err != nil {
		t.Fatal(err)
	}
	want, err := prior.Shrink(Tally{6, 9}, 0.8)
	if err != nil {
		t.Fatal(err)
	}
	p, err := SharePart("established", Tally{6, 9}, prior)
	if err != nil {
		t.Fatal(err)
	}
	got, _, err := Product(Draws{Count: 50000}, 0.8, p, CertainPart("one", 1))
	if err != nil || math.Abs(got.Low-want.Low) > 0.01 || math.Abs(got.High-want.High) > 0.01 || got.Value != want.Value {
		t.Errorf("%+v, %v; want %+v", got, err, want)
	}
	if _, err := Propagate(Draws{}, 0.8, 1, func(*rand.Rand) float64 { return math.NaN() }); err == nil {
		t.Error("a draw that is no number passes")
	}
}

// Few groups get a prior of weight four about their mean; groups that differ no more than chance are pooled.
func TestPriors(t *testing.T) {
	few, err := PriorOf([]Tally{{3, 4}, {0, 0}, {2, 3}})
	if err != nil || !near(few.Weight(), 4, 1e-12) || !near(few.Mean, 5.5/8, 1e-12) {
		t.Errorf("few: %+v, %v", few, err)
	}
	even, err := PriorOf([]Tally{{7, 10}, {7, 10}, {7, 10}, {7, 10}, {7, 10}})
	if err != nil || !even.Pooled || even.Mean != 0.7 {
		t.Errorf("even: %+v, %v", even, err)
	}
	if _, err := PriorOf([]Tally{{0, 0}}); err == nil {
		t.Error("a prior of no reports")
	}
	if w := few.Working(Tally{3, 4}, 0.95); len(w.Inputs) != 5 || w.Equation.Source == "" {
		t.Errorf("working %+v", w)
	}
	if w := even.Working(Tally{3, 4}, 0.95); len(w.Notes) != 1 {
		t.Errorf("working of a pooled prior %+v", w)
	}
	nobody, err := few.Shrink(Tally{}, 0.95)
	if err != nil || !near(nobody.Value, few.Mean, 1e-12) {
		t.Errorf("without reports %+v, %v", nobody, err)
	}
}

// Changes needed at their ends: none for what is there, one for a whole change, none that reach the tap itself.
func TestChangesNeededAtTheirEnds(t *testing.T) {
	for _, tt := range []struct {
		name  string
		want  quantity.Concentration
		share quantity.Share
		n     int
		fails bool
	}{{"what is there", 40, 0.3, 0, false}, {"all at once", 12, 1, 1, false}, {"half way by halves", 25, 0.5, 1, false}, {"the tap itself", 10, 0.5, 0, true}, {"beyond the tap", 5, 0.5, 0, true}, {"drops", 20, 0.001, 0, true}} {
		n, err := ChangesNeeded(40, 10, tt.want, tt.share)
		if (err != nil) != tt.fails || n.Times != tt.n {
			t.Errorf("%s: %d, %v", tt.name, n.Times, err)
		}
	}
}

// A part that was never made is refused.
func TestPartsAreMade(t *testing.T) {
	if _, _, err := Product(Draws{}, 0.8, Part{Name: "nothing"}); err == nil {
		t.Error("a part that was never made passes")
	}
}

// Fewer minerals known, cruder guess: conductivity beats hardness, hardness beats KH alone.
func TestStrengthTakesTheBestThatIsKnown(t *testing.T) {
	m := Minerals{Conductivity: quantity.Of(quantity.Conductivity(100)), GH: quantity.Of(8 * quantity.DGH), KH: quantity.Of(4 * quantity.DKH)}
	is := func(name string, want float64, says string) {
		t.Helper()
		i, in, err := m.Strength()
		if err != nil || !near(float64(i), want, 1e-4) || !strings.Contains(in.String(), says) {
			t.Errorf("%s: %v, %s, %v", name, i, in, err)
		}
	}
	is("conductivity", 0.0016, "Snoeyink")
	m.Conductivity, _ = quantity.Parse[quantity.Conductivity]("unknown")
	is("GH and KH", 0.00499, "GH and KH")
	m.GH = quantity.Reading[quantity.Hardness]{}
	is("KH alone", 1.5*4*0.356652e-3, "KH alone")
	m.GH, m.KH = quantity.Of(4*quantity.DGH), quantity.Reading[quantity.Alkalinity]{}
	is("GH alone", 3*4*0.178326e-3, "GH alone")
	if _, _, err := (Minerals{}).Strength(); err == nil {
		t.Error("nothing known gives a strength")
	}
}

func TestLightRefusesASettingThatIsNone(t *testing.T) {
	for name, change := range map[string]func(*LightSetting){
		"no lamp":              func(s *LightSetting) { s.Lamps = nil },
		"a lamp of nothing":    func(s *LightSetting) { s.Lamps[0] = Lamp{Name: "dark"} },
		"thirty lamps":         func(s *LightSetting) { s.Lamps = slices.Repeat(s.Lamps, 30) },
		"a cover of all":       func(s *LightSetting) { s.Cover = quantity.Of(quantity.Share(0)) },
		"more than all floats": func(s *LightSetting) { s.Floating = quantity.Of(quantity.Share(1.2)) },
		"measured in the floor": func(s *LightSetting) {
			s.Measured, s.MeasuredAt = quantity.Of(quantity.PhotonFlux(40)), quantity.Of(quantity.Length(50))
		},
		"turned up to 300 %":  func(s *LightSetting) { s.Lamps[0].Share = quantity.Of(quantity.Share(3)) },
		"a lamp of no length": func(s *LightSetting) { s.Lamps[0].Length = quantity.Of(quantity.Length(0)) },
	} {
		s := demoLight(0.4)
		change(&s)
		if _, err := s.Model(); err == nil {
			t.Errorf("%s passes", name)
		}
	}
	if m, err := demoLight(0.4).Model(); err != nil {
		t.Error(err)
	} else if _, err := m.At(31); err == nil {
		t.Error("a depth under the floor passes")
	}
}

// Each equation has a key of its own, words, a rule and a source.
func TestEquationsHaveSources(t *testing.T) {
	seen := map[string]bool{}
	for _, e := range []Equation{equationCO2, equationTargetPH, equationDose, equationBlend, equationSwap, equationTank, equationAmmonia,
		equationHardness, EquationUnits, EquationSolids, equationLight, equationWilson, equationJeffreys, equationShrink, equationAJ,
		equationPropagation, equationPhotons} {
		if seen[e.Key] || e.Key == "" || e.Words == "" || e.Formula == "" || e.Source == "" {
			t.Errorf("equation %+v", e)
		}
		seen[e.Key] = true
	}
}

// Lux under red and blue lamps say nothing of photons; under a white lamp they carry an error of 10 %.
func TestPhotonsFromLux(t *testing.T) {
	p, w, err := Photons(3000, "")
	if err != nil || !near(float64(p.Best), 45, 1e-9) || !near(float64(p.Low), 40.5, 1e-9) || len(w.Assumed()) != 1 {
		t.Errorf("%+v, %+v, %v", p, w, err)
	}
	var e *InputError
	if _, _, err = Photons(3000, "Red-Blue LED"); !errors.As(err, &e) || e.Kind != NotModelled {
		t.Errorf("red-blue: %v", err)
	}
	if _, _, err = Photons(3000, "white lde"); err == nil || !strings.Contains(err.Error(), "did you mean white led?") {
		t.Errorf("misspelt: %v", err)
	}
}
