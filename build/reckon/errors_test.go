package reckon

import (
	"errors"
	"math"
	"strings"
	"testing"

	"slipleaf/build/quantity"
)

// ask is Reckon on one line of text.
func ask(line string) (Answer, error) {
	f := strings.Fields(line)
	args, err := ParseArgs(f[1:])
	if err != nil {
		return Answer{}, err
	}
	return Reckon(f[0], args)
}

const lampLine = "light lamp-length=55cm lamp-width=5cm above-water=10cm length=60cm width=30cm water-depth=30cm "

// Each refusal names the value and says why; want holds what the error must say.
func TestRefusals(t *testing.T) {
	tests := []struct {
		name, line string
		kind       ErrorKind
		want       []string
	}{
		{"a topic misspelt", "waterchange share=30%", Unknown, []string{`"waterchange"`, "water-change"}},
		{"a key misspelt", "co2 ph=6.8 kh=4dKH temprature=24C", Unknown, []string{`"temprature"`, "temperature"}},
		{"a key twice", "co2 ph=6.8 ph=7 kh=4dKH temperature=24C", Contradictory, []string{"ph", "twice"}},
		{"a key missing", "co2 ph=6.8 temperature=24C", Missing, []string{"kh is missing"}},
		{"a value unknown", "co2 ph=6.8 kh=unknown temperature=24C", Missing, []string{"kh", "unknown"}},
		{"no unit", "co2 ph=6.8 kh=4 temperature=24C", WrongUnit, []string{"kh=4", "4 dKH"}},
		{"a unit of another kind", "co2 ph=6.8 kh=4dKH temperature=24cm", WrongUnit, []string{"temperature=24cm", "length"}},
		{"pH 71", "co2 ph=71 kh=4dKH temperature=24C", OutOfRange, []string{"ph is 71", "5.5 to 9"}},
		{"KH under the error of a test", "co2 ph=6.8 kh=0.2dKH temperature=24C", OutOfRange, []string{"kh is 0.2 dKH", "0.5 to 20 dKH", "drop test"}},
		{"boiling water", "co2 ph=6.8 kh=4dKH temperature=95C", OutOfRange, []string{"temperature is 95 C", "5 to 35 C"}},
		{"sea water", "co2 ph=8 kh=8dKH temperature=25C conductivity=50mS/cm", OutOfRange, []string{"conductivity is 50000 uS/cm", "fresh water"}},
		{"a CO2 that the KH cannot hold", "target-ph co2=90mg/L kh=0.5dKH temperature=25C", OutOfRange, []string{"target-ph is 5.2", "5.5 to 9"}},
		{"a salt misspelt", "dose salt=gypsom volume=60L mass=4g", Unknown, []string{"gypsom", "gypsum"}},
		{"a salt without its hydrate", "dose salt=MgSO4 volume=60L mass=4g", Unknown, []string{"crystal", "epsom-salt"}},
		{"nothing to raise", "dose salt=gypsum volume=60L", Missing, []string{"mass", "raise-gh"}},
		{"two things to raise", "dose salt=gypsum volume=60L raise-gh=2dGH raise-ca=10mg/L", Contradictory, []string{"raise-gh", "raise-ca"}},
		{"what the salt does not have", "dose salt=gypsum volume=60L raise-kh=2dKH", Contradictory, []string{"raise-kh", "no carbonate"}},
		{"an ion that the salt does not have", "dose salt=gypsum volume=60L raise-k=2mg/L", Contradictory, []string{"raise-k", "none of it"}},
		{"more gypsum than dissolves", "dose salt=gypsum volume=1L mass=5g", OutOfRange, []string{"mass is 5 g", "0 to 2.4 g", "dissolve"}},
		{"a dose for a pond", "dose salt=gypsum volume=900000L mass=5g", OutOfRange, []string{"volume", "20000 L"}},
		{"a blend outside of its waters", "blend kh-a=6dKH kh-b=1dKH want=9dKH", OutOfRange, []string{"want is 9 dKH", "1 to 6 dKH"}},
		{"a blend of equal waters", "blend kh-a=6dKH kh-b=6dKH want=6dKH", Contradictory, []string{"same"}},
		{"a blend by both", "blend kh-a=6dKH gh-b=1dGH want=3dKH", Contradictory, []string{"not by both"}},
		{"a change of more than all", "water-change share=130% times=1 start=40mg/L tap=5mg/L", OutOfRange, []string{"share is 130 %", "0 to 100 %"}},
		{"no changes", "water-change share=30% times=0 start=40mg/L tap=5mg/L", OutOfRange, []string{"times is 0"}},
		{"half a change", "water-change share=30% times=1.5 start=40mg/L tap=5mg/L", WrongUnit, []string{"times=1.5", "whole number"}},
		{"ions and a hardness", "hardness ca=40mg/L mg=5mg/L gh=6dGH", Contradictory, []string{"not both"}},
		{"calcium alone", "hardness ca=40mg/L", Missing, []string{"mg is missing"}},
		{"a tank as high as a house", "tank length=60cm width=30cm height=4m", OutOfRange, []string{"height is 400 cm"}},
		{"depths beyond the height", "tank length=60cm width=30cm height=36cm water-depth=33cm substrate-depth=8cm", Contradictory, []string{"water-depth 33 cm", "height of 36 cm"}},
		{"depths that do not add up", "tank length=60cm width=30cm height=36cm water-depth=20cm substrate-depth=5cm rim-gap=3cm", Contradictory, []string{"28 cm", "36 cm"}},
		{"a gap deeper than the tank", "tank length=60cm width=30cm height=36cm rim-gap=40cm", OutOfRange, []string{"rim-gap is 40 cm"}},
		{"watts without efficacy", lampLine + "lamp-power=20W", Missing, []string{"lamp-efficacy"}},
		{"lumens without a kind", lampLine + "lamp-output=900lm", Missing, []string{"lamp-kind", "white led"}},
		{"a red-blue lamp in lumens", lampLine + "lamp-output=900lm lamp-kind=red-blue_led", NotModelled, []string{"red-blue led", "lumens say nothing"}},
		{"a lens", lampLine + "lamp-output=900lm lamp-kind=led_with_lens", NotModelled, []string{"lens"}},
		{"an unheard-of lens", lampLine + "lamp-output=900lm lamp-kind=60-degree_lens_led", NotModelled, []string{"lens"}},
		{"daylight as a lamp", lampLine + "lamp-output=900lm lamp-kind=sunlight", NotModelled, []string{"daylight"}},
		{"an efficacy beyond physics", lampLine + "lamp-power=20W lamp-efficacy=7umol/J", OutOfRange, []string{"lamp-efficacy is 7 umol/J", "0.1 to 3.5"}},
		{"a water misspelt", lampLine + "lamp-power=20W lamp-efficacy=2umol/J water=blckwater", Unknown, []string{"blackwater"}},
		{"a cover misspelt", lampLine + "lamp-power=20W lamp-efficacy=2umol/J cover=clean-glas", Unknown, []string{"clean-glass"}},
		{"hours beyond a day", lampLine + "lamp-power=20W lamp-efficacy=2umol/J hours=30", OutOfRange, []string{"hours is 30"}},
		{"more yes than all", "share yes=10 of=9", OutOfRange, []string{"yes is 10", "0 to 9"}},
		{"no report", "share yes=0 of=0", OutOfRange, []string{"of is 0"}},
		{"a level of certainty", "share yes=7 of=9 level=100%", OutOfRange, []string{"level is 100 %"}},
		{"a point misspelt", "growth points=0d:12,7:19", WrongUnit, []string{"points", "7:19"}},
		{"ammonia in a kiln", "ammonia tan=1mg/L ph=8 temperature=400C", OutOfRange, []string{"temperature is 400 C"}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			_, err := ask(tt.line)
			var e *InputError
			if !errors.As(err, &e) {
				t.Fatalf("%s: error %v, want an InputError", tt.line, err)
			}
			if e.Kind != tt.kind {
				t.Errorf("kind %s, want %s", e.Kind, tt.kind)
			}
			for _, w := range tt.want {
				if !strings.Contains(err.Error(), w) {
					t.Errorf("%q does not say %q", err, w)
				}
			}
		})
	}
}

