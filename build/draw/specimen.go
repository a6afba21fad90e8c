package draw

import "math"

// specimen lays out what a collector would press: a few stems of one plant, a rosette with its daughter, some tufts.
func (p Plate) specimen(f *figure) {
	fm := form{habit: p.Habit, leaf: p.Leaf, height: p.HeightCm * 10, count: p.Count, rooted: !p.Unrooted, flat: true}
	if p.Habit != Stem && p.Habit != Floating {
		fm = planting{Plant: Plant{Habit: p.Habit, Leaf: p.Leaf, HeightCm: p.HeightCm}, want: 1}.form(scene{})
		fm.count, fm.rooted = p.Count, !p.Unrooted
	}
	if p.Single {
		f.grow(fm)
		return
	}
	switch p.Habit {
	case Stem:
		p.stems(f, fm)
	case Rosette, Carpet:
		p.runners(f, fm)
	case Moss:
		for i, size := range [...]float64{1, 0.72} {
			part := fm
			part.height *= size
			f.at(pt{float64(i) * fm.height * 1.25, float64(i) * fm.height * 0.12})
			f.grow(part)
		}
	case Floating:
		p.raftlets(f, fm)
	default:
		f.grow(fm)
	}
	f.at(pt{})
}

// stems: three shoots, the third a side shoot from the second's foot.
func (p Plate) stems(f *figure, fm form) {
	gap := math.Max(fm.length()*1.2+fm.leaf.PetioleCm*5, fm.height*0.16)
	if fm.leaf.WidthCm > fm.leaf.LengthCm*0.6 { // broad leaves need room
		gap *= 1.25
	}
	if fm.leaf.Shape == Feather {
		gap = math.Max(fm.length()*1.5, fm.height*0.2)
	}
	for i, size := range [...]float64{0.82, 1, 0.62} {
		part := fm
		part.height *= size
		if part.count > 0 {
			part.count = max(2, int(float64(part.count)*size))
		}
		part.rooted = fm.rooted && i < 2
		foot := pt{gap * float64(i), 0}
		if i == 2 {
			foot.y = -fm.height * 0.05
			f.at(pt{})
			f.pens[runner].move(pt{gap, -fm.height * 0.03})
			f.pens[runner].quad(pt{gap * 1.6, foot.y + fm.height*0.03}, pt{gap * 2, foot.y})
		}
		f.at(foot)
		f.grow(part)
	}
}

// runners: a mother plant, and daughters on the runner that she sent out.
func (p Plate) runners(f *figure, fm form) {
	sizes := []float64{1, 0.55}
	gap := fm.height * 0.85
	if fm.habit == Carpet {
		sizes, gap = []float64{0.85, 1, 0.8, 0.45}, math.Max(fm.height*0.62, fm.length()*0.6)
	}
	x, last := 0.0, 0.0
	for i, size := range sizes {
		part := fm
		part.height *= size
		part.leaf.LengthCm *= math.Sqrt(size)
		if size < 0.6 {
			part.count = max(3, f.crown(fm)/2)
		}
		f.at(pt{})
		if i > 0 {
			x += gap * f.span(0.9, 1.05)
			f.pens[runner].move(pt{last, -0.5})
			f.pens[runner].cubic(pt{last + gap*0.3, fm.height * 0.04}, pt{x - gap*0.3, fm.height * 0.035}, pt{x, -0.5})
		}
		f.at(pt{x, 0})
		f.grow(part)
		last = x
	}
}

// raftlets: two plants on a thread, or a scatter of very small ones.
func (p Plate) raftlets(f *figure, fm form) {
	l := fm.length()
	if l >= 25 && fm.leaf.PerNode != 2 {
		reach := l + fm.leaf.PetioleCm*10
		f.grow(fm)
		f.pens[stalk].move(pt{})
		f.pens[stalk].quad(pt{reach, reach * 0.9}, pt{reach * 1.9, reach * 0.5})
		f.at(pt{reach * 1.9, reach * 0.5})
		part := fm
		part.leaf.LengthCm *= 0.55
		part.leaf.WidthCm *= 0.55
		part.leaf.PetioleCm *= 0.6
		part.count = 5
		f.grow(part)
		return
	}
	wide := l * 4.6
	for i := range 5 {
		f.at(pt{float64(i%2)*wide + f.span(-0.1, 0.1)*wide, float64(i)*l*2.4 + f.span(-0.2, 0.2)*l})
		part := fm
		part.count = 4 + 2*int(f.next()%3)
		f.grow(part)
	}
}
