package chart

import (
	"bytes"
	"encoding/xml"
	"html/template"
	"math"
	"strconv"
	"strings"
)

// layout is one of the two widths that each chart is drawn in.
type layout struct {
	name   string // its class
	suffix string // of its ids
	width  float64
}

func broad() layout  { return layout{"broad", "-b", 576} }
func narrow() layout { return layout{"narrow", "-n", 328} }

func (l layout) isNarrow() bool { return l.name == "narrow" }

// canvas collects the marks and texts of one layout. Marks are painted in the order in which they come, texts above
// all of them. No two texts overlap and none leaves the picture: put refuses those that would.
type canvas struct {
	layout
	caption Caption
	class   string // beside chart
	height  float64
	hatched bool
	marks   bytes.Buffer
	texts   []text
	soft    map[int][]obstacle // small ones, by the column of their left side
	wide    []obstacle         // those wider than a column
}

func newCanvas(l layout, c Caption, height float64) *canvas {
	c.ID = strings.Map(inID, c.ID) + l.suffix
	return &canvas{layout: l, caption: c, height: height, soft: map[int][]obstacle{}}
}

// inID keeps the letters, figures, - and _ of an id.
func inID(r rune) rune {
	if r|0x20 >= 'a' && r|0x20 <= 'z' || r >= '0' && r <= '9' || r == '-' || r == '_' {
		return r
	}
	return -1
}

// n prints a coordinate: one decimal at most, never minus nothing. What is no number is 0.
func n(v float64) string {
	r := math.Round(v*10) / 10
	if r == 0 || math.IsNaN(r) || math.IsInf(r, 0) {
		return "0"
	}
	return strconv.FormatFloat(r, 'f', -1, 64)
}

func (c *canvas) path(class, d string) {
	c.marks.WriteString(`<path class="` + class + `" d="` + d + `"/>`)
}

func (c *canvas) line(class string, x1, y1, x2, y2 float64) {
	switch {
	case n(x1) == n(x2):
		c.path(class, "M"+n(x1)+" "+n(y1)+"V"+n(y2))
	case n(y1) == n(y2):
		c.path(class, "M"+n(x1)+" "+n(y1)+"H"+n(x2))
	default:
		c.path(class, "M"+n(x1)+" "+n(y1)+"L"+n(x2)+" "+n(y2))
	}
}

func (c *canvas) circle(class string, x, y, r float64) {
	c.marks.WriteString(`<circle class="` + class + `" cx="` + n(x) + `" cy="` + n(y) + `" r="` + n(r) + `"/>`)
}

func (c *canvas) rect(class string, b box, fill string) {
	c.marks.WriteString(`<rect class="` + class + `"`)
	if fill != "" {
		c.marks.WriteString(` fill="` + fill + `"`)
	}
	c.marks.WriteString(` x="` + n(b.x0) + `" y="` + n(b.y0) + `" width="` + n(max(b.x1-b.x0, 0)) + `" height="` + n(max(b.y1-b.y0, 0)) + `"/>`)
}

// hatch is the fill of a hatched thing; it asks for the pattern.
func (c *canvas) hatch() string {
	c.hatched = true
	return "url(#" + c.caption.ID + "-h)"
}

// svg puts the parts together.
func (c *canvas) svg() template.HTML {
	var b bytes.Buffer
	id := c.caption.ID
	b.WriteString(`<svg class="chart ` + c.name)
	if c.class != "" {
		b.WriteString(" " + c.class)
	}
	b.WriteString(`" viewBox="0 0 ` + n(c.width) + " " + n(c.height) + `" width="` + n(c.width) + `" height="` + n(c.height) + `" role="img" aria-labelledby="` + id + `-t">`) // the caption beside it says the rest aloud
	b.WriteString(`<title id="` + id + `-t">`)
	writeEscaped(&b, c.caption.Title)
	b.WriteString(`</title>`)
	if c.hatched {
		b.WriteString(`<defs><pattern id="` + id + `-h" width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><path class="hatch" d="M0 0V6"/></pattern></defs>`)
	}
	b.Write(c.marks.Bytes())
	for _, t := range c.texts {
		t.write(&b)
	}
	return seal(&b)
}

// seal ends a picture. This is the one place that makes template.HTML: all text in it went through writeEscaped, the
// rest is made of numbers, of our own class names and of what inID leaves of an id.
func seal(b *bytes.Buffer) template.HTML {
	b.WriteString("</svg>")
	return template.HTML(b.String())
}

// writeEscaped writes s as XML text; what XML cannot hold becomes U+FFFD.
func writeEscaped(b *bytes.Buffer, s string) {
	_ = xml.EscapeText(b, []byte(s)) // a Buffer never fails
}
