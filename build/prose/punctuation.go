package prose

import (
	"cmp"
	"strings"
	"unicode"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/parser"
	"github.com/yuin/goldmark/text"
	"github.com/yuin/goldmark/util"
)

// quotes are the marks of one language.
type quotes struct{ openDouble, closeDouble, openSingle, closeSingle string }

// quotesOf holds the marks by language subtag: quotationStart, quotationEnd and the alternates of the
// Unicode Common Locale Data Repository, main/en, de and nl, delimiters (from memory). British and
// American English differ in which pair comes first, which is the writer's choice of key.
var quotesOf = map[string]quotes{
	"en": {"“", "”", "‘", "’"},
	"de": {"„", "“", "‚", "‘"},
	"nl": {"“", "”", "‘", "’"},
}

const apostrophe = "’"

// dashes and dots are the marks for a run of that many characters.
var (
	dashes = map[int]string{2: "–", 3: "—"}
	dots   = map[int]string{3: "…"}
)

// punctuation turns typed quotation marks, dashes (-- and ---) and three dots into the printer's.
// A mark after a digit that closes nothing becomes a prime, as tanks are measured in inches.
type punctuation struct {
	marks  quotes
	quotes bool
}

func newPunctuation(language string) *punctuation {
	base, _, _ := strings.Cut(strings.ToLower(strings.ReplaceAll(cmp.Or(language, "en"), "_", "-")), "-")
	marks, ok := quotesOf[base]
	return &punctuation{marks, ok}
}

// openMarks counts the quotations that are open in a block.
type openMarks struct{ double, single int }

var openKey = parser.NewContextKey()

func (p *punctuation) Trigger() []byte { return []byte{'"', '\'', '-', '.'} }

func (p *punctuation) CloseBlock(_ ast.Node, _ text.Reader, pc parser.Context) { pc.Set(openKey, nil) }

func (p *punctuation) Parse(_ ast.Node, block text.Reader, pc parser.Context) ast.Node {
	line, segment := block.PeekLine()
	switch c := line[0]; {
	case c == '-':
		return run(block, line, segment, dashes)
	case c == '.':
		return run(block, line, segment, dots)
	case !p.quotes:
		return nil
	case c == '"':
		return printed(block, p.double(block, line, pc))
	}
	return printed(block, p.single(block, line, pc))
}

// run replaces a run of one character if its length has a mark; a longer one stays as it is, and so
// does one that a back slash has cut short.
func run(block text.Reader, line []byte, segment text.Segment, marks map[int]string) ast.Node {
	n := 1
	for n < len(line) && line[n] == line[0] {
		n++
	}
	if n == 1 {
		return nil
	}
	cut := block.PrecendingCharacter() == rune(line[0])
	block.Advance(n)
	if mark := marks[n]; mark != "" && !cut {
		return literal(mark)
	}
	return ast.NewTextSegment(segment.WithStop(segment.Start + n))
}

func printed(block text.Reader, mark string) ast.Node {
	if mark == "" {
		return nil
	}
	block.Advance(1)
	return literal(mark)
}

func literal(mark string) ast.Node {
	s := ast.NewString([]byte(mark))
	s.SetCode(true) // nothing in it needs escaping
	return s
}

func (p *punctuation) double(block text.Reader, line []byte, pc parser.Context) string {
	open, before, after := opened(pc), block.PrecendingCharacter(), following(line)
	opens, closes := flanks(before, after)
	switch {
	case opens && !closes:
		open.double++
		return p.marks.openDouble
	case closes && open.double > 0:
		open.double--
		return p.marks.closeDouble
	case closes && unicode.IsDigit(before):
		return "″"
	}
	return ""
}

func (p *punctuation) single(block text.Reader, line []byte, pc parser.Context) string {
	open, before, after := opened(pc), block.PrecendingCharacter(), following(line)
	opens, closes := flanks(before, after)
	switch {
	case alphanumeric(before) && alphanumeric(after):
		return apostrophe
	case opens && !closes && !decade(line) && closedAhead(block):
		open.single++
		return p.marks.openSingle
	case opens && !closes:
		return apostrophe // 'tis, the '90s
	case closes && open.single > 0:
		open.single--
		return p.marks.closeSingle
	case closes && unicode.IsDigit(before):
		return "′"
	case closes:
		return apostrophe // the Smiths' tank
	}
	return ""
}

// flanks are CommonMark's rules for left- and right-flanking delimiters (section 6.2), where
// brackets and dashes count as punctuation.
func flanks(before, after rune) (opens, closes bool) {
	spaceBefore, spaceAfter := util.IsSpaceRune(before), util.IsSpaceRune(after)
	punctBefore, punctAfter := util.IsPunctRune(before), util.IsPunctRune(after)
	opens = !spaceAfter && (!punctAfter || spaceBefore || punctBefore)
	closes = !spaceBefore && (!punctBefore || spaceAfter || punctAfter)
	return opens, closes
}

func opened(pc parser.Context) *openMarks {
	return pc.ComputeIfAbsent(openKey, func() any { return &openMarks{} }).(*openMarks)
}

func following(line []byte) rune {
	if len(line) < 2 {
		return '\n'
	}
	return util.ToRune(line, 1)
}

func alphanumeric(r rune) bool { return unicode.IsLetter(r) || unicode.IsDigit(r) }

// decade tells the '90s from a quotation.
func decade(line []byte) bool {
	digit := func(i int) bool { return i < len(line) && line[i] >= '0' && line[i] <= '9' }
	return digit(1) && digit(2) && !digit(3)
}

// maxQuotation bounds the search for a closing mark, in bytes, so that a text of nothing but marks
// takes no time to speak of.
const maxQuotation = 1000

// closedAhead reports whether a mark that can close is further on in the block.
func closedAhead(block text.Reader) bool {
	saved, position := block.Position()
	defer block.SetPosition(saved, position)
	block.Advance(1)
	previous, first := rune('x'), true
	for seen := 0; seen < maxQuotation; {
		line, _ := block.PeekLine()
		if line == nil {
			return false
		}
		for i, r := range string(line[:min(len(line), maxQuotation)]) {
			if r == '\'' && !first && !unicode.IsSpace(previous) && !alphanumeric(following(line[i:])) {
				return true
			}
			previous, first = r, false
		}
		seen += len(line)
		block.AdvanceLine()
	}
	return false
}
