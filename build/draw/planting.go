package draw

import (
	"math"
	"slices"
	"strconv"

	"slipleaf/build/curve"
	"slipleaf/build/dice"
)

// planting is one plant's figures, ready to be placed.
type planting struct {
	Plant
	index int
	want  int // figures to place, the most of all moments
	level int // of detail
	figs  []fig
	bytes int
	seat  seatLine
}

// fig is one figure of a planting: its id, what is drawn, and the ground it covers.
type fig struct {
	id   string
	body string
	box  curve.Box
}

// mostUses is how many figures are placed in a tank.
const mostUses = 150

// variants of a planting's figures by level of detail.
func variants(level int) int { return [...]int{3, 3, 3, 2, 2, 2, 1, 1, 1, 1, 1, 1, 1}[min(level, 12)] }

const mostLevel = 30

// roughFrom is the level from which on figures are rough.
const roughFrom = 12

// plantings are what is shown of the scene, back row first, so that the front covers it. Their figures together fit the room
// in bytes: whichever planting weighs most gives up a level of detail until they do.
func (s scene) plantings(seed string, room, uses int, before []planting) []planting {
	list := make([]planting, 0, maxPlants)
	all, covering := 0, 0
	if room < mostUses*useBytes*2 {
		uses = min(uses, mostUses/3)
	}
	least := min(uses, mostUses/6) // what plantings that are counted keep; where even that is too much, all are thinned
	for i, p := range s.shown() {
		n := p.figures(p.now())
		for _, g := range p.Past {
			n = max(n, p.figures(g))
		}
		if p.covers() && least < mostUses/6 {
			n = max(1, n*least/(mostUses/6))
		}
		list = append(list, planting{Plant: p, index: i, want: n})
		if p.covers() {
			uses -= n
			covering += n
		} else {
			all += n
		}
	}
	for i := range list {
		switch uses := max(uses, least); { // what was counted as a share of its ground keeps it while there is room
		case list[i].covers() && covering > mostUses:
			list[i].want = max(1, list[i].want*mostUses/covering)
		case !list[i].covers() && all > uses:
			list[i].want = max(1, list[i].want*uses/all)
		}
		list[i].level = min(mostLevel, 1+len(list)/4)
		if at := slices.IndexFunc(before, func(p planting) bool { return p.index == list[i].index }); at >= 0 {
			list[i].level = before[at].level
		}
		list[i].define(s, seed)
		if share := room / (len(list) - i); list[i].bytes > share { // far beyond its share
			list[i].coarser(s, seed, share)
		}
		room -= list[i].bytes + (list[i].want+1)*(useBytes+len(s.id))
	}
	for room < 0 {
		i := heaviest(list)
		if i < 0 {
			break
		}
		before := list[i].bytes
		list[i].coarser(s, seed, max(before+room, before/2))
		room += before - list[i].bytes
	}
	slices.SortStableFunc(list, func(a, b planting) int { return int(b.Row) - int(a.Row) })
	return list
}

// coarser takes away as many levels of detail as should bring a planting down to so many bytes: each saves about a seventh.
func (p *planting) coarser(s scene, seed string, bytes int) {
	steps := math.Ceil(math.Log(float64(p.bytes)/math.Max(100, float64(bytes))) / 0.15)
	p.level = min(mostLevel, p.level+int(within(steps, 1, 9)))
	p.define(s, seed)
}

// useBytes is the most that one <use> takes, its id's prefix not counted.
const useBytes = 56

// heaviest is the planting that weighs most of those that can be made lighter, -1 if there is none.
func heaviest(list []planting) int {
	found := -1
	for i, p := range list {
		if p.level < mostLevel && (found < 0 || p.bytes > list[found].bytes) {
			found = i
		}
	}
	return found
}

// afloat plantings hang from the surface.
func (p planting) afloat(s scene) bool { return s.wet && (p.Habit == Floating || p.Afloat) }

