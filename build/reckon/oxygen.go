package reckon

import (
	"math"

	"slipleaf/build/quantity"
)

// Oxygen is how much oxygen clean fresh water holds in balance with the air.
type Oxygen struct {
	Saturation quantity.Concentration
	Pressure   float64 // of the air, in atm
	Working    Working
}

var (
	equationOxygen = Equation{"oxygen", "Oxygen of fresh water in balance with moist air", "ln O2 = −139.34411 + 1.575701e5/T − 6.642308e7/T² + 1.2438e10/T³ − 8.621949e11/T⁴, T in kelvin",
		"Benson & Krause 1984, Limnol. Oceanogr. 29:620–632, eq. 32; pressure: Benson & Krause 1980, Limnol. Oceanogr. 25:662–671; altitude: ISO 2533 standard atmosphere"}
	equationNight = Equation{"night-oxygen", "Oxygen at the end of the night", "O2 = e + (start − e) exp(−k·hours), k = exchange × surface/volume, e = saturation − respiration/(k × volume)",
		"one well-mixed box with gas exchange and constant respiration, derived"}
)

const highestPlace = 400000 // cm above the sea

// OxygenAt is the saturation at 0 to 40 °C and an altitude of 0 to 4000 m; at 1 atm to a tenth of a percent (Benson &
// Krause 1984). Salts of fresh water take up to 1 % off, which is left out.
func OxygenAt(t quantity.Temperature, altitude quantity.Length) (Oxygen, error) {
	err := FirstError(Within("temperature", t, 0, 40, "C", "the equation holds there"), Within("altitude", altitude, 0, highestPlace, "m", "expected a place where tanks are kept"))
	if err != nil {
		return Oxygen{}, err
	}
	p := math.Pow(1-2.25577e-5*float64(altitude)/100, 5.25588)
	r := Oxygen{Saturation: quantity.Concentration(saturationAt1atm(t) * pressureFactor(t, p)), Pressure: p}
	r.Working = Working{equationOxygen, []Input{Given("temperature", t, "C"), {Name: "pressure", Value: p, Unit: "atm", From: "the altitude, by the standard atmosphere"}},
		[]Note{{Key: "oxygen-fresh", Text: "fresh water: salts up to 2000 µS/cm take less than 1 % off"}}}
	return r, nil
}

func saturationAt1atm(t quantity.Temperature) float64 {
	k := float64(t) + zeroCelsius
	return math.Exp(-139.34411 + 1.575701e5/k - 6.642308e7/(k*k) + 1.2438e10/(k*k*k) - 8.621949e11/(k*k*k*k))
}

// pressureFactor is the saturation at a pressure in atm over that at 1 atm (Benson & Krause 1980, eq. 26 and 28).
func pressureFactor(t quantity.Temperature, p float64) float64 {
	c, k := float64(t), float64(t)+zeroCelsius
	vapour := math.Exp(11.8571 - 3840.70/k - 216961/(k*k))
	theta := 0.000975 - 1.426e-5*c + 6.436e-8*c*c
	return p * (1 - vapour/p) * (1 - theta*p) / ((1 - vapour) * (1 - theta))
}

// Night is a tank from lights out to lights on.
type Night struct {
	Temperature quantity.Temperature                     // 5 to 35 °C
	Altitude    quantity.Length                          // above the sea
	Volume      quantity.Volume                          // of water
	Surface     quantity.Area                            // water against air
	Hours       float64                                  // of darkness, 1 to 24
	Start       quantity.Reading[quantity.Concentration] // oxygen at lights out; absent: saturation
	Plants      quantity.Mass                            // fresh, under water
	Fish        quantity.Mass                            // of all fish
	Exchange    string                                   // one of [Exchanges]; "" for rippled
}

// NightOxygen is how the night ends.
type NightOxygen struct {
	Dawn     Range[quantity.Concentration]
	Working  Working
	Cautions []Caution
}

// exchanges are gas transfer velocities in m/d by how the surface moves. From memory: still ponds and lakes have 0.2 to
// 0.8 m/d, streams 1 to 5; the classes are our choice.
var exchanges = [...]struct {
	name     string
	velocity Range[float64]
}{{"rippled", Range[float64]{0.8, 1.5, 3}}, {"still", Range[float64]{0.2, 0.4, 0.8}}, {"aerated", Range[float64]{2, 4, 8}}}

