package sheet

import (
	"math"

	"slipleaf/build/almanac"
	"slipleaf/build/journal"
)

// Class is the size of the change that a plant goes through.
type Class int

// The classes. Thresholds are our choice, after common practice.
const (
	UnknownStep Class = iota
	SmallStep
	MediumStep
	LargeStep
	VeryLargeStep
)

// String is the class as machine files name it.
func (c Class) String() string {
	return [...]string{"not-known", "small", "medium", "large", "very-large"}[min(max(c, 0), VeryLargeStep)]
}

// The upper ends of small, medium and large steps.
var (
	khSteps   = [3]float64{3, 6, 10}  // dKH
	ghSteps   = [3]float64{5, 10, 15} // dGH
	tempSteps = [3]float64{3, 6, 10}  // °C
)

// classOf puts the size of a change into a class.
func classOf(change float64, ends [3]float64) Class {
	for i, end := range ends {
		if math.Abs(change) <= end+fitSlack {
			return SmallStep + Class(i)
		}
	}
	return VeryLargeStep
}

// Part is the change in one parameter.
type Part struct {
	Parameter Parameter
	Change    float64 // theirs less the giver's, in °C, dGH or dKH
	Class     Class   // UnknownStep where either is not known
}

// Step is how far the water changes for the plant.
type Step struct {
	Parts  []Part // temperature, GH, KH, CO2
	Worst  Part   // the greatest of them
	Class  Class  // of the worst, raised as below
	Raised bool   // a class higher, since the plant takes moves badly or is a soft-water plant whose KH rises
	// LightRatio is their light at the plant over the giver's; 0 when not known. Under 0.5 and above 2 it is worth saying.
	LightRatio float64
	Once       bool // a crypt: one move, then no lifting for six weeks
}

// Of is the change of a parameter.
func (s Step) Of(p Parameter) Part {
	for _, part := range s.Parts {
		if part.Parameter == p {
			return part
		}
	}
	return Part{Parameter: p}
}

// LosesCO2 reports whether the plant comes from plenty of CO2 to none added, and minds it.
func (s Step) LosesCO2() bool { return s.Of(CO2).Class == LargeStep }

// ByWater is the class of the greatest change of temperature and hardness, raised where the plant minds it.
func (s Step) ByWater() Class {
	c := max(s.Of(Temperature).Class, s.Of(GH).Class, s.Of(KH).Class)
	if s.Raised && c >= MediumStep && c < LargeStep {
		c++
	}
	return c
}

// stepOf compares the giver's water with theirs.
func stepOf(c Case, l Light, row Row) Step {
	g, r := c.From, c.Parcel
	s := StepBetween(g.Water, r.Water, g.CO2, c.injected(), Sensitive{Need: c.Species.CO2, Melts: melts(c), KHMax: properties[KH].band(c.Species)})
	s.Once = c.Species.Kind == almanac.Crypt
	if at := l.At(row); g.Light.Best > 0 && at.Best > 0 && row != Surface {
		s.LightRatio = float64(at.Best / g.Light.Best)
	}
	return s
}

// melts is how badly the species takes a move, 0 to 3; 1 when nobody knows.
func melts(c Case) int {
	if c.Species.Melts == nil {
		return 1
	}
	return *c.Species.Melts
}

// Sensitive is what makes a step worse for a species.
type Sensitive struct {
	Need  string // CO2
	Melts int    // 0 to 3
	KHMax Band   // a soft-water plant tolerates 5 dKH at the most
}

// StepBetween compares two waters. The class is that of the worst change; it is raised by one, up to large, where the
// plant melts badly (melts 3, or 2 and the change is medium or more) or is a soft-water plant whose KH rises. From added
// CO2 to none is a large step, but a small one for a plant that needs none.
func StepBetween(from, to journal.Parameters, fromCO2, toCO2 journal.Tristate, how Sensitive) Step {
	var s Step
	s.Parts = []Part{
		part(Temperature, from, to, tempSteps), part(GH, from, to, ghSteps), part(KH, from, to, khSteps),
		{Parameter: CO2, Class: co2Step(fromCO2, toCO2, how.Need)},
	}
	s.Worst = s.Parts[0]
	for _, p := range s.Parts[1:] {
		if p.Class > s.Worst.Class {
			s.Worst = p
		}
	}
	s.Class = s.Worst.Class
	soft := how.KHMax.Known && how.KHMax.High <= 5+fitSlack && s.Of(KH).Change > mildKHClimb
	bad := how.Melts >= 3 || how.Melts == 2 && s.Class >= MediumStep
	if (soft || bad) && s.Class != UnknownStep && s.Class < LargeStep {
		s.Class++
		s.Raised = true
	}
	return s
}

func part(p Parameter, a, b journal.Parameters, ends [3]float64) Part {
	from, to := properties[p].value(a), properties[p].value(b)
	if !from.Known || !to.Known {
		return Part{Parameter: p}
	}
	change := to.Best - from.Best
	return Part{p, change, classOf(change, ends)}
}

func co2Step(from, to journal.Tristate, need string) Class {
	switch {
	case from == journal.NotSaid || to == journal.NotSaid:
		return UnknownStep
	case from == journal.No || to == journal.Yes || need == "none":
		return SmallStep
	}
	return LargeStep
}
