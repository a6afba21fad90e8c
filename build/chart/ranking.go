package chart

import (
	"math"
	"strings"
)

// Ranking sets rows side by side on one scale, each with its value, its interval and how many stand behind it. The
// caller sorts. The scale starts at 0 where no value lies below.
type Ranking struct {
	Caption
	Words    Words
	Rows     []Ranked
	Unit     string // is on the highest tick
	Decimals int
	Heads    RankingHeads
}

// Ranked is a row. Low equals High where there is no interval. N is left out where it is 0.
type Ranked struct {
	Name             string
	Latin            bool   // a scientific name, set in italics
	Where            string // is behind the name, after a comma; "" for nothing
	Value, Low, High float64
	N                int
}

// RankingHeads head the columns of the table; N is also the word before the number in the picture ("n").
type RankingHeads struct{ Name, Value, Interval, N string }

// Draw makes the chart in both layouts; an empty picture without a row.
func (r Ranking) Draw() Picture {
	if len(r.Rows) == 0 {
		return Picture{}
	}
	return Picture{r.draw(broad()).svg(), r.draw(narrow()).svg(), r.Table()}
}

// Table lists the rows with their intervals.
func (r Ranking) Table() Table {
	t := Table{Head: []Column{{r.Heads.Name, false}, {r.Heads.Value, true}, {r.Heads.Interval, true}, {r.Heads.N, true}}}
	for _, o := range r.Rows {
		value, interval, count := r.figures(o)
		t.Rows = append(t.Rows, []string{o.full(), value, interval, count})
	}
	return t
}

// full is the name with the place behind it.
func (o Ranked) full() string {
	if o.Where == "" {
		return o.Name
	}
	return o.Name + ", " + o.Where
}

// shared is how many bytes two texts begin with alike.
func shared(a, b string) int {
	for i, r := range a {
		if !strings.HasPrefix(b[min(i, len(b)):], string(r)) {
			return i
		}
	}
	return len(a)
}

func (r Ranking) figures(o Ranked) (value, interval, count string) {
	if o.N > 0 {
		count = r.Words.Number(float64(o.N), 0)
	}
	if o.Low < o.High {
		interval = r.Words.span(o.Low, o.High, r.Decimals)
	}
	return r.Words.Number(o.Value, r.Decimals), interval, count
}

// grid of a ranking: where its columns stand.
type columns struct {
	step, first float64 // height of a row, middle of the first
	name        float64 // width of the names
	above       bool    // the names stand above their rows, not left of them
	x           axis
	values      float64 // where the values end; the numbers behind them stand to the right
}

func (r Ranking) draw(l layout) *canvas {
	col := columns{step: 28, first: 18}
	figures, counts := r.widestFigures()
	col.values = math.Floor(l.width - counts)
	left := 0.0
	if col.name = r.widestName() + 1; l.isNarrow() || col.name > l.width*0.42 {
		col.step, col.first, col.above, col.name = 44, 32, true, l.width
	} else {
		left = col.name + 12
	}
	col.x = r.scale(left+6, col.values-figures-12)
	base := col.first + col.step*float64(len(r.Rows)) - 10
	c := newCanvas(l, r.Caption, base+42)
	if !r.drawAxis(c, col, base) {
		c.height -= lineStep
	}
	for i, o := range r.Rows {
		r.drawRow(c, col, o, i)
	}
	return c
}

func (r Ranking) widestName() (w float64) {
	for _, o := range r.Rows {
		w = max(w, textWidth(oneLine(o.full())))
	}
	return w
}

// widestFigures measures the columns of values and of what is behind them.
func (r Ranking) widestFigures() (values, counts float64) {
	for _, o := range r.Rows {
		v, _, count := r.figures(o)
		values = max(values, boldWidth(v))
		if count != "" {
			counts = max(counts, textWidth(r.countText(count))+12)
		}
	}
	return values, min(counts, 90)
}

func (r Ranking) countText(count string) string { return oneLine(r.Heads.N + " " + count) }

func (r Ranking) scale(p0, p1 float64) axis {
	var s spread
	s.add(0)
	for _, o := range r.Rows {
		s.add(snap(o.Value))
		if o.Low < o.High {
			s.add(snap(o.Low), snap(o.High))
		}
	}
	if s.lo == s.hi {
		s.hi = 1
	}
	return axis{s.lo, s.hi + (s.hi-s.lo)*0.03, p0, p1, false}
}

// drawAxis draws the scale, and reports whether its unit needed a line of its own.
func (r Ranking) drawAxis(c *canvas, col columns, base float64) (below bool) {
	ticks := linearTicks(col.x.lo, col.x.hi, 4)
	top := 2.0
	if col.above {
		top = 20
	}
	unit := oneLine(r.Unit)
	for i, k := range ticks {
		x := col.x.at(k.v)
		c.line("grid", x, top, x, base)
		c.line("axis", x, base, x, base+5)
		t := text{x: x, y: base + 18, anchor: middle, class: "tick", s: r.Words.Number(k.v, k.decimals)}
		if i == len(ticks)-1 && unit != "" {
			full := text{x: t.box().x0, y: t.y, class: "tick", s: t.s + " " + unit}
			if c.put(full) {
				continue
			}
			below = c.put(text{x: c.width, y: base + 36, anchor: end, class: "tick", s: fitTo(unit, c.width)})
		}
		c.putFirst(t, t.inward(c.width))
	}
	c.line("axis", col.x.p0, base, col.x.p1, base)
	return below
}

func (r Ranking) drawRow(c *canvas, col columns, o Ranked, i int) {
	y := col.first + col.step*float64(i)
	name := text{y: y + 5, class: "lab", s: fitTo(o.full(), col.name)}
	if col.above {
		name.y = y - 15
	}
	if o.Latin {
		name.latin = shared(oneLine(o.Name), name.s)
	}
	c.put(name)
	value, _, count := r.figures(o)
	if o.Low < o.High {
		x0, x1 := col.x.at(o.Low), col.x.at(o.High)
		c.path("whisker", "M"+n(x0)+" "+n(y)+"H"+n(x1)+"M"+n(x0)+" "+n(y-4)+"V"+n(y+4)+"M"+n(x1)+" "+n(y-4)+"V"+n(y+4))
	}
	c.circle("est", col.x.at(o.Value), y, 4.2)
	c.put(text{x: col.values, y: y + 5, anchor: end, class: "lab", bold: true, s: value})
	if count != "" {
		c.put(text{x: c.width, y: y + 5, anchor: end, class: "tick", s: fitTo(r.countText(count), c.width-col.values-8)})
	}
}
