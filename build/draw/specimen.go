package draw

import (
	"math"

	"slipleaf/build/curve"
)

// seat paints what a clinging plant sits on, its foot at nought, and returns where the plant is held.
func (k *sketch) seat(f form) curve.Pt {
	w := within(f.height*1.15, k.s*1.2, k.s*16)
	switch f.habit {
	case Moss:
		w = f.height * 2.6
	case Rhizome:
		w *= 1.25
	}
	h := math.Min(w*0.3, f.height*0.5)
	if f.leaf.Shape == Lanceolate || f.leaf.Shape == Elliptic || f.habit == Moss {
		k.stone(curve.Pt{}, w, h)
		return pt(0, -h*0.92)
	}
	t := h * 0.42
	line := []curve.Pt{pt(-w*0.62, -t*0.5), pt(-w*0.34, -t*1.2), pt(0, -t*1.5), pt(w*0.34, -t*1.3), pt(w*0.6, -t*2.2)}
	k.wood(limb{line, t, t * 0.45})
	return pt(-w*0.04, -t*2.3)
}

// single draws one plant with its foot at nought: on its seat, or afloat. pressed is without roots and glass.
func (p Plate) single(k *sketch, pressed bool) {
	f := p.form(k)
	f.bare = pressed
	at := curve.Pt{}
	switch {
	case p.Habit == Floating:
		p.afloat(k, f, pressed)
		return
	case f.perched():
		at = k.seat(f)
	case f.manner() == Eelgrass && pressed:
		f.count = 7
	}
	if f.habit == Stem && !pressed && f.manner() != Creeping {
		gap := math.Max(k.long(f)*0.75, k.s*1.4)
		for i, h := range [...]float64{0.62, 0.78, 1} {
			part := f
			part.height *= h
			k.hue = f.leaf.Tint
			k.stem(pt([...]float64{-gap, gap, 0}[i], 0), part, up)
		}
		return
	}
	k.grow(at, f)
}

// afloat draws a floating plant: on the shelf in a glass, else as it is.
func (p Plate) afloat(k *sketch, f form, pressed bool) {
	f.bare = false
	if pressed {
		k.grow(curve.Pt{}, f)
		return
	}
	depth := math.Max(k.hanging(f)*1.15, k.s*4)
	half := math.Max(k.long(f)*1.25+k.petiole(f), k.s*3.5)
	if f.manner() == Chain || f.manner() == Specks {
		half = math.Max(k.long(f)*4, k.s*3.5)
	}
	var water, jar curve.Path
	water.Move(pt(-half, -depth), pt(half, -depth), pt(half, -1), pt(-half, -1))
	water.Close()
	jar.Move(pt(-half, -depth-k.s*2), pt(-half, -1), pt(half, -1), pt(half, -depth-k.s*2))
	k.line(water, "d-wet", 0)
	k.grow(pt(0, -depth), f)
	k.line(jar, "d-jar", 0)
}

// specimen lays out a plate: what a collector would put on it of this kind of plant.
func (p Plate) specimen(k *sketch) {
	f := p.form(k)
	f.rich = true
	switch m := f.manner(); {
	case p.Habit == Floating:
		p.onWater(k, f)
	case m == Eelgrass && p.Habit != Bulb:
		p.meadow(k, f)
	case m == Ribbon || f.leaf.grassy() && p.Habit != Stem:
		p.runners(k, f)
	case m == Creeping:
		p.mat(k, f)
	case p.Habit == Stem:
		p.stems(k, f)
	case f.leaf.Shape == Clover:
		p.mat(k, f)
	case f.perched():
		k.grow(k.seat(f), f)
		if f.leaf.Shape == Sprays {
			p.enlarged(k, f)
		}
	default:
		k.grow(curve.Pt{}, f)
	}
}

// water is the line of the surface across a plate.
func (k *sketch) waterLine(x0, x1, y float64) {
	var d curve.Path
	d.Move(pt(x0, y), pt(x1, y))
	k.line(d, "d-surface", 0)
}

// stems: three shoots of different length.
func (p Plate) stems(k *sketch, f form) {
	gap := math.Max(k.long(f)*0.95+k.petiole(f)*0.6, f.height*0.15)
	if f.leaf.Shape >= Feather {
		gap = math.Max(k.long(f)*1.35, f.height*0.17)
	}
	for i, size := range [...]float64{0.8, 0.62, 1} {
		part := f
		part.height *= size
		k.hue = f.leaf.Tint
		k.stem(pt([...]float64{-gap, gap, 0}[i], [...]float64{2, -1, 0}[i]), part, up+[...]float64{-0.04, 0.06, 0}[i])
	}
}

