package draw

import (
	"cmp"
	"math"
	"slices"

	"slipleaf/build/curve"
)

const (
	up  = -math.Pi / 2
	deg = math.Pi / 180
)

// form is what a habit's routine gets. Lengths are units of the drawing.
type form struct {
	habit  Habit
	leaf   Leaf
	height float64
	water  float64 // from the foot to the surface; 0: free air
	trail  float64 // the most that lies along the surface
	creep  float64 // the most that a rhizome is long; 0: as usual
	count  int     // leaves of a crown, nodes of a stem; 0: as usual
	bare   bool    // no roots
	rich   bool    // veins, cross veins and hairs of a plate
}

func (k *sketch) long(f form) float64    { return f.leaf.LengthCm * k.s }
func (k *sketch) wide(f form) float64    { return f.leaf.WidthCm * k.s }
func (k *sketch) petiole(f form) float64 { return f.leaf.PetioleCm * k.s }

// grow draws one plant of the form with its foot at a point.
func (k *sketch) grow(at curve.Pt, f form) {
	k.hue = f.leaf.Tint
	switch m := f.manner(); {
	case m == Pads:
		k.pads(at, f)
	case m == Cabbage:
		k.cabbage(at, f)
	case m == Chain, m == Specks:
		k.raft(at, f)
	case m == Ball:
		k.ball(at, f)
	case m == Creeping:
		k.creepers(at, f)
	case f.habit == Bulb:
		k.bulb(at, f)
	case m == Eelgrass:
		k.eelgrass(at, f)
	case m == Ribbon:
		k.ribbons(at, f)
	case f.habit == Stem:
		k.stem(at, f, up)
	case f.habit == Rhizome, f.habit == Fern && f.leaf.Shape != Bipinnate:
		k.rhizome(at, f)
	case f.habit == Fern:
		k.antlers(at, f)
	case f.habit == Moss:
		k.moss(at, f)
	case f.leaf.Shape == Clover:
		k.clovers(at, f)
	case f.leaf.grassy():
		k.tuft(at, f)
	case f.leaf.PerNode > 1 && f.leaf.LengthCm < 3:
		k.creepers(at, f)
	default:
		k.crown(at, f)
	}
}

// manner fills in what habit and leaf say.
func (f form) manner() Manner {
	if f.leaf.Manner != ByHabit {
		return f.leaf.Manner
	}
	switch {
	case f.habit == Floating && f.leaf.LengthCm < 2:
		return Chain
	case f.habit == Floating:
		return Pads
	case f.habit == Rosette && (f.leaf.Shape == Strap || f.leaf.grassy()) && f.leaf.LengthCm > 30:
		return Eelgrass
	}
	return ByHabit
}

// perched plants sit on wood or stone, not in the ground.
func (f form) perched() bool {
	return f.habit == Rhizome || f.habit == Fern && f.leaf.Shape != Bipinnate || f.habit == Moss && f.leaf.Manner != Ball
}

// fewer is n less what detail is saved, at least lo.
func (k *sketch) fewer(n, lo int) int {
	return max(lo, int(float64(n)*math.Pow(0.86, float64(k.fine))+0.5))
}

// fan spreads n places over -1…1, jittered, outermost first.
func (k *sketch) fan(n int, jitter float64) []float64 {
	out := make([]float64, n)
	for i := range out {
		out[i] = (float64(i)+0.5)/float64(n)*2 - 1 + k.Bell(jitter)
	}
	slices.SortStableFunc(out, func(a, b float64) int { return cmp.Compare(math.Abs(b), math.Abs(a)) })
	return out
}

// face is the tone of a leaf at t of a fan.
func face(t, outer, inner float64) int {
	switch t = math.Abs(t); {
	case t > outer:
		return shade
	case t > inner:
		return plainT
	}
	return light
}

// sideOf is -1 or 1.
func sideOf(v float64) float64 { return math.Copysign(1, v) }

// leaves is how many a plant is drawn with: as many as it has, else some more than the usual number, from the least to the most that
// show.
func (k *sketch) leaves(f form, usual int, more uint64, least, most int) int {
	n := f.count
	if n <= 0 {
		n = usual
		if more > 1 {
			n += int(k.Next() % more)
		}
	}
	return max(least, min(n, most))
}

// rooted draws the roots of a plant that is not bare.
func (k *sketch) rooted(f form, at curve.Pt, n int, length, spread float64) {
	if !f.bare {
		k.roots(at, n, length, spread)
	}
}

// under is a height that stays under a share of the water.
func (f form) under(height, share float64) float64 {
	if f.water > 0 {
		return math.Min(height, f.water*share)
	}
	return height
}
