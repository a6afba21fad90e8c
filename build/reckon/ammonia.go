package reckon

import (
	"math"

	"slipleaf/build/quantity"
)

// Ammonia is the toxic share of total ammonia.
type Ammonia struct {
	Share     quantity.Share         // un-ionised part of the total, by molecules
	Unionised quantity.Concentration // in the terms of the total: as N when the total is as N
	AsNH3     quantity.Concentration // mg/L of NH3 when the total is counted as N
	FromNH4   quantity.Concentration // mg/L of NH3 when the total is counted as NH4
	Working   Working
	Cautions  []Caution
}

// HarmfulNH3 is the un-ionised ammonia that harms fish at long exposure: EIFAC 1970, Technical Paper 11 (from memory).
const HarmfulNH3 quantity.Concentration = 0.025

const (
	massNH3      = arN + 3*arH
	massNH4      = arN + 4*arH
	emersonFirst = 0.09018
	emersonSlope = 2729.92
)

var equationAmmonia = Equation{"ammonia", "Un-ionised ammonia from pH and temperature", "share = 1/(1 + 10^(pKa − pH)), pKa = 0.09018 + 2729.92/T",
	"Emerson, Russo, Lund & Thurston 1975, J. Fish. Res. Board Can. 32:2379–2383; caution level: EIFAC 1970, Technical Paper 11 (from memory)"}

// UnionisedAmmonia reckons how much of a total ammonia (0 to 100 mg/L) is NH3, at pH 4 to 11 and 0 to 50 °C, in fresh
// water. Emerson et al. 1975.
func UnionisedAmmonia(total quantity.Concentration, ph quantity.PH, t quantity.Temperature) (Ammonia, error) {
	err := FirstError(Within("tan", total, 0, 100, "mg/L", "no tank with life in it has more"),
		Within("ph", ph, 4, 11, "", "expected water with life in it"),
		Within("temperature", t, 0, 50, "C", "the equation holds there"))
	if err != nil {
		return Ammonia{}, err
	}
	f := 1 / (1 + math.Pow(10, ammoniaPKa(t)-float64(ph)))
	a := Ammonia{Share: quantity.Share(f), Unionised: total * quantity.Concentration(f), Cautions: []Caution{CautionAmmonia}}
	a.AsNH3, a.FromNH4 = a.Unionised*massNH3/arN, a.Unionised*massNH3/massNH4
	a.Working = Working{equationAmmonia, []Input{Given("tan", total, "mg/L"), Given("ph", ph, ""), Given("temperature", t, "C")},
		Remarks("fresh water of low salinity", "tests count the total as N or as NH4: both readings are given")}
	return a, nil
}

func ammoniaPKa(t quantity.Temperature) float64 {
	return emersonFirst + emersonSlope/(float64(t)+zeroCelsius)
}
