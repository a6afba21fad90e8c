// Package curve draws with a pen: points, middle lines of leaves and stems, outlines, and the shortest path data of SVG
// that keeps to a tenth of a unit. It knows no plants.
package curve

import "math"

// Flat is the path as lines of points.
func (a Path) Flat(dx, dy float64) [][]Pt {
	var out [][]Pt
	const steps = 5
	a.Each(func(op byte, from Pt, p []Pt) {
		n := len(out) - 1
		put := func(q Pt) { out[n] = append(out[n], Pt{q.X + dx, q.Y + dy}) }
		switch op {
		case 'M':
			out = append(out, []Pt{{p[0].X + dx, p[0].Y + dy}})
		case 'L':
			put(p[0])
		case 'Q':
			for i := 1; i <= steps; i++ {
				t := float64(i) / steps
				put(mixed(mixed(from, p[0], t), mixed(p[0], p[1], t), t))
			}
		case 'C':
			for i := 1; i <= steps; i++ {
				t := float64(i) / steps
				b := mixed(p[0], p[1], t)
				put(mixed(mixed(mixed(from, p[0], t), b, t), mixed(b, mixed(p[1], p[2], t), t), t))
			}
		case 'Z':
			out[n] = append(out[n], out[n][0])
		}
	})
	return out
}

func mixed(a, b Pt, t float64) Pt { return Pt{a.X + (b.X-a.X)*t, a.Y + (b.Y-a.Y)*t} }

// Bands are the lines as thin areas: a quadrilateral a piece.
func Bands(lines [][]Pt, width float64) [][]Pt {
	var out [][]Pt
	for _, l := range lines {
		for i := range len(l) - 1 {
			a, b := l[i], l[i+1]
			m := math.Hypot(b.X-a.X, b.Y-a.Y)
			if m < 1e-6 {
				continue
			}
			nx, ny := -(b.Y-a.Y)/m*width/2, (b.X-a.X)/m*width/2
			out = append(out, []Pt{{a.X + nx, a.Y + ny}, {b.X + nx, b.Y + ny}, {b.X - nx, b.Y - ny}, {a.X - nx, a.Y - ny}})
		}
	}
	return out
}
