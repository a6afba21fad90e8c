package draw

import (
	"html/template"
	"math"
	"slices"
	"strconv"
	"strings"
)

// maxMoments is how many moments are kept for the slider.
const maxMoments = 36

// grown is how tall a stage is, as a share of the figure drawn.
func (p planting) grown(g Stage) float64 {
	if g.HeightCm <= 0 {
		return 1
	}
	return within(g.HeightCm/p.HeightCm, 0.25, 1.15)
}

// timeline writes what the planting was at each moment, for the slider: how many figures, and how tall in hundredths where
// that was not always the same.
func (p planting) timeline(w *page) {
	if len(p.Past) == 0 {
		return
	}
	var n, tall []string
	for _, g := range p.Past {
		n = append(n, itoa(min(p.figures(g), p.want)))
		tall = append(tall, itoa(int(math.Round(100*math.Min(1, p.grown(g))))))
	}
	w.put(` data-n="`, strings.Join(n, " "), `"`)
	if len(slices.Compact(slices.Clone(tall))) > 1 {
		w.put(` data-tall="`, strings.Join(tall, " "), `"`)
	}
}

// shown are the moments of the stills: the first, two between, now.
func shown(n int) []int {
	if n < 2 {
		return nil
	}
	out := []int{0}
	for _, i := range [...]int{(n - 1) / 3, (n - 1) * 2 / 3, n - 1} {
		if i > out[len(out)-1] {
			out = append(out, i)
		}
	}
	return out
}

// usesOfStill is how many figures one still shows.
const usesOfStill = 40

// stills draw the tank at some moments with the figures of the large drawing.
func (s scene) stills(e Elevation, list []planting) (out []template.HTML, which []int) {
	which = shown(s.moments)
	for n, m := range which {
		w := new(page)
		id := s.id + "-m" + strconv.Itoa(n)
		top := math.Min(s.top, -4)
		w.open("d-still", id, -6, top, s.long+12, s.deep+8-top, e.Moments[m], "")
		s.box(w)
		s.still(w, list, m, e.Seed)
		s.glass(w)
		w.put(`</svg>`)
		out = append(out, template.HTML(w.String())) // all strings are escaped by plain and name
	}
	return out, which
}

func (s scene) still(w *page, list []planting, m int, seed string) {
	all := 0
	for _, p := range list {
		all += p.figures(p.Past[m])
	}
	for i, p := range list {
		if p.Row == Front && (i == 0 || list[i-1].Row != Front) {
			s.layersOf(w)
		}
		n := min(p.want, p.figures(p.Past[m]))
		if all > usesOfStill && n > 1 {
			n = max(1, n*usesOfStill/all)
		}
		if n == 0 {
			continue
		}
		g := math.Min(1, p.grown(p.Past[m]))
		w.put(`<g class="`, rowClass[p.Row], `">`)
		for _, o := range p.spots(s, seed)[:n] {
			o.sx, o.sy = o.sx*g, o.sy*g
			w.use(o, false)
		}
		w.put(`</g>`)
	}
	if len(list) == 0 || list[len(list)-1].Row != Front {
		s.layersOf(w)
	}
}
