package sheet

import (
	"cmp"
	"math"

	"slipleaf/build/almanac"
	"slipleaf/build/journal"
	"slipleaf/build/quantity"
	"slipleaf/build/reckon"
)

// Trim is when the plant can first be cut or divided, as days after arrival, 80 %.
type Trim struct {
	Known           bool
	Low, Best, High float64
	Open            bool // High is as far as can be said, and it may take longer
	From, To        quantity.Date
	Gain            float64 // by how much it has to grow
	Rate            reckon.Range[float64]
	Guess           bool // the rate is that of its class, nobody having counted
	N               int  // counts behind the rate
	LightFactor     reckon.Range[float64]
	CO2Factor       reckon.Range[float64]
	LightKnown      bool // both lights are known
	Working         []string
}

// rates are relative growth rates by the almanac's class, per day: our choice, inside the 0.007 to 0.109 that Nielsen &
// Sand-Jensen 1991 (Aquatic Botany 39:109–120) measured on 14 submerged species.
var rates = map[string]float64{"slow": 0.015, "medium": 0.03, "fast": 0.06, "very-fast": 0.10}

const (
	farthest   = 180.0 // days beyond which nothing is said
	guessWidth = 2.0   // a rate by class may be half or double (our choice)

	// told is how far, on the log scale, the window goes from the best day to the ends at which all that is unknown is at its
	// worst: the whole of it held 97 % of drawn tanks, seven tenths held 84 to 92 % in every kind of them, for the 80 % that
	// are said.
	told = 0.7
)

// Half-saturation of growth by light, in µmol/m²/s: 15.6 to 34.8 for Egeria densa (Aquatic Botany 2010).
var halfLight = reckon.Range[float64]{Low: 15.6, Best: 25, High: 34.8}

// trim foretells the first cut: settling days, then growth at the giver's rate times a saturating response to light times the
// almanac's CO2 need, its ends combined as independent factors on the log scale. Growth of others scatters by 0.5 to 1.25
// about a forecast (our choice, after trials of the method).
func (s *Sheet) trim() Trim {
	t := Trim{N: s.From.Growth.N, Gain: s.gain()}
	switch g := s.From.Growth; {
	case g.N > 0 && g.Best > 0:
		t.Rate = reckon.Range[float64]{Low: g.Low, Best: g.Best, High: g.High}
	case rates[s.Species.Growth] > 0:
		r := rates[s.Species.Growth]
		t.Rate, t.Guess = reckon.Range[float64]{Low: r / guessWidth, Best: r, High: r * guessWidth}, true
	default:
		return t
	}
	t.LightFactor, t.LightKnown = s.lightFactor()
	t.CO2Factor = s.co2Factor()
	if t.Guess { // a class of growth already means a usual tank
		t.CO2Factor = reckon.Range[float64]{Low: 0.7, Best: 1, High: 1.3}
	}
	rate := t.Rate.Best * t.LightFactor.Best * t.CO2Factor.Best
	slow := width(t.Rate.Best, max(t.Rate.Low, t.Rate.Best/4), t.LightFactor.Best, t.LightFactor.Low, t.CO2Factor.Best, t.CO2Factor.Low, 1, 0.5)
	quick := width(t.Rate.Best, t.Rate.High, t.LightFactor.Best, t.LightFactor.High, t.CO2Factor.Best, t.CO2Factor.High, 1, 1.25)
	need := math.Log(t.Gain)
	rest := s.Melt.Rest
	t.Known = true
	t.Best = rest.Best + need/rate
	t.Low = t.Best * math.Pow((rest.Low+need/(rate*quick))/t.Best, told)
	t.High = t.Best * math.Pow((rest.High+need/(rate*slow))/t.Best, told)
	if t.High > farthest {
		t.High, t.Open = farthest, true
	}
	t.Best = min(t.Best, t.High)
	t.Low = min(t.Low, t.High)
	if !s.Day0.IsZero() {
		t.From, t.To = s.Day0.Add(int(math.Round(t.Low))), s.Day0.Add(int(math.Round(t.High)))
	}
	t.Working = []string{
		"days = rest + ln(gain)/(rate × light × CO2)",
		"gain = " + three(t.Gain), "rate = " + threeOf(t.Rate) + " per day", "light = " + threeOf(t.LightFactor), "CO2 = " + threeOf(t.CO2Factor), "rest = " + threeOf(rest) + " d",
		"ends: independent factors combined on the log scale, with 0.5 to 1.25 for the scatter of forecasts (our choice), and seven tenths of the way there, which held at least 80 % of drawn tanks",
	}
	return t
}

