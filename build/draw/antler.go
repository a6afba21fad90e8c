package draw

import (
	"math"

	"slipleaf/build/curve"
)

// antlers: fronds cut twice from one crown, with young ones still rolled up in the middle.
func (k *sketch) antlers(at curve.Pt, f form) {
	n := k.leaves(f, 6, 1, 2, k.fewer(7, 2))
	k.rooted(f, at, 14, math.Min(f.height*0.2, k.s*4), 0.95)
	height := f.under(f.height, 0.94)
	for _, t := range k.fan(n, 0.05) {
		k.antler(pt(at.X+t*k.s*0.3, at.Y), up+t*0.72, height*k.Span(0.8, 1.02)*(1-0.2*math.Abs(t)), t*k.Span(0.5, 0.95), face(t, 0.7, -1), f.rich)
	}
	k.crozier(pt(at.X-2, at.Y), up-0.16, height*0.3, 1)
	k.crozier(pt(at.X+2, at.Y), up+0.22, height*0.2, -1)
}

// antler is one frond: a fleshy stalk, arms by turns, each forked into narrow pointed lobes.
func (k *sketch) antler(at curve.Pt, angle, length, bend float64, tone int, rich bool) {
	const stalk = 0.26
	p := curve.Rib(at, angle, length, curve.Bow{Bend: bend, Late: 1.4}, 10)
	k.stroke(p[:7], stalkLine, math.Max(1, length*0.015))
	k.stroke(p[6:], stalkLine, math.Max(0.8, length*0.009))
	rows := k.fewer(6, 2) + boolInt(rich)
	fork := 2
	if rich && k.fine < 2 {
		fork = 3
	}
	fat := 0.015
	if rich {
		fat = 0.011
	}
	for i := range rows {
		u := stalk + (1-stalk)*math.Pow((float64(i)+0.3)/float64(rows), 1.1)
		v := (u - stalk) / (1 - stalk)
		arm := length*0.34*math.Pow(1-v, 0.8)*(0.72+0.28*math.Min(1, v*4))*k.Span(0.85, 1.1) + length*0.04
		for _, side := range [...]float64{-1, 1} {
			from, h := curve.Along(p, math.Min(0.99, u+0.02*side))
			k.arm(from, h+side*(1.05-0.35*u)*k.Span(0.88, 1.1), arm, length, side, tone, fork, fat)
		}
	}
	end, h := curve.Along(p, 0.95)
	q, tip := curve.Sliver(end, h, length*0.1, length*fat, 0)
	k.leaf(q, tone+1, tip, 0.3)
}

func (k *sketch) arm(from curve.Pt, angle, reach, length, side float64, tone, fork int, fat float64) {
	arm := curve.Rib(from, angle, reach, curve.Bow{Bend: -side*0.5 + k.Bell(0.12)}, 5)
	k.stroke(arm, stalkLine, math.Max(0.6, length*0.006))
	if reach < length*0.14 {
		fork = 1
	}
	for j := range fork {
		at, h := curve.Along(arm, 0.34+0.5*float64(j)/float64(fork))
		for _, s := range [...]float64{-1, 1} {
			l := (reach*0.5 + length*0.02) * (1 - 0.3*float64(j)/float64(fork)) * k.Span(0.75, 1.15)
			a := h + s*k.Span(0.5, 0.8)
			p, tip := curve.Sliver(at, a, l, length*fat, -s*0.5)
			k.leaf(p, tone+boolInt(k.Unit() < 0.25), tip, 0.35)
			if fork == 3 && l > length*0.05 {
				p, tip = curve.Sliver(at.Plus(a, l*0.38), a+s*0.75, l*0.55, length*fat*0.85, -s*0.5)
				k.leaf(p, tone, tip, 0.3)
			}
		}
	}
	at, h := curve.Along(arm, 0.75)
	p, tip := curve.Sliver(at, h, reach*0.45, length*fat*1.1, side*0.2)
	k.leaf(p, tone+1, tip, 0.3)
}

// crozier is a young frond, rolled up at its end.
func (k *sketch) crozier(at curve.Pt, angle, length, side float64) {
	p := curve.Rib(at, angle, length, curve.Bow{Bend: side * 0.3}, 6)
	end, h := curve.Along(p, 1)
	r := length * 0.15
	for range 12 {
		h += side * 0.62
		r *= 0.9
		end = end.Plus(h, r*0.55)
		p = append(p, end)
	}
	k.stroke(p, stalkLine, math.Max(1, k.s*0.18))
}
