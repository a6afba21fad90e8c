package draw

import "math"

const (
	up  = -math.Pi / 2
	deg = math.Pi / 180
)

// bow is how a rib turns on its way: bend radians in all, late as the power above 1, and a wave.
type bow struct {
	bend, late  float64
	wave, phase float64
}

// rib is the middle line of a leaf or stem: n steps from a point, each turned by the bow.
func rib(from pt, angle, length float64, b bow, n int) []pt {
	out := make([]pt, 1, n+1)
	out[0] = from
	late := b.late
	if late == 0 {
		late = 1.2
	}
	at := from
	for i := 1; i <= n; i++ {
		t := float64(i) / float64(n)
		at = at.plus(angle+b.bend*math.Pow(t, late)+b.wave*math.Sin(b.phase+t*5.5), length/float64(n))
		out = append(out, at)
	}
	return out
}

// normals are unit vectors to the right of the line at each of its points.
func normals(p []pt) []pt {
	out := make([]pt, len(p))
	for i := range p {
		a, b := p[max(0, i-1)], p[min(len(p)-1, i+1)]
		m := math.Max(apart(a, b), 1e-9)
		out[i] = pt{-(b.y - a.y) / m, (b.x - a.x) / m}
	}
	return out
}

// along is the point of a line at u, 0–1, and the direction there.
func along(p []pt, u float64) (at pt, angle float64) {
	u = math.Max(0, math.Min(1, u)) * float64(len(p)-1)
	i := min(len(p)-2, int(u))
	f := u - float64(i)
	a, b := p[i], p[i+1]
	return pt{a.x + (b.x-a.x)*f, a.y + (b.y-a.y)*f}, math.Atan2(b.y-a.y, b.x-a.x)
}

// beside is the line shifted to its right by v(u).
func beside(p []pt, v func(u float64) float64) []pt {
	n := normals(p)
	out := make([]pt, len(p))
	for i := range p {
		d := v(float64(i) / float64(len(p)-1))
		out[i] = pt{p[i].x + n[i].x*d, p[i].y + n[i].y*d}
	}
	return out
}

// reach is the length of a line.
func reach(p []pt) float64 {
	sum := 0.0
	for i := range len(p) - 1 {
		sum += apart(p[i], p[i+1])
	}
	return sum
}

// blade is the outline of a leaf: the rib with half its width at each side, half(u) of the widest.
func blade(p []pt, width float64, half func(u float64) float64) path {
	v := func(u float64) float64 { return width / 2 * half(u) }
	right := beside(p, v)
	left := beside(p, func(u float64) float64 { return -v(u) })
	n := len(p) - 1
	right[n] = p[n]
	var a path
	a.move(p[0])
	a.run(right[1:])
	back := make([]pt, 0, n+1)
	for i := n - 1; i > 0; i-- {
		back = append(back, left[i])
	}
	a.run(append(back, p[0]))
	a.close()
	return a
}

// sliver is the cheapest leaf: one curve a side. It returns the outline and its tip.
func sliver(from pt, angle, length, width, bend float64) (a path, tip pt) {
	c := from.plus(angle+bend*0.12, length*0.5)
	tip = from.plus(angle+bend*0.55, length)
	n := angle + bend*0.3 + math.Pi/2
	a.move(from)
	a.quad(c.plus(n, width), tip)
	a.quad(c.plus(n, -width), from)
	return a, tip
}