// width is the product of independent factors end/best, combined by the root of the summed squares of their logarithms.
func width(pairs ...float64) float64 {
	sum, sign := 0.0, 1.0
	for i := 0; i+1 < len(pairs); i += 2 {
		d := math.Log(pairs[i+1] / pairs[i])
		if d < 0 {
			sign = -1
		}
		sum += d * d
	}
	return math.Exp(sign * math.Sqrt(sum))
}

// gain is how many times its size it has to grow: a stem from the length sent to just under the surface, anything else to
// double (clubs count a plant as propagated then).
func (s *Sheet) gain() float64 {
	if !s.Kind.Is(almanac.Stem, almanac.FloatingStem) {
		return 2
	}
	from := quantity.Length(s.Kind.handling().piece)
	if s.Lot.Length.Known() {
		from = s.Lot.Length.Mid()
	}
	to := quantity.Length(30)
	if s.Species.Height.Known() {
		to = s.Species.Height.High()
	}
	if t := s.Parcel.Tank; t != nil {
		if d, ok := WaterDepth(t.Inside, t.WaterDepth, layers(t.Substrate)); ok {
			to = min(to, d)
		}
	}
	return min(max(float64(to/from), 1.5), 6)
}

// lightFactor is their light response over the giver's, I/(I + K), times the hours of their lamps over the giver's; known is
// false where either light is not, and then it is taken as 0.5 to 1.2.
func (s *Sheet) lightFactor() (reckon.Range[float64], bool) {
	g, r := s.From.Light, s.Light.At(s.Place.Row)
	day := s.dayFactor()
	if g.Best <= 0 || r.Best <= 0 {
		return reckon.Range[float64]{Low: 0.5, Best: 0.8, High: 1.2}.Scale(day), false
	}
	response := func(i quantity.PhotonFlux, k float64) float64 { return float64(i) / (float64(i) + k) }
	ratio := func(r, g quantity.PhotonFlux, k float64) float64 {
		return min(max(response(r, k)/response(g, k), 0.1), 2)
	}
	f := reckon.Range[float64]{Low: math.Inf(1), Best: ratio(r.Best, g.Best, halfLight.Best)}
	for _, k := range []float64{halfLight.Low, halfLight.High} {
		for _, v := range []float64{ratio(r.Low, g.Best, k), ratio(r.High, g.Best, k)} {
			f.Low, f.High = min(f.Low, v), max(f.High, v)
		}
	}
	return reckon.Range[float64]{Low: min(f.Low, f.Best), Best: f.Best, High: max(f.High, f.Best)}.Scale(day), true
}

// dayFactor is the hours of light that the plant gets with them over those that it had: growth goes with the hours, within
// half and double (our choice). Unknown hours are usual ones.
func (s *Sheet) dayFactor() float64 {
	theirs := cmp.Or(s.Light.Hours, usualHours)
	if len(s.Hours) > 0 { // short at first
		theirs = (s.Hours[0].Hours + s.Hours[len(s.Hours)-1].Hours) / 2
	}
	return min(max(theirs/cmp.Or(s.From.LightHours, usualHours), 0.5), 2)
}

// co2Factors is what is left of growth from added CO2 to none, by the almanac's need (our choice, wide).
var co2Factors = map[string]reckon.Range[float64]{
	"none": {Low: 0.6, Best: 0.85, High: 1}, "helps": {Low: 0.25, Best: 0.45, High: 0.75}, "needed": {Low: 0.05, Best: 0.15, High: 0.4},
}

// co2Factor compares their CO2 with the giver's.
func (s *Sheet) co2Factor() reckon.Range[float64] {
	f, ok := co2Factors[s.Species.CO2]
	if !ok {
		f = co2Factors["helps"]
	}
	from, to := s.From.CO2, s.injected()
	switch {
	case from == journal.Yes && to == journal.No:
		return f
	case from == journal.No && to == journal.Yes:
		return reckon.Range[float64]{Low: 1, Best: min(1/f.High, 3), High: min(1/f.Low, 4)}
	case from == to && from != journal.NotSaid:
		return reckon.Range[float64]{Low: 1, Best: 1, High: 1}
	case from == journal.No:
		return reckon.Range[float64]{Low: 1, Best: 1, High: min(1/f.Best, 4)}
	}
	return reckon.Range[float64]{Low: f.Low, Best: (f.Best + 1) / 2, High: 1}
}
