package curve

import (
	"cmp"
	"math"
)

// Bow is how a rib turns on its way: bend radians in all, late as the power above 1, and a wave.
type Bow struct {
	Bend, Late  float64
	Wave, Phase float64
}

// Rib is the middle line of a leaf or stem: n steps from a point, each turned by the bow.
func Rib(from Pt, angle, length float64, b Bow, n int) []Pt {
	out := make([]Pt, 1, n+1)
	out[0] = from
	late := cmp.Or(b.Late, 1.2)
	at := from
	for i := 1; i <= n; i++ {
		t := float64(i) / float64(n)
		at = at.Plus(angle+b.Bend*math.Pow(t, late)+b.Wave*math.Sin(b.Phase+t*5.5), length/float64(n))
		out = append(out, at)
	}
	return out
}

// Normals are unit vectors to the right of the line at each of its points.
func Normals(p []Pt) []Pt {
	out := make([]Pt, len(p))
	for i := range p {
		a, b := p[max(0, i-1)], p[min(len(p)-1, i+1)]
		m := math.Max(Apart(a, b), 1e-9)
		out[i] = Pt{-(b.Y - a.Y) / m, (b.X - a.X) / m}
	}
	return out
}

// Along is the point of a line at u, 0–1, and the direction there.
func Along(p []Pt, u float64) (at Pt, angle float64) {
	u = math.Max(0, math.Min(1, u)) * float64(len(p)-1)
	i := min(len(p)-2, int(u))
	f := u - float64(i)
	a, b := p[i], p[i+1]
	return Pt{a.X + (b.X-a.X)*f, a.Y + (b.Y-a.Y)*f}, math.Atan2(b.Y-a.Y, b.X-a.X)
}

// Beside is the line shifted to its right by v(u).
func Beside(p []Pt, v func(u float64) float64) []Pt {
	n := Normals(p)
	out := make([]Pt, len(p))
	for i := range p {
		d := v(float64(i) / float64(len(p)-1))
		out[i] = Pt{p[i].X + n[i].X*d, p[i].Y + n[i].Y*d}
	}
	return out
}

// Reach is the length of a line.
func Reach(p []Pt) float64 {
	sum := 0.0
	for i := range len(p) - 1 {
		sum += Apart(p[i], p[i+1])
	}
	return sum
}

// Blade is the outline of a leaf: the rib with half its width at each side, half(u) of the widest.
func Blade(p []Pt, width float64, half func(u float64) float64) Path {
	v := func(u float64) float64 { return width / 2 * half(u) }
	right := Beside(p, v)
	left := Beside(p, func(u float64) float64 { return -v(u) })
	n := len(p) - 1
	right[n] = p[n]
	var a Path
	a.Move(p[0])
	a.Run(right[1:])
	back := make([]Pt, 0, n+1)
	for i := n - 1; i > 0; i-- {
		back = append(back, left[i])
	}
	a.Run(append(back, p[0]))
	a.Close()
	return a
}

// Sliver is the cheapest leaf: one curve a side. It returns the outline and its tip.
func Sliver(from Pt, angle, length, width, bend float64) (a Path, tip Pt) {
	c := from.Plus(angle+bend*0.12, length*0.5)
	tip = from.Plus(angle+bend*0.55, length)
	n := angle + bend*0.3 + math.Pi/2
	a.Move(from)
	a.Quad(c.Plus(n, width), tip)
	a.Quad(c.Plus(n, -width), from)
	return a, tip
}
