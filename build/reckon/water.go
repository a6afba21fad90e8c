package reckon

import "slipleaf/build/quantity"

// Hardness is the total hardness that calcium and magnesium make.
type Hardness struct {
	GH      quantity.Hardness // by the rounded factors of Standard Methods 2340 B
	Exact   quantity.Hardness // by molar masses
	Calcium quantity.Hardness // the part of calcium, by molar masses
	Working Working
}

// GrainPerGallon is one US grain of CaCO3 per gallon as hardness: by definition 64.79891 mg in 3.785411784 L.
const GrainPerGallon = quantity.Hardness(64.79891 / float64(quantity.USGallon) / quantity.MolarMassCaCO3)

const (
	factorCa = 2.497 // mg/L CaCO3 per mg/L Ca
	factorMg = 4.118 // mg/L CaCO3 per mg/L Mg
)

var (
	equationHardness = Equation{"hardness-from-ions", "Total hardness from calcium and magnesium", "CaCO3 mg/L = 2.497 Ca + 4.118 Mg",
		"Standard Methods for the Examination of Water and Wastewater, 2340 B (APHA, AWWA, WEF)"}
	EquationUnits = Equation{"units", "Conversion by definition", "1 dGH = 10 mg/L CaO = 0.178326 mmol/L; 1 dKH = 0.356652 meq/L",
		"IUPAC abridged atomic weights of 2021 (Prohaska et al. 2022, Pure Appl. Chem. 94:573–600); gallons and grains by NIST SP 811 (both from memory)"}
	EquationSolids = Equation{"dissolved-solids", "Dissolved solids from conductivity", "solids mg/L = 0.5 to 0.7 (0.64) × µS/cm at 25 °C",
		"Sawyer, McCarty & Parkin 2003 (0.64, as cited); the scales of hobby meters, 0.5 (NaCl, KCl) to 0.7 (442): common practice"}
)

// HardnessOf reckons total hardness from calcium and magnesium, 0 to 1000 mg/L each, where other divalent metals are few.
// Standard Methods 2340 B, and exactly by molar masses.
func HardnessOf(ca, mg quantity.Concentration) (Hardness, error) {
	err := FirstError(Within("ca", ca, 0, 1000, "mg/L", BandOfFreshWater), Within("mg", mg, 0, 1000, "mg/L", BandOfFreshWater))
	if err != nil {
		return Hardness{}, err
	}
	return Hardness{
		GH:      quantity.Hardness((factorCa*float64(ca) + factorMg*float64(mg)) / quantity.MolarMassCaCO3),
		Exact:   quantity.Hardness(float64(ca)/arCa + float64(mg)/arMg),
		Calcium: quantity.Hardness(float64(ca) / arCa),
		Working: Working{equationHardness, []Input{Given("ca", ca, "mg/L"), Given("mg", mg, "mg/L")},
			Remarks("other divalent metals are taken to be few")},
	}, nil
}

// Bicarbonate is the hydrogen carbonate that an alkalinity means when all of it is carbonate and pH is near neutral.
func Bicarbonate(kh quantity.Alkalinity) (quantity.Concentration, error) {
	err := Within("kh", kh, 0, 60*quantity.DKH, "dKH", BandOfFreshWater)
	return quantity.Concentration(float64(kh) * massBicarbonate), err
}

const (
	lowMeter, usualSolids, highMeter = 0.5, 0.64, 0.7 // mg/L per µS/cm
	lowFactor, highFactor            = 0.4, 1.0       // beyond every natural water (Hem 1985: 0.54 to 0.96, from memory)
)

// SolidsOf reckons dissolved solids from a conductivity of 0 to 5000 µS/cm, as the range that the scales of meters make.
func SolidsOf(ec quantity.Conductivity) (Range[quantity.Concentration], Working, error) {
	if err := Within("conductivity", ec, 0, 5000, "uS/cm", BandOfFreshWater); err != nil {
		return Range[quantity.Concentration]{}, Working{}, err
	}
	c := quantity.Concentration(ec)
	return Range[quantity.Concentration]{lowMeter * c, usualSolids * c, highMeter * c}, Working{EquationSolids,
		[]Input{Given("conductivity", ec, "uS/cm")}, Remarks("the same water reads 0.5 or 0.7 by the scale of the meter: store the conductivity")}, nil
}

// ConductivityOf reckons the conductivity behind a meter's dissolved solids, 0 to 3000 mg/L, as the range of their scales.
func ConductivityOf(solids quantity.Concentration) (Range[quantity.Conductivity], Working, error) {
	if err := Within("dissolved-solids", solids, 0, 3000, "mg/L", BandOfFreshWater); err != nil {
		return Range[quantity.Conductivity]{}, Working{}, err
	}
	c := quantity.Conductivity(solids)
	return Range[quantity.Conductivity]{c / highMeter, c / usualSolids, c / lowMeter}, Working{EquationSolids,
		[]Input{Given("dissolved-solids", solids, "mg/L")}, Remarks("write down the factor of the meter to narrow this")}, nil
}

// SolidsFactor is the factor of a meter that shows both figures of one water; one outside of 0.4 to 1 is refused.
func SolidsFactor(ec quantity.Conductivity, solids quantity.Concentration) (float64, error) {
	err := FirstError(Within("conductivity", ec, 1, 5000, "uS/cm", BandOfFreshWater), Within("dissolved-solids", solids, 0, 5000, "mg/L", BandOfFreshWater))
	if err != nil {
		return 0, err
	}
	f := float64(solids) / float64(ec)
	return f, Inside("factor", f, lowFactor, highFactor, "no natural water has it: one of the two figures is wrong")
}
