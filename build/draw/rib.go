package draw

import "math"

const (
	up  = -math.Pi / 2
	deg = math.Pi / 180
)

// rib is a line through a leaf or stem: the point and the direction (radians, clockwise from the right) at u, 0–1.
type rib func(u float64) (p pt, angle float64)

// arc is a rib that leaves from at an angle and turns by bend radians over its length.
func arc(from pt, angle, length, bend float64) rib {
	if math.Abs(bend) < 1e-6 {
		return func(u float64) (pt, float64) { return from.plus(angle, length*u), angle }
	}
	r := length / bend
	return func(u float64) (pt, float64) {
		a := angle + bend*u
		return pt{from.x + r*(math.Sin(a)-math.Sin(angle)), from.y - r*(math.Cos(a)-math.Cos(angle))}, a
	}
}

// part is the stretch of a rib from lo to hi.
func (r rib) part(lo, hi float64) rib {
	return func(u float64) (pt, float64) { return r(lo + (hi-lo)*u) }
}

// beside is the point v to the right of the rib at u.
func (r rib) beside(u, v float64) pt {
	p, a := r(u)
	return p.plus(a+math.Pi/2, v)
}

// stroke draws the rib from lo to hi in k smooth pieces.
func (p *pen) stroke(r rib, lo, hi float64, k int) {
	p.smooth(func(s float64) pt { q, _ := r(lo + (hi-lo)*s); return q }, 0, 1, k, true)
}

// smooth draws the curve f over [lo, hi] as k cubic pieces whose tangents are those of f.
func (p *pen) smooth(f func(float64) pt, lo, hi float64, k int, move bool) {
	if move {
		p.move(f(lo))
	}
	h := (hi - lo) / float64(k)
	slope := func(s float64) pt {
		a, b := s-h*0.02, s+h*0.02
		if math.Abs(a-lo) > math.Abs(hi-lo) || (a-lo)*h < 0 {
			a = s
		}
		if (hi-b)*h < 0 {
			b = s
		}
		pa, pb := f(a), f(b)
		return pt{(pb.x - pa.x) / (b - a), (pb.y - pa.y) / (b - a)}
	}
	for i := range k {
		s0, s1 := lo+h*float64(i), lo+h*float64(i+1)
		p0, p1, d0, d1 := f(s0), f(s1), slope(s0), slope(s1)
		p.cubic(pt{p0.x + d0.x*h/3, p0.y + d0.y*h/3}, pt{p1.x - d1.x*h/3, p1.y - d1.y*h/3}, p1)
	}
}

// sway is a rib that grows length upwards from the origin, leaning by lean radians and swinging by swing. Under water it
// cannot leave the column (mm, 0: free air): what is longer turns and lies along under the surface.
func sway(length, column, lean, swing, phase float64) rib {
	const steps = 60
	pts, angles := make([]pt, steps+1), make([]float64, steps+1)
	step, at, angle := length/steps, pt{}, up+lean
	room := math.Min(30, column*0.3)
	for i := 0; i <= steps; i++ {
		u := float64(i) / steps
		want := up + lean*(1-0.6*u) + swing*math.Sin(phase+u*4)
		if column > 0 && -at.y > column-room {
			want = math.Copysign(math.Pi/2, lean) + up
			want += math.Copysign(0.06*math.Sin(u*19+phase), lean)
			angle += math.Max(-step/room*1.9, math.Min(step/room*1.9, want-angle))
		} else {
			angle = want
		}
		pts[i], angles[i] = at, angle
		at = at.plus(angle, step)
		if column > 0 {
			at.y = math.Max(at.y, -column+2)
		}
	}
	return func(u float64) (pt, float64) {
		f := math.Max(0, math.Min(1, u)) * steps
		i := min(int(f), steps-1)
		t := f - float64(i)
		a, b := pts[i], pts[i+1]
		return pt{a.x + (b.x-a.x)*t, a.y + (b.y-a.y)*t}, angles[i] + (angles[i+1]-angles[i])*t
	}
}