// form is what the planting's figures are drawn from.
func (p planting) form(s scene) form {
	f := form{habit: p.Habit, leaf: p.Leaf, height: p.HeightCm * s.s, trail: s.long * 0.3}
	switch {
	case s.wet && p.Habit == Floating:
		f.water = math.Max(4, s.ground-s.water)
	case s.wet && p.Afloat:
		f.water = 0
		f.height = math.Min(f.height, (s.ground-s.water)*0.6)
	case s.wet:
		f.water = math.Max(4, s.stand(p.Row)-s.water-p.seat.lift)
	}
	if p.Leaves > 0 && p.Count == 0 && p.Habit != Stem {
		f.count = max(2, p.Leaves/p.want)
	}
	f.bare = p.Habit == Moss
	if p.seat.at != nil {
		f.creep = (p.ToCm - p.FromCm) * s.s * 0.4
	}
	if m := f.manner(); (m == Eelgrass || m == Ribbon) && f.count == 0 && p.want > 8 { // many young plants: fewer leaves each
		f.count = 5
	}
	if f.water > 0 && f.manner() == ByHabit && p.Habit != Stem {
		f.height = math.Min(f.height, f.water*0.97)
	}
	return f.fitted(s.s)
}

// define draws the planting's figures at its level.
func (p *planting) define(s scene, seed string) {
	p.figs, p.bytes = p.figs[:0], 0
	p.seat = s.seatFor(*p)
	ground := math.Max(1, (p.ToCm-p.FromCm)*s.s)
	for v := range min(variants(p.level), p.want) {
		k := p.figure(s, seed, v)
		k.press = within(float64(p.want)*k.box.Wide()/ground, 0.6, 3)
		w := new(page)
		k.body(w)
		id := s.id + strconv.Itoa(p.index) + string(rune('a'+v))
		p.figs = append(p.figs, fig{id, `<g id="` + id + `">` + w.String() + `</g>`, k.box})
		p.bytes += w.Len() + len(id) + 13
	}
	if p.seat.sketch != nil {
		w := new(page)
		p.seat.sketch.body(w)
		p.bytes += w.Len() + 60
	}
}

// figure draws a variant of the planting with its foot at nought.
func (p planting) figure(s scene, seed string, variant int) *sketch {
	k := newSketch(dice.Seeded(seed, p.ID, strconv.Itoa(variant)), s.s, p.level, p.Leaf.Tint)
	k.mass, k.rough = true, p.level >= roughFrom
	k.grow(curve.Pt{}, p.form(s))
	return k
}

// spot is where one figure is placed.
type spot struct {
	fig    fig
	X, Y   float64
	sx, sy float64
	turn   float64 // degrees, along what it sits on
}

// goldenPart makes every beginning of the sequence lie evenly over the ground, so that fewer figures are as even as all.
const goldenPart = 0.6180339887

// spots strews n figures over the planting's ground, none through the glass.
func (p planting) spots(s scene, seed string) []spot {
	d := dice.Seeded(seed, p.ID, "place")
	from, to := p.FromCm*s.s, p.ToCm*s.s
	offset := d.Unit()
	flow := sideOf(s.long/2 - (from+to)/2)
	out := make([]spot, p.want)
	for i := range out {
		f := p.figs[i%len(p.figs)]
		_, t := math.Modf(offset + float64(i)*goldenPart)
		if p.want == 1 {
			t = 0.5
		}
		t += d.Bell(0.15) / float64(p.want)
		size, side := d.Span(0.84, 1), d.Side()
		m := form{habit: p.Habit, leaf: p.Leaf}.manner()
		if p.want > 8 && p.Row == Front { // no hedge: a lawn has young plants among the old
			size = d.Span(0.6, 1)
			if m == Ribbon {
				size = 0.4 + 0.6*math.Pow(d.Unit(), 1.8)
			}
		}
		if tall := p.HeightCm*s.s > s.stand(p.Row)-s.water-p.seat.lift; s.wet && tall && !p.afloat(s) {
			size = 1
		}
		if m == Eelgrass {
			size, side = 1, flow
		}
		o := spot{fig: f, X: from + (to-from)*within(t, 0, 1), sx: side * size, sy: size}
		o.within(s)
		deep := 2.5
		if p.Habit == Stem { // figures that are placed twice have their nodes at one height: no two stems are as deep and as long
			deep = math.Min(p.Leaf.gap()*s.s*0.8, 9)
			o.sy *= d.Span(0.9, 1)
		}
		o.Y = p.foot(s, o.X) + d.Span(0, deep)
		if p.seat.at != nil && p.Habit != Moss {
			const near = 8.0
			o.turn = within(math.Round(math.Atan2(p.foot(s, o.X+near)-p.foot(s, o.X-near), 2*near)/deg), -24, 24)
			o.within(s)
		}
		if p.afloat(s) {
			o.Y = s.water + 0.5
			if p.Habit == Moss { // a mat grows downwards from the surface
				o.sy = -size
			}
		}
		out[i] = o
	}
	return out
}

