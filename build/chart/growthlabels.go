package chart

import (
	"math"
	"strings"
)

// labelWindow says what is ahead and when: above the window, else beside it.
func (g Growth) labelWindow(p *plot) {
	if !g.hasWindow() {
		return
	}
	best := p.choose()
	left, right := p.x.at(float64(g.Window.From)), p.x.at(float64(g.Window.To))
	middle := (left + right) / 2
	for i, lines := range g.windowForms() {
		for _, t := range []text{{x: p.x.p1, anchor: end}, {x: right, anchor: end}, {x: left}, {x: left - 8, anchor: end}, {x: right + 8}, {x: p.x.p0 + 4}} {
			far := max(middle-t.x, t.x-middle) / 20
			beside := t.x < left || t.x > right && t.anchor == start
			t.y = g.top(p) - 8
			best.offer(stack(lines, t, float64(8*i)+far))
			for dy := 22.0; beside && dy < 200; dy += 24 {
				t.y = g.top(p) + dy + lineStep
				best.offer(stack(lines, t, float64(8*i)+far+6+dy/20))
			}
		}
	}
	best.put()
}

// windowForms are the texts of the window from the longest to the shortest: two lines, else the days alone.
func (g Growth) windowForms() (forms [][]text) {
	what, days := g.Labels.Forecast.forms(), g.Labels.Window.forms()
	for i := range max(len(what), len(days)) {
		var lines []text
		if i < len(what) {
			lines = append(lines, text{class: "lab slate", s: what[i]}.measured())
		}
		if len(days) > 0 {
			lines = append(lines, text{class: "lab slate", bold: true, s: days[min(i, len(days)-1)]}.measured())
		}
		forms = append(forms, lines)
	}
	if len(days) > 0 {
		forms = append(forms, []text{{class: "lab slate", bold: true, s: days[len(days)-1]}})
	}
	return forms
}

// stack sets lines one under the other, the last at t.
func stack(lines []text, t text, burden float64) note {
	o := note{burden: burden}
	for i, l := range lines {
		l.x, l.anchor = t.x, t.anchor
		l.y = t.y - lineStep*float64(len(lines)-1-i)
		o.lines = append(o.lines, l)
	}
	return o
}

// top is where the goal line is, or the upper end of the plot without one.
func (g Growth) top(p *plot) float64 {
	if g.Goal > 0 {
		return p.y.at(g.Goal)
	}
	return p.y.p1
}

// labelGoal names the goal line, above it where there is room, on the left by choice.
func (g Growth) labelGoal(p *plot) {
	if g.Goal == 0 {
		return
	}
	p.nameLine(g.Labels.Goal, "lab slate", p.y.at(g.Goal))
}

// labelScale says by which factor one line is above the other, on one of the lower lines.
func (g Growth) labelScale(p *plot) {
	if p.factor == 0 {
		return
	}
	says := func(s string) string { return strings.ReplaceAll(s, "{n}", g.Words.Number(p.factor, 0)) }
	p.nameLine(Label{says(g.Labels.Scale.Long), says(g.Labels.Scale.Short)}, "lab", p.second)
}

// nameLine puts a label on a level line at y: above or below, anywhere along it.
func (p *plot) nameLine(name Label, class string, y float64) {
	best := p.choose()
	for i, s := range name.forms() {
		t := text{class: class, s: s}.measured()
		for x := p.x.p0 + 3; x < p.x.p1; x += 24 {
			far := float64(6*i) + (x-p.x.p0)/60
			for _, dy := range []float64{-8, 18, -24} {
				t.x, t.y = x, y+dy
				best.offer(note{lines: []text{t}, burden: far + max(dy, -dy)/8})
			}
		}
	}
	best.put()
}

// labelCounts hangs a text on one of the counts, labelRuns one on the fitted line.
func (g Growth) labelCounts(p *plot) {
	var at []spot
	for _, i := range sample(len(g.Counts)) {
		c := g.Counts[i]
		if snap(c.Size) > 0 {
			at = append(at, spot{p.x.at(float64(c.Day)), p.y.at(c.Size)})
		}
	}
	p.hang(g.Labels.Count, "lab", at, 6)
}

