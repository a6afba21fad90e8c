package journal

import (
	"errors"
	"fmt"
	"strings"

	"github.com/goccy/go-yaml"
	"github.com/goccy/go-yaml/parser"
)

// fault is something wrong with a head as YAML.
type fault struct {
	rule          rule
	line, column  int
	message, hint string
}

// maxDepth is how many mappings and sequences may stand in each other; the format itself needs five.
const maxDepth = 16

// maxParts is how many parts between commas the full parser is given, since its time grows with their square: a fifth of
// a second at this number. Heads have some dozens.
const maxParts = 1500

// parseHead reads a head whose first line is the file's line first. The plain YAML that heads are written in is read
// by [scanHead]; whatever that does not take, and every fault, is the full parser's.
func parseHead(src string, first int) (node, []fault) { return parseWith(new(scanner), src, first) }

// parseWith is parseHead with a scanner's memory: the tree holds until the scanner reads its next head.
func parseWith(s *scanner, src string, first int) (node, []fault) {
	if root, ok := s.head(src, first); ok {
		return root, nil
	}
	return parseYAML(src, first)
}

// parseYAML reads a head with the full parser.
func parseYAML(src string, first int) (root node, faults []fault) {
	if f, deep := tooDeep(src, first); deep {
		return node{}, []fault{f}
	}
	if n := strings.Count(src, ","); n > maxParts {
		return node{}, []fault{{ruleLimit, first, 1, fmt.Sprintf("something is wrong in a head of %d parts, too many to find it", n), "break the head into several files"}}
	}
	// The parser must never take the program down, whatever it is given.
	defer func() {
		if r := recover(); r != nil {
			root, faults = node{}, []fault{{ruleYAML, first, 1, "the head is not YAML that can be read", ""}}
		}
	}()
	file, err := parser.ParseBytes([]byte(src), 0, parser.AllowDuplicateMapKey())
	if err != nil {
		return node{}, []fault{syntaxFault(err, src, first)}
	}
	t := tree{lines: strings.Split(src, "\n"), shift: first - 1}
	root = t.document(file)
	return root, t.faults
}

// syntaxFault turns the parser's error into a fault with a place inside src.
func syntaxFault(err error, src string, first int) fault {
	f := fault{rule: ruleYAML, line: first, column: 1, message: "not valid YAML: " + err.Error()}
	var e yaml.Error
	if errors.As(err, &e) {
		f.message = "not valid YAML: " + e.GetMessage()
		if tk := e.GetToken(); tk != nil && tk.Position != nil {
			f.line, f.column = tk.Position.Line+first-1, tk.Position.Column
		}
	}
	f.message, _, _ = strings.Cut(f.message, "\n")
	f.line, f.column = clampPlace(src, first, f.line, f.column)
	f.hint = yamlHint(f.message)
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
	return ""
}
