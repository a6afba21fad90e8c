// Package dice throws repeatable variation: the same strings always throw the same numbers.
package dice

import "math"

// Dice is a small generator of repeatable variation: splitmix64 (Steele, Lea and Flood 2014, "Fast splittable
// pseudorandom number generators"), seeded by FNV-1a of the strings. The same strings always throw the same numbers.
type Dice struct{ state uint64 }

// Seeded returns dice for the strings; a zero byte parts them, so that "ab","c" differs from "a","bc".
func Seeded(parts ...string) *Dice {
	h := uint64(14695981039346656037)
	for _, part := range parts {
		for i := 0; i < len(part); i++ {
			h = (h ^ uint64(part[i])) * 1099511628211
		}
		h *= 1099511628211
	}
	return &Dice{h}
}

func (d *Dice) Next() uint64 {
	d.state += 0x9e3779b97f4a7c15
	z := d.state
	z = (z ^ z>>30) * 0xbf58476d1ce4e5b9
	z = (z ^ z>>27) * 0x94d049bb133111eb
	return z ^ z>>31
}

// Unit throws a number in [0, 1).
func (d *Dice) Unit() float64 { return float64(d.Next()>>11) / (1 << 53) }

// Span throws a number in [lo, hi).
func (d *Dice) Span(lo, hi float64) float64 { return lo + (hi-lo)*d.Unit() }

// Near throws v give or take a share of it.
func (d *Dice) Near(v, share float64) float64 { return v * d.Span(1-share, 1+share) }

// Side throws -1 (left) or 1 (right).
func (d *Dice) Side() float64 {
	if d.Next()>>63 == 0 {
		return -1
	}
	return 1
}

// Bell throws a number about nought with the standard deviation s: the sum of four throws, so that none lies beyond 3.5 s.
func (d *Dice) Bell(s float64) float64 {
	return (d.Unit() + d.Unit() + d.Unit() + d.Unit() - 2) * s * math.Sqrt(3)
}
