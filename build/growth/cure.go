package growth

import (
	"slipleaf/build/journal"
	"slipleaf/build/quantity"
	"slipleaf/build/reckon"
)

// Cure is what puts a reading right that is off. Which of its figures are set depends on How.
type Cure struct {
	How   string  `json:"how"`             // tap | soft | salt | heat | cool | ph: changes with tap water, with soft water, a salt, …
	Times int     `json:"times,omitempty"` // water changes of Share
	Share float64 `json:"share,omitempty"`
	Salt  string  `json:"salt,omitempty"`
	Grams float64 `json:"grams,omitempty"` // for the tank's water, or for 10 L of it
	Tank  bool    `json:"tank,omitempty"`  // Grams are for all of the tank's water
	To    float64 `json:"to"`              // the value that is wanted, in the reading's unit
}

// changeShare is the size of the water changes that are proposed: common practice, and within what animals take.
const changeShare = 0.3

// perLitres is the water for which a dose is given where the tank's own is not known.
const perLitres = 10

// cureOf finds what puts a reading right: water changes where the tap's water lies on the other side of the wish, else
// with soft water or a salt. The sums are those of [reckon.ChangesNeeded] and [reckon.DoseForGH].
func cureOf(t *journal.Tank, w WaterOff) Cure {
	c := Cure{To: w.target()}
	low := w.Value < c.To
	switch w.Parameter {
	case "temperature":
		c.How = map[bool]string{true: "heat", false: "cool"}[low]
	case "gh":
		hardness(&c, t, w, t.Tap.GH, quantity.DGH, "dGH", "gypsum", reckon.DoseForGH)
	case "kh":
		hardness(&c, t, w, t.Tap.KH, quantity.DKH, "dKH", "potassium-bicarbonate", reckon.DoseForKH)
	default:
		c.How = "ph"
	}
	return c
}

// target is the wished value, or the nearest that all plants tolerate.
func (w WaterOff) target() float64 {
	switch {
	case w.Low == 0 && w.High == 0:
		return w.Wanted
	case w.Value < w.Low:
		return w.Low
	}
	return w.High
}

// hardness sets changes toward the tap's or soft water, or a dose of the salt that raises it.
func hardness[T reckon.Mixes](c *Cure, t *journal.Tank, w WaterOff, tapWater quantity.Reading[T], degree T, unit, salt string, dose func(reckon.Salt, quantity.Volume, T) (reckon.Dose, error)) {
	tap, known := asUnit(tapWater, unit)
	low := w.Value < c.To
	c.How = "tap"
	if !known || low && tap <= c.To || !low && tap >= c.To {
		c.How, tap = "soft", 0
	}
	if c.How == "tap" || !low {
		n, err := reckon.ChangesNeeded(T(w.Value)*degree, T(tap)*degree, T(c.To)*degree, changeShare)
		if err == nil && n.Times > 0 {
			c.Times, c.Share = n.Times, changeShare
			return
		}
	}
	c.How = "salt"
	volume, whole := waterIn(t)
	s, err := reckon.FindSalt(salt)
	if err != nil {
		c.How = ""
		return
	}
	d, err := dose(s, volume, T(c.To-w.Value)*degree)
	if err != nil {
		c.How = ""
		return
	}
	c.Salt, c.Grams, c.Tank = s.Name, round(float64(d.Mass)), whole
}

// waterIn is the net water of a tank; of perLitres where it is not known.
func waterIn(t *journal.Tank) (v quantity.Volume, whole bool) {
	shape := reckon.TankShape{Length: t.Inside.Length.Mid(), Width: t.Inside.Width.Mid(), Height: t.Inside.Height.Mid(), WaterDepth: t.WaterDepth}
	m, err := shape.Measure()
	if err != nil {
		return perLitres, false
	}
	return m.Net.Best, true
}
