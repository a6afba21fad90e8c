package draw

import (
	"html/template"
	"math"

	"slipleaf/build/curve"
	"slipleaf/build/dice"
)

// draw writes the scene. What words and places weigh is known only afterwards, so that a tank that came out
// too heavy is drawn again with less room for its figures.
func (s scene) draw(e Elevation, t *Tank) {
	words := len(plain(e.Title)) + len(plain(e.Desc))
	for _, p := range s.plants {
		words += len(plain(p.Name))
	}
	most := MaxTank
	if e.MostBytes > 0 {
		most = max(LeastTank, min(MaxTank, e.MostBytes))
	}
	spare := MaxTank - most + 2500
	uses := mostUses
	var list []planting
	for range 16 {
		list = s.once(e, t, spare, uses, list)
		over := len(t.SVG) - words - most
		if over <= 0 {
			return
		}
		spare += over + 3000
		if heaviest(list) < 0 { // none can lose detail: fewer figures
			uses /= 2
		}
	}
}

// once draws all with so many bytes spared and at most so many figures placed. It begins with the detail of the time before,
// if there was one, and returns what it drew.
func (s scene) once(e Elevation, t *Tank, spare, uses int, before []planting) []planting {
	head, back, front, foot := new(page), new(page), new(page), new(page)
	s.defs(head, e)
	s.back(back)
	s.swim(back, e.Animals, e.Seed)
	grains := new(page)
	s.grains(grains, e.Seed)
	each := 270 + 3*len(s.id) + 7*s.moments // a planting's leaders, its number and its groups
	room := MaxTank - head.Len() - back.Len() - grains.Len() - spare
	list := s.plantings(e.Seed, room-len(s.shown())*each, uses, before)
	y, up := s.names(foot, t.Key, list, e.Seed, s.deep+benchThick+4)
	s.front(front)
	top := s.top - 4
	class := "d-tank"
	if up > 0 {
		class += " d-up" + itoa(up)
	}
	w := new(page)
	w.open(class, s.id, s.left, top, s.wide, y+10-top, e.Title, e.Desc)
	w.put(head.String())
	for _, p := range list {
		for _, f := range p.figs {
			w.put(f.body)
		}
	}
	w.put(`</defs>`, back.String())
	s.plant(w, list, e.Seed, grains.String())
	w.put(front.String(), foot.String(), `</svg>`)
	t.SVG = template.HTML(w.String()) // all strings are escaped by plain and name
	t.Stills, t.Shown = s.stills(e, list)
	return list
}

// plant places all plantings: back and middle, then the substrate at the glass, then the front and what floats.
func (s scene) plant(w *page, list []planting, seed, grains string) {
	for _, row := range [...]Row{Back, Middle, Front} {
		if row == Front {
			s.layersOf(w)
			w.put(grains)
		}
		for _, p := range list {
			if p.afloat(s) && row == Front || !p.afloat(s) && p.Row == row {
				w.place(s, p, seed)
			}
		}
	}
}

func (s scene) defs(w *page, e Elevation) {
	w.put(`<defs>`)
	if s.wet {
		w.put(`<linearGradient id="`, s.id, `-w" x1="0" x2="0" y1="0" y2="1"><stop offset="0" class="d-lit"/><stop offset="1" class="d-deepest"/></linearGradient>`)
		s.animalDefs(w, e.Animals)
	}
	if len(s.lamps) > 0 {
		w.put(`<linearGradient id="`, s.id, `-l" x1="0" x2="0" y1="0" y2="1"><stop offset="0" class="d-shine"/><stop offset="1" class="d-shine d-gone"/></linearGradient>`)
	}
}

// back draws what is behind the plants: water, light, lamps and the far bank.
func (s scene) back(w *page) {
	if s.wet && s.ground > s.water {
		w.put(`<rect class="d-water" fill="url(#`, s.id, `-w)" x="0" y="`, num(s.water), `" width="`, num(s.long), `" height="`, num(s.ground-s.water), `"/>`)
	}
	for _, l := range s.lamps {
		s.lamp(w, l)
	}
	if s.ground < s.deep {
		y := s.stand(Back) - 3
		w.path("d-hill", "M0 "+num(s.ground)+"V"+num(y+2)+"C"+num(s.long*0.2)+" "+num(y-3)+" "+num(s.long*0.3)+" "+num(y+4)+" "+num(s.long*0.5)+" "+num(y+1)+"S"+num(s.long*0.85)+" "+num(y+3)+" "+num(s.long)+" "+num(y-2)+"V"+num(s.ground)+"z")
	}
}

