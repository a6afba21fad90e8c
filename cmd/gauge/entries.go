package main

import (
	"fmt"
	"math"
	"strings"
)

func tankID(i int) string { return fmt.Sprintf("tank-%02d", i+1) }

// tank writes a tank's file and its share of the entries.
func (p *plan) tank(i int) {
	n := p.Entries / p.Tanks
	if i < p.Entries%p.Tanks {
		n++
	}
	days := int(gap * float64(n))
	p.add("tanks/"+tankID(i)+"/tank.md", fmt.Sprintf(`---
name: Tank %d
began: %s
inside: {length: %d cm, width: 40 cm, height: 40 cm}
water-depth: 32 cm
substrate:
  - {material: fine gravel, depth: 5 cm, nutrients: none}
light:
  - {name: strip, output: 2400 lm, kind: white led, length: 60 cm, above-water: 6 cm, hours: 8}
co2: {injected: %t}
---

%s`, i+1, lastDay.Add(-days-10), 60+10*(i%6), i%3 == 0, p.prose()))
	stands := p.standsOf(i)
	for k := range n {
		p.entry(i, k, n, stands)
	}
}

// entry writes the k-th of a tank's n entries: readings, a few counts in turn, what was cut, and now and then a lot.
func (p *plan) entry(tank, k, n int, stands []*stand) {
	ago := int(gap * float64(n-1-k))
	on := lastDay.Add(-ago)
	var head strings.Builder
	fmt.Fprintf(&head, "---\ntitle: %s %s %s %d\n", strings.ToUpper(p.word()), p.word(), p.word(), k+1)
	fmt.Fprintf(&head, "parameters: {temperature: %.1f C, ph: %.1f, gh: %.1f dGH, kh: %.1f dKH, nitrate: %d mg/L}\n",
		21+5*p.rng.Float64(), 6.6+p.rng.Float64(), 6+3*p.rng.Float64(), 3+3*p.rng.Float64(), 5+5*p.rng.IntN(5))
	var counts, trims strings.Builder
	cut := ""
	for c := range 3 {
		s := stands[(3*k+c)%len(stands)]
		s.grow(int(gap*float64(k)), p.rng.NormFloat64())
		fmt.Fprintf(&counts, "  - {plant: %s, %s: %d%s, area: 3 dm2}\n", s.plant, s.measure, s.count(), s.unit)
		if s.size > s.cutAt {
			if !p.kept[s.plant] {
				cut = s.plant
			}
			fmt.Fprintf(&trims, "  - {plant: %s, removed: %d%s}\n", s.plant, s.trim(), s.removed)
		}
	}
	head.WriteString("counts:\n" + counts.String())
	if trims.Len() > 0 {
		head.WriteString("trims:\n" + trims.String())
	}
	fmt.Fprintf(&head, "water-change: {share: %d %%, with: tap}\n", 20+5*p.rng.IntN(4))
	if cut != "" && len(p.lots)*2 < p.Parcels {
		l := lot{fmt.Sprintf("L-%05d", len(p.lots)+1), on, 12}
		p.lots = append(p.lots, l)
		fmt.Fprintf(&head, "lots:\n  - {lot: %s, plant: %s, form: portions, count: %d, ready: %s, grown: submersed, pests: none, copper: none}\n", l.id, cut, l.left, on)
	}
	p.add("tanks/"+tankID(tank)+"/"+on.String()+".md", head.String()+"---\n\n"+p.prose())
}

// grow brings a stand to a day, with the error of a count.
func (s *stand) grow(day int, noise float64) {
	s.size *= math.Exp(s.rate*float64(day-s.day) + 0.06*noise)
	s.size, s.day = min(max(s.size, 2), 1.6*s.cutAt), day
}

func (s *stand) count() int { return int(s.size + 0.5) }

// trim takes half of a stand and tells how much that was.
func (s *stand) trim() int {
	n := s.count() / 2
	s.size -= float64(n)
	return n
}
