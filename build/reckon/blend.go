package reckon

import (
	"math"

	"slipleaf/build/quantity"
)

// Mixes is what two waters share out in proportion to their volumes. pH and CO2 do not: recalculate them.
type Mixes interface {
	quantity.Hardness | quantity.Alkalinity | quantity.Concentration | quantity.Conductivity
	quantity.Scalar
}

// Blend is how much of two waters to mix.
type Blend struct {
	ShareA, ShareB   quantity.Share
	VolumeA, VolumeB quantity.Volume // 0 when no volume was asked for
	Working          Working
	Cautions         []Caution
}

var (
	equationBlend = Equation{"blend", "Mixing two waters", "share of A = (want − B)/(A − B)", "mass balance, derived"}
	equationSwap  = Equation{"water-change", "Water changes one after another", "left = tap + (start − tap)(1 − share)ⁿ", "mass balance with full mixing, derived"}
)

// highest is a bound on what fresh water holds, in the base unit of its kind: 200 mmol/L, meq/L; 20 000 mg/L, µS/cm.
func highest[T Mixes]() T {
	var v T
	switch v.Kind() {
	case quantity.HardnessKind, quantity.AlkalinityKind:
		return 200
	}
	return 20000
}

// MixFor reckons the shares of waters A and B, each of a hardness, alkalinity, concentration or conductivity, that give
// the one wanted. It refuses one outside of the two. volume 0 asks for shares alone. Mass balance, derived.
func MixFor[T Mixes](a, b, want T, volume quantity.Volume) (Blend, error) {
	unit := quantity.Units(a.Kind())[0]
	err := FirstError(Within("a", a, 0, highest[T](), unit, BandOfFreshWater), Within("b", b, 0, highest[T](), unit, BandOfFreshWater),
		Within("want", want, min(a, b), max(a, b), unit, "a blend lies between its two waters"))
	if volume != 0 {
		err = FirstError(err, checkWater(volume))
	}
	if err != nil {
		return Blend{}, err
	}
	if a == b {
		return Blend{}, &InputError{Kind: Contradictory, Name: "want", Why: "both waters are the same, so any blend gives it"}
	}
	x := quantity.Share(float64(want-b) / float64(a-b))
	r := Blend{ShareA: x, ShareB: 1 - x, VolumeA: volume * quantity.Volume(x), VolumeB: volume * quantity.Volume(1-x), Cautions: []Caution{CautionSmallSteps}}
	r.Working = Working{equationBlend, []Input{Given("a", a, unit), Given("b", b, unit), Given("want", want, unit)}, Remarks("pH and CO2 do not blend like this: measure or recalculate them")}
	if volume != 0 {
		r.Working.Inputs = append(r.Working.Inputs, Given("volume", volume, "L"))
	}
	return r, nil
}

// Changes is what is left after each of some water changes.
type Changes[T Mixes] struct {
	After    []T // after the first, second, …
	Working  Working
	Cautions []Caution
}

const mostChanges = 365

// WaterChanges reckons what is left after each of times (1 to 365) changes of a share of the water, 0 to 100 %, for water
// that holds tap. left = tap + (start − tap)(1 − share)ⁿ: mass balance with full mixing, no uptake.
func WaterChanges[T Mixes](start, tap T, share quantity.Share, times int) (Changes[T], error) {
	unit := quantity.Units(start.Kind())[0]
	err := FirstError(Within("start", start, 0, highest[T](), unit, BandOfFreshWater), Within("tap", tap, 0, highest[T](), unit, BandOfFreshWater),
		Within("share", share, 0, 1, "%", "a share is a part of the whole"), Inside("times", float64(times), 1, mostChanges, "at most a year of daily changes"))
	if err != nil {
		return Changes[T]{}, err
	}
	r := Changes[T]{After: make([]T, times), Cautions: []Caution{CautionSmallSteps}}
	for n := range r.After {
		r.After[n] = tap + (start-tap)*T(math.Pow(1-float64(share), float64(n+1)))
	}
	r.Working = Working{equationSwap, []Input{Given("start", start, unit), Given("tap", tap, unit), Given("share", share, "%"),
		{Name: "times", Value: float64(times)}}, Remarks("assumes full mixing and no uptake or release")}
	return r, nil
}

