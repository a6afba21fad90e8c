package chart

import (
	"math"
	"slices"
)

// draw makes one layout. Things come in the order in which they are painted; texts that must stand where they are come
// before those that can move.
func (g Growth) draw(l layout) *canvas {
	base, rows := 276.0, 0.0
	if l.isNarrow() {
		base = 282
	}
	if len(g.Changes) > 0 {
		rows++
	}
	if g.Today != 0 {
		rows++
	}
	c := newCanvas(l, g.Caption, base+24+20*rows)
	p := newPlot(c, frame{words: g.Words, days: g.days(), values: g.sizes(), log: g.logarithmic(), unit: g.Unit, whole: g.Whole, most: 4, top: g.headroom(base), base: base})
	g.drawBands(p)
	g.drawWindow(p)
	g.drawRuns(p)
	g.drawCounts(p)
	y := base + 39
	if len(g.Changes) > 0 {
		g.drawChanges(p, y)
		y += 20
	}
	if g.Today != 0 {
		p.today(g.Today, g.Labels.Today, y-1)
	}
	p.nameUnit()
	g.labelWindow(p)
	g.labelGoal(p)
	g.labelScale(p)
	g.labelCounts(p)
	g.labelRuns(p)
	g.labelMarks(p)
	return c
}

// headroom is where the plot ends above: so that two lines fit over the goal, or over a window without one.
func (g Growth) headroom(base float64) float64 {
	const usual, lines = 18, 50
	switch {
	case g.Goal > 0:
		v := g.sizes()
		high := axis{v.lo, v.hi, 0, 1, g.logarithmic()}.at(g.Goal) // how high the goal is in the plot
		return max(usual, base-(base-lines)/max(high, 0.1))
	case g.hasWindow():
		return lines
	}
	return usual
}

func (g Growth) curves() [][]CurvePoint { return append(slices.Clone(g.Runs), g.Ahead) }

func (g Growth) days() spread {
	var s spread
	for _, c := range g.Counts {
		s.add(float64(c.Day))
	}
	for _, c := range g.Changes {
		s.add(float64(c.Day))
	}
	for _, run := range g.curves() {
		for _, q := range run {
			s.add(q.Day)
		}
	}
	if g.hasWindow() {
		s.add(float64(g.Window.From), float64(g.Window.To))
	}
	if g.Today != 0 {
		s.add(float64(g.Today))
	}
	return s
}

// logarithmic reports whether the sizes stand by their logarithm: not where all are 0, or where they span so little that a plain axis shows them better.
func (g Growth) logarithmic() bool {
	var s spread
	for _, c := range g.Counts {
		if c.Size >= smallest {
			s.add(c.Size)
		}
	}
	return s.some && s.hi >= leastFactor*s.lo
}

// leastFactor is the factor between the least and the greatest size from which an axis is logarithmic (our choice).
const leastFactor = 3

// sizes is what the value axis holds: counts, fit and goal in full, of the intervals as much as leaves the rest large.
func (g Growth) sizes() spread {
	var core, wide spread
	log := g.logarithmic()
	add := func(s *spread, v float64) {
		if v = snap(v); v > 0 || !log {
			s.add(v)
		}
	}
	for _, c := range g.Counts {
		add(&core, c.Size)
	}
	for _, run := range g.curves() {
		for _, q := range run {
			add(&core, q.Size)
			add(&wide, q.Low)
			add(&wide, q.High)
		}
	}
	if g.Goal > 0 {
		add(&core, g.Goal)
	}
	if !log {
		core.add(0)
		core.hi = max(core.hi*1.04, min(wide.hi, core.hi*1.25))
		if core.hi == 0 {
			core.hi = 1
		}
		return core
	}
	core.lo = max(core.lo, core.hi/1e6)
	lo, hi := core.lo*0.9, core.hi*1.1
	if wide.some {
		lo, hi = min(lo, max(wide.lo, core.lo/1.6)), max(hi, min(wide.hi, core.hi*1.4))
	}
	return spread{lo, hi, true}
}

