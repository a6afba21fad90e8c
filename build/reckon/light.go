package reckon

import (
	"math"
	"slices"

	"slipleaf/build/quantity"
)

// LightIntegral is the light of a day, in mol/m²/d of photons from 400 to 700 nm (DLI).
type LightIntegral float64

// DLI is the daily light integral of a photon flux of 0 to 5000 µmol/m²/s held for 0 to 24 hours. DLI = PPFD × hours ×
// 0.0036: the definition.
func DLI(ppfd quantity.PhotonFlux, hours float64) (LightIntegral, error) {
	err := FirstError(Within("light", ppfd, 0, 5000, "umol/m2/s", "full sun is about 2000"), Inside("hours", hours, 0, 24, "a day has 24"))
	if err != nil {
		return 0, err
	}
	return LightIntegral(float64(ppfd) * hours * dayFactor), nil
}

const (
	dayFactor   = 3600.0 / 1e6 // mol in a µmol/s held for an hour
	usualHours  = 8.0          // common practice
	dirt        = 0.9          // dust and age of a lamp: common practice
	diffuseLoss = 0.066        // reflected at the surface under a diffuse light: Fresnel, n = 1.333
	normalLoss  = 0.020        // the same straight down
	meterError  = 0.10         // of a measured value: our choice
)

// LightSetting is what light falls through: lamps, tank and water.
type LightSetting struct {
	Length, Width quantity.Length // of the tank, inside; 5 to 400 cm
	WaterDepth    quantity.Length // surface to substrate; 0.5 to 150 cm
	Lamps         []Lamp
	Water         Clarity                               // zero: a clear tank
	Cover         quantity.Reading[quantity.Share]      // part of the light that a cover lets through; absent: no cover
	Floating      quantity.Reading[quantity.Share]      // part of the surface under floating plants; absent: none
	Measured      quantity.Reading[quantity.PhotonFlux] // a measured value, which beats the model
	MeasuredAt    quantity.Reading[quantity.Length]     // its depth; absent: at the substrate
}

// Light is the light in a tank, ready to be asked at any depth.
type Light struct {
	Working  Working
	Cautions []Caution

	lamps         []source
	water         Clarity
	length, width float64 // cm
	depth         float64 // cm
	loss          float64 // cover × dirt × what floating plants leave open
	scale         scale
}

// source is one lamp, settled. Lengths in cm.
type source struct {
	phi                 Range[float64] // µmol/s downward
	gap                 Range[float64]
	length, width, x, y float64
	hours               float64
	spectrum            spectrum
	onWater             Range[float64] // view factor to the surface; ends by the gap
}

// scale is a calibration: what a measurement at a depth makes of the two bounds.
type scale struct{ best, guide, open float64 }

// LightAt is the light at one depth.
type LightAt struct {
	Mean      Range[quantity.PhotonFlux] // over the floor: walls give nothing back … walls give all back
	Brightest quantity.PhotonFlux        // under the middle of a lamp
	DLI       Range[LightIntegral]       // of Mean, each lamp by its hours
	Arriving  Range[quantity.Share]      // part of what is just under the surface
}

var (
	equationLight = Equation{"light", "Light from lamps through the surface to a depth", "PPFD = Φ F (1 − 0.066) cover dirt exp(−Kd z)/(L W); walls give light back, F to the surface, or do not, F to the depth: best guess their mean, lower bound the second; upper bound the first on the shortest path, exp(−Kd z/1.204), with 2 % lost at the surface",
		"view factors: Howell's catalog B-3 and C-13 (Siegel & Howell 1972); lumens: Thimijan & Heins 1983, HortScience 18:818–822, Sharakshane 2018, bioRxiv 289280; water: Pope & Fry 1997, Appl. Opt. 36:8710–8723; losses at a cover and by dirt: common practice"}
	notesLight = []Note{
		{Key: "light-range", Text: "range: the glass reflects light back, or not; dust and age of the lamp"},
		{Key: "light-not-modelled", Text: "not modelled: lenses, shade of plants, wood and rims, daylight"},
	}
)

// Model settles lamps, losses and calibration of a setting. Lamps add. It refuses lenses, daylight, lamps of red and blue
// in lumens, and pendants higher than the tank is wide. Upper and lower bound with view factors B-3 and C-13 of Howell's
// catalog, Beer–Lambert in the water.
func (s LightSetting) Model() (*Light, error) {
	if err := s.check(); err != nil {
		return nil, err
	}
	m := &Light{water: s.Water.or(), length: float64(s.Length), width: float64(s.Width), depth: float64(s.WaterDepth), loss: dirt,
		scale: scale{1, 1, 1}, Cautions: []Caution{CautionLightModel, CautionElectricity}}
	m.Working = Working{equationLight, []Input{Given("length", s.Length, "cm"), Given("width", s.Width, "cm"), Given("water-depth", s.WaterDepth, "cm"),
		{Name: "dirt", Value: dirt, Assumed: "dust and age of the lamp, common practice"}}, slices.Clone(notesLight)}
	if s.Cover.Known() {
		m.loss *= float64(s.Cover.Mid())
		m.Working.Inputs = append(m.Working.Inputs, Given("cover", s.Cover.Mid(), "%"))
	}
	if s.Floating.Known() {
		m.loss *= 1 - float64(s.Floating.Mid())
		m.Working.Inputs = append(m.Working.Inputs, Given("floating", s.Floating.Mid(), "%"))
	}
	for _, l := range s.Lamps {
		one, err := m.settle(l)
		if err != nil {
			return nil, err
		}
		m.lamps = append(m.lamps, one)
	}
	if s.Measured.Known() {
		m.calibrate(s)
	}
	return m, nil
}

