package draw

import (
	"math"
	"strconv"
)

const (
	glassThick = 4.0
	lampThick  = 7.0
	benchThick = 9.0
	overhang   = 14.0 // of the bench, each side
	spareBytes = 400  // for the tags round it all
)

// svg writes the scene.
func (s scene) svg(e Elevation) string {
	w := new(page)
	left, right, bottom := -glassThick-overhang, s.length+glassThick+overhang, s.depth+glassThick
	for _, l := range s.lamps { // a lamp may be longer than the tank
		left, right = math.Min(left, l.FromCm*10-2), math.Max(right, (l.FromCm+l.LengthCm)*10+2)
	}
	foot := bottom + 12
	if !e.OffBench {
		foot = bottom + benchThick + 12
	}
	top, class := s.top-4, "d-tank"
	if !s.wet {
		class = "d-tank d-dry"
	}
	w.open(class, s.id, left, top, right-left, foot-top, e.Title, e.Desc)
	words := w.Len()
	w.put(`<defs>`)
	s.patterns(w, e.Seed)
	w.put(`<clipPath id="`, s.id, `-in"><rect x="0" y="`, num(top), `" width="`, num(s.length), `" height="`, num(s.depth-top), `"/></clipPath>`)
	back, front := new(page), new(page)
	s.back(back)
	s.front(front, e, left, right, bottom)
	list := s.plantings(e.Seed, MaxBytes-(w.Len()-words)-back.Len()-front.Len()-spareBytes)
	for _, p := range list {
		w.put(p.defs)
	}
	w.put(`</defs>`)
	w.put(back.String(), `<g clip-path="url(#`, s.id, `-in)">`)
	for _, p := range list {
		w.place(s, p, e.Seed)
	}
	w.put(`</g>`, front.String(), `</svg>`)
	return w.String()
}

// back draws what stands behind the plants: lamps and water.
func (s scene) back(w *page) {
	for _, l := range s.lamps {
		x, y, width := l.FromCm*10, -l.AboveRimCm*10-lampThick, l.LengthCm*10
		w.put(`<path class="d-lamp" d="M`, num(x), ` `, num(y+lampThick), `v-4q0-3 3-3h`, num(math.Max(0, width-6)), `q3 0 3 3v4z"/>`)
		w.put(`<path class="d-light" d="M`, num(x+4), ` `, num(y+lampThick+2.5), `h`, num(math.Max(0, width-8)), `"/>`)
	}
	if s.wet && s.ground > s.water {
		w.rect("d-water", 0, s.water, s.length, s.ground-s.water)
	}
}

// front draws what stands before the plants' feet: substrate, surface, glass, bench and rulers.
func (s scene) front(w *page, e Elevation, left, right, bottom float64) {
	y := s.depth
	for _, l := range s.layers {
		h := l.DepthCm * 10
		y -= h
		if h > 0 {
			w.rect(soilClass[l.kind()], 0, y, s.length, h)
			w.put(`<rect fill="url(#`, s.id, `-s`, strconv.Itoa(l.kind()), `)" x="0" y="`, num(y), `" width="`, num(s.length), `" height="`, num(h), `"/>`)
		}
	}
	if s.wet {
		w.put(`<path class="d-surface" d="M0 `, num(s.water), `h`, num(s.length), `"/>`)
	}
	half := glassThick / 2
	w.put(`<path class="d-glass" d="M`, num(-half), ` 0V`, num(s.depth+half), `H`, num(s.length+half), `V0"/>`)
	if !e.OffBench {
		w.rect("d-bench", left, bottom, right-left, benchThick)
		bottom += benchThick
	}
	s.rulers(w, bottom)
}

// rulers puts ticks under the tank, along its length, and at the right, from its floor up to the water (or the rim).
func (s scene) rulers(w *page, bottom float64) {
	w.put(`<path class="d-tick" d="`)
	for i := 0; float64(i)*s.tick <= s.length+0.01; i++ {
		w.put(`M`, num(float64(i)*s.tick), ` `, num(bottom+3), `v`, num(4+3*float64(boolInt(i%5 == 0))))
	}
	for i := 1; float64(i)*s.tick <= s.depth-s.water+0.01; i++ {
		w.put(`M`, num(s.length+glassThick+3), ` `, num(s.depth-float64(i)*s.tick), `h`, num(4+3*float64(boolInt(i%5 == 0))))
	}
	w.put(`"/>`)
}

var soilClass = [...]string{None: "d-sand", Some: "d-soil-some", Rich: "d-soil-rich"}

func (l Layer) kind() int { return int(max(None, min(Rich, l.Nutrients))) }

// patterns defines the grain of each kind of substrate that is there: open rings for sand and gravel, sparse grains for
// some nutrients, close grains for rich soil. They differ by form, not only by colour.
func (s scene) patterns(w *page, seed string) {
	const tile = 48.0
	for kind := range soilClass {
		if !s.has(kind) {
			continue
		}
		d := seeded(seed, "grain", strconv.Itoa(kind))
		w.put(`<pattern id="`, s.id, `-s`, strconv.Itoa(kind), `" width="48" height="24" patternUnits="userSpaceOnUse"><path class="`,
			[...]string{"d-grit", "d-grain", "d-grain"}[kind], `" d="`)
		cols := [...]int{6, 5, 9}[kind]
		rows := [...]int{3, 2, 4}[kind]
		for i := range cols * rows {
			r := d.span(0.7, 1.7)
			cx, cy := tile/float64(cols), tile/2/float64(rows)
			x := math.Max(2, math.Min(tile-2, (float64(i%cols)+d.span(0.15, 0.85))*cx))
			y := math.Max(2, math.Min(tile/2-2, (float64(i/cols)+d.span(0.15, 0.85))*cy))
			w.put(`M`, num(x-r), ` `, num(y), `a`, num(r), ` `, num(r*0.8), ` 0 1 0 `, num(2*r), ` 0a`, num(r), ` `, num(r*0.8), ` 0 1 0 `, num(-2*r), ` 0`)
		}
		w.put(`"/></pattern>`)
	}
}

func (s scene) has(kind int) bool {
	for _, l := range s.layers {
		if l.kind() == kind && l.DepthCm > 0 {
			return true
		}
	}
	return false
}
