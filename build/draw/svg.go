package draw

import (
	"html"
	"strconv"
	"strings"
	"unicode/utf8"

	"slipleaf/build/curve"
)

// plain makes a caller's string fit for XML text and attributes: escaped, and without the characters that XML forbids.
func plain(s string) string {
	if !utf8.ValidString(s) {
		s = strings.ToValidUTF8(s, "\uFFFD")
	}
	s = strings.Map(func(r rune) rune {
		if r < 0x20 && r != '\t' && r != '\n' && r != '\r' || r == 0xFFFE || r == 0xFFFF {
			return -1
		}
		return r
	}, s)
	return html.EscapeString(s)
}

// name makes a caller's prefix fit for an id: letters, digits, "-" and "_", a letter first, 48 at most.
func name(id string) string {
	id = strings.Map(func(r rune) rune {
		if r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' || r == '-' || r == '_' {
			return r
		}
		return -1
	}, id)
	id = id[:min(len(id), 48)]
	if id == "" || !(id[0] >= 'a' && id[0] <= 'z' || id[0] >= 'A' && id[0] <= 'Z') {
		id = "d" + id
	}
	return id
}

// page collects the parts of one SVG.
type page struct {
	strings.Builder
	scratch []byte
}

func (w *page) put(parts ...string) {
	for _, s := range parts {
		w.WriteString(s)
	}
}

// open begins a picture of a stated size that says its title and, if there is one, its description.
func (w *page) open(class, id string, x, y, width, height float64, title, desc string) {
	w.put(`<svg class="`, class, `" viewBox="`, num(x), ` `, num(y), ` `, num(width), ` `, num(height), `" width="`, num(width), `" height="`, num(height),
		`" role="img" aria-labelledby="`, id, `-t"`)
	if desc != "" {
		w.put(` aria-describedby="`, id, `-d"`)
	}
	w.put(`><title id="`, id, `-t">`, plain(title), `</title>`)
	if desc != "" {
		w.put(`<desc id="`, id, `-d">`, plain(desc), `</desc>`)
	}
}

// path writes one path of a class.
func (w *page) path(class, data string) { w.put(`<path class="`, class, `" d="`, data, `"/>`) }

func (w *page) rect(class string, x, y, width, height float64) {
	w.put(`<rect class="`, class, `" x="`, num(x), `" y="`, num(y), `" width="`, num(width), `" height="`, num(height), `"/>`)
}

// at moves a sketch's foot to a point.
func (w *page) at(x, y float64, k *sketch) {
	w.put(`<g transform="translate(`, num(x), ` `, num(y), `)">`)
	k.body(w)
	w.put(`</g>`)
}

func itoa(n int) string { return strconv.Itoa(n) }

// num writes a number for an attribute, with at most one decimal.
func num(v float64) string { return curve.Num(v) }

// pt is a point of a drawing.
func pt(x, y float64) curve.Pt { return curve.Pt{X: x, Y: y} }
