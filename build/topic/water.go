package topic

import (
	"strconv"

	"slipleaf/build/quantity"
	"slipleaf/build/reckon"
)

func askHardness(q *question) {
	if q.has("ca") || q.has("mg") {
		if q.has("gh") || q.has("kh") {
			q.fail(&reckon.InputError{Kind: reckon.Contradictory, Name: "ca", Why: "give ions or a hardness, not both"})
		}
		h := sure(reckon.HardnessOf(need[quantity.Concentration](q, "ca"), need[quantity.Concentration](q, "mg")))
		q.hardness("gh", h.GH)
		show(q, "gh-by-molar-masses", h.Exact, "dGH")
		show(q, "calcium-hardness", h.Calcium, "dGH")
		q.done(h.Working)
		return
	}
	switch q.oneOf("gh", "kh") {
	case "gh":
		gh := need[quantity.Hardness](q, "gh")
		q.fail(reckon.Within("gh", gh, 0, 60*quantity.DGH, "dGH", reckon.BandOfFreshWater))
		q.hardness("gh", gh)
		q.done(reckon.Working{Equation: reckon.EquationUnits, Inputs: []reckon.Input{reckon.Given("gh", gh, "mmol/L")}})
	case "kh":
		kh := need[quantity.Alkalinity](q, "kh")
		hco3 := sure(reckon.Bicarbonate(kh))
		for _, unit := range quantity.Units(quantity.AlkalinityKind) {
			show(q, "kh", kh, unit)
		}
		show(q, "bicarbonate", hco3, "mg/L")
		q.done(reckon.Working{Equation: reckon.EquationUnits, Inputs: []reckon.Input{reckon.Given("kh", kh, "meq/L")}, Notes: reckon.Remarks("mmol/L is the acid capacity, so it equals meq/L", "bicarbonate: when all alkalinity is carbonate and pH is near neutral")})
	}
}

// hardness shows a hardness in every unit.
func (q *question) hardness(name string, gh quantity.Hardness) {
	for _, unit := range quantity.Units(quantity.HardnessKind) {
		show(q, name, gh, unit)
	}
}

const bothUsed = "the range holds both its ends"

func (q *question) carbonate() reckon.Carbonate {
	return reckon.Carbonate{KH: known[quantity.Alkalinity](q, "kh", bothUsed), Temperature: need[quantity.Temperature](q, "temperature"),
		Minerals: reckon.Minerals{Conductivity: may[quantity.Conductivity](q, "conductivity"), GH: may[quantity.Hardness](q, "gh")}}
}

func askCO2(q *question) {
	ph, w := known[quantity.PH](q, "ph", bothUsed), q.carbonate()
	r := sure(reckon.DissolvedCO2(w, ph))
	roughly(q, "co2", r.CO2)
	roughly(q, "co2-by-ph-alone", r.ByPH)
	roughly(q, "co2-by-kh-alone", r.ByKH)
	show(q, "air-equilibrium", r.Air, "mg/L")
	q.number("ratio-to-air", r.Ratio.Best, "").ends(r.Ratio.Low, r.Ratio.High)
	q.done(r.Working, r.Cautions...)
}

func askTargetPH(q *question) {
	want, w := need[quantity.Concentration](q, "co2"), q.carbonate()
	r := sure(reckon.TargetPH(w, want))
	showRange(q, "target-ph", r.PH, "")
	roughly(q, "co2-at-target", r.CO2)
	q.done(r.Working, r.Cautions...)
}

// raiseIons are the ions that a dose can be asked for.
var raiseIons = [...]reckon.Ion{reckon.Calcium, reckon.Magnesium, reckon.Potassium, reckon.Nitrate, reckon.Phosphate}

func raiseKeys() []string {
	keys := []string{"raise-gh", "raise-kh"}
	for _, i := range raiseIons {
		keys = append(keys, "raise-"+string(i))
	}
	return keys
}

