package reckon

import (
	"math"

	"slipleaf/build/quantity"
)

// Carbonate is what a CO2 sum needs to know of a water besides its pH or the CO2 wanted.
type Carbonate struct {
	KH          quantity.Reading[quantity.Alkalinity] // its middle 0.5 to 20 dKH; of a range both ends count
	Temperature quantity.Temperature                  // 5 to 35 °C
	Minerals                                          // for the activity correction; may be all absent
}

// CO2 is the dissolved CO2 of a water.
type CO2 struct {
	CO2      Range[quantity.Concentration] // ends: those of the readings, pH ±0.1 and KH ±0.5 dKH against each other
	ByPH     Range[quantity.Concentration] // pH ±0.1 alone
	ByKH     Range[quantity.Concentration] // KH ±0.5 dKH alone
	Air      quantity.Concentration        // in balance with outdoor air
	Ratio    Range[float64]                // CO2 over Air
	Working  Working
	Cautions []Caution
}

// Target is the pH at which a wanted CO2 is reached.
type Target struct {
	PH       Range[quantity.PH]            // ends: KH ±0.5 dKH
	CO2      Range[quantity.Concentration] // what that pH may truly mean: pH ±0.1 and KH ±0.5 dKH
	Working  Working
	Cautions []Caution
}

const (
	phError          = 0.1                // what a hobby meter is good to (common practice)
	khError          = 0.5 * quantity.DKH // what a drop test is good to: half a drop (common practice)
	lowPH, highPH    = 5.5, 9.0
	lowKH, highKH    = 0.5 * quantity.DKH, 20 * quantity.DKH
	lowTemp, hiTemp  = 5.0, 35.0
	lowCO2, highCO2  = 0.2, 100.0
	molarMassCO2     = arC + 2*arO
	zeroCelsius      = 273.15
	dryAirCO2        = 423.9e-6 // mean of 2024: WMO Greenhouse Gas Bulletin 21 (2025)
	airCO2           = 4.2e-4   // atm at 20 °C over water, rounded up from dryAirCO2 × (1 − 2.34/101.3)
	carbonateFormula = "[CO2] = aH γ1 [HCO3]/K1, [HCO3] = (Alk + aH/γ1 − Kw/(aH γ1)) / (1 + 2 K2 γ1/(aH γ2))"
)

var (
	equationCO2 = Equation{"co2-from-ph-and-kh", "Dissolved CO2 from pH, alkalinity and temperature", carbonateFormula,
		"Plummer & Busenberg 1982, Geochim. Cosmochim. Acta 46:1011–1040 (constants); Davies 1962, Ion Association (activity); WMO Greenhouse Gas Bulletin 21, 2025 (CO2 of air)"}
	equationTargetPH = Equation{"target-ph", "The pH at which the wanted CO2 is reached, by bisection of the same equation", carbonateFormula,
		"Plummer & Busenberg 1982, Geochim. Cosmochim. Acta 46:1011–1040 (constants); Davies 1962, Ion Association (activity)"}
	notesCO2 = Remarks(
		"assumes that all alkalinity is carbonate and that no other acid affects pH",
		"the range allows for errors of 0.1 in pH and 0.5 dKH in KH",
	)
)

