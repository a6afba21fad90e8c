// Package console shows complaints on a terminal: the place, the line with a caret under it, and what to do.
package console

import (
	"io"
	"path"
	"slices"
	"strings"
	"unicode"

	"github.com/alecthomas/chroma/v2"
	"golang.org/x/text/width"

	"slipleaf/build/journal"
	"slipleaf/build/lexer"
)

// Show writes a complaint for a terminal: what is wrong and where, the line with a caret under the place, and what to
// do. line is that line of the file; "" leaves it and the caret out. colour marks the severity and highlights the line.
// Control characters of the file never reach w: an escape sequence in a diary must not steer a terminal.
func Show(w io.Writer, c journal.Complaint, line string, colour bool) error {
	var b strings.Builder
	head := harmless(c.String())
	if colour {
		where, what, _ := strings.Cut(head, ": "+c.Severity.String()+": ")
		head = bold + where + ": " + severityColour[c.Severity] + c.Severity.String() + ": " + plain + what
	}
	b.WriteString(head + "\n")
	if line = strings.TrimRight(line, " \t\r\n"); line != "" {
		shown, caret := window(line, c.Column)
		if colour {
			b.WriteString("    " + highlight(c, shown) + "\n    " + severityColour[c.Severity] + caret + plain + "\n")
		} else {
			b.WriteString("    " + shown + "\n    " + caret + "\n")
		}
	}
	if c.Hint != "" {
		b.WriteString("  hint: " + harmless(c.Hint) + "\n")
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

// harmless takes what could steer a terminal or turn its text around out of s.
func harmless(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsControl(r) || unicode.Is(unicode.Cf, r) || r == 0x2028 || r == 0x2029 {
			return '·'
		}
		return r
	}, s)
}

// inks are colours of any terminal, so that they suit its ground, by kind of token and by what that is a kind of.
var inks = map[chroma.TokenType]string{
	chroma.Comment: "\x1b[1;30m", chroma.NameTag: "\x1b[34m", chroma.NameAttribute: "\x1b[34m", chroma.LiteralNumber: "\x1b[36m", chroma.LiteralString: "\x1b[32m", chroma.Error: "\x1b[31m",
}

// highlight colours a line of a head or of a friend's JSON. Where it cannot, the line stays as it is.
func highlight(c journal.Complaint, line string) string {
	name := ""
	if path.Ext(c.File) == ".json" {
		name = "json"
	} else if slices.ContainsFunc(journal.Rules(), func(r journal.Rule) bool { return r.Name == c.Rule }) {
		name = "yaml"
	}
	language := lexer.New()[name]
	if language == nil {
		return line
	}
	tokens, err := chroma.Coalesce(language).Tokenise(nil, line)
	if err != nil {
		return line
	}
	var b strings.Builder
	for _, t := range tokens.Tokens() {
		text := strings.ReplaceAll(t.Value, "\n", "")
		for _, kind := range [...]chroma.TokenType{t.Type, t.Type.SubCategory(), t.Type.Category()} {
			if ink := inks[kind]; ink != "" && text != "" {
				text = ink + text + plain
				break
			}
		}
		b.WriteString(text)
	}
	return b.String()
}
