package reckon

import (
	"math"

	"slipleaf/build/quantity"
)

// settle fits a lamp over the tank, with what is assumed of it.
func (m *Light) settle(l Lamp) (source, error) {
	phi, err := l.photons(&m.Working)
	if err := FirstError(err, WithinIfKnown("lamp-length", l.Length, 0.5, 400, "cm", "expected the size of the part that shines"),
		WithinIfKnown("lamp-width", l.Width, 0.2, 200, "cm", "expected the size of the part that shines"),
		Within("lamp-along", l.Along, -200, 200, "cm", "measured from the middle of the tank"),
		Within("lamp-across", l.Across, -200, 200, "cm", "measured from the middle of the tank"),
		Inside("hours", l.Hours, 0, 24, "a day has 24")); err != nil {
		return source{}, err
	}
	kind, _ := kindNamed(l.Kind) // photons has refused what is no kind
	s := source{phi: phi, spectrum: kind.spectrum, x: float64(l.Along), y: float64(l.Across)}
	s.length = m.orAssume("lamp-length", l.Length, quantity.Length(0.9*m.length), "not given; nine tenths of the tank")
	s.width = m.orAssume("lamp-width", l.Width, 5, "not given; a strip of 5 cm, common practice")
	if err := m.hang(&s, l); err != nil {
		return source{}, err
	}
	s.hours = l.Hours
	in := Input{Name: "hours", Value: l.Hours, Unit: "h"}
	if s.hours == 0 {
		s.hours, in.Value, in.Assumed = usualHours, usualHours, "not given, common practice"
	}
	m.Working.Inputs = append(m.Working.Inputs, in)
	onto := func(gap float64) float64 { return plateFactor(s.length, s.width, m.length, m.width, gap, s.x, s.y) }
	s.onWater = Range[float64]{onto(s.gap.High), onto(s.gap.Best), onto(s.gap.Low)}
	return s, nil
}

// hang settles the gap between lamp and water, which matters most of all.
func (m *Light) hang(s *source, l Lamp) error {
	if l.AboveWater.Known() {
		if err := WithinIfKnown("above-water", l.AboveWater, 0, 300, "cm", "expected the height of the lamp above the water"); err != nil {
			return err
		}
		if high := float64(l.AboveWater.High()); high > m.width {
			return &InputError{Kind: NotModelled, Name: "above-water", Value: Figure(high) + " cm", Why: "a pendant higher than the tank is wide (" +
				Figure(m.width) + " cm) throws most of its light past it; measure the light instead"}
		}
		s.gap = Range[float64]{float64(l.AboveWater.Low()), float64(l.AboveWater.Mid()), float64(l.AboveWater.High())}
		m.Working.Inputs = append(m.Working.Inputs, Given("above-water", l.AboveWater.Mid(), "cm"))
		return nil
	}
	s.gap = Range[float64]{2, min(8, m.width/2), min(20, m.width)}
	m.Working.note(Note{Key: "lamp-height", Text: "range: how high the lamp hangs is not known, which matters most"})
	m.Working.Inputs = append(m.Working.Inputs, assumed("above-water", quantity.Length(s.gap.Best), "cm", "not given; 2 to 20 cm are usual, common practice"))
	return nil
}

// orAssume gives a length in cm, assumed where it is absent, and notes it.
func (m *Light) orAssume(name string, r quantity.Reading[quantity.Length], usual quantity.Length, why string) float64 {
	if r.Known() {
		m.Working.Inputs = append(m.Working.Inputs, Given(name, r.Mid(), "cm"))
		return float64(r.Mid())
	}
	m.Working.Inputs = append(m.Working.Inputs, assumed(name, usual, "cm", why))
	return float64(usual)
}

// bounds are the two models at a depth, uncalibrated: µmol/m²/s, and the same times hours.
type bounds struct{ most, guide, open, mostDay, guideDay, openDay Range[float64] }

// bounds sums the lamps at a depth in cm. Guide: what came in through the surface as a diffuse light stays between the
// walls. Most: the same on the shortest path and with the least loss at the surface, which nothing can exceed (rays
// through bare glass lie up to 4 % above the guide). Open: only what reaches the depth straight, which from above looks
// nearer by the refraction of water.
func (m *Light) bounds(depth float64) bounds {
	var b bounds
	for i := range m.lamps {
		l := &m.lamps[i]
		straight := l.onWater
		if depth > 0 {
			straight = l.straightTo(depth, m)
		}
		phi := l.phi.Scale(m.loss / m.floorM2())
		diffuse := phi.Scale((1 - diffuseLoss) * m.water.passes(depth, l.spectrum, meanPath(refraction)))
		down := phi.Scale((1 - normalLoss) * m.water.passes(depth, l.spectrum, 1))
		b.most.add(down, l.onWater, 1)
		b.guide.add(diffuse, l.onWater, 1)
		b.open.add(diffuse, straight, 1)
		b.mostDay.add(down, l.onWater, l.hours)
		b.guideDay.add(diffuse, l.onWater, l.hours)
		b.openDay.add(diffuse, straight, l.hours)
	}
	return b
}

// straightTo is the part of the lamp's light that reaches a depth straight: no more than what falls on the surface.
func (l *source) straightTo(depth float64, m *Light) Range[float64] {
	onto := func(gap, most float64) float64 {
		return min(plateFactor(l.length, l.width, m.length, m.width, gap+depth/refraction, l.x, l.y), most)
	}
	return Range[float64]{onto(l.gap.High, l.onWater.Low), onto(l.gap.Best, l.onWater.Best), onto(l.gap.Low, l.onWater.High)}
}

// add sums phi × factor × hours end by end.
func (e *Range[T]) add(phi, factor Range[T], hours T) {
	e.Low += phi.Low * factor.Low * hours
	e.Best += phi.Best * factor.Best * hours
	e.High += phi.High * factor.High * hours
}

// brightest is the light at the brightest place under a lamp, without help from the walls: (Φ/lamp area) × point factor, and
// no darker than the mean.
func (m *Light) brightest(depth float64, mean quantity.PhotonFlux) quantity.PhotonFlux {
	best := mean
	for _, l := range m.lamps {
		best = max(best, quantity.PhotonFlux(m.direct(depth, l.x, l.y)))
	}
	return best
}

// direct is the light that comes straight from the lamps to a point x, y off the middle at a depth.
func (m *Light) direct(depth, x, y float64) float64 {
	sum := 0.0
	for i := range m.lamps {
		l := &m.lamps[i]
		z := math.Max(l.gap.Best+depth/refraction, tooNear)
		sum += l.phi.Best / (l.length * l.width / 1e4) * pointFactor(x-l.x, y-l.y, l.length, l.width, z) * m.water.passes(depth, l.spectrum, meanPath(refraction))
	}
	return sum * m.loss * (1 - normalLoss) * m.scale.best
}
