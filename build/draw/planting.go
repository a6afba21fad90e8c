package draw

import (
	"math"
	"slices"
	"strconv"
)

// planting is one plant's figures, ready to be placed.
type planting struct {
	Plant
	index int
	want  int // figures to place
	level int // of detail
	defs  string
	ids   []string
}

// levels of detail, finest first.
var levels = [...]detail{
	{leaves: 46, pieces: 2, pairs: 4, veins: true, side: true, variants: 3},
	{leaves: 40, pieces: 2, pairs: 3, veins: true, variants: 3},
	{leaves: 34, pieces: 1, pairs: 3, veins: true, variants: 3},
	{leaves: 34, pieces: 1, pairs: 3, variants: 2},
	{leaves: 26, pieces: 1, pairs: 2, variants: 2},
	{leaves: 26, pieces: 1, pairs: 2, variants: 1},
	{leaves: 18, pieces: 1, pairs: 2, variants: 1},
	{leaves: 18, pieces: 1, pairs: 2, variants: 1, whole: true},
	{leaves: 13, pieces: 1, pairs: 1, variants: 1, whole: true},
	{leaves: 9, pieces: 1, pairs: 1, variants: 1, whole: true},
	{leaves: 6, pieces: 1, pairs: 1, variants: 1, whole: true},
	{leaves: 4, pieces: 1, pairs: 1, variants: 1, whole: true},
	{leaves: 9, pieces: 1, pairs: 0, variants: 1, whole: true},
	{leaves: 6, pieces: 1, pairs: 0, variants: 1, whole: true},
}

// plantings are the scene's first 30, back row first, so that the front covers it. Their figures together fit the room
// in bytes: whichever planting weighs most gives up a level of detail until they do.
func (s scene) plantings(seed string, room int) []planting {
	list := make([]planting, 0, maxPlants)
	all := 0
	for i, p := range s.plants[:min(len(s.plants), maxPlants)] {
		list = append(list, planting{Plant: p, index: i, want: p.figures()})
		all += list[i].want
	}
	uses := 130 - 2*len(list)
	for i := range list {
		if all > uses {
			list[i].want = max(1, list[i].want*uses/all)
		}
		list[i].level = len(list) / 6 // where many plants end anyhow
		list[i].define(s, seed)
		room -= len(list[i].defs) + (list[i].want+1)*(useBytes+len(s.id))
	}
	for room < 0 {
		i := heaviest(list)
		if i < 0 {
			break
		}
		before := len(list[i].defs)
		list[i].level++
		list[i].define(s, seed)
		room += before - len(list[i].defs)
	}
	slices.SortStableFunc(list, func(a, b planting) int { return int(b.Row) - int(a.Row) })
	return list
}

// useBytes is the most that one <use> takes, its id's prefix not counted.
const useBytes = 66

// heaviest is the planting that weighs most of those that can be made lighter, -1 if there is none.
func heaviest(list []planting) int {
	found := -1
	for i, p := range list {
		if p.level+1 < len(levels) && (found < 0 || len(p.defs) > len(list[found].defs)) {
			found = i
		}
	}
	return found
}

// figures is how many figures stand for the planting, 1–48.
func (p Plant) figures() int {
	n := 1
	switch {
	case p.Count > 0:
		n = p.Count
	case p.Leaves > 0:
		n = int(math.Ceil(float64(p.Leaves) / p.leavesEach()))
	case p.Cover > 0:
		n = int(math.Ceil(p.Cover * (p.ToCm - p.FromCm) / p.footprint() * 1.6))
	}
	return max(1, min(n, 48))
}

func (p Plant) leavesEach() float64 {
	switch p.Habit {
	case Rhizome:
		return 9
	case Stem:
		return 16
	}
	return 8
}

// footprint is how wide one figure is, cm.
func (p Plant) footprint() float64 {
	switch p.Habit {
	case Stem:
		return math.Max(1, p.Leaf.LengthCm)
	case Carpet, Moss:
		return math.Max(0.8, p.HeightCm*0.8)
	case Floating:
		return math.Max(0.5, p.Leaf.LengthCm*2)
	}
	return math.Max(2, p.HeightCm*0.8)
}

