package sheet

import (
	"cmp"
	"math"
	"slices"

	"slipleaf/build/almanac"
	"slipleaf/build/journal"
	"slipleaf/build/quantity"
	"slipleaf/build/reckon"
)

// Outcome is the verdict on one parameter.
type Outcome string

// The outcomes.
const (
	WellInside Outcome = "well-inside" // at least 15 % of the width from both ends
	NearEdge   Outcome = "near-edge"
	Outside    Outcome = "outside"
	NotKnown   Outcome = "not-known"
)

// Summary is the verdict on the whole.
type Summary string

// The summaries.
const (
	GoodMatch Summary = "good-match"
	OneChange Summary = "one-change"
	PoorMatch Summary = "poor-match"
	CannotSay Summary = "cannot-say"
)

// The limits of the rule.
const (
	EdgeShare   = 0.15   // of the width, from either end (design rule)
	TempMend    = 3.0    // °C off that a heater, a fan or another place corrects
	KHMend      = 4.0    // dKH too high that mixing with soft water corrects
	SaltyFrom   = 2000.0 // µS/cm: above it no fresh water, whatever its hardness (our choice)
	fitSlack    = 1e-6   // a value written in another unit is still at the edge
	mildKHClimb = 1.0    // dKH: the noise of a drop test
	starving    = 0.3    // mg/L of free CO2, half of what air keeps in water at 25 °C (Plummer & Busenberg 1982): below it a plant that lives on it starves by day (our choice)
)

// Judge holds a value against a band. Within the noise of a test it is near the edge, and so is a modelled value of which
// a part lies inside. By is how far outside it lies, negative when it is too low. Where the lower end is nothing, that
// end is no edge.
func Judge(b Band, v Value) (o Outcome, by float64) {
	if !b.Known || !v.Known {
		return NotKnown, 0
	}
	lo, hi, inner, outer := v.Low, v.High, v.Low, v.High
	if v.Interval {
		lo, hi, inner, outer = v.High, v.Low, v.Best, v.Best
	}
	switch below, above := b.Low-lo, hi-b.High; {
	case below > b.Of.noiseAt(b.Low)+fitSlack && below >= above:
		return Outside, -below
	case above > b.Of.noiseAt(b.High)+fitSlack:
		return Outside, above
	}
	margin := EdgeShare * (b.High - b.Low)
	nearLow := b.Low > 0 && (inner < b.Low+margin-fitSlack || v.Low < b.Low-fitSlack)
	if nearLow || outer > b.High-margin+fitSlack || v.High > b.High+fitSlack {
		return NearEdge, 0
	}
	return WellInside, 0
}

// Verdict is the outcome for one parameter with the figures behind it.
type Verdict struct {
	Parameter Parameter
	Band      Band
	Value     Value
	Outcome   Outcome
	By        float64 // how far outside; negative: too low
	Counts    bool    // it has a say in the summary
	NoBand    bool    // not known because nobody knows what the plant tolerates
	Starves   bool    // of pH: so high that no free CO2 is left for a plant that lives on it
}

// Verdicts are the verdicts on all parameters, in their order.
type Verdicts []Verdict

// Of is the verdict on a parameter.
func (vs Verdicts) Of(p Parameter) Verdict {
	for _, v := range vs {
		if v.Parameter == p {
			return v
		}
	}
	return Verdict{Parameter: p, Outcome: NotKnown}
}

// unknown reports whether nothing is known of any of them.
func (vs Verdicts) unknown(ps ...Parameter) bool {
	return !slices.ContainsFunc(ps, func(p Parameter) bool { return vs.Of(p).Outcome != NotKnown })
}

// Fitting is a plant's needs beside a tank, ready to be judged.
type Fitting struct {
	Bands       map[Parameter]Band // without CO2
	Values      map[Parameter]Value
	Need        string // CO2: none | helps | needed | ""
	Injected    journal.Tristate
	Bicarbonate bool    // the plant can live on bicarbonate
	Salt        float64 // conductivity in µS/cm; 0: not known
	SaltMost    float64 // that it tolerates, in µS/cm; 0: SaltyFrom
	StepClass   Class
}

// Fitted is the answer to a [Fitting].
type Fitted struct {
	Verdicts Verdicts
	Summary  Summary
	Reasons  []Verdict
	Change   Change
	Brackish bool
}

// Change is the one change that makes a tank fit.
type Change struct {
	Parameter Parameter // "" when the change is only to go slowly
	Low       bool      // the value is too low
	Slowly    bool      // the step from the giver's water is large
}

// Is reports whether there is a change to make.
func (c Change) Is() bool { return c.Parameter != "" || c.Slowly }

