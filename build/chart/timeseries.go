package chart

import "math"

// TimeSeries is a parameter of the water over time, with what is tolerated and what is wanted: a low picture for a column of
// several, whose margins do not depend on the values. Zero values leave parts out.
type TimeSeries struct {
	Caption
	Words    Words
	Readings []Reading
	Good     Limits // what is tolerated: a pale band
	Target   *float64
	From, To int    // days to show at least, so that charts of a tank line up; 0: as the readings
	Unit     string // is on the highest tick
	Decimals int    // of values in texts and table
	Labels   CourseLabels
	Heads    CourseHeads
}

// Reading is a measured value. Below says that the test saw nothing and Value is the least that it can see.
type Reading struct {
	Day   int
	Value float64
	Below bool
}

// Limits is a range of values; not drawn where Low equals High.
type Limits struct{ Low, High float64 }

// CourseLabels are the texts beside the things in a chart of a parameter.
type CourseLabels struct {
	Name   Label // "GH": what it is, at the head
	Good   Label // "good for stargrass, 2–15"
	Target Label // "wanted, 6"
}

// CourseHeads head the columns of the table.
type CourseHeads struct{ Day, Value string }

// Draw makes the chart in both layouts; an empty picture without a reading.
func (c TimeSeries) Draw() Picture {
	if len(c.Readings) == 0 {
		return Picture{}
	}
	return Picture{c.draw(broad()).svg(), c.draw(narrow()).svg(), c.Table()}
}

// Table lists the readings as they came.
func (c TimeSeries) Table() Table {
	t := Table{Head: []Column{{c.Heads.Day, false}, {c.Heads.Value, true}}}
	for _, r := range c.Readings {
		t.Rows = append(t.Rows, []string{c.Words.Date(r.Day), c.value(r)})
	}
	return t
}

// value prints a reading as it is in the table and beside its mark.
func (c TimeSeries) value(r Reading) string {
	v := c.Words.Number(r.Value, c.Decimals)
	if r.Below {
		return "< " + v
	}
	return v
}

func (c TimeSeries) draw(l layout) *canvas {
	f := frame{words: c.Words, days: c.days(), values: c.values(), unit: c.Unit, most: 3, gutter: 58, top: 26, base: 96}
	cv := newCanvas(l, c.Caption, f.base+24)
	cv.class = "compact"
	for _, s := range c.Labels.Name.forms() {
		if cv.put(text{y: 14, class: "lab", bold: true, s: s}) {
			break
		}
	}
	p := newPlot(cv, f)
	c.drawGood(p)
	for _, r := range c.Readings {
		c.drawReading(p, r)
	}
	p.nameUnit()
	c.labelLast(p)
	if c.Target != nil {
		p.nameLine(c.Labels.Target, "lab slate", p.y.at(*c.Target))
	}
	c.labelGood(p)
	c.groundLabels(p)
	return cv
}

func (c TimeSeries) days() spread {
	var s spread
	for _, r := range c.Readings {
		s.add(float64(r.Day))
	}
	if c.From != 0 {
		s.add(float64(c.From))
	}
	if c.To != 0 {
		s.add(float64(c.To))
	}
	return s
}

// leastSpan is how much of the greatest value an axis of values spans at least (our choice).
const leastSpan = 0.2

// values is what the value axis holds: readings and target in full, and of the tolerance as much as leaves the readings
// at least a third of the height.
func (c TimeSeries) values() spread {
	var s spread
	for _, r := range c.Readings {
		s.add(snap(r.Value))
	}
	if c.Target != nil {
		s.add(snap(*c.Target))
	}
	step := math.Pow(10, -float64(min(max(c.Decimals, 0), 6)))
	if least := max(math.Abs(s.hi)*leastSpan, 2*step); s.hi-s.lo < least { // the noise of what stays the same fills no axis
		middle, positive := s.lo/2+s.hi/2, s.lo >= 0
		if s.lo, s.hi = middle-least/2, middle+least/2; positive {
			s.lo = max(s.lo, 0)
		}
	}
	room := max(s.hi-s.lo, math.Abs(s.hi)*0.1, step)
	if c.Good.Low < c.Good.High {
		g := c.Good
		lo, hi := s.lo, s.hi
		s.add(max(min(snap(g.Low), lo), lo-room), min(max(snap(g.High), hi), hi+room))
	}
	positive := s.lo >= 0
	s.lo, s.hi = s.lo-room*0.15, s.hi+room*0.15
	if positive {
		s.lo = max(s.lo, 0)
	}
	return s
}

