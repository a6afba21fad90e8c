package draw

import "math"

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

// mmPerInch is the international inch (exact; NIST SP 811, from memory).
const mmPerInch = 25.4

// bar is a scale bar: its length and what it is called.
type bar struct {
	mm   float64
	name string
}

// metricBars and inchBars are round lengths, shortest first. Nobody reads a twentieth of an inch, so those begin at a half.
var (
	metricBars = [...]bar{{1, "1 mm"}, {2, "2 mm"}, {5, "5 mm"}, {10, "1 cm"}, {20, "2 cm"}, {50, "5 cm"}, {100, "10 cm"}, {200, "20 cm"}, {500, "50 cm"}}
	inchBars   = [...]bar{{mmPerInch / 2, "½"}, {mmPerInch, "1"}, {2 * mmPerInch, "2"}, {4 * mmPerInch, "4"}, {8 * mmPerInch, "8"}, {20 * mmPerInch, "20"}}
)

// scaleBar draws a bar of a round length, 50–140 units long where one is (of inches: 50–178), and returns it with
// its whole name. inch is the sign of an inch; "" asks for a metric bar.
func (w *page) scaleBar(scale, y float64, inch string) bar {
	all := metricBars[:]
	if inch != "" {
		all = inchBars[:]
	}
	b := all[len(all)-1]
	for _, x := range all {
		if x.mm*scale >= 52 {
			b = x
			break
		}
	}
	if inch != "" {
		b.name += " " + inch
	}
	x := plateMargin
	w.put(`<path class="d-scale" d="M`, num(x), ` `, num(y-5), `v5h`, num(b.mm*scale), `v-5"/><text class="d-text" x="`, num(x+b.mm*scale+9), `" y="`, num(y), `">`, plain(b.name), `</text>`)
	return b
}