func askDose(q *question) {
	s := sure(reckon.FindSalt(q.word("salt")))
	v := need[quantity.Volume](q, "volume")
	key := q.oneOf(append([]string{"mass"}, raiseKeys()...)...)
	d := sure(q.doseBy(key, s, v))
	show(q, "mass", d.Mass, "g")
	if d.GH > 0 {
		show(q, "raise-gh", d.GH, "dGH")
	}
	if d.KH > 0 {
		show(q, "raise-kh", d.KH, "dKH")
	}
	for _, i := range d.Ions {
		show(q, "raise-"+string(i.Ion), i.Rise, "mg/L")
	}
	if s.Name == "calcium-carbonate" {
		kh := sure(reckon.LimeInAir(25))
		show(q, "kh-it-stops-at", kh, "dKH") // with the CO2 of the air, at 25 °C
	}
	q.done(d.Working, d.Cautions...)
}

func (q *question) doseBy(key string, s reckon.Salt, v quantity.Volume) (reckon.Dose, error) {
	switch key {
	case "mass":
		m := need[quantity.Mass](q, key)
		return reckon.DoseOf(s, m, v)
	case "raise-gh":
		rise := need[quantity.Hardness](q, key)
		return reckon.DoseForGH(s, v, rise)
	case "raise-kh":
		rise := need[quantity.Alkalinity](q, key)
		return reckon.DoseForKH(s, v, rise)
	}
	rise := need[quantity.Concentration](q, key)
	return reckon.DoseForIon(s, v, reckon.Ion(key[len("raise-"):]), rise)
}

func askBlend(q *question) {
	byKH, byGH := q.has("kh-a") || q.has("kh-b"), q.has("gh-a") || q.has("gh-b")
	switch {
	case byKH && byGH:
		q.fail(&reckon.InputError{Kind: reckon.Contradictory, Name: "gh-a", Why: "blend by KH or by GH, not by both"})
	case byGH:
		blendBy[quantity.Hardness](q, "gh")
	default:
		blendBy[quantity.Alkalinity](q, "kh")
	}
}

func blendBy[T reckon.Mixes](q *question, name string) {
	a, b, want := need[T](q, name+"-a"), need[T](q, name+"-b"), need[T](q, "want")
	v := may[quantity.Volume](q, "volume")
	q.fail(reckon.WithinIfKnown("volume", v, reckon.SmallestWater, reckon.LargestWater, "L", "a blend is for a tank"))
	r := sure(reckon.MixFor(a, b, want, v.Mid()))
	q.fraction("share-a", float64(r.ShareA))
	q.fraction("share-b", float64(r.ShareB))
	if v.Known() {
		show(q, "volume-a", r.VolumeA, "L")
		show(q, "volume-b", r.VolumeB, "L")
	}
	q.done(r.Working, r.Cautions...)
}

func askWaterChange(q *question) {
	byKind(q, changeIn[quantity.Hardness], changeIn[quantity.Alkalinity], changeIn[quantity.Conductivity], changeIn[quantity.Concentration])
}

func askChangesNeeded(q *question) {
	byKind(q, neededIn[quantity.Hardness], neededIn[quantity.Alkalinity], neededIn[quantity.Conductivity], neededIn[quantity.Concentration])
}

// byKind asks in the first kind of quantity in which both waters can be read: mg/L is a concentration, dGH a hardness. The
// sum is the same for all.
func byKind(q *question, hardness, alkalinity, conductivity, concentration func(*question)) {
	for _, key := range []string{"start", "tap"} {
		if !q.has(key) {
			q.fail(&reckon.InputError{Kind: reckon.Missing, Name: key, Why: "this value is required"})
		}
	}
	switch {
	case bothRead[quantity.Hardness](q) && !bothRead[quantity.Concentration](q):
		hardness(q)
	case bothRead[quantity.Alkalinity](q) && !bothRead[quantity.Concentration](q):
		alkalinity(q)
	case bothRead[quantity.Conductivity](q):
		conductivity(q)
	default:
		concentration(q)
	}
}

