package papers

import (
	"html/template"
	"strconv"
	"strings"

	goqr "github.com/piglig/go-qr"
)

// quiet is the empty margin around a code, in modules (ISO/IEC 18004).
const quiet = 4

// Code draws a QR code of text as one SVG path, black on white in any scheme, with its quiet zone; error correction M.
// Text "" gives nothing: a journal without an address has no links to print; nor does a text that no code holds, beyond
// 2,331 bytes. Upper case would make a smaller code, but
// the path of an address does not ignore case.
func Code(text, name string) template.HTML {
	if text == "" {
		return ""
	}
	q, err := goqr.EncodeText(text, goqr.Medium)
	if err != nil {
		return ""
	}
	n := q.Size()
	side := strconv.Itoa(n + 2*quiet)
	var b strings.Builder
	b.WriteString(`<svg class="qr" viewBox="0 0 ` + side + ` ` + side + `" width="91" height="91" role="img" aria-label="` + template.HTMLEscapeString(name) + `" shape-rendering="crispEdges"><path fill="#fff" d="M0 0h` + side + `v` + side + `H0z"/><path stroke="#000" d="`)
	for y := range n {
		at := 0 // a row is one line with gaps, a module wide
		for x := 0; x < n; x++ {
			run := 0
			for x+run < n && q.Module(x+run, y) {
				run++
			}
			if run == 0 {
				continue
			}
			if at == 0 {
				b.WriteString("M" + strconv.Itoa(x+quiet) + " " + strconv.Itoa(y+quiet) + ".5")
			} else {
				b.WriteString("m" + strconv.Itoa(x-at) + " 0")
			}
			b.WriteString("h" + strconv.Itoa(run))
			x += run
			at = x
		}
	}
	b.WriteString(`"/></svg>`)
	return template.HTML(b.String()) // numbers, and a name that is escaped
}

// CodeText draws a QR code of text for a terminal with a dark ground: two rows of modules to a line.
func CodeText(text string) (string, error) {
	q, err := goqr.EncodeText(text, goqr.Medium)
	if err != nil {
		return "", err
	}
	dark := func(x, y int) bool { return x >= 0 && y >= 0 && x < q.Size() && y < q.Size() && q.Module(x, y) }
	var b strings.Builder
	for y := -quiet; y < q.Size()+quiet; y += 2 {
		for x := -quiet; x < q.Size()+quiet; x++ {
			switch up, down := dark(x, y), dark(x, y+1); {
			case up && down:
				b.WriteRune(' ')
			case up:
				b.WriteRune('▄')
			case down:
				b.WriteRune('▀')
			default:
				b.WriteRune('█')
			}
		}
		b.WriteRune('\n')
	}
	return b.String(), nil
}