// Needed is how many changes of one share lead to a wanted value, and the share that would do it in one.
type Needed struct {
	Times    int
	InOne    quantity.Share
	Working  Working
	Cautions []Caution
}

var equationNeeded = Equation{"changes-needed", "Water changes until a value is reached", "n = ⌈ln((want − tap)/(start − tap))/ln(1 − share)⌉", "mass balance with full mixing, derived"}

// ChangesNeeded counts the changes of a share, 1 to 100 %, that bring start to want or past it. want must lie between tap
// and start, without tap itself. Mass balance, derived.
func ChangesNeeded[T Mixes](start, tap, want T, share quantity.Share) (Needed, error) {
	ratio, err := toward(start, tap, want)
	if err := FirstError(err, Within("share", share, 0.01, 1, "%", "smaller changes never arrive")); err != nil {
		return Needed{}, err
	}
	unit := quantity.Units(start.Kind())[0]
	r := Needed{InOne: quantity.Share(1 - ratio), Cautions: []Caution{CautionSmallSteps}, Working: Working{equationNeeded,
		[]Input{Given("start", start, unit), Given("tap", tap, unit), Given("want", want, unit), Given("share", share, "%")}, Remarks("assumes full mixing and no uptake or release")}}
	switch {
	case ratio >= 1:
	case share == 1:
		r.Times = 1
	default:
		r.Times = int(math.Ceil(math.Log(ratio)/math.Log(1-float64(share)) - 1e-9))
	}
	return r, nil
}

// toward gives (want − tap)/(start − tap), which must lie above 0 and not above 1.
func toward[T Mixes](start, tap, want T) (float64, error) {
	unit := quantity.Units(start.Kind())[0]
	err := FirstError(Within("start", start, 0, highest[T](), unit, BandOfFreshWater), Within("tap", tap, 0, highest[T](), unit, BandOfFreshWater),
		Within("want", want, min(start, tap), max(start, tap), unit, "changes lead from the tank's water toward the tap's"))
	if err != nil {
		return 1, err
	}
	if want == tap {
		return 1, &InputError{Kind: OutOfRange, Name: "want", Value: "the tap's own", Range: "short of it", Why: "changes never quite arrive"}
	}
	return float64(want-tap) / float64(start-tap), nil
}

// DosePeak is the level that a dose after every water change tends to, and what is left of it before the next one.
type DosePeak struct {
	Peak, Trough quantity.Concentration
	Working      Working
}

var equationPeak = Equation{"dose-peak", "A dose after every water change, without uptake", "peak = tap + dose/share", "geometric series of the mass balance, derived"}

// PeakOfDoses sums a dose given after every change of a share, 1 to 100 %, for ever, when no plant takes any; 0 to 1000
// mg/L. Derived.
func PeakOfDoses(dose, tap quantity.Concentration, share quantity.Share) (DosePeak, error) {
	err := FirstError(Within("dose", dose, 0, 1000, "mg/L", BandOfFreshWater), Within("tap", tap, 0, 1000, "mg/L", BandOfFreshWater),
		Within("share", share, 0.01, 1, "%", "without changes a dose adds up for ever"))
	if err != nil {
		return DosePeak{}, err
	}
	rise := dose / quantity.Concentration(share)
	return DosePeak{tap + rise, tap + rise - dose, Working{equationPeak, []Input{Given("dose", dose, "mg/L"), Given("tap", tap, "mg/L"), Given("share", share, "%")},
		Remarks("an upper bound: what plants take lowers it")}}, nil
}
