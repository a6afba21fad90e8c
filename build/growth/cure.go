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
		tap, known := asUnit(t.Tap.GH, "dGH")
		c.water(w.Value, tap, known, func(tap float64) (reckon.Needed, error) {
			return reckon.ChangesNeeded(quantity.Hardness(w.Value)*quantity.DGH, quantity.Hardness(tap)*quantity.DGH, quantity.Hardness(c.To)*quantity.DGH, changeShare)
		}, func(v quantity.Volume) (string, reckon.Dose, error) {
			salt, err := reckon.FindSalt("gypsum")
			if err != nil {
				return "", reckon.Dose{}, err
			}
			dose, err := reckon.DoseForGH(salt, v, quantity.Hardness(c.To-w.Value)*quantity.DGH)
			return salt.Name, dose, err
		}, t)
	case "kh":
		tap, known := asUnit(t.Tap.KH, "dKH")
		c.water(w.Value, tap, known, func(tap float64) (reckon.Needed, error) {
			return reckon.ChangesNeeded(quantity.Alkalinity(w.Value)*quantity.DKH, quantity.Alkalinity(tap)*quantity.DKH, quantity.Alkalinity(c.To)*quantity.DKH, changeShare)
		}, func(v quantity.Volume) (string, reckon.Dose, error) {
			salt, err := reckon.FindSalt("potassium-bicarbonate")
			if err != nil {
				return "", reckon.Dose{}, err
			}
			dose, err := reckon.DoseForKH(salt, v, quantity.Alkalinity(c.To-w.Value)*quantity.DKH)
			return salt.Name, dose, err
		}, t)
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

// water sets changes toward the tap's or soft water, or a dose.
func (c *Cure) water(value, tap float64, known bool, needed func(tap float64) (reckon.Needed, error), dose func(quantity.Volume) (string, reckon.Dose, error), t *journal.Tank) {
	low := value < c.To
	c.How = "tap"
	if !known || low && tap <= c.To || !low && tap >= c.To {
		c.How, tap = "soft", 0
	}
	if c.How == "tap" || !low {
		n, err := needed(tap)
		if err == nil && n.Times > 0 {
			c.Times, c.Share = n.Times, changeShare
			return
		}
	}
	c.How = "salt"
	volume, whole := waterIn(t)
	salt, d, err := dose(volume)
	if err != nil {
		c.How = ""
		return
	}
	c.Salt, c.Grams, c.Tank = salt, round(float64(d.Mass)), whole
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