// Fit judges every parameter and sums up by the rule: cannot-say when temperature and both hardnesses are not known;
// poor-match when two or more are outside, or one that cannot be corrected by one means, or the water is brackish;
// one-change when exactly one is outside, or the step is large; else good-match. CO2 counts only where it is needed, pH
// where KH is not known or a plant of free CO2 would starve.
func Fit(f Fitting) Fitted {
	var out Fitted
	for _, p := range Parameters() {
		out.Verdicts = append(out.Verdicts, f.judge(p))
	}
	out.Brackish = f.Salt > max(f.SaltMost, SaltyFrom)
	out.Reasons = reasons(out.Verdicts)
	against := slices.DeleteFunc(slices.Clone(out.Reasons), func(v Verdict) bool { return v.Outcome != Outside || !v.Counts })
	hopeless := out.Brackish || slices.ContainsFunc(against, func(v Verdict) bool { return !v.Mendable() })
	large := f.StepClass >= LargeStep
	switch {
	case out.Verdicts.unknown(Temperature, GH, KH) && !out.Brackish:
		out.Summary = CannotSay
	case len(against) >= 2 || hopeless:
		out.Summary = PoorMatch
	case len(against) == 1 || large:
		out.Summary = OneChange
	default:
		out.Summary = GoodMatch
	}
	if len(against) == 1 && !hopeless {
		out.Change = Change{Parameter: against[0].Parameter, Low: against[0].By < 0}
	}
	out.Change.Slowly = large
	return out
}

func (f Fitting) judge(p Parameter) Verdict {
	if p == CO2 {
		return f.judgeCO2()
	}
	v := Verdict{Parameter: p, Band: f.Bands[p], Value: f.Values[p], Counts: p != PH}
	v.Outcome, v.By = Judge(v.Band, v.Value)
	v.NoBand = !v.Band.Known
	if p == PH {
		v.Starves = v.Outcome == Outside && v.By > 0 && !f.Bicarbonate && f.freeCO2() < starving
		kh, _ := Judge(f.Bands[KH], f.Values[KH])
		v.Counts = kh == NotKnown || v.Starves
	}
	return v
}

// freeCO2 is about the CO2 in their water, mg/L, by pH and KH: the short form of Plummer & Busenberg 1982 at 25 °C with
// the activity of usual tap water. Without KH it is none at all.
func (f Fitting) freeCO2() float64 {
	ph, kh := f.Values[PH], f.Values[KH]
	if !ph.Known || !kh.Known {
		return 0
	}
	return 3.27 * kh.Best * math.Pow(10, 7-ph.High)
}

// judgeCO2 holds what is added against what is needed. It counts only where CO2 is needed.
func (f Fitting) judgeCO2() Verdict {
	v := Verdict{Parameter: CO2, Counts: f.Need == "needed", NoBand: f.Need == ""}
	switch {
	case f.Need == "none":
		v.Outcome = WellInside
	case f.Need == "" || f.Injected == journal.NotSaid:
		v.Outcome = NotKnown
	case f.Injected == journal.Yes:
		v.Outcome = WellInside
	case f.Need == "helps":
		v.Outcome = NearEdge
	default:
		v.Outcome = Outside
	}
	return v
}

// Mendable reports whether one means brings an outside parameter inside.
func (v Verdict) Mendable() bool {
	switch v.Parameter {
	case CO2:
		return false
	case Temperature:
		return v.By <= TempMend+fitSlack && v.By >= -TempMend-fitSlack
	case KH:
		return v.By <= KHMend+fitSlack
	}
	return true
}

// modelled is a light that was worked out, or measured with a meter's error.
func modelled(l reckon.Range[quantity.PhotonFlux]) Value {
	return Value{Of: LightAt, Low: float64(l.Low), Best: float64(l.Best), High: float64(l.High), Known: true, Interval: true}
}

// reasons lists what weighs against the plant: outside before near-edge, what cannot be corrected before what can, what
// counts before what does not.
func reasons(vs Verdicts) []Verdict {
	out := slices.DeleteFunc(slices.Clone([]Verdict(vs)), func(v Verdict) bool { return v.Outcome != Outside && v.Outcome != NearEdge })
	weight := func(v Verdict) int {
		w := 0
		if v.Outcome != Outside {
			w += 4
		}
		if !v.Counts {
			w += 2
		}
		if v.Outcome == Outside && v.Mendable() {
			w++
		}
		return w
	}
	slices.SortStableFunc(out, func(a, b Verdict) int { return cmp.Compare(weight(a), weight(b)) })
	return out
}

// fitting lays the case out for [Fit].
func fitting(c Case, s Sheet) Fitting {
	f := FittingOf(c.Species, c.Parcel.Water)
	f.Injected = c.injected()
	if c.Lot.Form != "seeds" { // which have no leaves to lose
		f.StepClass = s.Step.Class
	}
	if l := s.Light.At(s.Place.Row); l.Best > 0 {
		f.Values[LightAt] = modelled(l)
	}
	return f
}

// FittingOf lays a species out beside the water of a tank. Light is taken as measured at the plant; CO2 stays not said.
func FittingOf(s almanac.Species, w journal.Parameters) Fitting {
	f := Fitting{Need: s.CO2, Bands: map[Parameter]Band{}, Values: map[Parameter]Value{}, Bicarbonate: s.Bicarbonate, SaltMost: SaltMost(s)}
	for p, of := range properties {
		f.Bands[p], f.Values[p] = of.band(s), of.value(w)
	}
	if w.Conductivity.Known() {
		f.Salt = In(w.Conductivity.High(), "uS/cm")
		if w.Conductivity.Below() { // a meter's lower end counts as half of it
			f.Salt = In(w.Conductivity.Mid(), "uS/cm")
		}
	}
	return f
}