func (s LightSetting) check() error {
	if len(s.Lamps) == 0 {
		return &InputError{Kind: Missing, Name: "lamp", Why: "without a lamp there is nothing to calculate from"}
	}
	if len(s.Lamps) > 20 {
		return &InputError{Kind: OutOfRange, Name: "lamps", Value: Figure(float64(len(s.Lamps))), Range: "1 to 20", Why: "expected the lamps of one tank"}
	}
	return FirstError(checkFloor(s.Length, s.Width), Within("water-depth", s.WaterDepth, 0.5, 150, "cm", "expected the water depth of an aquarium"),
		WithinIfKnown("cover", s.Cover, 0.05, 1, "%", "expected the part of the light that a cover lets through"),
		WithinIfKnown("floating", s.Floating, 0, 1, "%", "expected a part of the surface"),
		WithinIfKnown("light", s.Measured, 0.1, 5000, "umol/m2/s", "expected a measured PAR value"),
		WithinIfKnown("measured-at", s.MeasuredAt, 0, s.WaterDepth, "cm", "the depth of the measurement lies in the water"))
}

// calibrate makes the model give the measured value where it was measured.
func (m *Light) calibrate(s LightSetting) {
	at := m.depth
	if s.MeasuredAt.Known() {
		at = float64(s.MeasuredAt.Mid())
	}
	b := m.bounds(at)
	v := float64(s.Measured.Mid())
	if b.guide.Best <= 0 || b.open.Best <= 0 {
		return
	}
	m.scale = scale{best: v / ((b.guide.Best + b.open.Best) / 2), guide: v / b.guide.Best, open: v / b.open.Best}
	m.Working.Inputs = append(m.Working.Inputs, Given("light", s.Measured.Mid(), "umol/m2/s"), Given("measured-at", quantity.Length(at), "cm"))
	m.Working.note(Note{Key: "calibrated", Text: "a measured value calibrates the model: all its figures are multiplied by " + Figure(m.scale.best), Figure: Figure(m.scale.best)})
}

// At reckons the light at a depth of 0 to the depth of the water.
func (m *Light) At(depth quantity.Length) (LightAt, error) {
	if bottom := quantity.Length(m.depth); depth > bottom && depth <= bottom*(1+1e-9) {
		depth = bottom // a rounding away
	}
	if err := Within("depth", depth, 0, quantity.Length(m.depth), "cm", "the depth lies between the surface and the substrate"); err != nil {
		return LightAt{}, err
	}
	here, top := m.bounds(float64(depth)), m.bounds(0)
	mean, day := m.join(here.most, here.guide, here.open), m.join(here.mostDay, here.guideDay, here.openDay)
	a := LightAt{
		Mean: Range[quantity.PhotonFlux]{quantity.PhotonFlux(mean.Low), quantity.PhotonFlux(mean.Best), quantity.PhotonFlux(mean.High)},
		DLI:  Range[LightIntegral]{LightIntegral(day.Low), LightIntegral(day.Best), LightIntegral(day.High)}.Scale(dayFactor)}
	if top.guide.Best > 0 {
		low, high := here.open.Best/top.open.Best, here.guide.Best/top.guide.Best
		a.Arriving = Range[quantity.Share]{quantity.Share(low), quantity.Share((low + high) / 2), quantity.Share(high)}
	}
	a.Brightest = m.brightest(float64(depth), a.Mean.Best)
	return a, nil
}

// Bottom is the light at the substrate.
func (m *Light) Bottom() LightAt {
	a, _ := m.At(quantity.Length(m.depth)) // the one depth that is always in range
	return a
}

// Surface is the light just under the surface.
func (m *Light) Surface() LightAt {
	a, _ := m.At(0)
	return a
}

// OnWater is the part of the photons that the lamps throw down which falls on the surface, before cover and losses.
func (m *Light) OnWater() Range[quantity.Share] {
	var sum Range[float64]
	all := 0.0
	for _, l := range m.lamps {
		all += l.phi.Best
		sum.add(exactly(l.phi.Best), l.onWater, 1)
	}
	if all <= 0 {
		return Range[quantity.Share]{}
	}
	return Range[quantity.Share]{quantity.Share(sum.Low / all), quantity.Share(sum.Best / all), quantity.Share(sum.High / all)}
}

// floorM2 is the floor of the tank in m².
func (m *Light) floorM2() float64 { return m.length * m.width / 1e4 }

// join makes a range of the bounds, its best value the middle of what the walls give back: never narrower than what dust and
// age of the lamp make, 0.8 to 1 about 0.9.
func (m *Light) join(most, guide, open Range[float64]) Range[float64] {
	const dirty, clean = 0.8 / dirt, 1 / dirt
	best := (guide.Best + open.Best) / 2 * m.scale.best
	low, high := open.Low, most.High
	if m.scale != (scale{1, 1, 1}) { // measured: the bounds meet where the meter stood
		low = math.Min(open.Best*m.scale.open, guide.Best*m.scale.guide) * (1 - meterError)
		high = math.Max(open.Best*m.scale.open, guide.Best*m.scale.guide) * (1 + meterError)
		return Range[float64]{low, best, high}
	}
	return Range[float64]{math.Min(low, best*dirty), best, math.Max(high, best*clean)}
}
