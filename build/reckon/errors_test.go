package reckon

import (
	"errors"
	"math"
	"testing"

	"slipleaf/build/quantity"
)

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
		soft := Carbonate{KH: quantity.Of(4 * quantity.DKH), Temperature: 25}
		lamp := demoLight(0.4)
		lamp.Lamps[0].Hours = bad
		wide := demoLight(0.4)
		wide.Width = quantity.Length(bad)
		refused := map[string]func() error{
			"co2 ph": func() error { _, err := DissolvedCO2(soft, quantity.Of(quantity.PH(bad))); return err },
			"co2 kh": func() error {
				_, err := DissolvedCO2(Carbonate{KH: quantity.Of(quantity.Alkalinity(bad)), Temperature: 25}, quantity.Of[quantity.PH](7))
				return err
			},
			"co2 t": func() error {
				_, err := DissolvedCO2(Carbonate{KH: quantity.Of[quantity.Alkalinity](1), Temperature: quantity.Temperature(bad)}, quantity.Of[quantity.PH](7))
				return err
			},
			"target":      func() error { _, err := TargetPH(soft, quantity.Concentration(bad)); return err },
			"dose mass":   func() error { _, err := DoseOf(gypsum, quantity.Mass(bad), 60); return err },
			"dose volume": func() error { _, err := DoseOf(gypsum, 1, quantity.Volume(bad)); return err },
			"dose gh":     func() error { _, err := DoseForGH(gypsum, 60, quantity.Hardness(bad)); return err },
			"dose ion": func() error {
				_, err := DoseForIon(gypsum, 60, Calcium, quantity.Concentration(bad))
				return err
			},
			"hardness":     func() error { _, err := HardnessOf(quantity.Concentration(bad), 1); return err },
			"bicarbonate":  func() error { _, err := Bicarbonate(quantity.Alkalinity(bad)); return err },
			"solids":       func() error { _, _, err := SolidsOf(quantity.Conductivity(bad)); return err },
			"conductivity": func() error { _, _, err := ConductivityOf(quantity.Concentration(bad)); return err },
			"blend":        func() error { _, err := MixFor(quantity.Hardness(bad), 1, 2, 0); return err },
			"blend volume": func() error { _, err := MixFor[quantity.Hardness](3, 1, 2, quantity.Volume(bad)); return err },
			"change": func() error {
				_, err := WaterChanges[quantity.Hardness](3, 1, quantity.Share(bad), 2)
				return err
			},
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
			"incidence": func() error {
				_, _, err := AalenJohansen([]Observation{{quantity.Span(bad), Died}}, 0.95)
				return err
			},
			"spread part": func() error { _, err := SpreadPart("yield", 1, bad); return err },
			"product": func() error {
				_, _, err := Product(Draws{}, 0.8, CertainPart("yield", bad))
				return err
			},
		}
		for name, sum := range refused {
			if sum() == nil {
				t.Errorf("%s takes %v", name, bad)
			}
		}
	}
}
