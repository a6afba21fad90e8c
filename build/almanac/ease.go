package almanac

// Ease is how easily a species is kept across the tanks of others: a plain weighted mean of seven parts, 0 to 100. It
// says nothing about one recipient; the fit to their tank does.
type Ease struct {
	Score   float64
	Weakest string // the part that holds it back most: temperature, ph, hardness, co2, light, melts or growth
	Known   bool   // every part was there
}

// easePart is one part of the ease, 0 to 1, with its weight.
type easePart struct {
	name          string
	value, weight float64
}

// EaseOf reckons the ease of a species. The parts and weights are our choice: widths of temperature over 14 °C, pH
// over 3, GH over 20 and KH over 14 dKH; CO2 1 without, 0.6 where it helps, 0 where it is needed; light (120 − good)/100;
// melting; pace. Known is false where a column is missing.
func EaseOf(s Species) Ease {
	if !s.Temperature.Known() || !s.PH.Known() || !s.GH.Known() || !s.KH.Known() || !s.LightGood.Known() || s.Melts == nil || s.CO2 == "" || s.Growth == "" {
		return Ease{}
	}
	light := part01((120 - float64(s.LightGood.Mid())) / 100)
	if s.Placement == "surface" {
		light = 1
	}
	parts := []easePart{
		{"temperature", part01(float64(s.Temperature.High()-s.Temperature.Low()) / 14), 0.15},
		{"ph", part01(float64(s.PH.High()-s.PH.Low()) / 3), 0.15},
		{"hardness", (part01((s.GH.High().DGH()-s.GH.Low().DGH())/20) + part01((s.KH.High().DKH()-s.KH.Low().DKH())/14)) / 2, 0.15},
		{"co2", map[string]float64{"none": 1, "helps": 0.6, "needed": 0}[s.CO2], 0.20},
		{"light", light, 0.15},
		{"melts", 1 - part01(float64(*s.Melts)/3), 0.15},
		{"growth", map[string]float64{"slow": 0.4, "medium": 0.8, "fast": 1, "very-fast": 0.7}[s.Growth], 0.05},
	}
	e := Ease{Known: true, Weakest: parts[0].name}
	lost := -1.0
	for _, p := range parts {
		e.Score += 100 * p.weight * p.value
		if l := p.weight * (1 - p.value); l > lost {
			lost, e.Weakest = l, p.name
		}
	}
	return e
}

// Band puts the ease in a word: easy from 75, fair from 50, demanding below; "" when it is not known.
func (e Ease) Band() string {
	switch {
	case !e.Known:
		return ""
	case e.Score >= 75:
		return "easy"
	case e.Score >= 50:
		return "fair"
	}
	return "demanding"
}

func part01(x float64) float64 { return min(max(x, 0), 1) }
