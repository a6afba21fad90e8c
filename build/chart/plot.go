package chart

import "math"

// plot is a canvas with a value axis on the left and a time axis at the foot.
type plot struct {
	*canvas
	x, y  axis
	words Words

	unit   text    // that is too long for the margin: set by nameUnit when all marks are known
	factor float64 // from one tick of a logarithmic axis to the next; 0 where it is not the same throughout
	second float64 // where the second tick is
}

// frame is what a plot needs to know before it is drawn.
type frame struct {
	words     Words
	days      spread // what the time axis holds
	values    spread // what the value axis holds
	log       bool
	unit      string
	whole     bool // it counts things: no tick between two of them
	most      int  // ticks on the value axis
	gutter    float64
	top, base float64
}

// newPlot sets the scales, and draws grid, axes and the names on them.
func newPlot(c *canvas, f frame) *plot {
	p := &plot{canvas: c, words: f.words}
	p.y = axis{f.values.lo, f.values.hi, f.base, f.top, f.log}
	ticks := linearTicks(f.values.lo, f.values.hi, f.most)
	if f.log {
		ticks = logTicks(f.values.lo, f.values.hi, f.most)
	}
	if f.whole {
		ticks = wholeTicks(ticks)
	}
	if f.log && len(ticks) > 1 {
		p.factor, p.second = factorOf(ticks), p.y.at(ticks[1].v)
	}
	names := make([]string, len(ticks))
	widest := f.gutter
	for i, k := range ticks {
		names[i] = f.words.Number(k.v, k.decimals)
		widest = max(widest, textWidth(names[i])+8)
	}
	unit := oneLine(f.unit)
	top := names[len(names)-1] + " " + unit
	within := textWidth(top)+8 <= max(c.width/6, 78)
	if within && unit != "" {
		widest = max(widest, textWidth(top)+8)
		names[len(names)-1] = top
	}
	p.x = p.timeScale(f.days, math.Ceil(widest))
	for i, k := range ticks {
		p.valueTick(p.y.at(k.v), names[i])
	}
	if !within && unit != "" {
		p.unit = text{x: p.x.p0 + 3, y: p.y.at(ticks[len(ticks)-1].v) - 4, class: "tick", s: fitTo(unit, p.x.p1-p.x.p0-6)}
	}
	p.timeAxis()
	return p
}

// wholeTicks leaves out what lies between two whole numbers, if that leaves any.
func wholeTicks(ticks []valueTick) []valueTick {
	var out []valueTick
	for _, k := range ticks {
		if r := math.Round(k.v); math.Abs(k.v-r) < 1e-9 {
			out = append(out, valueTick{r, 0})
		}
	}
	if len(out) == 0 {
		return ticks
	}
	return out
}

// timeScale leaves a little room at both ends, and shows a week at least.
func (p *plot) timeScale(days spread, left float64) axis {
	spare := max((days.hi-days.lo)*0.015, (7-(days.hi-days.lo))/2)
	return axis{days.lo - spare, days.hi + spare, left, p.width - 4, false}
}

func (p *plot) valueTick(y float64, name string) {
	if n(y) != n(p.y.p0) {
		p.line("grid", p.x.p0, y, p.x.p1, y)
	}
	p.put(text{x: p.x.p0 - 7, y: y + 4, anchor: end, class: "tick", s: name})
}

// nameUnit puts a unit that is too long for the margin on the inner side of the axis, on the highest tick or as near to that as
// the marks leave room; above the plot where they leave none.
func (p *plot) nameUnit() {
	if p.unit.s == "" {
		return
	}
	best, t := p.choose(), p.unit.measured()
	for _, y := range []float64{t.y, t.y + 20, p.y.p1 - 6} {
		for x := t.x; x+t.width <= p.x.p1; x += 16 {
			at := t
			at.x, at.y = x, y
			best.offer(note{lines: []text{at}, burden: (x-t.x)/10 + math.Abs(y-t.y)})
		}
	}
	best.put()
}

// keepClear notes a mark that no text may lie on.
func (p *plot) keepClear(b box) { p.avoid(b, tooMuch) }

func (p *plot) timeAxis() {
	base := p.y.p0
	p.line("axis", p.x.p0, base, p.x.p1, base)
	most := 8
	if p.isNarrow() {
		most = 6
	}
	ticks, long := dayTicks(p.x.lo, p.x.hi, p.x.p1-p.x.p0, most, p.words)
	for _, t := range ticks {
		x := p.x.at(float64(t.day))
		p.line("axis", x, base, x, base+5)
		names := []string{t.short}
		if long {
			names = []string{t.long, t.short}
		}
		for _, s := range names {
			name := text{x: x + 3, y: base + 18, class: "tick", s: oneLine(s)}
			if t.under {
				name.x, name.anchor = x, middle
			}
			if p.putFirst(name, name.inward(p.width)) {
				break
			}
		}
	}
}

// curve draws a line through points; those that lie within a fraction of a unit of it are left out.
func (p *plot) curve(class string, points []CurvePoint) {
	at := make([]spot, len(points))
	for i, q := range points {
		at[i] = spot{p.x.at(q.Day), p.y.at(q.Size)}
	}
	at = thin(at)
	if len(at) > 1 {
		p.path(class, "M"+spots(at))
	}
	for i := 1; i < len(at); i++ {
		p.avoidLine(at[i-1].x, at[i-1].y, at[i].x, at[i].y, 4)
	}
}

// band draws the area between the limits of points that have an interval.
func (p *plot) band(class string, points []CurvePoint) {
	var over, under []spot
	for _, q := range points {
		if q.Low < q.High {
			over = append(over, spot{p.x.at(q.Day), p.y.at(q.High)})
			under = append(under, spot{p.x.at(q.Day), p.y.at(q.Low)})
		}
	}
	if len(over) < 2 {
		return
	}
	under = thin(under)
	for i, j := 0, len(under)-1; i < j; i, j = i+1, j-1 {
		under[i], under[j] = under[j], under[i]
	}
	over = thin(over)
	p.path(class, "M"+spots(append(over, under...))+"Z")
	for _, s := range append(over, under...) {
		p.avoid(box{s.x - 2, s.y - 2, s.x + 2, s.y + 2}, 1)
	}
}

// mark draws a count.
func (p *plot) mark(x, y float64) {
	p.circle("pt", x, y, 3.6)
	p.keepClear(box{x - 4, y - 4, x + 4, y + 4})
}

// today marks the day on the base line and names it in the row whose text is at y.
func (p *plot) today(day int, name Label, y float64) {
	x, base := p.x.at(float64(day)), p.y.p0
	p.line("now", x, base-14, x, base+4)
	p.avoid(box{x - 1, base - 14, x + 1, base}, 5)
	placed := false
	for _, s := range name.forms() {
		for _, at := range []text{{x: x, anchor: middle}, {x: p.width, anchor: end}, {x: 0, anchor: start}} {
			at.y, at.class, at.s = y, "lab", s
			placed = placed || p.put(at)
		}
	}
	if !placed {
		return
	}
	p.lead(x, base+6, y-ascent-1)
}

// lead draws a thin upright line from y0 down to y1, with gaps where it would cross a text.
func (p *plot) lead(x, y0, y1 float64) {
	from := y0
	for y := y0; y <= y1; y++ {
		at := box{x - 2, y - 0.5, x + 2, y + 0.5}
		blocked := false
		for _, t := range p.texts {
			blocked = blocked || t.box().meets(at)
		}
		if blocked || y+1 > y1 {
			if y-from > 3 {
				p.line("lead", x, from, x, y-1)
			}
			from = y + 1
		}
	}
}
