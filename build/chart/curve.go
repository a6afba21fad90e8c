package chart

import (
	"math"
	"strings"
)

// CurvePoint is a point of a fitted line, with the limits of its interval; Low and High are equal where it has none.
// Day may be a fraction of a day.
type CurvePoint struct {
	Day             float64
	Size, Low, High float64
}

// spot is a place in the picture.
type spot struct{ x, y float64 }

// spots prints places as the inside of a path: the first follows an M, the rest are lines.
func spots(at []spot) string {
	var b strings.Builder
	for i, s := range at {
		if i > 0 {
			b.WriteByte(' ')
		}
		b.WriteString(n(s.x) + " " + n(s.y))
	}
	return b.String()
}

// thin leaves out the points of a line that lie within a quarter of a unit of what remains (the method of Douglas and
// Peucker, 1973): a fit that comes in daily steps costs no more bytes than its bend is worth.
func thin(at []spot) []spot {
	if len(at) < 3 {
		return at
	}
	first, last := at[0], at[len(at)-1]
	worst, where := 0.25, 0
	for i := 1; i < len(at)-1; i++ {
		if d := away(at[i], first, last); d > worst {
			worst, where = d, i
		}
	}
	if where == 0 {
		return []spot{first, last}
	}
	head := thin(at[:where+1])
	return append(append([]spot(nil), head[:len(head)-1]...), thin(at[where:])...)
}

// away is how far s lies from the line through a and b.
func away(s, a, b spot) float64 {
	dx, dy := b.x-a.x, b.y-a.y
	long := math.Hypot(dx, dy)
	if long == 0 {
		return math.Hypot(s.x-a.x, s.y-a.y)
	}
	return math.Abs(float64(dx*(a.y-s.y))-float64((a.x-s.x)*dy)) / long
}
