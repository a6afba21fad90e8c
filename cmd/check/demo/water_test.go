package demo

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
)

// A waterHabit is the water of a tank and how it is looked after.
type waterHabit struct {
	warm, summer float64 // °C: yearly mean, and half the swing from winter to high summer
	gh, kh       float64 // degrees
	co2          float64 // mg/L dissolved, about which it wanders; 0: no water to speak of (the tray)
	nitrate      float64 // mg/L
	change       string  // what the water is changed with
	share        float64 // % of a usual change
	doses        []dose
}

type dose struct {
	every int // visits between doses
	salt  string
	grams float64
}

var (
	troughWater = waterHabit{warm: 24.8, summer: 1.4, gh: 5.4, kh: 3.4, co2: 20, nitrate: 9, change: "mix", share: 35,
		doses: []dose{{2, "potassium nitrate", 1.5}, {3, "potassium sulfate", 2}, {9, "monopotassium phosphate", 0.2}}}
	nanoWater = waterHabit{warm: 22.6, summer: 2.6, gh: 15.5, kh: 9.8, co2: 4, nitrate: 18, change: "tap", share: 30}
	trayWater = waterHabit{warm: 22.4, summer: 3.1}
)

// drift writes parameters, water changes and doses: hardness and carbon dioxide wander slowly and return, pH follows from
// both (CO2 in mg/L = 3 × KH × 10^(7 − pH), common practice), conductivity from hardness, sodium and nitrate.
func drift(rng *rand.Rand, w waterHabit, entries []entry) {
	var gh, kh, co2, no3, warm float64 // departures from the habit, as shares; °C for warm
	for i := range entries {
		e := &entries[i]
		pull := func(x, sd float64) float64 { return 0.7*x + sd*rng.NormFloat64() }
		gh, kh, co2, no3, warm = pull(gh, 0.05), pull(kh, 0.05), pull(co2, 0.11), pull(no3, 0.3), pull(warm, 0.35)
		c := w.warm + w.summer*season(e.date()) + warm
		if strings.HasSuffix(e.name, "heat") {
			c += 3.2
		}
		if w.co2 == 0 {
			e.parameters = fmt.Sprintf("{temperature: %.1f C}", c)
			continue
		}
		if strings.HasSuffix(e.name, "swap-table") {
			continue
		}
		s := sample{c: c, gh: w.gh * (1 + gh), kh: w.kh * (1 + kh), no3: w.nitrate * math.Exp(no3)}
		s.ph = 7 - math.Log10(w.co2*math.Exp(co2)/(3*s.kh))
		e.parameters = s.write(e.tank, i)
		if len(e.name) > 10 {
			continue
		}
		share := w.share + 5*float64(rng.IntN(3)-1)
		e.waterChange = fmt.Sprintf("{share: %.0f %%, with: %s}", share, w.change)
		var doses []string
		for _, d := range w.doses {
			if i%d.every == d.every-1 {
				doses = append(doses, fmt.Sprintf("{salt: %s, mass: %g g}", d.salt, d.grams))
			}
		}
		if len(doses) > 0 {
			e.doses = "[" + strings.Join(doses, ", ") + "]"
		}
	}
}

// season is −1 in the depth of January and 1 in late July.
func season(date string) float64 {
	return math.Sin(2 * math.Pi * (float64(mustDate(date).YearDay()) - 115) / 365)
}

// sample is what the tests of one day would say.
type sample struct{ c, gh, kh, ph, no3 float64 }

// conductivity in µS/cm from meq/L of hardness and of sodium, which in this tap goes with alkalinity.
func (s sample) conductivity() float64 {
	return 88*(s.gh*0.3566) + 34*(s.kh*0.3566) + 1.1*s.no3 + 25
}

// write notes the day's tests the way that a person does: the full set every other time, with a slip into other units.
func (s sample) write(tank string, i int) string {
	p := []string{fmt.Sprintf("temperature: %.1f C", s.c), fmt.Sprintf("ph: %.1f", s.ph)}
	if tank == "trough" && i == 20 {
		p[0] = fmt.Sprintf("temperature: %.0f F", s.c*9/5+32)
	}
	if i%2 == 0 {
		gh, kh := fmt.Sprintf("gh: %.1f dGH", s.gh), fmt.Sprintf("kh: %.1f dKH", s.kh)
		if i == 8 {
			gh = fmt.Sprintf("gh: %.0f ppm", s.gh*17.848)
		}
		if i == 14 {
			kh = fmt.Sprintf("kh: %.2f meq/L", s.kh*0.3566)
		}
		p = append(p, gh, kh)
	}
	p = append(p, nitrate(s.no3, i))
	if tank == "trough" && i%14 == 12 {
		p = append(p, "phosphate: 0.5 mg/L")
	}
	if tank == "trough" && i == 13 { // before the floating plants came
		p = append(p, "light: 66 umol/m2/s")
	}
	if i%2 == 0 && i > 2 {
		p = append(p, fmt.Sprintf("conductivity: %.0f uS/cm", s.conductivity()))
	}
	return "{" + strings.Join(p, ", ") + "}"
}

// nitrate rounds to the fields of a colour card; under 5 mg/L the card cannot tell, and now and then nobody looked.
func nitrate(no3 float64, i int) string {
	switch {
	case i%11 == 5:
		return "nitrate: unknown"
	case no3 < 5:
		return "nitrate: <5 mg/L"
	case no3 < 7.5:
		return "nitrate: 5 mg/L"
	case no3 < 15:
		return "nitrate: 10 mg/L"
	case no3 < 25:
		return "nitrate: 20 mg/L"
	}
	return "nitrate: 30 mg/L"
}
