package draw

import (
	"math"

	"slipleaf/build/curve"
	"slipleaf/build/dice"
)

// seatLine is the wood or stone that a planting sits on.
type seatLine struct {
	at     func(x float64) float64 // how high over the ground it is
	lift   float64                 // the highest
	sketch *sketch                 // drawn with the ground at y = 0
}

// seatFor is the seat of a planting that clings; of the others there is none.
func (s scene) seatFor(p planting) seatLine {
	f := form{habit: p.Habit, leaf: p.Leaf}
	if !f.perched() || s.wet && p.Afloat {
		return seatLine{}
	}
	d := dice.Seeded(s.id, p.ID, "seat")
	from, to := p.FromCm*s.s, p.ToCm*s.s
	room := s.stand(p.Row) - s.water
	if !s.wet {
		room = s.deep
	}
	lift := math.Min(room*0.34, math.Max(room-p.HeightCm*s.s*1.1, room*0.08))
	if p.FootCm > 0 {
		lift = p.FootCm * s.s
	}
	k := newSketch(d, s.s, min(p.level, 3), Wood)
	k.rough = p.level >= roughFrom
	half := math.Max((to-from)/2, s.s*2)
	mid := math.Max(half+4, math.Min(s.long-half-4, (from+to)/2))
	half = math.Min(half, math.Max(4, math.Min(mid, s.long-mid)-4))
	if p.Habit == Moss || f.leaf.Shape == Lanceolate || f.leaf.Shape == Elliptic {
		return k.stones(mid, half, math.Min(lift, half*0.8))
	}
	return k.trunk(mid, half, lift)
}

// stones: one stone, or a few side by side where the ground is long.
func (k *sketch) stones(mid, half, lift float64) seatLine {
	n := max(1, min(4, int(half*2/math.Max(1, lift*4))))
	w := half * 2 / float64(n)
	h := math.Min(lift, w*0.55)
	tops := make([]float64, n)
	for i := range n {
		tops[i] = h * (1 - 0.25*k.Unit())
		k.stone(pt(mid-half+w*(float64(i)+0.5), 0), w*0.96, tops[i])
	}
	return seatLine{lift: h, sketch: k, at: func(x float64) float64 {
		i := max(0, min(n-1, int((x-mid+half)/w)))
		u := (x-(mid-half+w*(float64(i)+0.5)))/(w/2)*0.9 - 0.05
		return tops[i] * math.Sqrt(math.Max(0.1, 1-u*u)) * 0.93
	}}
}

// trunk: a branch that rises from the ground, with a side branch and a stub.
func (k *sketch) trunk(mid, half, lift float64) seatLine {
	side := k.Side()
	x := func(u float64) float64 { return mid + side*half*u }
	thick := math.Min(math.Max(4, half*0.085), math.Max(4, lift*0.3))
	line := []curve.Pt{pt(x(-1), 2), pt(x(-0.72), -lift*0.2), pt(x(-0.42), -lift*0.46), pt(x(-0.1), -lift*0.62), pt(x(0.25), -lift*0.7), pt(x(0.55), -lift*0.86), pt(x(0.78), -lift*1.05), pt(x(0.95), -lift*1.3)}
	limbs := []limb{
		{[]curve.Pt{pt(x(-0.2), -lift*0.55), pt(x(-0.3), -lift*0.9), pt(x(-0.36), -lift*1.15)}, thick * 0.5, thick * 0.2},
		{[]curve.Pt{pt(x(-0.05), -lift*0.55), pt(x(0.1), -lift*0.28), pt(x(0.22), 3)}, thick * 0.7, thick * 0.4},
		{[]curve.Pt{pt(x(0.2), -lift*0.66), pt(x(0.5), -lift*0.6), pt(x(0.75), -lift*0.66), pt(x(1), -lift*0.9)}, thick * 0.6, thick * 0.2},
		{line, thick, thick * 0.3},
	}
	if k.rough { // the root that holds it up, and the trunk
		limbs = []limb{limbs[1], limbs[3]}
	}
	k.wood(limbs...)
	return seatLine{lift: lift * 1.1, sketch: k, at: func(px float64) float64 {
		u := math.Max(-0.85, math.Min(0.8, (px-mid)/half*side))
		for i := range len(line) - 1 {
			a, b := (line[i].X-mid)/half*side, (line[i+1].X-mid)/half*side
			if u <= b {
				t := math.Max(0, (u-a)/(b-a))
				return -(line[i].Y + (line[i+1].Y-line[i].Y)*t) + thick*0.7
			}
		}
		return lift
	}}
}