func (c TimeSeries) drawGood(p *plot) {
	if c.Good.Low < c.Good.High {
		b := box{p.x.p0, p.y.at(c.Good.High), p.x.p1, p.y.at(c.Good.Low)}
		p.rect("good-band", b, "")
		for _, v := range []float64{c.Good.Low, c.Good.High} {
			if y := p.y.at(v); v >= p.y.lo && v <= p.y.hi { // a limit beyond the picture has no edge in it
				p.line("good-edge", b.x0, y, b.x1, y)
				p.avoid(box{b.x0, y - 1, b.x1, y + 1}, 5)
			}
		}
	}
	if c.Target != nil {
		y := p.y.at(*c.Target)
		p.line("goal", p.x.p0, y, p.x.p1, y)
		p.avoid(box{p.x.p0, y - 1, p.x.p1, y + 1}, 12)
	}
}

func (c TimeSeries) drawReading(p *plot, r Reading) {
	x, y := p.x.at(float64(r.Day)), p.y.at(r.Value)
	if !r.Below {
		p.mark(x, y)
		return
	}
	p.path("limit", "M"+n(x-4.5)+" "+n(y-3.5)+"H"+n(x+4.5)+"L"+n(x)+" "+n(y+4.5)+"Z")
	p.keepClear(box{x - 5, y - 5, x + 5, y + 5})
}

// groundLabels gives the texts that lie in the band a halo of its colour.
func (c TimeSeries) groundLabels(p *plot) {
	y0, y1 := p.y.at(c.Good.High), p.y.at(c.Good.Low)
	for i := range p.texts {
		t := &p.texts[i]
		if m := t.y - 5; t.class != "tick" && m > y0 && m < y1 {
			t.class += " inband"
		}
	}
}

// last is the latest reading; of two on a day, the one that came later.
func (c TimeSeries) last() Reading {
	r := c.Readings[0]
	for _, o := range c.Readings {
		if o.Day >= r.Day {
			r = o
		}
	}
	return r
}

// labelLast says the latest value beside its mark.
func (c TimeSeries) labelLast(p *plot) {
	r := c.last()
	x, y := p.x.at(float64(r.Day)), p.y.at(r.Value)
	t := text{class: "lab", bold: true, s: oneLine(c.value(r))}
	best := p.choose()
	for i, at := range []text{{x: x, y: y - 9, anchor: middle}, {x: p.x.p1, y: y - 9, anchor: end}, {x: x, y: y + 20, anchor: middle},
		{x: p.x.p1, y: y + 20, anchor: end}, {x: x + 8, y: y + 5}, {x: x - 8, y: y + 5, anchor: end}, {x: x - 8, y: y - 10, anchor: end},
		{x: p.x.p1, y: y - 16, anchor: end}, {x: p.x.p1, y: y + 27, anchor: end}, {x: p.x.p1, y: y - 24, anchor: end}, {x: p.x.p1, y: p.y.p1 - 4, anchor: end}} {
		t.x, t.y, t.anchor = at.x, at.y, at.anchor
		if t.y < p.y.p0-2 {
			best.offer(note{lines: []text{t}, burden: float64(2 * i)})
		}
	}
	best.put()
}

// labelGood names the band, inside it along its lower or upper edge, where no reading lies.
func (c TimeSeries) labelGood(p *plot) {
	if c.Good.Low == c.Good.High {
		return
	}
	best := p.choose()
	y0, y1 := p.y.at(c.Good.High), p.y.at(c.Good.Low)
	for i, s := range c.Labels.Good.forms() {
		for x := p.x.p0 + 4; x < p.x.p1; x += 20 {
			for j, y := range []float64{y1 - 6, y0 + 15, y0 - 6} {
				if y < p.y.p0-2 && (y1-y0 > 20 || j == 2) {
					t := text{x: x, y: y, class: "lab leaf", s: s}
					best.offer(note{lines: []text{t}, burden: float64(6*i+3*j) + (x-p.x.p0)/80})
				}
			}
		}
	}
	best.put()
}
