// Package console shows complaints on a terminal: the place, the line with a caret under it, and what to do.
package console

import (
	"io"
	"strings"
	"unicode"

	"golang.org/x/text/width"

	"slipleaf/build/journal"
	"slipleaf/build/spelling"
)

// Show writes a complaint for a terminal: what is wrong and where, the line with a caret under the place, and what to
// do. line is that line of the file; "" leaves it and the caret out. colour marks the severity.
// Control characters of the file never reach w: an escape sequence in a diary must not steer a terminal.
func Show(w io.Writer, c journal.Complaint, line string, colour bool) error {
	var b strings.Builder
	head := spelling.Clean(c.String())
	if colour {
		where, what, _ := strings.Cut(head, ": "+c.Severity.String()+": ")
		head = bold + where + ": " + severityColour[c.Severity] + c.Severity.String() + ": " + plain + what
	}
	b.WriteString(head + "\n")
	if line = strings.TrimRight(line, " \t\r\n"); line != "" {
		shown, caret := window(line, c.Column)
		if colour {
			caret = severityColour[c.Severity] + caret + plain
		}
		b.WriteString("    " + shown + "\n    " + caret + "\n")
	}
	if c.Hint != "" {
		b.WriteString("  hint: " + spelling.Clean(c.Hint) + "\n")
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// What a terminal takes as colour: ECMA-48, select graphic rendition.
const (
	bold  = "\x1b[1m"
	plain = "\x1b[0m"
)

var severityColour = [...]string{journal.Error: "\x1b[31m", journal.Warning: "\x1b[33m", journal.Note: "\x1b[36m"}

// shownWidth is how many columns of a line are shown; long lines are cut around the caret.
const shownWidth = 100

// window gives the part of a line around a column, safe to print, and a line with the caret under that column.
func window(line string, column int) (shown, caret string) {
	var cells []string
	at := 0 // cell of the caret
	for i, r := range []rune(line) {
		if i == column-1 {
			at = len(cells)
		}
		if cs := cell(r); len(cs) > 0 || len(cells) == 0 {
			cells = append(cells, cs...)
		} else {
			cells[len(cells)-1] += string(r) // a combining mark belongs to the letter before it
		}
	}
	if n := len([]rune(line)); column > n {
		at = len(cells)
	}
	from, to := 0, len(cells)
	if to > shownWidth {
		from = min(max(at-shownWidth/2, 0), to-shownWidth)
		to = from + shownWidth
	}
	lead, tail := "", ""
	if from > 0 {
		lead = "…"
	}
	if to < len(cells) {
		tail = "…"
	}
	return lead + strings.Join(cells[from:to], "") + tail, strings.Repeat(" ", at-from+len([]rune(lead))) + "^"
}

// cell gives what a character shows as, one string for each column of the terminal: two for a wide one (the second is
// empty), four for a tab, none for a combining one.
func cell(r rune) []string {
	switch {
	case r == '\t':
		return []string{" ", " ", " ", " "}
	case unicode.IsControl(r) || unicode.Is(unicode.Cf, r) || r == 0x2028 || r == 0x2029:
		return []string{"·"}
	case unicode.Is(unicode.Mn, r) || unicode.Is(unicode.Me, r):
		return nil
	}
	switch width.LookupRune(r).Kind() {
	case width.EastAsianWide, width.EastAsianFullwidth:
		return []string{string(r), ""}
	}
	return []string{string(r)}
}
