package draw

import (
	"cmp"
	"math"
	"slices"
	"strings"
	"unicode/utf8"
)

// leader is a name at the end of its leader, or its number where the page is too narrow for names.
type leader struct {
	text   string
	x, y   float64 // where on the plant the leader begins
	row    int
	lo, hi float64 // what the words cover
	right  bool    // they stand right of the leader
	latin  bool
}

const (
	flagRow = 19.0
	// letters are estimated, not measured: the widths of a common serif's italic at 14 units, rounded up
	narrowLetter, plainLetter, wideLetter, capitalLetter = 4.4, 7.2, 11.0, 10.0
)

func textWidth(s string) float64 {
	sum := 0.0
	for _, r := range s {
		switch {
		case r < utf8.RuneSelf && (r == 'i' || r == 'j' || r == 'l' || r == 't' || r == 'f' || r == ' ' || r == '.' || r == '\''):
			sum += narrowLetter
		case r == 'm' || r == 'w' || r > 0x2E80:
			sum += wideLetter
		case r >= 'A' && r <= 'Z':
			sum += capitalLetter
		default:
			sum += plainLetter
		}
	}
	return sum
}

// meets tells whether two of them would print over each other or over the other's leader.
func (f leader) meets(g leader) bool {
	if f.row == g.row && f.lo < g.hi+10 && g.lo-10 < f.hi {
		return true
	}
	return g.row >= f.row && f.lo-4 < g.x && g.x < f.hi+4 || f.row >= g.row && g.lo-4 < f.x && f.x < g.hi+4
}

// hangAll hangs names from plumb leaders, taken from right to left: each tries the highest row first, to the right of its
// leader and then to the left; what fits nowhere takes the next row, and where the search gets long the name is left out:
// its number is in the key all the same.
func hangAll(names []leader, left, right float64) []leader {
	slices.SortStableFunc(names, func(a, b leader) int { return cmp.Compare(b.x, a.x) })
	for i := 1; i < len(names); i++ { // leaders keep apart
		names[i].x = math.Min(names[i].x, names[i-1].x-7)
	}
	tries := 4000
	var place func(i int, done []leader, rows int) []leader
	place = func(i int, done []leader, rows int) []leader {
		if i == len(names) {
			return done
		}
		f := names[i]
		w := textWidth(f.text)
		for f.row = 0; f.row < rows; f.row++ {
			for _, f.right = range [...]bool{true, false} {
				if tries--; tries < 0 {
					return nil
				}
				f.lo = f.x + 5
				if !f.right {
					f.lo = f.x - 5 - w
				}
				f.hi = f.lo + w
				if f.lo < left || f.hi > right || slices.ContainsFunc(done, f.meets) {
					continue
				}
				if out := place(i+1, append(done[:len(done):len(done)], f), rows); out != nil {
					return out
				}
			}
		}
		return nil
	}
	for rows := 1; rows <= 7; rows++ {
		tries = 4000
		if out := place(0, nil, rows); out != nil {
			return out
		}
	}
	return nil
}

// leaders are the places that names point to, in the order of the key.
func (s scene) leaders(key []Key, list []planting, seed string) []leader {
	out := make([]leader, 0, len(list))
	for i, k := range key {
		for _, p := range list {
			if p.ID != k.ID || p.FromCm != k.FromCm {
				continue
			}
			n := max(1, min(p.want, p.figures(p.now())))
			all := p.spots(s, seed)[:n]
			mid := (p.FromCm + p.ToCm) / 2 * s.s
			at := slices.MinFunc(all, func(a, b spot) int { return cmp.Compare(math.Abs(a.x-mid), math.Abs(b.x-mid)) })
			y := at.y - 0.35*math.Abs(at.sy)*math.Max(2, -at.fig.box.lo.y)
			if p.afloat(s) {
				y = s.water + 2
			}
			out = append(out, leader{text: p.Name, x: at.x, y: y, row: i, latin: p.Latin})
			break
		}
	}
	return out
}

// names writes the names on their leaders, and for narrow pages the numbers of the key; it returns how deep they reach.
func (s scene) names(w *page, key []Key, list []planting, seed string, bottom float64) float64 {
	points := s.leaders(key, list, seed)
	if len(points) == 0 {
		return bottom
	}
	deep := bottom
	beside := (fullWide - s.wide) / 2 // on a wide page words may stand beside a small drawing
	named := hangAll(slices.Clone(points), s.left-beside+4, s.left+s.wide+beside-4)
	w.put(`<g class="d-names">`)
	for _, f := range named {
		y := bottom + 20 + float64(f.row)*flagRow
		s.plumb(w, f, y+2, bottom)
		x, class, text := f.lo, "d-name", plain(f.text)
		if f.latin {
			class, text = "d-name d-latin", cultivar(f.text)
		}
		if !f.right {
			x, class = f.hi, class+" d-end"
		}
		w.put(`<text class="`, class, `" x="`, num(x), `" y="`, num(y), `">`, text, `</text>`)
		deep = math.Max(deep, y+6)
	}
	always := ""
	if len(named) == 0 {
		always = " d-always"
	}
	w.put(`</g><g class="d-nos `, s.widthClass(), always, `">`)
	size := s.wide / 25
	slices.SortStableFunc(points, func(a, b leader) int { return cmp.Compare(a.x, b.x) })
	ends := []float64{}
	for _, f := range points {
		row := 0
		for row < len(ends) && ends[row] > f.x-size*0.75 {
			row++
		}
		if row == len(ends) {
			ends = append(ends, 0)
		}
		ends[row] = f.x + size*0.75
		y := bottom + 6 + size*(float64(row)+0.85)
		s.plumb(w, f, y-size*0.8, bottom)
		w.put(`<text class="d-no" x="`, num(f.x), `" y="`, num(y), `">`, itoa(f.row+1), `</text>`)
		deep = math.Max(deep, y+4)
	}
	w.put(`</g>`)
	return deep
}

// cultivar sets what follows a quotation mark upright, as the code of nomenclature has it.
func cultivar(name string) string {
	if i := strings.IndexAny(name, "'‘"); i > 0 {
		return plain(name[:i]) + `<tspan class="d-upright">` + plain(name[i:]) + `</tspan>`
	}
	return plain(name)
}

// widthClass says how wide the drawing is, for the size of the numbers.
func (s scene) widthClass() string {
	switch s.wide {
	case 480:
		return "d-w480"
	case 680:
		return "d-w680"
	}
	return "d-w920"
}

// plumb is a plumb line from a plant to its name, with a pale line beside it inside the tank.
func (s scene) plumb(w *page, f leader, y, bottom float64) {
	x := num(f.x)
	w.path("d-halo", "M"+x+" "+num(f.y)+"V"+num(bottom))
	w.path("d-lead", "M"+x+" "+num(f.y)+"V"+num(y))
	w.put(`<circle class="d-dot" cx="`, x, `" cy="`, num(f.y), `" r="2.2"/>`)
}