func (g Growth) drawWindow(p *plot) {
	top := p.y.p1
	if g.Goal > 0 {
		top = p.y.at(g.Goal)
	}
	if g.hasWindow() {
		b := box{p.x.at(float64(g.Window.From)), top, p.x.at(float64(g.Window.To)), p.y.p0}
		b.x1 = max(b.x1, b.x0+3)
		p.rect("window", b, p.hatch())
		p.avoid(b, 12)
	}
	if g.Goal > 0 {
		p.line("goal", p.x.p0, top, p.x.p1, top)
		p.avoid(box{p.x.p0, top - 1, p.x.p1, top + 1}, 12)
	}
}

// drawBands draws the intervals; ahead, what lies above the goal says nothing, for it is cut there.
func (g Growth) drawBands(p *plot) {
	for _, run := range g.Runs {
		p.band("band", run)
	}
	haze := slices.Clone(g.Ahead)
	for i := range haze {
		if g.Goal > 0 {
			haze[i].Low, haze[i].High = min(haze[i].Low, g.Goal), min(haze[i].High, g.Goal)
		}
	}
	p.band("haze", haze)
}

func (g Growth) drawRuns(p *plot) {
	for i, run := range g.Runs {
		p.curve("fit", run)
		if i > 0 {
			g.drop(p, g.Runs[i-1], run)
		}
	}
	p.curve("ahead", g.Ahead)
}

// drop ties the end of a run to the start of the next one, where a cut parts them on one day.
func (g Growth) drop(p *plot, before, after []CurvePoint) {
	if len(before) == 0 || len(after) == 0 {
		return
	}
	a, b := before[len(before)-1], after[0]
	if math.Abs(a.Day-b.Day) > 0.5 {
		return
	}
	x := p.x.at(b.Day)
	p.line("drop", x, p.y.at(a.Size), x, p.y.at(b.Size))
	p.avoidLine(x, p.y.at(a.Size), x, p.y.at(b.Size), 3)
}

func (g Growth) drawCounts(p *plot) {
	for _, c := range g.Counts {
		x := p.x.at(float64(c.Day))
		if snap(c.Size) == 0 {
			p.path("nil", cross(x, p.y.p0, 4))
			p.keepClear(box{x - 4, p.y.p0 - 4, x + 4, p.y.p0 + 4})
			continue
		}
		p.mark(x, p.y.at(c.Size))
	}
}

// cross is the path of a cross with arms of r.
func cross(x, y, r float64) string {
	return "M" + n(x-r) + " " + n(y-r) + "L" + n(x+r) + " " + n(y+r) + "M" + n(x-r) + " " + n(y+r) + "L" + n(x+r) + " " + n(y-r)
}

// drawChanges puts the ticks on the base line and the marks under them; where two marks would touch, the later stays.
func (g Growth) drawChanges(p *plot, y float64) {
	base := p.y.p0
	for i := len(g.Changes) - 1; i >= 0; i-- {
		c := g.Changes[i]
		x := p.x.at(float64(c.Day))
		class, voice := "trim", "lab clay"
		switch c.Kind {
		case Planted:
			class, voice = "planted", "lab leaf"
			p.path(class, "M"+n(x)+" "+n(base+4)+"V"+n(base-8)+"M"+n(x-4)+" "+n(base-8)+"H"+n(x+4)+"L"+n(x)+" "+n(base-15)+"Z")
		case Lost:
			class = "lost"
			p.path(class, "M"+n(x)+" "+n(base+4)+"V"+n(base-7)+cross(x, base-11, 4))
		default:
			p.line(class, x, base+4, x, base-12)
		}
		p.keepClear(box{x - 5, base - 16, x + 5, base})
		p.put(text{x: x, y: y, anchor: middle, class: voice, s: oneLine(c.Mark)})
	}
	for _, s := range g.Labels.Changes.forms() {
		t := text{y: y, class: "lab clay", s: s}
		at := [3]text{t, t, t}
		at[0].x, at[0].anchor = p.x.p0-7, end
		at[2].x, at[2].anchor = p.width, end
		if p.putFirst(at[:]...) {
			return
		}
	}
}