// DissolvedCO2 reckons the CO2 that pH, KH and temperature imply, with its sensitivity. pH 5.5 to 9, 5 to 35 °C, 0.5 to
// 20 dKH; below 0.5 dKH the error of a drop test is as large as the value. Plummer & Busenberg 1982 with Davies 1962.
func DissolvedCO2(w Carbonate, ph quantity.Reading[quantity.PH]) (CO2, error) {
	s, strength, err := w.solution()
	why := "the carbonate equations hold for the water of tanks"
	if err := FirstError(err, Within("ph", ph.Low(), lowPH, highPH, "", why), Within("ph", ph.High(), lowPH, highPH, "", why)); err != nil {
		return CO2{}, err
	}
	kh := w.khEnds()
	best, air := s.co2(ph.Mid(), kh.Best), airBalance(w.Temperature)
	if most := air / airCO2; best > most {
		return CO2{}, &InputError{Kind: Contradictory, Name: "ph", Value: Figure(float64(ph.Mid())), Why: "with this KH it would mean " + Figure(math.Round(float64(best))) +
			" mg/L of CO2, and pure gas at 1 atmosphere holds " + Figure(math.Round(float64(most))) + ": one of the two readings is wrong, or another acid bends the pH"}
	}
	lowest, highest := ph.Low()-phError, ph.High()+phError
	r := CO2{
		CO2:      Range[quantity.Concentration]{s.co2(highest, kh.Low), best, s.co2(lowest, kh.High)},
		ByPH:     Range[quantity.Concentration]{s.co2(highest, kh.Best), best, s.co2(lowest, kh.Best)},
		ByKH:     Range[quantity.Concentration]{s.co2(ph.Mid(), kh.Low), best, s.co2(ph.Mid(), kh.High)},
		Air:      air,
		Cautions: []Caution{CautionCarbonateOnly, CautionCO2Livestock},
	}
	r.Ratio = Range[float64]{float64(r.CO2.Low / air), float64(best / air), float64(r.CO2.High / air)}
	r.Working = Working{equationCO2, []Input{Given("ph", ph.Mid(), ""), Given("kh", kh.Best, "dKH"),
		Given("temperature", w.Temperature, "C"), strength}, notesCO2}
	return r, nil
}

// TargetPH reckons the pH at which a water holds the wanted CO2, 0.2 to 100 mg/L. It refuses where that pH would lie
// outside of 5.5 to 9.
func TargetPH(w Carbonate, want quantity.Concentration) (Target, error) {
	s, strength, err := w.solution()
	if err := FirstError(err, Within("co2", want, lowCO2, highCO2, "mg/L", "less is under balance with air, more no animal survives")); err != nil {
		return Target{}, err
	}
	kh := w.khEnds()
	ph := s.phFor(want, kh.Best)
	if err := Within("target-ph", ph, lowPH, highPH, "", "this KH cannot hold that CO2 within the pH for which the equations hold"); err != nil {
		return Target{}, err
	}
	r := Target{
		PH:       Range[quantity.PH]{s.phFor(want, kh.Low), ph, s.phFor(want, kh.High)},
		CO2:      Range[quantity.Concentration]{s.co2(ph+phError, kh.Low), want, s.co2(ph-phError, kh.High)},
		Cautions: []Caution{CautionCO2Livestock, CautionCarbonateOnly, CautionCO2Cylinder},
	}
	r.Working = Working{equationTargetPH, []Input{Given("co2", want, "mg/L"), Given("kh", kh.Best, "dKH"),
		Given("temperature", w.Temperature, "C"), strength}, notesCO2}
	return r, nil
}

// khEnds are the middle of the KH and its ends, wider by the error of a drop test.
func (w Carbonate) khEnds() Range[quantity.Alkalinity] {
	return Range[quantity.Alkalinity]{w.KH.Low() - khError, w.KH.Mid(), w.KH.High() + khError}
}

// solution refuses what the carbonate equations do not hold for, and gives the constants and where the ionic strength is from.
func (w Carbonate) solution() (solution, Input, error) {
	err := FirstError(
		Within("kh", w.KH.Mid(), lowKH, highKH, "dKH", "below it the error of a drop test is as large as the value, above it this is no tank water"),
		Within("temperature", w.Temperature, lowTemp, hiTemp, "C", "no tank with plants is outside"))
	if err != nil {
		return solution{}, Input{}, err
	}
	w.Minerals.KH = w.KH
	i, strength, err := w.Minerals.Strength()
	return solutionAt(w.Temperature, i), strength, err
}

// airBalance is the CO2 of water in balance with outdoor air at sea level, 5 to 35 °C: Henry's law with the constant of
// Plummer & Busenberg 1982. A room with people in it holds up to three times as much (common practice).
func airBalance(t quantity.Temperature) quantity.Concentration {
	return quantity.Concentration(math.Pow(10, logK(henryCO2, t)) * airCO2 * molarMassCO2 * 1000)
}