func TestPendantHigherThanTheTankIsWide(t *testing.T) {
	_, err := ask("light lamp-power=45W lamp-efficacy=2umol/J lamp-length=20cm lamp-width=10cm above-water=45cm length=60cm width=30cm water-depth=30cm")
	var e *InputError
	if !errors.As(err, &e) || e.Kind != NotModelled || !strings.Contains(err.Error(), "pendant") {
		t.Errorf("error %v", err)
	}
}

func TestWattsAgainstLumens(t *testing.T) {
	s := demoLight(0.4)
	s.Lamps[0].Output = quantity.Of(quantity.LuminousFlux(400)) // 6 µmol/s, where 20 W × 1.6 make 32
	_, err := s.Model()
	var e *InputError
	if !errors.As(err, &e) || e.Kind != Contradictory {
		t.Errorf("error %v, want contradictory", err)
	}
}

// No sum takes a figure that is none.
func TestNotANumberIsRefused(t *testing.T) {
	for _, bad := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		gypsum, _ := FindSalt("gypsum")
		soft := Carbonate{KH: 4 * quantity.DKH, Temperature: 25}
		lamp := demoLight(0.4)
		lamp.Lamps[0].Hours = bad
		wide := demoLight(0.4)
		wide.Width = quantity.Length(bad)
		refused := map[string]func() error{
			"co2 ph": func() error { _, err := DissolvedCO2(soft, quantity.PH(bad)); return err },
			"co2 kh": func() error {
				_, err := DissolvedCO2(Carbonate{KH: quantity.Alkalinity(bad), Temperature: 25}, 7)
				return err
			},
			"co2 t": func() error {
				_, err := DissolvedCO2(Carbonate{KH: 1, Temperature: quantity.Temperature(bad)}, 7)
				return err
			},
			"target":         func() error { _, err := TargetPH(soft, quantity.Concentration(bad)); return err },
			"dose mass":      func() error { _, err := DoseOf(gypsum, quantity.Mass(bad), 60); return err },
			"dose volume":    func() error { _, err := DoseOf(gypsum, 1, quantity.Volume(bad)); return err },
			"dose gh":        func() error { _, err := DoseForGH(gypsum, 60, quantity.Hardness(bad)); return err },
			"dose ion":       func() error { _, err := DoseForIon(gypsum, 60, Calcium, quantity.Concentration(bad)); return err },
			"steps":          func() error { _, err := Steps(quantity.Hardness(bad), quantity.DGH); return err },
			"hardness":       func() error { _, err := HardnessOf(quantity.Concentration(bad), 1); return err },
			"bicarbonate":    func() error { _, err := Bicarbonate(quantity.Alkalinity(bad)); return err },
			"solids":         func() error { _, _, err := SolidsOf(quantity.Conductivity(bad)); return err },
			"conductivity":   func() error { _, _, err := ConductivityOf(quantity.Concentration(bad)); return err },
			"blend":          func() error { _, err := MixFor(quantity.Hardness(bad), 1, 2, 0); return err },
			"blend volume":   func() error { _, err := MixFor[quantity.Hardness](3, 1, 2, quantity.Volume(bad)); return err },
			"change":         func() error { _, err := WaterChanges[quantity.Hardness](3, 1, quantity.Share(bad), 2); return err },
			"changes needed": func() error { _, err := ChangesNeeded(quantity.Hardness(bad), 1, 2, 0.3); return err },
			"peak":           func() error { _, err := PeakOfDoses(quantity.Concentration(bad), 1, 0.3); return err },
			"ammonia":        func() error { _, err := UnionisedAmmonia(1, quantity.PH(bad), 25); return err },
			"density":        func() error { _, err := WaterDensity(quantity.Temperature(bad)); return err },
			"tank": func() error {
				_, err := TankShape{Length: 60, Width: 30, Height: quantity.Length(bad)}.Measure()
				return err
			},
			"room":         func() error { _, err := RoomCO2(quantity.Mass(bad), 30000); return err },
			"photons":      func() error { _, _, err := Photons(quantity.Illuminance(bad), ""); return err },
			"dli":          func() error { _, err := DLI(quantity.PhotonFlux(bad), 8); return err },
			"lamp hours":   func() error { _, err := lamp.Model(); return err },
			"light width":  func() error { _, err := wide.Model(); return err },
			"wilson level": func() error { _, err := Wilson(Tally{7, 9}, quantity.Share(bad)); return err },
			"fixed prior":  func() error { _, err := FixedPrior(bad, 4); return err },
			"shrink prior": func() error { _, err := Prior{A: bad, B: 1}.Shrink(Tally{7, 9}, 0.95); return err },
			"survival": func() error {
				_, err := KaplanMeier([]Observation{{quantity.Span(bad), Established}}, 0.95, LogLog)
				return err
			},
			"incidence":   func() error { _, _, err := AalenJohansen([]Observation{{quantity.Span(bad), Died}}, 0.95); return err },
			"spread part": func() error { _, err := SpreadPart("yield", 1, bad); return err },
			"product":     func() error { _, _, err := Product(Draws{}, 0.8, CertainPart("yield", bad)); return err },
		}
		for name, sum := range refused {
			if sum() == nil {
				t.Errorf("%s takes %v", name, bad)
			}
		}
	}
}
