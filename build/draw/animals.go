package draw

import (
	"math"

	"slipleaf/build/dice"
	"slipleaf/build/livestock"
)

// mostAnimals is how many of a kind are drawn; of all kinds twice as many are.
const mostAnimals = 24

// animalDefs writes the outlines of the animals once, into the definitions.
func (s scene) animalDefs(w *page, list []livestock.Animal) {
	for kind := livestock.Shoal; kind <= livestock.Snail; kind++ {
		for _, a := range list[:min(len(list), 8)] {
			if a.Kind == kind && a.Drawn() {
				w.put(`<g id="`, s.id, `-a`, itoa(int(kind)), `">`, kind.Outline(), `</g>`)
				break
			}
		}
	}
}

// swim places the animals: fish in mid-water in one loose shoal, the others on the ground.
func (s scene) swim(w *page, list []livestock.Animal, seed string) {
	if !s.wet || s.ground-s.water < 12 {
		return
	}
	left := 2 * mostAnimals
	for i, a := range list[:min(len(list), 8)] {
		n := min(a.Count, mostAnimals, left)
		if !a.Drawn() {
			continue
		}
		left -= n
		d := dice.Seeded(seed, "animals", itoa(i))
		size := math.Min(within(a.LengthCm, 0.5, 30)*s.s/24, (s.ground-s.water)/26)
		centre, way := d.Span(0.3, 0.7), d.Side()
		for range n {
			half := 14 * size
			x, y, tilt := s.long*d.Unit(), s.ground-6*size, d.Span(-4, 4)
			if a.Kind.Crawls() {
				way = d.Side()
			} else {
				x = s.long * (centre + d.Bell(0.14))
				y = s.water + (s.ground-s.water)*(0.18+0.4*d.Unit())
				tilt = d.Span(-9, 9)
			}
			x = math.Max(half+3, math.Min(s.long-half-3, x))
			w.put(`<use href="#`, s.id, `-a`, itoa(int(a.Kind)), `" transform="translate(`, num(x), ` `, num(y), `)rotate(`, num(tilt), `)scale(`, hundredths(way*size), ` `, hundredths(size), `)"/>`)
		}
	}
}
