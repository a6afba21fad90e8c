package prose

import (
	"bytes"
	"cmp"
	"fmt"
	"unicode/utf8"
)

// Fault is something in a text that the writer should mend.
type Fault struct {
	Line, Column int    // within the body, from 1; columns count characters
	Warning      bool   // the text can be published all the same
	Rule         string // a stable short name, such as "link-nowhere"
	Message      string // what is wrong
	Hint         string // what to do
}

// The rules of this package.
const (
	RuleLinkNowhere  = "link-nowhere"  // one of our links, or a path, without a page
	RuleLinkScheme   = "link-scheme"   // an address that is not on the list of allowed kinds
	RuleLinkForm     = "link-form"     // an allowed kind, wrongly written
	RuleLinkFragment = "link-fragment" // no heading of that name in the text (warning)
	RulePhotoName    = "photo-name"    // an image that is not a relative name
	RulePhotoMissing = "photo-missing" // no photo of that name
	RulePhotoAlt     = "photo-alt"     // an image without a description
	RuleFigureForm   = "figure-form"   // too few or too many words after the figure's kind
	RuleFigureName   = "figure-name"   // a plant or tank that is not there
	RuleFigure       = "figure"        // the figure could not be drawn
	RuleFigureText   = "figure-text"   // text inside a figure's fence, which nothing shows (warning)
	RuleTableCells   = "table-cells"   // cells beyond the table's head, which GFM drops (warning)
	RuleTooMuch      = "too-much"      // more than the parser is given, see [MaxRun]
	RuleRawHTML      = "raw-html"      // HTML, which is shown as text (warning)
)

// cures are what to do where nothing nearer to the fault is known.
var cures = map[string]string{
	RuleLinkNowhere:  "correct the name, or write the words without a link",
	RuleLinkScheme:   "write an http, https, mailto or tel address, a relative one, or plant:, tank:, lot: or entry: and a name",
	RuleLinkFragment: "write a heading of that name, or leave out what follows the #",
	RulePhotoMissing: "put the photo in photos/, or correct its name",
	RuleFigureName:   "correct the name, or take the figure out",
	RuleFigure:       "correct what is behind the figure's kind, or take the figure out",
}

// String gives the fault on one line, without its hint.
func (f Fault) String() string {
	severity := "error"
	if f.Warning {
		severity = "warning"
	}
	return fmt.Sprintf("%d:%d: %s: %s", f.Line, f.Column, severity, f.Message)
}

func compareFaults(a, b Fault) int {
	return cmp.Or(cmp.Compare(a.Line, b.Line), cmp.Compare(a.Column, b.Column), cmp.Compare(a.Rule, b.Rule))
}

// spot is where something is: at a byte offset of the source or, for a link or an image that
// starts there, at its destination. The search for that waits until there is a fault to place.
type spot struct {
	offset      int
	destination []byte // as written; empty: the offset itself
}

func at(offset int) spot { return spot{offset: offset} }

func (j *job) fault(where spot, f Fault) {
	f.Line, f.Column = position(j.source, where.in(j.source))
	f.Hint = cmp.Or(f.Hint, cures[f.Rule])
	j.doc.Faults = append(j.doc.Faults, f)
}

func (j *job) errorf(where spot, rule, hint, format string, args ...any) {
	j.fault(where, Fault{Rule: rule, Hint: hint, Message: fmt.Sprintf(format, args...)})
}

func (j *job) warnf(where spot, rule, hint, format string, args ...any) {
	j.fault(where, Fault{Warning: true, Rule: rule, Hint: hint, Message: fmt.Sprintf(format, args...)})
}

// position gives line and column, from 1, of a byte offset.
func position(source []byte, offset int) (line, column int) {
	before := source[:min(max(offset, 0), len(source))]
	start := bytes.LastIndexByte(before, '\n') + 1
	return bytes.Count(before, []byte{'\n'}) + 1, utf8.RuneCount(before[start:]) + 1
}

// in finds the spot in the source, so that a caret is under the name of a link and not under its
// words. A reference link, whose destination is written elsewhere, is blamed where it starts.
func (s spot) in(source []byte) int {
	start := min(max(s.offset, 0), len(source))
	if len(s.destination) == 0 {
		return start
	}
	rest := source[start:]
	if end := bytes.Index(rest, []byte("\n\n")); end >= 0 {
		rest = rest[:end]
	}
	for _, opening := range []string{"](", "](<"} {
		if i := bytes.Index(rest, append([]byte(opening), s.destination...)); i >= 0 {
			return start + i + len(opening)
		}
	}
	return start
}