// form is what the planting's figures are drawn from. count is set if leaves were counted and one figure shows them.
func (p planting) form(s scene) form {
	fm := form{habit: p.Habit, leaf: p.Leaf, height: p.HeightCm * 10}
	switch {
	case s.wet && p.Habit == Floating:
		fm.column = math.Max(4, s.ground-s.water)
	case s.wet && p.Afloat:
		fm.rooted = p.Habit != Moss
	case s.wet:
		fm.column = math.Max(4, s.ground-s.water-p.FootCm*10)
	}
	if p.Leaves > 0 && p.Count == 0 && p.Habit != Stem {
		fm.count = max(2, p.Leaves/p.want)
	}
	// A rhizome's leaves are as tall as the plant; short plants have short leaves.
	if most := fm.height * 1.05; p.Habit != Stem && p.Habit != Floating && (p.Leaf.LengthCm+p.Leaf.PetioleCm)*10 > most {
		k := most / ((p.Leaf.LengthCm + p.Leaf.PetioleCm) * 10)
		fm.leaf.LengthCm *= k
		fm.leaf.PetioleCm *= k
		fm.leaf.WidthCm *= math.Sqrt(k)
	}
	return fm
}

// define draws the planting's figures at its level.
func (p *planting) define(s scene, seed string) {
	w, fine := new(page), levels[p.level]
	p.ids = nil
	for v := range min(fine.variants, p.want) {
		f := newFigure(seeded(seed, p.ID, strconv.Itoa(v)), fine, 1, pt{})
		f.least = 0.8 + s.length/900
		f.grow(p.form(s))
		id := s.id + strconv.Itoa(p.index) + string(rune('a'+v))
		w.put(`<g id="`, id, `">`)
		w.paths(f)
		w.put(`</g>`)
		p.ids = append(p.ids, id)
	}
	p.defs = w.String()
}

// place writes the uses of a planting's figures, strewn evenly over its ground.
func (w *page) place(s scene, p planting, seed string) {
	d := seeded(seed, p.ID, "place")
	class := p.Leaf.Tint.class()
	if p.Row == Back {
		class += " d-pale"
	}
	foot := s.ground - p.FootCm*10
	hang := 1.0
	if p.Habit == Floating || p.Afloat && s.wet {
		foot = s.water
	}
	if p.Afloat && s.wet && p.Habit == Moss { // a mat grows downwards from the surface
		hang = -1
	}
	bends := s.wet && p.HeightCm*10 > s.ground-s.water-p.FootCm*10
	w.put(`<g class="`, class, `">`)
	for _, i := range order(p.want) {
		width := (p.ToCm - p.FromCm) * 10
		t := (float64(i) + 0.5 + d.span(-0.36, 0.36)) / float64(p.want)
		size := d.span(0.86, 1)
		if bends {
			size = 1
		}
		hop := d.span(-1, 1) * math.Min(8, p.FootCm*2.5) // on wood and stone no two sit level
		w.use(p.ids[int(d.next()%uint64(len(p.ids)))], p.FromCm*10+width*t, foot+hop, d.side()*size, hang*size)
	}
	w.put(`</g>`)
}

// order is 0…n-1 with every second one first: those stand behind the others.
func order(n int) []int {
	var out []int
	for _, from := range [...]int{1, 0} {
		for i := from; i < n; i += 2 {
			out = append(out, i)
		}
	}
	return out
}

func (w *page) use(id string, x, y, sx, sy float64) {
	w.put(`<use href="#`, id, `" transform="translate(`, num(x), ` `, num(y), `)scale(`, hundredths(sx))
	if sx != sy {
		w.put(` `, hundredths(sy))
	}
	w.put(`)"/>`)
}

func hundredths(v float64) string { return strconv.FormatFloat(math.Round(v*100)/100, 'f', -1, 64) }
