package chart

import "math"

// Ranking sets rows side by side on one scale, each with its value, its interval and how many stand behind it. The
// caller sorts. The scale starts at 0 where no value lies below.
type Ranking struct {
	Caption
	Words    Words
	Rows     []Ranked
	Unit     string // stands on the highest tick
	Decimals int
	Heads    RankingHeads
}

// Ranked is a row. Unknown leaves value and interval out and shows Note ("too few reports to say") in their place. Low
// equals High where there is no interval. N is left out where it is 0.
type Ranked struct {
	Name             string
	Value, Low, High float64
	N                int
	Unknown          bool
	Note             string
}

// RankingHeads head the columns of the table; N is also the word before the number in the picture ("n").
type RankingHeads struct{ Name, Value, Interval, N string }

// Draw makes the chart in both layouts, or a *SeriesError: ErrEmpty without a row, ErrNumber, ErrOrder (an interval
// that does not hold its value), ErrID.
func (r Ranking) Draw() (Picture, error) {
	if err := r.check(); err != nil {
		return Picture{}, err
	}
	return Picture{r.draw(broad()).svg(), r.draw(narrow()).svg(), r.Table()}, nil
}

func (r Ranking) check() error {
	if err := checkID(r.ID); err != nil {
		return err
	}
	if len(r.Rows) == 0 {
		return wrong("rows", -1, ErrEmpty)
	}
	for i, o := range r.Rows {
		if o.Unknown {
			continue
		}
		if err := checkNumbers("rows", i, o.Value, o.Low, o.High); err != nil {
			return err
		}
		if o.Low > o.High || o.Low < o.High && (o.Value < o.Low || o.Value > o.High) {
			return wrong("rows", i, ErrOrder)
		}
	}
	return nil
}

// Table lists the rows with their intervals; an unknown one has its note in the place of the value.
func (r Ranking) Table() Table {
	t := Table{Head: []Column{{r.Heads.Name, false}, {r.Heads.Value, true}, {r.Heads.Interval, true}, {r.Heads.N, true}}}
	for _, o := range r.Rows {
		value, interval, count := r.figures(o)
		t.Rows = append(t.Rows, []string{o.Name, value, interval, count})
	}
	return t
}

func (r Ranking) figures(o Ranked) (value, interval, count string) {
	if o.N > 0 {
		count = r.Words.Number(float64(o.N), 0)
	}
	if o.Unknown {
		return o.Note, "", count
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
	x           axis
	right       float64 // where the figures end
}

func (r Ranking) draw(l layout) *canvas {
	col := columns{step: 28, first: 18, right: l.width}
	figures := r.widestFigures()
	left := 0.0
	if l.isNarrow() {
		col.step, col.first = 44, 32
	} else {
		col.name = r.widestName(l.width * 0.36)
		left = col.name + 12
	}
	col.x = r.scale(left+6, l.width-figures-12)
	base := col.first + col.step*float64(len(r.Rows)) - 10
	c := newCanvas(l, r.Caption, base+24)
	r.drawAxis(c, col, base)
	for i, o := range r.Rows {
		r.drawRow(c, col, o, i)
	}
	return c
}

func (r Ranking) widestName(most float64) (w float64) {
	for _, o := range r.Rows {
		w = max(w, textWidth(oneLine(o.Name)))
	}
	return min(w, most) + 1
}

func (r Ranking) widestFigures() (w float64) {
	for _, o := range r.Rows {
		if !o.Unknown {
			v, _, count := r.figures(o)
			w = max(w, boldWidth(v)+textWidth(r.countText(count)))
		}
	}
	return min(max(w, 40), 160)
}

func (r Ranking) countText(count string) string {
	if count == "" {
		return ""
	}
	return "  " + oneLine(r.Heads.N+" "+count)
}

func (r Ranking) scale(p0, p1 float64) axis {
	var s spread
	s.add(0)
	for _, o := range r.Rows {
		if !o.Unknown {
			s.add(snap(o.Value))
			if o.Low < o.High {
				s.add(snap(o.Low), snap(o.High))
			}
		}
	}
	if s.lo == s.hi {
		s.hi = 1
	}
	return axis{s.lo, s.hi + (s.hi-s.lo)*0.03, p0, p1, false}
}

func (r Ranking) drawAxis(c *canvas, col columns, base float64) {
	ticks, decimals := linearTicks(col.x.lo, col.x.hi, 4)
	top := 2.0
	if c.isNarrow() {
		top = 20
	}
	for i := len(ticks) - 1; i >= 0; i-- {
		x := col.x.at(ticks[i])
		c.line("grid", x, top, x, base)
		c.line("axis", x, base, x, base+5)
		s := r.Words.Number(ticks[i], decimals)
		t := text{x: x, y: base + 18, anchor: middle, class: "tick", s: s}
		if i < len(ticks)-1 || oneLine(r.Unit) == "" {
			c.put(t)
			continue
		}
		full := t
		full.s = s + " " + oneLine(r.Unit)
		flush, cut := full, full
		flush.x, flush.anchor = c.width, end
		cut.s, cut.x, cut.anchor = fitTo(full.s, c.width), c.width, end
		c.putFirst(full, flush, cut, t)
	}
	c.line("axis", col.x.p0, base, col.x.p1, base)
}

func (r Ranking) drawRow(c *canvas, col columns, o Ranked, i int) {
	y := col.first + col.step*float64(i)
	name := text{y: y + 5, class: "lab", s: fitTo(o.Name, col.name)}
	if c.isNarrow() {
		name.y, name.s = y-15, fitTo(o.Name, c.width)
	}
	c.put(name)
	value, _, count := r.figures(o)
	if o.Unknown {
		c.put(text{x: col.x.p0, y: y + 5, class: "tick", s: fitTo(value, c.width-col.x.p0)})
		return
	}
	if o.Low < o.High {
		x0, x1 := col.x.at(o.Low), col.x.at(o.High)
		c.path("whisker", "M"+n(x0)+" "+n(y)+"H"+n(x1)+"M"+n(x0)+" "+n(y-4)+"V"+n(y+4)+"M"+n(x1)+" "+n(y-4)+"V"+n(y+4))
	}
	c.circle("est", col.x.at(o.Value), y, 4.2)
	s := r.countText(count)
	if !c.put(text{x: col.right, y: y + 5, anchor: end, class: "tick", s: s}) {
		s = ""
	}
	c.put(text{x: math.Floor(col.right - textWidth(s)), y: y + 5, anchor: end, class: "lab", bold: true, s: value})
}
