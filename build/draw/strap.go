package draw

import (
	"math"
	"strconv"
)

// straps holds the specimen with three paper straps, as far from each other as its stalks allow.
func (f *figure) straps(w *page, scale float64) {
	middle := pt{(f.ground.lo.x + f.ground.hi.x) / 2, f.ground.lo.y*0.35 + f.ground.hi.y*0.65}
	var held []pt
	for range min(3, len(f.anchors)) {
		best, found := 0.0, -1
		for i, a := range f.anchors {
			away := 1 / (1 + math.Hypot(a.at.x-middle.x, a.at.y-middle.y)) // the first: near the middle
			for k, h := range held {
				d := math.Hypot(a.at.x-h.x, a.at.y-h.y)
				if k == 0 || d < away {
					away = d
				}
			}
			if away > best {
				best, found = away, i
			}
		}
		if found < 0 || len(held) > 0 && best*scale < 30 {
			return
		}
		a, off := f.anchors[found], f.pens[0].off
		held = append(held, a.at)
		turn := math.Mod(a.angle/deg+90+f.span(-8, 8), 180)
		w.put(`<rect class="d-strap" x="-21" y="-4.5" width="42" height="9" transform="translate(`, num(a.at.x*scale+off.x), ` `,
			num(a.at.y*scale+off.y), `)rotate(`, num(turn), `)"/>`)
	}
}

// scaleBar draws a bar of a round length, 50–140 units long where one is, and returns the centimetres it stands for.
func (w *page) scaleBar(scale, y float64) float64 {
	bar := 500.0
	for _, mm := range [...]float64{1, 2, 5, 10, 20, 50, 100, 200} {
		if mm*scale >= 52 {
			bar = mm
			break
		}
	}
	words := strconv.Itoa(int(bar/10)) + " cm"
	if bar < 10 {
		words = strconv.Itoa(int(bar)) + " mm"
	}
	x := plateMargin
	w.put(`<path class="d-scale" d="M`, num(x), ` `, num(y-5), `v5h`, num(bar*scale), `v-5"/><text class="d-text" x="`, num(x+bar*scale+9), `" y="`, num(y), `">`, words, `</text>`)
	return bar / 10
}