// meadow: a ribbon plant under the surface with daughters on its runner and a wound fruiting stalk.
func (p Plate) meadow(k *sketch, f form) {
	h := f.height
	f.water, f.trail = h*0.72, h*0.4
	gap := h * 0.34
	var run curve.Path
	run.Move(pt(0, -1))
	run.Cubic(pt(gap*0.3, k.s*0.5), pt(gap*0.7, k.s*0.5), pt(gap, -1))
	run.Cubic(pt(gap*1.2, k.s*0.35), pt(gap*1.4, k.s*0.35), pt(gap*1.6, -1))
	k.waterLine(-h*0.2, h*0.62, -f.water)
	k.line(run, stemLine, math.Max(1.4, k.s*0.2))
	k.eelgrass(curve.Pt{}, f)
	for i, size := range [...]float64{0.5, 0.2} {
		part := f
		part.height, part.count = h*size, 6-2*i
		part.leaf.WidthCm *= 0.8 - 0.2*float64(i)
		part.water = 0
		k.hue = f.leaf.Tint
		k.eelgrass(pt(gap*[...]float64{1, 1.6}[i], 0), part)
	}
	k.hue = f.leaf.Tint
	coil := []curve.Pt{pt(gap*0.12, -2), pt(gap*0.3, -f.water*0.2), pt(gap*0.42, -f.water*0.32)}
	for i := range 84 {
		u := float64(i) / 83
		coil = append(coil, pt(gap*(0.46+0.12*u)+math.Cos(float64(i)*0.5)*gap*(0.11-0.05*u), -f.water*(0.34+0.4*u)+math.Sin(float64(i)*0.5)*gap*0.045))
	}
	coil = append(coil, pt(gap*0.62, -f.water*0.82), pt(gap*0.64, -f.water*0.92), pt(gap*0.66, -f.water+2))
	k.stroke(coil, stemLine, math.Max(1, k.s*0.1))
	bud, tip := curve.Sliver(pt(gap*0.66, -f.water+1), up+0.3, k.s*0.8, k.s*0.3, 0.2)
	k.leaf(bud, light, tip, 0.4)
}

// runners: a mother plant, and daughters on the runner that it sent out.
func (p Plate) runners(k *sketch, f form) {
	sizes := []float64{1, 0.5}
	gap := f.height * 0.62
	if f.habit == Carpet || f.leaf.WidthCm < 0.4 {
		sizes, gap = []float64{0.9, 1, 0.82, 0.55}, math.Max(f.height*0.5, k.s*1.5)
	}
	x := 0.0
	for i, size := range sizes {
		part := f
		part.height *= size
		if size < 0.6 {
			part.count = 5
			part.leaf.WidthCm *= 0.8
		}
		k.hue = f.leaf.Tint
		if i > 0 {
			var run curve.Path
			run.Move(pt(x, -1))
			run.Cubic(pt(x+gap*0.3, f.height*0.04), pt(x+gap*0.7, f.height*0.04), pt(x+gap, -1))
			x += gap
			k.line(run, stemLine, math.Max(1.2, k.s*0.1))
		}
		k.grow(pt(x, 0), part)
	}
}

// mat: a piece of a carpet.
func (p Plate) mat(k *sketch, f form) {
	for i, x := range [...]float64{-1, 1, 0} {
		part := f
		part.height *= [...]float64{0.85, 0.75, 1}[i]
		k.grow(pt(x*f.height*0.75, [...]float64{-1, 0, 1}[i]), part)
	}
}

// onWater: a mother plant and a daughter at the surface.
func (p Plate) onWater(k *sketch, f form) {
	half := k.long(f) + k.petiole(f)
	small := f.manner() == Chain || f.manner() == Specks
	if small {
		half = k.long(f) * 4
	}
	gap := half * 1.9
	k.waterLine(-half*1.25, gap+half*0.9, 0)
	if !small {
		var run curve.Path
		run.Move(pt(half*0.1, k.long(f)*0.1))
		run.Quad(pt(gap*0.55, k.long(f)*0.45), pt(gap, k.long(f)*0.08))
		k.line(run, stemLine, math.Max(1.2, k.s*0.14))
	}
	part := f
	part.leaf.LengthCm *= 0.5
	part.leaf.WidthCm *= 0.5
	part.leaf.PetioleCm *= 0.6
	part.height *= 0.6
	if small {
		part = f
	}
	k.grow(pt(gap, 0), part)
	k.grow(curve.Pt{}, f)
}

// enlarged: one leaf of a moss in a ring, because none is seen at the plate's scale.
func (p Plate) enlarged(k *sketch, f form) {
	r := f.height * 0.24
	c := pt(k.box.Hi.X-r, k.box.Lo.Y-r*0.2)
	var ring curve.Path
	ring.Ring(c, r, r)
	k.line(ring, "d-ring", 0)
	k.hue = f.leaf.Tint
	line := curve.Rib(pt(c.X-r*0.15, c.Y+r*0.8), up+0.08, r*1.6, curve.Bow{Bend: 0.18}, 9)
	k.leaf(k.blade(line, r*0.6, func(u float64) float64 { return math.Pow(math.Sin(math.Pi*math.Pow(u, 0.6)), 1.25) }), light, c, 0)
	k.stroke([]curve.Pt{line[0], line[1], line[2], line[3]}, inkLine, 1)
}