// lamp draws a bar, its light, and legs to the rim where its height is known.
func (s scene) lamp(w *page, l Lamp) {
	x, y, long := l.FromCm*s.s, -l.AboveRimCm*s.s-lampThick, l.LengthCm*s.s
	spread := math.Min(long*0.1, 6*s.s)
	lo, hi := math.Max(1, x-spread), math.Min(s.long-1, x+long+spread)
	if lo < hi && s.wet {
		w.put(`<path fill="url(#`, s.id, `-l)" d="M`, num(math.Max(x+6, lo)), ` `, num(y+lampThick), `H`, num(math.Min(x+long-6, hi)), `L`, num(hi), ` `, num(s.ground), `H`, num(lo), `z"/>`)
	}
	if l.Legs && l.AboveRimCm > 0.5 {
		for _, leg := range [...]struct{ x, side float64 }{{x + math.Min(24, long*0.1), -1}, {x + long - math.Min(24, long*0.1), 1}} {
			foot := math.Max(4, math.Min(s.long-4, leg.x+leg.side*7))
			w.path("d-leg", "M"+num(leg.x)+" "+num(y+5)+"C"+num(leg.x)+" "+num(y*0.5)+" "+num(foot)+" "+num(y*0.4)+" "+num(foot)+" 0")
			w.path("d-lamp", "M"+num(foot-4)+" -1.5h8v7h-2.5v-4.5h-5.5z")
		}
	}
	w.put(`<rect class="d-lamp" x="`, num(x), `" y="`, num(y), `" width="`, num(long), `" height="`, num(lampThick-1), `" rx="2"/>`)
	w.path("d-light", "M"+num(x+5)+" "+num(y+lampThick+1)+"H"+num(math.Max(x+5, x+long-5)))
}

var soilClass = [...]string{None: "d-sand", Some: "d-soil-some", Rich: "d-soil-rich"}

func (l Layer) kind() int { return int(max(None, min(Rich, l.Nutrients))) }

// layersOf draws the layers of the substrate as they show at the front glass.
func (s scene) layersOf(w *page) {
	y := s.deep
	for _, l := range s.layers {
		h := l.DepthCm * s.s
		y -= h
		if h > 0 {
			w.rect(soilClass[l.kind()], 0, y, s.long, h)
		}
	}
}

// grains strews dots over the layers: small ones and large ones, closer in rich soil.
func (s scene) grains(w *page, seed string) {
	y := s.deep
	for i, l := range s.layers {
		h := l.DepthCm * s.s
		y -= h
		if h < 4 || i > 3 {
			continue
		}
		d := dice.Seeded(seed, "grain", itoa(i))
		for _, class := range [...]string{"d-grain", "d-grain d-coarse"} {
			n := min(80, int(s.long*h/[...]float64{200, 170, 150}[l.kind()]))
			var a curve.Path
			for i := range n {
				q := pt(3+(s.long-6)*(float64(i)+d.Unit())/float64(n), y+2+(h-4)*d.Unit())
				a.Move(q, q)
			}
			if n > 0 {
				w.path(class, string(a.Data(nil)))
			}
		}
	}
}

// box is the water of a still.
func (s scene) box(w *page) {
	if s.wet && s.ground > s.water {
		w.rect("d-water d-flat", 0, s.water, s.long, s.ground-s.water)
	}
}

func (s scene) glass(w *page) {
	const half = glassThick / 2
	if s.wet && s.water > 1 {
		w.path("d-surface", "M1 "+num(s.water)+"H"+num(s.long-1))
	}
	w.path("d-glass", "M"+num(-half)+" 0V"+num(s.deep+half)+"H"+num(s.long+half)+"V0")
}

// front draws what is before the plants: surface, glass, bench and ruler.
func (s scene) front(w *page) {
	s.glass(w)
	w.path("d-rim", "M0 .5H"+num(s.long))
	w.rect("d-bench", -18, s.deep+glassThick, s.long+36, benchThick)
	w.put(`<path class="d-tick" d="`)
	for i := 0; float64(i)*s.tick <= s.long+0.01; i++ {
		w.put(`M`, num(float64(i)*s.tick), ` `, num(s.deep+glassThick), `v`, num(3+3*float64(boolInt(i%5 == 0))))
	}
	w.put(`"/>`)
}
