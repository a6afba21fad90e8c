package reckon

import (
	"slipleaf/build/quantity"
)

// Uptake is what plants that were taken out held, by element.
type Uptake struct {
	Nitrogen, Phosphorus, Potassium Range[quantity.Mass]
	Working                         Working
}

var equationUptake = Equation{"uptake", "What trims take out", "element = fresh mass × share of dry mass × content of dry mass",
	"least contents without loss of growth: Gerloff & Krombholz 1966, Limnol. Oceanogr. 11:529–537 (1.3 % N, 0.13 % P); usual ones: Duarte 1992, Limnol. Oceanogr. 37:882–889; Demars & Edwards 2007, Freshw. Biol. 52:2073–2086 (ranges from memory)"}

// Shares of the fresh mass (dry) and of the dry mass (the elements). The lower ends of N and P are the critical contents of
// Gerloff & Krombholz 1966; the others are from memory.
var (
	dryShare  = Range[float64]{0.05, 0.08, 0.12}
	nitrogen  = Range[float64]{0.013, 0.028, 0.045}
	phosphor  = Range[float64]{0.0013, 0.004, 0.008}
	potassium = Range[float64]{0.008, 0.025, 0.045}
)

// TakenOut is what a fresh mass of plants, 0 to 100 kg, held. The range multiplies lower ends and upper ends: bounds.
func TakenOut(fresh quantity.Mass) (Uptake, error) {
	if err := Within("mass", fresh, 0, 100000, "g", "expected what a tank gives in a week"); err != nil {
		return Uptake{}, err
	}
	of := func(content Range[float64]) Range[quantity.Mass] {
		m := fresh
		return Range[quantity.Mass]{m * quantity.Mass(dryShare.Low*content.Low), m * quantity.Mass(dryShare.Best*content.Best), m * quantity.Mass(dryShare.High*content.High)}
	}
	return Uptake{of(nitrogen), of(phosphor), of(potassium), Working{equationUptake, []Input{Given("mass", fresh, "g"),
		{Name: "dry", Value: dryShare.Best, Assumed: "5 to 12 % of the fresh mass"}, {Name: "n", Value: nitrogen.Best, Assumed: "1.3 to 4.5 % of the dry mass"},
		{Name: "p", Value: phosphor.Best, Assumed: "0.13 to 0.8 %"}, {Name: "k", Value: potassium.Best, Assumed: "0.8 to 4.5 %"}},
		[]Note{{Key: "uptake-bounds", Text: "the ends are bounds; fish food, tap water and a fresh substrate bring some of it back unasked"}, {Key: "uptake-stop", Text: "stop dosing what a test finds above your target"}}}}, nil
}

// Replacement is the dry salts that bring back what was taken out: phosphate and nitrate first, with their potassium.
type Replacement struct {
	Nitrate, Phosphate, Sulfate Range[quantity.Mass] // potassium nitrate, potassium dihydrogen phosphate, potassium sulfate
}

// Replace turns nitrogen and phosphorus into potassium nitrate and potassium dihydrogen phosphate, and what potassium is
// then still missing into potassium sulfate; never below 0. From molar masses.
func (u Uptake) Replace() Replacement {
	end := func(n, p, k quantity.Mass) (kno3, kh2po4, k2so4 quantity.Mass) {
		kno3 = n / arN * (arK + massNitrate)
		kh2po4 = p / arP * (arK + 2*arH + massPhosphate)
		left := max(k-n/arN*arK-p/arP*arK, 0)
		return kno3, kh2po4, left / (2 * arK) * (2*arK + massSulfate)
	}
	var r Replacement
	r.Nitrate.Low, r.Phosphate.Low, _ = end(u.Nitrogen.Low, u.Phosphorus.Low, u.Potassium.Low)
	r.Nitrate.Best, r.Phosphate.Best, r.Sulfate.Best = end(u.Nitrogen.Best, u.Phosphorus.Best, u.Potassium.Best)
	r.Nitrate.High, r.Phosphate.High, _ = end(u.Nitrogen.High, u.Phosphorus.High, u.Potassium.High)
	_, _, r.Sulfate.Low = end(u.Nitrogen.High, u.Phosphorus.High, u.Potassium.Low) // what the other two bring is most then
	_, _, r.Sulfate.High = end(u.Nitrogen.Low, u.Phosphorus.Low, u.Potassium.High)
	return r
}
