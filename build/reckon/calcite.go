package reckon

import (
	"math"

	"slipleaf/build/quantity"
)

// Scale reports whether a water lays down lime or dissolves it.
type Scale struct {
	Index   Range[float64] // log10 of ion product over solubility product; above 0 lime can fall out
	PH      quantity.PH    // at which the index is 0
	Working Working
}

var equationScale = Equation{"calcite", "Saturation with calcite", "SI = log10(a(Ca²⁺)·a(CO3²⁻)/Ksp), log Ksp = −171.9065 − 0.077993 T + 2839.319/T + 71.595 log10 T",
	"Plummer & Busenberg 1982, Geochim. Cosmochim. Acta 46:1011–1040, table 1; activities: Davies 1962"}

// The solubility product of calcite, 0 to 90 °C: Plummer & Busenberg 1982.
var calcite = [5]float64{-171.9065, -0.077993, 2839.319, 71.595, 0}

// calciumShare is how much of GH is calcium where nobody measured it: most tap waters (common practice).
var calciumShare = Range[float64]{0.5, 0.75, 0.95}

// Calcite works out the saturation with calcite at pH 5 to 10 and 5 to 35 °C. ca is the calcium; absent, most of gh is
// taken for it. The range is what ±0.1 pH, ±0.5 dKH and, where it is assumed, the share of calcium make.
func Calcite(w Carbonate, ph quantity.PH, gh quantity.Hardness, ca quantity.Reading[quantity.Concentration]) (Scale, error) {
	if !w.Minerals.GH.Known() {
		w.Minerals.GH = quantity.Of(gh)
	}
	s, how, err := w.solution()
	err = FirstError(err, Within("ph", ph, 5, 10, "", "outside it another sum is needed"), Within("gh", gh, 0.05*quantity.DGH, 60*quantity.DGH, "dGH", BandOfFreshWater))
	if ca.Known() {
		err = FirstError(err, Within("ca", ca.Mid(), 0.1, 1000, "mg/L", BandOfFreshWater))
	}
	if err != nil {
		return Scale{}, err
	}
	mol := calciumShare.Scale(float64(gh) / 1000)
	calcium := Input{Name: "ca", Value: mol.Best * arCa * 1000, Unit: "mg/L", Assumed: "not measured, so 75 % of GH (50 to 95 %)"}
	if ca.Known() {
		mol = exactly(float64(ca.Mid()) / arCa / 1000)
		calcium = Given("ca", ca.Mid(), "mg/L")
	}
	k := logK(calcite, w.Temperature)
	index := func(calcium float64, ph quantity.PH, kh quantity.Alkalinity) float64 {
		return math.Log10(calcium*s.g2*s.carbonateActivity(ph, kh)) - k
	}
	kh := w.khEnds()
	r := Scale{Index: Range[float64]{index(mol.Low, ph-phError, max(kh.Low, 0.05*quantity.DKH)), index(mol.Best, ph, kh.Best), index(mol.High, ph+phError, kh.High)}}
	r.PH = phWhere(11, 1e-6, func(ph quantity.PH) bool { return index(mol.Best, ph, kh.Best) < 0 })
	r.Working = Working{equationScale, []Input{Given("ph", ph, ""), Given("kh", kh.Best, "dKH"), Given("gh", gh, "dGH"), Given("temperature", w.Temperature, "C"), calcium, how},
		[]Note{{Key: "lime-range", Text: "range: ±0.1 pH and ±0.5 dKH of hobby tests"}, {Key: "lime-slow", Text: "lime falls out slowly: below about 0.5 it is often not seen (common practice); organic matter and phosphate hold it up"}}}
	return r, nil
}

// Lime is what a water does with it, by a key that a file of words can translate.
type Lime string

// What a water does with lime.
const (
	LimeFalls     Lime = "falls"
	LimeDissolves Lime = "dissolves"
	LimeBalanced  Lime = "balanced" // or within the error of the tests
)

// Text is it in English.
func (l Lime) Text() string {
	switch l {
	case LimeFalls:
		return "lime falls out: expect a crust on glass, heater and leaves"
	case LimeDissolves:
		return "lime dissolves: limestone and shells raise KH and GH slowly"
	}
	return "near balance, or within the error of the tests"
}

// Means says what it does, where the whole range is more than 0.3 from balance (our choice).
func (s Scale) Means() Lime {
	switch {
	case s.Index.Low > 0.3:
		return LimeFalls
	case s.Index.High < -0.3:
		return LimeDissolves
	}
	return LimeBalanced
}

// carbonateActivity is the activity of CO3²⁻, in mol/L, at a pH and an alkalinity.
func (s solution) carbonateActivity(ph quantity.PH, kh quantity.Alkalinity) float64 {
	ah := math.Pow(10, -float64(ph))
	bicarbonate := (float64(kh)/1000 + ah/s.g1 - s.kw/(ah*s.g1)) / (1 + 2*s.k2*s.g1/(ah*s.g2))
	return math.Max(s.k2*bicarbonate*s.g1/ah, 1e-12)
}

// LimeInAir is the alkalinity that calcium carbonate comes to in pure water open to the air, 5 to 35 °C: [HCO3⁻] = 2[Ca²⁺]
// with K1·KH·pCO2·Ksp/K2 (Plummer & Busenberg 1982), activities by Davies. Lime in a tank takes days to weeks to come near.
func LimeInAir(t quantity.Temperature) (quantity.Alkalinity, error) {
	if err := Within("temperature", t, lowTemp, hiTemp, "C", "no tank with plants is outside"); err != nil {
		return 0, err
	}
	k := math.Pow(10, logK(calcite, t)+logK(acid1, t)+logK(henryCO2, t)-logK(acid2, t)) * airCO2
	calcium := 0.0005
	for range 50 { // the ionic strength, 3[Ca], depends on what is sought; the step shrinks tenfold each time
		i := IonicStrength(3 * calcium)
		g1, g2 := davies(1, i, t), davies(2, i, t)
		calcium = math.Cbrt(k / (4 * g2 * g1 * g1))
	}
	return quantity.Alkalinity(2000 * calcium), nil
}
