package reckon

import (
	"math"

	"slipleaf/build/quantity"
)

// Coefficients of log K = a + bT + c/T + d log T + e/T², T in kelvin, 0 to 90 °C, no ionic strength: Plummer & Busenberg
// 1982 (CO2, K1, K2); Kw from the USGS database wateq4f (species OH−).
var (
	henryCO2 = [5]float64{108.3865, 0.01985076, -6919.53, -40.45154, 669365}
	acid1    = [5]float64{-356.3094, -0.06091964, 21834.37, 126.8339, -1684915}
	acid2    = [5]float64{-107.8871, -0.03252849, 5151.79, 38.92561, -563713.9}
	waterIon = [5]float64{-283.971, -0.05069842, 13323.0, 102.24447, -1119669}
)

func logK(c [5]float64, t quantity.Temperature) float64 {
	k := float64(t) + zeroCelsius
	return c[0] + c[1]*k + c[2]/k + c[3]*math.Log10(k) + c[4]/(k*k)
}

// debyeHuckel is the A of the Davies equation: A = 1.82e6 (εT)^−1.5, ε by Malmberg & Maryott 1956.
func debyeHuckel(t quantity.Temperature) float64 {
	c := float64(t)
	eps := 87.740 - 0.40008*c + 9.398e-4*c*c - 1.410e-6*c*c*c
	return 1.82e6 * math.Pow(eps*(c+zeroCelsius), -1.5)
}

// davies is the activity coefficient of an ion of charge z: log γ = −A z² (√I/(1+√I) − 0.3 I), Davies 1962, I to 0.1.
func davies(z float64, i IonicStrength, t quantity.Temperature) float64 {
	root := math.Sqrt(float64(i))
	return math.Pow(10, -debyeHuckel(t)*z*z*(root/(1+root)-0.3*float64(i)))
}

// solution holds the constants of a water at its temperature and ionic strength.
type solution struct{ k1, k2, kw, g1, g2 float64 }

func solutionAt(t quantity.Temperature, i IonicStrength) solution {
	return solution{
		k1: math.Pow(10, logK(acid1, t)), k2: math.Pow(10, logK(acid2, t)), kw: math.Pow(10, logK(waterIon, t)),
		g1: davies(1, i, t), g2: davies(2, i, t),
	}
}

// co2 is the CO2 at a pH and an alkalinity; never negative.
func (s solution) co2(ph quantity.PH, kh quantity.Alkalinity) quantity.Concentration {
	ah, alk := math.Pow(10, -float64(ph)), math.Max(float64(kh), 0)/1000
	bicarbonate := (alk + ah/s.g1 - s.kw/(ah*s.g1)) / (1 + 2*s.k2*s.g1/(ah*s.g2))
	return quantity.Concentration(math.Max(ah*s.g1*bicarbonate/s.k1*molarMassCO2*1000, 0))
}

// phFor finds the pH from 4 to 10 at which co2 gives c; CO2 falls as pH rises.
func (s solution) phFor(c quantity.Concentration, kh quantity.Alkalinity) quantity.PH {
	return phWhere(10, 1e-9, func(ph quantity.PH) bool { return s.co2(ph, kh) > c })
}

// phWhere bisects from pH 4 to the highest for the pH up to which something holds, to within an error.
func phWhere(highest, within quantity.PH, holds func(quantity.PH) bool) quantity.PH {
	lowest := quantity.PH(4)
	for highest-lowest > within {
		if middle := (lowest + highest) / 2; holds(middle) {
			lowest = middle
		} else {
			highest = middle
		}
	}
	return lowest
}

// IonicStrength is the ionic strength of a water, in mol/L.
type IonicStrength float64

// Minerals is what may be known of the salts in a water. Absent readings are not known.
type Minerals struct {
	Conductivity quantity.Reading[quantity.Conductivity] // 0 to 5000 µS/cm
	GH           quantity.Reading[quantity.Hardness]     // 0 to 60 dGH
	KH           quantity.Reading[quantity.Alkalinity]   // 0 to 60 dKH
}

const (
	fromConductivity = 1.6e-5 // mol/L per µS/cm: Snoeyink & Jenkins 1980, Water Chemistry
	BandOfFreshWater = "outside this it is no fresh water"
)

// Strength gives the ionic strength from conductivity, else from hardness and alkalinity, and the line of the working that
// says which. From hardness and alkalinity it is a guess by the balance of
// charges with sulphate, sodium and potassium for what is left over (derived); without GH, GH is taken as equal to KH.
func (m Minerals) Strength() (IonicStrength, Input, error) {
	in := Input{Name: "ionic-strength", Unit: "mol/L"}
	var i IonicStrength
	var err error
	if m.Conductivity.Known() {
		ec := m.Conductivity.Mid()
		err = Within("conductivity", ec, 0, 5000, "uS/cm", BandOfFreshWater)
		i, in.From = IonicStrength(fromConductivity*ec), "1.6e-5 × "+Figure(float64(ec))+" uS/cm, Snoeyink & Jenkins 1980"
	} else {
		i, in.Assumed, err = m.guess()
	}
	in.Value = float64(i)
	return i, in, err
}

func (m Minerals) guess() (IonicStrength, string, error) {
	if !m.GH.Known() && !m.KH.Known() {
		return 0, "", &InputError{Kind: Missing, Name: "conductivity", Why: "or hardness or alkalinity to guess the ionic strength from"}
	}
	a, h, why := m.KH.Mid(), m.GH.Mid(), "guessed from GH and KH by the balance of charges; conductivity is not known"
	if !m.GH.Known() {
		h, why = quantity.Hardness(a/2), "guessed from KH alone, as if GH were equal to it; conductivity and GH are not known"
	} else if !m.KH.Known() {
		a, why = quantity.Alkalinity(2*h), "guessed from GH alone, as if KH were equal to it; conductivity and KH are not known"
	}
	err := FirstError(Within("gh", h, 0, 60*quantity.DGH, "dGH", BandOfFreshWater), Within("kh", a, 0, 60*quantity.DKH, "dKH", BandOfFreshWater))
	if float64(a) <= 2*float64(h) {
		return IonicStrength((4*float64(h) - float64(a)/2) / 1000), why, err
	}
	return IonicStrength((float64(h) + float64(a)) / 1000), why, err
}