func (g Growth) labelRuns(p *plot) {
	var at []spot
	counts := g.spots(p)
	for _, i := range sample(len(g.Runs)) {
		if s, ok := p.clearOf(counts, g.Runs[i]); ok {
			at = append(at, s)
		}
	}
	p.hang(g.Labels.Fit, "lab leaf", at, 3)
}

// labelMarks says what the shapes on the base line mean, each once.
func (g Growth) labelMarks(p *plot) {
	var planted, lost, none []spot
	for _, c := range g.Changes {
		at := spot{p.x.at(float64(c.Day)), p.y.p0 - 16}
		switch c.Kind {
		case Planted:
			planted = append(planted, at)
		case Lost:
			lost = append(lost, at)
		}
	}
	for _, c := range g.Counts {
		if snap(c.Size) == 0 {
			none = append(none, spot{p.x.at(float64(c.Day)), p.y.p0 - 4})
		}
	}
	p.hang(g.Labels.Planted, "lab leaf", planted, 2)
	p.hang(g.Labels.Lost, "lab clay", lost, 2)
	p.hang(g.Labels.None, "lab", none, 2)
}

// spots is where the counts stand.
func (g Growth) spots(p *plot) []spot {
	at := make([]spot, len(g.Counts))
	for i, c := range g.Counts {
		at[i] = spot{p.x.at(float64(c.Day)), p.y.at(c.Size)}
	}
	return at
}

// clearOf is the place on the inner part of a run that is farthest from any count, so that what is said of the line is
// not taken to be said of a dot.
func (p *plot) clearOf(counts []spot, run []CurvePoint) (best spot, ok bool) {
	var widest float64
	for k := 4.0; k < 17; k++ {
		s, onLine := p.along(run, k/20)
		nearest := math.Inf(1)
		for _, c := range counts {
			nearest = min(nearest, math.Hypot(c.x-s.x, c.y-s.y))
		}
		if onLine && nearest > widest {
			best, widest, ok = s, nearest, true
		}
	}
	return best, ok
}

// along is the place at a share of a line's days.
func (p *plot) along(run []CurvePoint, share float64) (spot, bool) {
	for i := 1; i < len(run); i++ {
		a, b := run[i-1], run[i]
		day := run[0].Day + float64(share*(run[len(run)-1].Day-run[0].Day))
		if day > a.Day && day <= b.Day {
			f := (day - a.Day) / (b.Day - a.Day)
			x0, y0, x1, y1 := p.x.at(a.Day), p.y.at(a.Size), p.x.at(b.Day), p.y.at(b.Size)
			return spot{x0 + float64(f*(x1-x0)), y0 + float64(f*(y1-y0))}, true
		}
	}
	return spot{}, false
}

// sample picks at most eight of 0..count-1, evenly.
func sample(count int) (picked []int) {
	const most = 8
	step := max((count+most-1)/most, 1)
	for i := 0; i < count; i += step {
		picked = append(picked, i)
	}
	return picked
}

// hang ties a label to the one of the spots at which it disturbs least; gap keeps the line off the mark itself.
func (p *plot) hang(name Label, class string, at []spot, gap float64) {
	best := p.choose()
	for i, s := range name.forms() {
		t := text{class: class, s: s}.measured()
		for _, a := range at {
			for _, dy := range []float64{30, 46, 66, 90, 120, -20, -36, -56, -80} {
				y, from := a.y+dy, a.y+gap
				if dy < 0 {
					from = a.y - gap
				}
				if y > p.y.p0-18 || y < ascent+2 {
					continue
				}
				for _, dx := range []float64{-4, -30, 16, -70, 36, -110} {
					t.x, t.y = max(a.x+dx, p.x.p0+3), y
					best.offer(note{lines: []text{t}, x: a.x, y: from, tied: true, burden: float64(6*i) + (max(dy, -dy)+max(dx, -dx))/30})
				}
			}
		}
	}
	best.put()
}