// Exchanges lists how a surface may move, the usual one first.
func Exchanges() []string {
	out := make([]string, len(exchanges))
	for i, e := range exchanges {
		out[i] = e.name
	}
	return out
}

// What breathes in the dark at 20 °C. From memory, the ranges wide: submersed plants 0.5 to 3 mg O2 a gram of dry mass and
// hour at 5 to 12 % of dry mass; small fish at routine 0.15 to 0.5 mg a gram and hour; a tank's substrate, 0.2 to 1.2 g/m²
// a day. Each doubles with 10 °C (common practice; fish nearer 1.8).
var (
	plantBreath = Range[float64]{0.5 * 0.05, 1.3 * 0.08, 3 * 0.12}
	fishBreath  = Range[float64]{0.15, 0.28, 0.5}
	soilBreath  = Range[float64]{0.2 / 24 * 1000, 0.6 / 24 * 1000, 1.2 / 24 * 1000} // mg/m²/h
)

// Dawn is the oxygen at the end of the night, as the range between little breath with much exchange and the other way
// round: bounds, no interval of statistics.
func (n Night) Dawn() (NightOxygen, error) {
	air, err := OxygenAt(n.Temperature, n.Altitude)
	i, err2 := Chosen("exchange", n.Exchange, Exchanges())
	if err := FirstError(err, err2, n.check()); err != nil {
		return NightOxygen{}, err
	}
	velocity, start := exchanges[i].velocity, air.Saturation
	from := Input{Name: "start", Value: float64(start), Unit: "mg/L", Assumed: "not measured at lights out, so saturation"}
	if n.Start.Known() {
		start = n.Start.Mid()
		from = Given("start", start, "mg/L")
	}
	floor := float64(n.Surface) / float64(quantity.SquareCM) / 1e4 // m²
	warm := math.Pow(2, (float64(n.Temperature)-20)/10)
	end := func(plants, fish, soil, v float64) quantity.Concentration {
		breath := warm * (plants*float64(n.Plants) + fish*float64(n.Fish) + soil*floor) / float64(n.Volume) // mg/L/h
		k := v / 24 * floor * 1000 / float64(n.Volume)                                                      // per hour
		balance := float64(air.Saturation) - breath/k
		return quantity.Concentration(math.Max(balance+(float64(start)-balance)*math.Exp(-k*n.Hours), 0))
	}
	r := NightOxygen{Cautions: []Caution{CautionOxygen}}
	r.Dawn = Range[quantity.Concentration]{
		end(plantBreath.High, fishBreath.High, soilBreath.High, velocity.Low),
		end(plantBreath.Best, fishBreath.Best, soilBreath.Best, velocity.Best),
		end(plantBreath.Low, fishBreath.Low, soilBreath.Low, velocity.High),
	}
	r.Working = Working{equationNight, []Input{Given("temperature", n.Temperature, "C"), Given("volume", n.Volume, "L"), Given("surface", n.Surface, "dm2"), {Name: "hours", Value: n.Hours, Unit: "h"}, from,
		Given("plants", n.Plants, "g"), Given("fish", n.Fish, "g"), {Name: "exchange", Value: velocity.Best, Unit: "m/d", From: "how the surface moves"}},
		Remarks("breath at 20 °C: plants 0.03 to 0.36 mg a gram of fresh mass and hour, fish 0.15 to 0.5, the bottom 0.2 to 1.2 g/m² a day; doubled by 10 °C (from memory, ranges wide on purpose)",
			"the ends are bounds: much breath with little exchange, and the other way round")}
	return r, nil
}

func (n Night) check() error {
	err := FirstError(Within("temperature", n.Temperature, 5, 35, "C", "no tank with plants is outside"), checkWater(n.Volume),
		Within("surface", n.Surface, 1, 1600, "dm2", "expected the surface of an aquarium"), Inside("hours", n.Hours, 1, 24, "expected a night"),
		Within("plants", n.Plants, 0, 50000, "g", "fresh mass of what grows under water"), Within("fish", n.Fish, 0, 50000, "g", "the mass of all fish"))
	if n.Start.Known() {
		err = FirstError(err, Within("oxygen", n.Start.Mid(), 0, 25, "mg/L", "above it water bubbles"))
	}
	return err
}