// edges are how far left and right the figure reaches.
func (o spot) edges() (lo, hi float64) {
	b := o.fig.box
	lo, hi = math.Inf(1), math.Inf(-1)
	for _, x := range [...]float64{b.Lo.X, b.Hi.X} {
		for _, y := range [...]float64{b.Lo.Y, b.Hi.Y} {
			at := o.X + x*o.sx*math.Cos(o.turn*deg) - y*o.sy*math.Sin(o.turn*deg)
			lo, hi = math.Min(lo, at), math.Max(hi, at)
		}
	}
	return lo, hi
}

// within moves a figure inside the glass: first turned round, then shifted, at last made smaller.
func (o *spot) within(s scene) {
	const gap = 3.0
	room := s.long - 2*gap
	lo, hi := o.edges()
	if hi-lo > room {
		r := room / (hi - lo)
		o.sx, o.sy = o.sx*r, o.sy*r
		lo, hi = o.edges()
	}
	if longer := -o.fig.box.Lo.X > o.fig.box.Hi.X; o.turn == 0 && (lo < gap && longer == (o.sx > 0) || hi > s.long-gap && longer != (o.sx > 0)) {
		o.sx = -o.sx
		lo, hi = o.edges()
	}
	o.X += math.Max(0, gap-lo) - math.Max(0, hi-(s.long-gap))
}

// foot is the y on which a figure of the planting is.
func (p planting) foot(s scene, x float64) float64 {
	y := s.stand(p.Row)
	switch {
	case p.seat.at != nil:
		return y - p.seat.at(x)
	case p.FootCm > 0:
		return y - p.FootCm*s.s
	}
	return y
}

func (w *page) use(o spot, hidden bool) {
	w.put(`<use href="#`, o.fig.id, `" transform="translate(`, itoa(int(math.Round(o.X))), ` `, itoa(int(math.Round(o.Y))), `)`)
	if o.turn != 0 {
		w.put(`rotate(`, itoa(int(o.turn)), `)`)
	}
	w.put(`scale(`, hundredths(o.sx))
	if o.sx != o.sy {
		w.put(` `, hundredths(o.sy))
	}
	w.put(`)"`)
	if hidden {
		w.put(` display="none"`)
	}
	w.put(`/>`)
}

var rowClass = [...]string{Front: "d-near", Middle: "d-mid", Back: "d-back"}

// place writes what the planting sits on and its figures: those there are now, and hidden those there were before.
func (w *page) place(s scene, p planting, seed string) {
	w.put(`<g class="`, rowClass[p.Row], `">`)
	if p.seat.sketch != nil {
		w.at(0, s.stand(p.Row)+2, p.seat.sketch)
	}
	w.put(`<g`)
	p.timeline(w)
	w.put(`>`)
	now := min(p.figures(p.now()), p.want)
	if n := len(p.Past); n > 0 {
		now = min(p.figures(p.Past[n-1]), p.want)
	}
	for i, o := range p.spots(s, seed) {
		w.use(o, i >= now)
	}
	w.put(`</g></g>`)
}
