package draw

import "html/template"

// Mark is a sign that is before a word of state. Each has its own shape: colour comes second.
type Mark int

// The marks.
const (
	In          Mark = iota // disc: ready, well inside
	Near                    // half disc: coming, near an edge
	Out                     // triangle: outside, alarm
	Unknown                 // dashed ring: promised, not known
	Gone                    // dash: gone
	Established             // leaf: lives at its new place
	Lost                    // cross: did not
	NoNews                  // hollow dashed leaf: not heard of
)

var markPaths = [...]string{
	In:          `<circle cx="8" cy="8" r="7" class="d-solid"/>`,
	Near:        `<circle cx="8" cy="8" r="6" class="d-open"/><path d="M8 2a6 6 0 0 1 0 12z" class="d-solid"/>`,
	Out:         `<path d="M8 1l7.5 14H.5z" class="d-solid"/>`,
	Unknown:     `<circle cx="8" cy="8" r="6" class="d-open d-dashed"/>`,
	Gone:        `<path d="M2 8h12" class="d-open"/>`,
	Established: `<path d="M2 14C1 6 6 1.5 15 1C15 10 10 15 2 14z" class="d-solid"/><path d="M3.5 12.5Q7 8 11.5 4.5" class="d-midrib"/>`,
	Lost:        `<path d="M3 3l10 10M13 3L3 13" class="d-open"/>`,
	NoNews:      `<path d="M3 13C2 6.5 7 2.5 14 2C14 9.5 10 14 3 13z" class="d-open d-dashed"/>`,
}

// SVG is the mark, 16 × 16 units in the text's own colour, for use beside its word: it is hidden from screen readers. An
// unknown mark is drawn as Unknown.
func (m Mark) SVG() template.HTML {
	if m < 0 || int(m) >= len(markPaths) {
		m = Unknown
	}
	return template.HTML(`<svg class="mark" viewBox="0 0 16 16" width="16" height="16" aria-hidden="true" focusable="false">` + markPaths[m] + `</svg>`) // constants
}
