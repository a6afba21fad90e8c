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
	Hint         string // what to do; may be empty
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
	RuleRawHTML      = "raw-html"      // HTML, which is shown as text (warning)
)

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

func compareRefs(a, b Ref) int {
	return cmp.Or(cmp.Compare(a.Scheme, b.Scheme), cmp.Compare(a.Name, b.Name))
}

// fault notes f at a byte offset of the source.
func (j *job) fault(offset int, f Fault) {
	f.Line, f.Column = position(j.source, offset)
	j.doc.Faults = append(j.doc.Faults, f)
}

func (j *job) errorf(offset int, rule, hint, format string, args ...any) {
	j.fault(offset, Fault{Rule: rule, Hint: hint, Message: fmt.Sprintf(format, args...)})
}

func (j *job) warnf(offset int, rule, hint, format string, args ...any) {
	j.fault(offset, Fault{Warning: true, Rule: rule, Hint: hint, Message: fmt.Sprintf(format, args...)})
}

// position gives line and column, from 1, of a byte offset.
func position(source []byte, offset int) (line, column int) {
	before := source[:min(max(offset, 0), len(source))]
	start := bytes.LastIndexByte(before, '\n') + 1
	return bytes.Count(before, []byte{'\n'}) + 1, utf8.RuneCount(before[start:]) + 1
}

// destinationAt finds where a link's destination stands in the source, for a caret under the name
// and not under the words. A reference link, whose destination stands elsewhere, keeps its start.
func destinationAt(source []byte, start int, destination []byte) int {
	if start < 0 || start >= len(source) || len(destination) == 0 {
		return max(start, 0)
	}
	rest := source[start:]
	if end := bytes.Index(rest, []byte("\n\n")); end >= 0 {
		rest = rest[:end]
	}
	for _, opening := range []string{"](", "](<"} {
		if i := bytes.Index(rest, append([]byte(opening), destination...)); i >= 0 {
			return start + i + len(opening)
		}
	}
	return start
}

// near returns the word most like name, or "" if none is within a third of its length.
func near(name string, words []string) string {
	best, limit := "", utf8.RuneCountInString(name)/3+1
	for _, w := range words {
		if d := distance([]rune(name), []rune(w)); d < limit || d == limit && best == "" {
			best, limit = w, d
		}
	}
	return best
}

// distance is the number of characters to insert, delete or replace (Levenshtein 1966).
func distance(a, b []rune) int {
	row := make([]int, len(b)+1)
	for i := range row {
		row[i] = i
	}
	for i, x := range a {
		diagonal := row[0]
		row[0] = i + 1
		for k, y := range b {
			change := diagonal
			if x != y {
				change++
			}
			diagonal = row[k+1]
			row[k+1] = min(change, row[k]+1, row[k+1]+1)
		}
	}
	return row[len(b)]
}
