package sheet

import (
	"cmp"
	"slices"

	"slipleaf/build/almanac"
	"slipleaf/build/journal"
	"slipleaf/build/quantity"
)

// Parameter is a property of a tank that is held against what a plant stands.
type Parameter string

// The parameters, in the order in which sheets list them.
const (
	Temperature Parameter = "temperature"
	GH          Parameter = "gh"
	KH          Parameter = "kh"
	LightAt     Parameter = "light"
	CO2         Parameter = "co2"
	PH          Parameter = "ph"
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
	TempMend    = 3.0    // °C off that a heater, a fan or another place mends
	KHMend      = 4.0    // dKH too high that mixing with soft water mends
	SaltyFrom   = 2000.0 // µS/cm: above it no fresh water, whatever its hardness (our choice)
	fitSlack    = 1e-6   // a value written in another unit is still at the edge
	mildKHClimb = 1.0    // dKH: the noise of a drop test
)

// Band is what a plant stands, in °C, pH, dGH, dKH or µmol/m²/s.
type Band struct {
	Low, High float64
	Known     bool
}

// Value is what a tank has, in the unit of its [Band]. For a swinging value Low and High are its ends and both count; for
// a reckoned one (Model) Best counts, and the ends only make it doubtful.
type Value struct {
	Low, Best, High float64
	Known, Model    bool
}

// Judge holds a value against a band. By is how far outside it lies, negative when it is too low.
func Judge(b Band, v Value) (o Outcome, by float64) {
	if !b.Known || !v.Known {
		return NotKnown, 0
	}
	lo, hi := v.Low, v.High
	if v.Model {
		lo, hi = v.Best, v.Best
	}
	switch below, above := b.Low-lo, hi-b.High; {
	case below > fitSlack && below >= above:
		return Outside, -below
	case above > fitSlack:
		return Outside, above
	}
	margin := EdgeShare * (b.High - b.Low)
	if lo < b.Low+margin-fitSlack || hi > b.High-margin+fitSlack || v.Low < b.Low-fitSlack || v.High > b.High+fitSlack {
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
	NoBand    bool    // not known because nobody knows what the plant stands
}

// Fitting is a plant's needs beside a tank, ready to be judged.
type Fitting struct {
	Bands     map[Parameter]Band // without CO2
	Values    map[Parameter]Value
	Need      string // CO2: none | helps | needed | ""
	Injected  journal.Tristate
	Salt      float64 // conductivity in µS/cm; 0: not known
	StepClass Class
}

// Fitted is the answer to a [Fitting].
type Fitted struct {
	Verdicts []Verdict
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

// Is tells whether there is a change to make.
func (c Change) Is() bool { return c.Parameter != "" || c.Slowly }

// Fit judges every parameter and sums up by the rule: cannot-say when temperature and both hardnesses are not known;
// poor-match when two or more are outside, or one that cannot be mended by one means, or the water is brackish; one-change
// when exactly one is outside, or the step is large; else good-match. pH counts only where KH is not known, and CO2
// only where it is needed.
func Fit(f Fitting) Fitted {
	var out Fitted
	for _, p := range []Parameter{Temperature, GH, KH, LightAt} {
		out.Verdicts = append(out.Verdicts, f.judge(p, true))
	}
	out.Verdicts = append(out.Verdicts, f.judgeCO2())
	out.Verdicts = append(out.Verdicts, f.judge(PH, out.Verdicts[2].Outcome == NotKnown))
	out.Brackish = f.Salt > SaltyFrom
	out.Reasons = reasons(out.Verdicts)
	outside, hopeless := 0, out.Brackish
	for _, v := range out.Reasons {
		if v.Outcome == Outside && v.Counts {
			outside++
			hopeless = hopeless || !v.Mendable()
		}
	}
	unknown := func(i int) bool { return out.Verdicts[i].Outcome == NotKnown }
	large := f.StepClass >= LargeStep
	switch {
	case unknown(0) && unknown(1) && unknown(2) && !out.Brackish:
		out.Summary = CannotSay
	case outside >= 2 || hopeless:
		out.Summary = PoorMatch
	case outside == 1 || large:
		out.Summary = OneChange
	default:
		out.Summary = GoodMatch
	}
	if outside == 1 && !hopeless {
		v := out.Reasons[slices.IndexFunc(out.Reasons, func(v Verdict) bool { return v.Outcome == Outside && v.Counts })]
		out.Change = Change{Parameter: v.Parameter, Low: v.By < 0}
	}
	out.Change.Slowly = large
	return out
}

func (f Fitting) judge(p Parameter, counts bool) Verdict {
	v := Verdict{Parameter: p, Band: f.Bands[p], Value: f.Values[p], Counts: counts}
	v.Outcome, v.By = Judge(v.Band, v.Value)
	v.NoBand = !v.Band.Known
	return v
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

// Mendable tells whether one means brings an outside parameter inside.
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

// reasons lists what weighs against the plant: outside before near-edge, what cannot be mended before what can, what
// counts before what does not.
func reasons(vs []Verdict) []Verdict {
	var out []Verdict
	for _, v := range vs {
		if v.Outcome == Outside || v.Outcome == NearEdge {
			out = append(out, v)
		}
	}
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
	f.StepClass = s.Step.Class
	if c.Parcel.Tank != nil {
		f.Injected = c.Parcel.Tank.CO2
	}
	if l := s.Light.At(s.Place.Row); l.Best > 0 {
		f.Values[LightAt] = Value{Low: float64(l.Low), Best: float64(l.Best), High: float64(l.High), Known: true, Model: true}
	}
	return f
}

// FittingOf lays a species out beside the water of a tank. Light is taken as measured at the plant; CO2 stays not said.
func FittingOf(s almanac.Species, w journal.Parameters) Fitting {
	f := Fitting{Need: s.CO2, Bands: map[Parameter]Band{}, Values: map[Parameter]Value{}}
	f.Bands[Temperature], f.Values[Temperature] = band(s.Temperature, "C"), value(w.Temperature, "C")
	f.Bands[PH], f.Values[PH] = band(s.PH, ""), value(w.PH, "")
	f.Bands[GH], f.Values[GH] = band(s.GH, "dGH"), value(w.GH, "dGH")
	f.Bands[KH], f.Values[KH] = band(s.KH, "dKH"), value(w.KH, "dKH")
	f.Bands[LightAt], f.Values[LightAt] = band(s.Light, "umol/m2/s"), value(measured(w), "umol/m2/s")
	if w.Conductivity.Known() {
		f.Salt = value(w.Conductivity, "uS/cm").High
	}
	return f
}

// in gives v in a unit; pH has none.
func in[T quantity.Scalar](v T, unit string) float64 {
	n, _ := quantity.In(v, unit)
	if unit == "" {
		return float64(v)
	}
	return n
}

func band[T quantity.Scalar](r quantity.Reading[T], unit string) Band {
	return Band{in(r.Low(), unit), in(r.High(), unit), r.Known() && !r.Below()}
}

// value is a reading as a value; one below a test's limit counts as half of it, as readings do.
func value[T quantity.Scalar](r quantity.Reading[T], unit string) Value {
	v := Value{in(r.Low(), unit), in(r.Mid(), unit), in(r.High(), unit), r.Known(), false}
	if r.Below() {
		v.Low, v.High = v.Best, v.Best
	}
	return v
}
