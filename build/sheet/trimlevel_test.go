package sheet

import (
	"fmt"
	"maps"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"slipleaf/build/almanac"
	"slipleaf/build/journal"
	"slipleaf/build/quantity"
	"slipleaf/build/reckon"
)

// truth is a recipient's tank as it really is, of which the sheet knows a part. What is drawn is wider than what the sheet
// takes, and says where it is from.
type truth struct{ *rand.Rand }

// within draws evenly on the log scale between two ends.
func (d truth) within(lo, hi float64) float64 { return lo * math.Pow(hi/lo, d.Float64()) }

// light is a true light inside what the model says, and a share either way for the lamp's own figures (10 %: common practice).
func (d truth) light(r reckon.Range[quantity.PhotonFlux]) float64 {
	return d.within(float64(r.Low), float64(r.High)) * math.Exp(0.1*d.NormFloat64())
}

// reach is the day on which the plant has grown by the sheet's gain: it rests, then grows each day by the giver's true rate
// times its response to light, CO2 and warmth and what else differs between two tanks.
func (d truth) reach(s *Sheet, rate float64) float64 {
	k := d.within(12, 60)                     // µmol/m²/s; 15.6 to 34.8 for Egeria densa (Aquatic Botany 2010), wider for others (our choice)
	q10 := d.within(1.4, 2.4)                 // of the growth of water plants (from memory)
	other := math.Exp(0.25 * d.NormFloat64()) // feeding, flow, company: a quarter either way (our choice)
	from := d.light(s.From.Light)
	to := from * d.within(0.3, 1.5)
	if l := s.Light.At(s.Place.Row); l.Best > 0 {
		to = d.light(l)
	}
	f := (to / (to + k)) / (from / (from + k))
	if s.From.CO2 == journal.Yes && s.Parcel.Tank.CO2 == journal.No {
		c := co2Factors[s.Species.CO2]
		f *= d.within(c.Low, c.High)
	}
	if dt := float64(s.Parcel.Water.Temperature.Mid() - s.From.Water.Temperature.Mid()); s.Parcel.Water.Temperature.Known() {
		f *= math.Pow(q10, dt/10)
	}
	day := d.within(s.Melt.Rest.Low, s.Melt.Rest.High)
	size := 0.0
	for ; size < math.Log(s.Trim.Gain) && day < 2000; day++ {
		hours := s.Light.Hours
		for _, h := range s.Hours {
			if day >= float64(h.Day) {
				hours = h.Hours
			}
		}
		if hours == 0 {
			hours = usualHours
		}
		size += rate * f * other * hours / s.From.LightHours * math.Exp(0.2*d.NormFloat64())
	}
	return day
}

// drawCase draws a giver, a recipient and the true rate at the giver's; guess: nobody counted.
func (d truth) drawCase(all []almanac.Species, guess bool) (Case, float64) {
	sp := all[d.IntN(len(all))]
	for rates[sp.Growth] == 0 || Kind(sp.Kind).Set() == InAir {
		sp = all[d.IntN(len(all))]
	}
	pick := func(x ...float64) float64 { return x[d.IntN(len(x))] }
	temp := func() quantity.Reading[quantity.Temperature] {
		return quantity.Of(quantity.Temperature(20 + 7*d.Float64()))
	}
	length := func(x float64) quantity.Reading[quantity.Length] { return quantity.Of(quantity.Length(x)) }
	size := [][3]float64{{40, 25, 25}, {60, 30, 36}, {90, 40, 45}, {120, 50, 50}}[d.IntN(4)]
	tank := &journal.Recipient{CO2: journal.Tristate(1 + d.IntN(2)), Inside: journal.Inside{Length: length(size[0]), Width: length(size[1]), Height: length(size[2])}}
	if d.IntN(4) > 0 {
		tank.Light = []journal.Lamp{{Output: quantity.Of(quantity.LuminousFlux(d.within(15, 60) * size[0] * size[1] / 60)), Length: length(size[0] * .8), AboveWater: length(pick(3, 6, 12)), Hours: pick(6, 8, 10, 12)}}
	}
	rate := d.within(rates[sp.Growth]/1.6, rates[sp.Growth]*1.6)
	c := Case{Parcel: &journal.Parcel{Count: 4, Sent: quantity.Date{Year: 2026, Month: 4, Day: 1}, Water: journal.Parameters{Temperature: temp(), GH: quantity.Of(8 * quantity.DGH), KH: quantity.Of(5 * quantity.DKH)}, Tank: tank},
		Lot: &journal.Lot{Form: "cuttings", Length: length(pick(6, 10, 15))}, Species: sp, Grown: "submersed"}
	l := quantity.PhotonFlux(d.within(25, 120))
	c.From = Giver{Water: journal.Parameters{Temperature: temp(), GH: quantity.Of(8 * quantity.DGH), KH: quantity.Of(5 * quantity.DKH)}, CO2: journal.Tristate(1 + d.IntN(2)), LightHours: pick(7, 8, 9), Light: reckon.Range[quantity.PhotonFlux]{Low: l * 0.75, Best: l, High: l * 1.3}}
	if !guess {
		sd := d.within(0.05, 0.3) // of the log of the rate, as after forty counts and after five
		best := rate * math.Exp(sd*d.NormFloat64())
		c.From.Growth = Growth{best * math.Exp(-1.96*sd), best, best * math.Exp(1.96*sd), 8}
	}
	return c, rate
}

// The window of the first trim, said as 80 %, holds 80 to 95 % of 8,000 drawn tanks: of those whose giver counted and of the
// others, with a known light and without, with CO2 and without, at either end.
func TestTheFirstTrimFallsInItsWindow(t *testing.T) {
	a, err := almanac.Open()
	if err != nil {
		t.Fatal(err)
	}
	d := truth{rand.New(rand.NewPCG(20, 26))}
	type cell struct{ n, in, early, late float64 }
	cells := map[string]*cell{}
	for i := range 8000 {
		c, rate := d.drawCase(a.All(), i%2 == 0)
		s := New(c)
		if !s.Trim.Known || !s.Planted() || s.Trim.Open { // an open window says where it begins alone
			continue
		}
		day := d.reach(&s, rate)
		for _, name := range []string{"all", fmt.Sprintf("guessed: %t", s.Trim.Guess), fmt.Sprintf("light known: %t", s.Trim.LightKnown), fmt.Sprintf("CO2 here %d, there %d", c.From.CO2, c.Parcel.Tank.CO2)} {
			if cells[name] == nil {
				cells[name] = &cell{}
			}
			x := cells[name]
			x.n++
			switch {
			case day < s.Trim.Low-0.5:
				x.early++
			case day > s.Trim.High+0.5:
				x.late++
			default:
				x.in++
			}
		}
	}
	for _, name := range slices.Sorted(maps.Keys(cells)) {
		x := cells[name]
		t.Logf("%-22s %5.0f tanks: %.3f in the window, %.3f before, %.3f after", name, x.n, x.in/x.n, x.early/x.n, x.late/x.n)
		if held := x.in / x.n; x.n < 500 || held < 0.80 || held > 0.95 {
			t.Errorf("%s: 80 %% windows hold in %.3f of %.0f tanks", name, held, x.n)
		}
	}
}
