// Package head turns the text of a head, the YAML mapping at the top of a journal's files, into a tree whose every value
// knows its line and column. It knows the format's limits of form (no anchors, aliases, tags, second documents; bounded
// size and depth) and none of its keys.
package head

import (
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strings"

	"github.com/goccy/go-yaml"
	"github.com/goccy/go-yaml/parser"
)

// Kind says what sort of fault it is.
type Kind uint8

// The kinds of fault.
const (
	Syntax   Kind = iota // it is not YAML
	Feature              // it is YAML of a kind that heads do without
	TooLarge             // it is larger or deeper than any head needs
)

// Fault is something wrong with a head as YAML. Line and Column are those of the file, from 1; the hint says what to do.
type Fault struct {
	Kind          Kind
	Line, Column  int
	Message, Hint string
}

// MaxDepth is how many mappings and sequences may be nested; the format itself needs five.
const MaxDepth = 16

// maxMarks is how many marks of YAML the full parser is given, where a comma counts as four: its time grows with the square
// of parts, of lines, of dashes and of brackets, and is a fifth of a second at this number. Heads have some hundreds.
const maxMarks = 6000

// marks counts what the full parser works on.
func marks(src string) int {
	n := 3 * strings.Count(src, ",")
	for _, mark := range ",\n-[]{}\"'&*!?%|>:#@`" {
		n += strings.Count(src, string(mark))
	}
	return n
}

// Parse reads a head whose first line is the file's line first. The plain YAML that heads are written in is read
// by [Scanner.head]; whatever that does not take, and every fault, is the full parser's.
func Parse(src string, first int) (Node, []Fault) { return new(Scanner).Parse(src, first) }

// Parse is [Parse] with the scanner's memory: the tree holds until the scanner reads its next head.
func (s *Scanner) Parse(src string, first int) (Node, []Fault) {
	if root, ok := s.head(src, first); ok {
		return root, nil
	}
	return parseYAML(src, first)
}

// parseYAML reads a head with the full parser.
func parseYAML(src string, first int) (root Node, faults []Fault) {
	if f, deep := tooDeep(src, first); deep {
		return Node{}, []Fault{f}
	}
	if n := marks(src); n > maxMarks {
		return Node{}, []Fault{{TooLarge, first, 1, fmt.Sprintf("the head is too large (%d commas, dashes, lines and the like) to find the mistake in", n), "split it into several entries, or check what you changed last"}}
	}
	// The parser must never take the program down, whatever it is given.
	defer func() {
		if r := recover(); r != nil {
			root, faults = Node{}, []Fault{{Syntax, first, 1, "the head is not YAML that can be read", "compare it with a head that works, and change a line at a time"}}
		}
	}()
	file, err := parser.ParseBytes([]byte(src), 0, parser.AllowDuplicateMapKey())
	if err != nil {
		return Node{}, []Fault{syntaxFault(err, src, first)}
	}
	t := tree{lines: strings.Split(src, "\n"), shift: first - 1}
	root = t.document(file)
	return root, t.faults
}

// syntaxFault turns the parser's error into a fault with a place inside src.
func syntaxFault(err error, src string, first int) Fault {
	f := Fault{Kind: Syntax, Line: first, Column: 1}
	message := err.Error()
	var e yaml.Error
	if errors.As(err, &e) {
		message = e.GetMessage()
		if tk := e.GetToken(); tk != nil && tk.Position != nil {
			f.Line, f.Column = tk.Position.Line+first-1, tk.Position.Column
		}
	}
	f.Line, f.Column = Clamp(src, first, f.Line, f.Column)
	message, _, _ = strings.Cut(message, "\n")
	f.Message, f.Hint = plainly(message, strings.Split(src, "\n")[f.Line-first])
	f.Message += " (" + message + ")"
	return f
}

// earlyEnd is a value that a quote or bracket within it ends.
var earlyEnd = regexp.MustCompile(`(?:: |- )[ ]*(?:'[^']*'|"[^"]*"|\[[^\]]*\]|\{[^}]*\})[ ]*[^\s,}\]#]`)

// plainly says what the parser found in words for people who do not know YAML, and what to do. line is the one it found.
func plainly(message, line string) (what, hint string) {
	has := func(words ...string) bool {
		return slices.ContainsFunc(words, func(w string) bool { return strings.Contains(message, w) })
	}
	switch {
	case has("'}'", "']'", "','", "sequence end", "flow map"):
		return "a bracket is not closed, or a comma is missing", "close every { and [, and put a comma between its parts"
	case has("tab character"):
		return "there is a tab at the beginning of the line", "indent with spaces"
	case has("quote"):
		return "a quotation mark is not closed", "close the quotation mark"
	case has("reserved character", "header option"):
		return "a value can't begin with this character", "put the value in quotes"
	case has("not allowed in this context") && earlyEnd.MatchString(line):
		return "the text goes on behind its closing mark", `put the whole text in quotes, as in title: "It's [almost] ready"`
	case has("not allowed in this context") && strings.Count(line, ": ") > 1:
		return "there are two colons in the line", `put text that holds ": " in quotes, as in title: "Cut: the stargrass"`
	case has("not allowed in this context"):
		return "the line or the one below it is indented otherwise than its neighbours", "indent keys of one level alike, with a - in front of each part of a list"
	case has("non-map value", "invalid key"):
		return "the line has no key", "write it as KEY: value, with a colon and a space; longer text goes below the second ---"
	}
	return "this can't be read", "check the line for a missing colon, quote or bracket"
}
