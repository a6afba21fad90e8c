package reckon

import (
	"math"

	"slipleaf/build/quantity"
)

// Package is a parcel with plants on its way through one temperature.
type Package struct {
	Mass                  quantity.Mass        // of plants with the water in their bags
	Length, Width, Height quantity.Length      // of the box, outside
	Wall                  quantity.Length      // of insulation; 0: cardboard alone
	Start, Outside        quantity.Temperature // when packed; around it
	Hours                 int                  // on the way
	Keeps                 quantity.Span        // how long the plants last packed at 20 °C; 0: not known
}

// Journey is how warm the plants get, and what it costs them.
type Journey struct {
	ByHour    []Range[quantity.Temperature] // after 1, 2, … hours; Low and High by insulation, not by size
	TimeScale Range[float64]                // hours in which the difference falls to 37 %
	Used      Range[float64]                // share of their keeping time that the way takes; 0 when that is not known
	Working   Working
}

var equationJourney = Equation{"parcel", "Temperature of a parcel, and how fast plants spend themselves", "T = out + (start − out) exp(−t/τ), τ = mass × 4.18 J/g/K × (wall/k + 1/h)/area; spent = ∫ Q10^((T − 20)/10) dt",
	"Newton's law of cooling, derived; expanded polystyrene 0.033 to 0.040 W/m/K (EN 13163 and handbooks, from memory); still air 5 to 10 W/m²/K (common practice); Q10 of plant respiration 1.8 to 2.5 (from memory)"}

const (
	heatOfWater = 4.18 // J/g/K
	cardboard   = 0.4  // cm of wall that conducts like insulation: corrugated board, from memory
	longestWay  = 24 * 14
)

// Travel works out the parcel's temperature hour by hour. Mass 10 g to 20 kg, sides 5 to 100 cm, temperatures −30 to 60 °C,
// up to 14 days in one temperature. The range is that of the materials, not of the weather.
func (p Package) Travel() (Journey, error) {
	const side, heat = "expected a box for the post", "expected the temperature of air"
	err := FirstError(Within("mass", p.Mass, 10, 20000, "g", "plants with their water are meant"), Within("length", p.Length, 5, 100, "cm", side), Within("width", p.Width, 5, 100, "cm", side),
		Within("height", p.Height, 2, 100, "cm", side), Within("wall", p.Wall, 0, 10, "cm", "expected insulation"), Within("start", p.Start, 0, 40, "C", heat),
		Within("outside", p.Outside, -30, 60, "C", heat), Inside("hours", float64(p.Hours), 1, longestWay, "at most 14 days"), Inside("keeps", float64(p.Keeps), 0, 60, "days that the plants last packed"))
	if err != nil {
		return Journey{}, err
	}
	l, w, h := float64(p.Length), float64(p.Width), float64(p.Height)
	area := 2 * (l*w + l*h + w*h) / 1e4 // m²
	wall := (float64(p.Wall) + cardboard) / 100
	hours := func(k, air float64) float64 { return float64(p.Mass) * heatOfWater * (wall/k + 1/air) / area / 3600 }
	j := Journey{TimeScale: Range[float64]{hours(0.040, 10), hours(0.036, 7), hours(0.033, 5)}}
	at := func(tau, t float64) quantity.Temperature {
		return p.Outside + (p.Start-p.Outside)*quantity.Temperature(math.Exp(-t/tau))
	}
	for n := range p.Hours {
		t := float64(n + 1)
		j.ByHour = append(j.ByHour, Range[quantity.Temperature]{at(j.TimeScale.Low, t), at(j.TimeScale.Best, t), at(j.TimeScale.High, t)})
	}
	if p.Keeps > 0 {
		j.Used = p.used(j.TimeScale, at)
	}
	j.Working = Working{equationJourney, []Input{Given("mass", p.Mass, "g"), Given("start", p.Start, "C"), Given("outside", p.Outside, "C"), Given("wall", p.Wall, "cm"), {Name: "hours", Value: float64(p.Hours), Unit: "h"}},
		Remarks("the plants are as warm as the water around them, and the weather does not change", "a heat or cold pack is not in the sum", "below 0 °C the water freezes, which the sum does not follow: the plants are lost")}
	return j, nil
}

// used adds up the share of the keeping time by steps of a tenth of an hour.
func (p Package) used(tau Range[float64], at func(tau, t float64) quantity.Temperature) Range[float64] {
	sum := func(tau, q10 float64) float64 {
		const step = 0.1
		s := 0.0
		for n := range int(float64(p.Hours) / step) {
			s += math.Pow(q10, (float64(at(tau, (float64(n)+0.5)*step))-20)/10) * step
		}
		return s / 24 / float64(p.Keeps)
	}
	a, b := []float64{}, sum(tau.Best, 2)
	for _, t := range []float64{tau.Low, tau.High} {
		a = append(a, sum(t, 1.8), sum(t, 2.5))
	}
	return Range[float64]{min(b, a[0], a[1], a[2], a[3]), b, max(b, a[0], a[1], a[2], a[3])}
}
