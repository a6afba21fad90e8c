package draw

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"slipleaf/build/leaders"
)

const flagRow = 19.0 // how far apart the lines of names are

// points are the places that names point to, in the order of the key.
func (s scene) points(key []Key, list []planting, seed string) []leaders.Leader {
	out := make([]leaders.Leader, 0, len(list))
	for i, k := range key {
		for _, p := range list {
			if p.ID != k.ID || p.FromCm != k.FromCm {
				continue
			}
			n := max(1, min(p.want, p.figures(p.now())))
			all := p.spots(s, seed)[:n]
			mid := (p.FromCm + p.ToCm) / 2 * s.s
			at := slices.MinFunc(all, func(a, b spot) int { return cmp.Compare(math.Abs(a.X-mid), math.Abs(b.X-mid)) })
			y := at.Y - 0.35*math.Abs(at.sy)*math.Max(2, -at.fig.box.Lo.Y)
			if p.afloat(s) {
				y = s.water + 2
			}
			out = append(out, leaders.Leader{Text: p.Name, X: at.X, Y: y, Row: i, Latin: p.Latin})
			break
		}
	}
	return out
}

// names writes the names on their leaders, and for narrow pages the numbers of the key; it returns how deep they
// reach, and by how much less the names do, in steps of [upStep].
func (s scene) names(w *page, key []Key, list []planting, seed string, bottom float64) (deep float64, up int) {
	points := s.points(key, list, seed)
	if len(points) == 0 {
		return bottom, 0
	}
	deep = bottom
	beside := (fullWide - s.wide) / 2 // on a wide page words may stand beside a small drawing
	named := leaders.Hang(slices.Clone(points), s.left-beside+4, s.left+s.wide+beside-4)
	for _, f := range named { // moved a little where two would share one line
		for i := range points {
			if points[i].Text == f.Text && points[i].Y == f.Y {
				points[i].X = f.X
			}
		}
	}
	s.plumbs(w, points, bottom)
	w.put(`<g class="d-names">`)
	leads := ""
	for _, f := range named {
		y := bottom + 20 + float64(f.Row)*flagRow
		leads += "M" + num(f.X) + " " + num(bottom) + "V" + num(y+2)
		x, class, text := f.Lo, "d-name", plain(f.Text)
		if f.Latin {
			class, text = "d-name d-latin", cultivar(f.Text)
		}
		if !f.Right {
			x, class = f.Hi, class+" d-end"
		}
		w.put(`<text class="`, class, `" x="`, num(x), `" y="`, num(y), `">`, text, `</text>`)
		deep = math.Max(deep, y+6)
	}
	w.leads(leads)
	always, flags := "", deep
	if len(named) == 0 {
		always = " d-always"
	}
	w.put(`</g><g class="d-nos `, s.widthClass(), always, `">`)
	size := s.wide / 25
	slices.SortStableFunc(points, func(a, b leaders.Leader) int { return cmp.Compare(a.X, b.X) })
	leads, ends := "", []float64{}
	for _, f := range points {
		row := 0
		for row < len(ends) && ends[row] > f.X-size*0.75 {
			row++
		}
		if row == len(ends) {
			ends = append(ends, 0)
		}
		ends[row] = f.X + size*0.75
		y := bottom + 6 + size*(float64(row)+0.85)
		if row > 0 {
			leads += "M" + num(f.X) + " " + num(bottom) + "V" + num(y-size*0.8)
		}
		w.put(`<text x="`, num(f.X), `" y="`, num(y), `">`, itoa(f.Row+1), `</text>`)
		deep = math.Max(deep, y+4)
	}
	w.leads(leads)
	w.put(`</g>`)
	if len(named) > 0 {
		up = min(int((deep-flags)/upStep), mostUp)
	}
	return deep, up
}

// A drawing that shows names leaves the room of the numbers below free; its class says how many steps of it.
const (
	upStep = 24
	mostUp = 2
)

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

// plumbs are the lines from the plants down to the bench, each with a pale line beside it and a dot at its head.
func (s scene) plumbs(w *page, points []leaders.Leader, bottom float64) {
	lines, dots := "", ""
	for _, f := range points {
		head := "M" + num(f.X) + " " + num(f.Y)
		lines += head + "V" + num(bottom)
		dots += head + "h0"
	}
	w.path("d-halo", lines)
	w.leads(lines)
	w.path("d-dot", dots)
	w.path("d-dot d-inner", dots)
}

func (w *page) leads(lines string) {
	if lines != "" {
		w.path("d-lead", lines)
	}
}
