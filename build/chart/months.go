package chart

import (
	"strconv"
	"unicode/utf8"
)

// Months is what a year came to, month by month: a row of bars for each thing that is counted, each on a scale of its own.
type Months struct {
	Caption
	Names [12]string // of the months, short
	Rows  []MonthRow
	Month string // heads the column of months
}

// MonthRow is one thing that is counted. Values has a figure for each month that has begun, as many in each row: none, or
// a blank for what is to come.
type MonthRow struct {
	Name   string // "2146 pieces cut"
	Head   string // heads its column
	Voice  string // leaf, clay or slate
	Values []int
}

// Measures of a row of bars, in the units of the picture.
const (
	barsHigh = 46.0
	rowHigh  = lineStep + 16 + barsHigh + 12
)

// Draw makes the chart in both layouts with its table; an empty picture without a row.
func (m Months) Draw() Picture {
	if len(m.Rows) == 0 {
		return Picture{}
	}
	return Picture{m.draw(broad()).svg(), m.draw(narrow()).svg(), m.table()}
}

func (m Months) draw(l layout) *canvas {
	c := newCanvas(l, m.Caption, rowHigh*float64(len(m.Rows))+lineStep+4)
	for i, r := range m.Rows {
		c.monthRow(r, rowHigh*float64(i))
	}
	step := c.width / 12
	for i, name := range m.Names {
		at := text{x: step * (float64(i) + 0.5), y: c.height - descent - 1, anchor: middle, class: "tick", s: oneLine(name)}
		first, _ := utf8.DecodeRuneInString(at.s)
		if textWidth(at.s) > step {
			at.s = string(first)
		}
		c.put(at)
	}
	return c
}

// monthRow draws a bar for each month that has one, the figure above it, and a short line where a month had none. A month to
// come stays blank.
func (c *canvas) monthRow(r MonthRow, y float64) {
	most := 1
	for _, v := range r.Values {
		most = max(most, v)
	}
	c.put(text{x: 0, y: y + ascent + 1, class: "lab " + r.Voice, bold: true, s: fitTo(r.Name, c.width/1.1)})
	base, step := y+rowHigh-12, c.width/12
	c.line("axis", 0, base, c.width, base)
	for i, v := range r.Values {
		x := step * (float64(i) + 0.5)
		high := barsHigh * float64(v) / float64(most)
		if v == 0 {
			c.line("none", x-step/4, base-3, x+step/4, base-3)
		} else {
			c.rect("column "+r.Voice, box{x - step*0.36, base - high, x + step*0.36, base}, "")
		}
		c.put(text{x: x, y: base - max(high, 4) - 3, anchor: middle, class: "tick", s: strconv.Itoa(v)})
	}
}

func (m Months) table() Table {
	out := Table{Head: []Column{{m.Month, false}}}
	for _, r := range m.Rows {
		out.Head = append(out.Head, Column{r.Head, true})
	}
	for i := range m.Rows[0].Values {
		row := []string{oneLine(m.Names[i])}
		for _, r := range m.Rows {
			row = append(row, strconv.Itoa(r.Values[i]))
		}
		out.Rows = append(out.Rows, row)
	}
	return out
}