func bothRead[T quantity.Scalar](q *question) bool {
	_, err := quantity.Parse[T](q.values["start"])
	_, err2 := quantity.Parse[T](q.values["tap"])
	return err == nil && err2 == nil
}

func changeIn[T reckon.Mixes](q *question) {
	start, tap := may[T](q, "start"), need[T](q, "tap")
	from := need[T](q, "start")
	share, times := need[quantity.Share](q, "share"), q.whole("times")
	r := sure(reckon.WaterChanges(from, tap, share, times))
	for i, v := range r.After {
		show(q, "after-"+strconv.Itoa(i+1), v, start.Unit())
	}
	q.done(r.Working, r.Cautions...)
}

func neededIn[T reckon.Mixes](q *question) {
	start, tap, want := need[T](q, "start"), need[T](q, "tap"), need[T](q, "want")
	share := need[quantity.Share](q, "share")
	r := sure(reckon.ChangesNeeded(start, tap, want, share))
	q.number("changes", float64(r.Times), "")
	q.fraction("share-for-one-change", float64(r.InOne))
	q.done(r.Working, r.Cautions...)
}

func askDosePeak(q *question) {
	dose, share := need[quantity.Concentration](q, "dose"), need[quantity.Share](q, "share")
	tap := may[quantity.Concentration](q, "tap")
	r := sure(reckon.PeakOfDoses(dose, tap.Mid(), share))
	show(q, "peak", r.Peak, "mg/L")
	show(q, "before-the-next-dose", r.Trough, "mg/L")
	if !tap.Known() {
		q.notes = append(q.notes, "tap is not given, so 0 mg/L")
	}
	q.done(r.Working)
}

func askSolids(q *question) {
	ec, solids := may[quantity.Conductivity](q, "conductivity"), may[quantity.Concentration](q, "dissolved-solids")
	switch {
	case ec.Known() && solids.Known():
		f := sure(reckon.SolidsFactor(ec.Mid(), solids.Mid()))
		q.number("factor-of-the-meter", f, "")
		q.done(reckon.Working{Equation: reckon.EquationSolids, Inputs: []reckon.Input{reckon.Given("conductivity", ec.Mid(), "uS/cm"), reckon.Given("dissolved-solids", solids.Mid(), "mg/L")}})
	case ec.Known():
		r, w, err := reckon.SolidsOf(ec.Mid())
		q.fail(err)
		showRange(q, "dissolved-solids", r, "mg/L")
		q.done(w)
	case solids.Known():
		r, w, err := reckon.ConductivityOf(solids.Mid())
		q.fail(err)
		showRange(q, "conductivity", r, "uS/cm")
		q.done(w)
	default:
		q.fail(&reckon.InputError{Kind: reckon.Missing, Name: "conductivity", Why: "or dissolved-solids"})
	}
}

// askAmmonia takes what harms for its upper end, and below a test's limit for the limit.
func askAmmonia(q *question) {
	tan, ph, t := known[quantity.Concentration](q, "tan", "its upper end is used").High(), need[quantity.PH](q, "ph"), need[quantity.Temperature](q, "temperature")
	r := sure(reckon.UnionisedAmmonia(tan, ph, t))
	traceOf(q, "un-ionised", r.Unionised)
	q.fraction("share", float64(r.Share))
	traceOf(q, "nh3-if-total-is-as-n", r.AsNH3)
	traceOf(q, "nh3-if-total-is-as-nh4", r.FromNH4)
	q.done(r.Working, r.Cautions...)
}

// traceOf shows a concentration in mg/L, to readers in the unit that suits its size.
func traceOf(q *question, name string, v quantity.Concentration) {
	show(q, name, v, "mg/L").shown = quantity.Format(v, quantity.Metric)
}
