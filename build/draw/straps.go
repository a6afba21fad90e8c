package draw

import (
	"cmp"
	"math"
	"slices"

	"slipleaf/build/curve"
)

// Measures of the paper straps that hold a specimen on its plate, in units.
const (
	strapWide  = 5.5
	strapOver  = 9.0  // how far a strap reaches past what it holds, at both ends
	leastHeld  = 70.0 // how long a stem or leaf is that needs one
	betweenTwo = 75.0
	mostStraps = 3
)

// held is a long stem or leaf: the middle of it, its direction there and its half width.
type held struct {
	at         curve.Pt
	toward     float64
	half, long float64
}

// straps finds where a pressed plant is held: a strip of paper over each of the longest stems, or else leaves.
func (k *sketch) straps(stems bool) (out []held) {
	var all []held
	for _, m := range k.marks {
		if h, ok := heldBy(m); ok && m.leaf != stems {
			all = append(all, h)
		}
	}
	slices.SortStableFunc(all, func(a, b held) int { return cmp.Compare(b.long, a.long) })
	for _, h := range all {
		near := func(o held) bool { return curve.Apart(o.at, h.at) < betweenTwo }
		if len(out) < mostStraps && !slices.ContainsFunc(out, near) {
			out = append(out, h)
		}
	}
	return out
}

// heldBy measures a stem or a leaf; ok is false for what is short, or is no part of a plant.
func heldBy(m mark) (h held, ok bool) {
	pts := m.path.Pts
	if len(pts) < 3 || !m.leaf && m.class != stemLine {
		return h, false
	}
	foot, tip := pts[0], pts[0]
	for _, q := range pts {
		if curve.Apart(foot, q) > curve.Apart(foot, tip) {
			tip = q
		}
	}
	if h.long = curve.Apart(foot, tip); h.long < leastHeld {
		return h, false
	}
	h.toward = math.Atan2(tip.Y-foot.Y, tip.X-foot.X)
	across := func(q curve.Pt) float64 { return (q.Y-foot.Y)*math.Cos(h.toward) - (q.X-foot.X)*math.Sin(h.toward) }
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, q := range pts {
		if along := curve.Apart(foot, q) / h.long; along > 0.35 && along < 0.65 {
			lo, hi = math.Min(lo, across(q)), math.Max(hi, across(q))
		}
	}
	if lo > hi {
		return h, false
	}
	middle := (lo + hi) / 2
	h.half = within((hi-lo)/2, 1, 22)
	h.at = pt((foot.X+tip.X)/2-middle*math.Sin(h.toward), (foot.Y+tip.Y)/2+middle*math.Cos(h.toward))
	return h, true
}

// strap writes a strip across what it holds, at right angles.
func (w *page) strap(h held, dx, dy float64) {
	cos, sin := math.Cos(h.toward), math.Sin(h.toward)
	at := func(along, across float64) string {
		return num(h.at.X+dx+along*cos-across*sin) + " " + num(h.at.Y+dy+along*sin+across*cos)
	}
	a, b := strapWide/2, h.half+strapOver
	w.path("d-strap", "M"+at(-a, -b)+"L"+at(a, -b)+"L"+at(a, b)+"L"+at(-a, b)+"Z")
}
