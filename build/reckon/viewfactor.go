package reckon

import "math"

// tooNear is the gap, in cm, under which a lamp counts as lying on the water.
const tooNear = 0.5

// cornerFactor is the view factor from a point to a parallel rectangle whose corner lies on the point's normal, sides x
// and y over the distance: configuration B-3 of Howell's catalog (Siegel & Howell 1972). Odd in x and in y.
func cornerFactor(x, y float64) float64 {
	a, b := math.Sqrt(1+x*x), math.Sqrt(1+y*y)
	return (x/a*math.Atan(y/a) + y/b*math.Atan(x/b)) / (2 * math.Pi)
}

// pointFactor is the view factor from a point at px, py off the centre of a parallel rectangle of length l and width w
// at distance z: four corners added and taken off. Lengths in one unit, z above 0.
func pointFactor(px, py, l, w, z float64) float64 {
	x1, x2, y1, y2 := (-l/2-px)/z, (l/2-px)/z, (-w/2-py)/z, (w/2-py)/z
	return math.Max(cornerFactor(x2, y2)-cornerFactor(x1, y2)-cornerFactor(x2, y1)+cornerFactor(x1, y1), 0)
}

// pairG is the G of Howell's configuration C-13 for the offsets dx, dy of two corners at distance z.
func pairG(dx, dy, z float64) float64 {
	a, b := math.Sqrt(dx*dx+z*z), math.Sqrt(dy*dy+z*z)
	return (dy*a*math.Atan(dy/a) + dx*b*math.Atan(dx/b) - z*z/2*math.Log(dx*dx+dy*dy+z*z)) / (2 * math.Pi)
}

// plateFactor is the view factor from a rectangle l1 × w1, its centre at dx, dy, to a parallel one l2 × w2 about the
// origin, at distance z: configuration C-13 of Howell's catalog, a sum of 16 terms. It is the share of the light of a
// Lambertian lamp that lands on the plate. Nearer than tooNear it is the share of the lamp that lies over the plate.
func plateFactor(l1, w1, l2, w2, z, dx, dy float64) float64 {
	if z < tooNear {
		return overlap(l1, l2, dx) / l1 * overlap(w1, w2, dy) / w1
	}
	x, u := [2]float64{dx - l1/2, dx + l1/2}, [2]float64{-l2 / 2, l2 / 2}
	y, v := [2]float64{dy - w1/2, dy + w1/2}, [2]float64{-w2 / 2, w2 / 2}
	sum := 0.0
	for n := range 16 {
		i, j, k, l := n&1, n>>1&1, n>>2&1, n>>3
		g := pairG(x[i]-u[l], y[j]-v[k], z)
		if (i+j+k+l)%2 == 1 {
			g = -g
		}
		sum += g
	}
	return min(max(sum/(l1*w1), 0), 1)
}

// overlap is the length that two stretches have in common; a has its middle at d, b at 0.
func overlap(a, b, d float64) float64 {
	return max(min(d+a/2, b/2)-max(d-a/2, -b/2), 0)
}
