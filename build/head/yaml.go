// Package head turns the text of a head, the YAML mapping at the top of a journal's files, into a tree whose every value
// knows its line and column. It knows the format's limits of form (no anchors, aliases, tags, second documents; bounded
// size and depth) and none of its keys.
package head

import (
	"errors"
	"fmt"
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

// maxParts is how many parts between commas the full parser is given, since its time grows with their square: a fifth of
// a second at this number. Heads have some dozens.
const maxParts = 1500

// Parse reads a head whose first line is the file's line first. The plain YAML that heads are written in is read
// by [scanHead]; whatever that does not take, and every fault, is the full parser's.
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
	if n := strings.Count(src, ","); n > maxParts {
		return Node{}, []Fault{{TooLarge, first, 1, fmt.Sprintf("the head is too large (%d parts) to find the mistake in", n), "split it into several entries, or check what you changed last"}}
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
	f := Fault{Kind: Syntax, Line: first, Column: 1, Message: "not valid YAML: " + err.Error()}
	var e yaml.Error
	if errors.As(err, &e) {
		f.Message = "not valid YAML: " + e.GetMessage()
		if tk := e.GetToken(); tk != nil && tk.Position != nil {
			f.Line, f.Column = tk.Position.Line+first-1, tk.Position.Column
		}
	}
	f.Message, _, _ = strings.Cut(f.Message, "\n")
	f.Line, f.Column = Clamp(src, first, f.Line, f.Column)
	f.Hint = yamlHint(f.Message)
	return f
}

// yamlHint says in the grower's words what the commonest faults of YAML come from.
func yamlHint(message string) string {
	switch {
	case strings.Contains(message, "'}'"), strings.Contains(message, "']'"), strings.Contains(message, "','"), strings.Contains(message, "sequence end"), strings.Contains(message, "flow map"):
		return "close every { and [, and put a comma between its parts"
	case strings.Contains(message, "tab character"):
		return "indent with spaces"
	case strings.Contains(message, "not allowed in this context"), strings.Contains(message, "invalid key"), strings.Contains(message, "non-map value"):
		return "indent keys of one level alike, and put text that holds \": \" in quotes"
	case strings.Contains(message, "quote"):
		return "close the quotation mark"
	}
	return "check the line for a missing colon, quote or bracket"
}
