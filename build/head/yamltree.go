package head

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/token"

	"slipleaf/build/spelling"
)

// tree turns the parser's nodes into ours, noting what the format forbids.
type tree struct {
	lines  []string // of the head
	shift  int      // of their numbers
	faults []Fault
}

func (t *tree) fault(k Kind, tk *token.Token, message, hint string) {
	line, column := t.at(tk)
	t.faults = append(t.faults, Fault{k, int(line), int(column), message, hint})
}

func (t *tree) at(tk *token.Token) (line, column int32) {
	if tk == nil || tk.Position == nil {
		return int32(t.shift + 1), 1
	}
	return int32(tk.Position.Line + t.shift), int32(max(tk.Position.Column, 1))
}

// settle is the place of a plain text. The parser's column is off after some hyphens and before spaces at the end of a
// line, so it is moved to where the text is nearest on that line.
func (t *tree) settle(tk *token.Token) (line, column int32) {
	line, column = t.at(tk)
	i := int(line) - t.shift - 1
	if i < 0 || i >= len(t.lines) || tk.Value == "" {
		return line, column
	}
	best, far := column, int32(1<<30)
	for at, text := int32(1), t.lines[i]; text != ""; at++ {
		if off := max(at-column, column-at); strings.HasPrefix(text, tk.Value) && off < far {
			best, far = at, off
		}
		_, size := utf8.DecodeRuneInString(text)
		text = text[size:]
	}
	return line, best
}

// inside moves the place of a value that is not there, which the parser puts where one would begin, to the end of its line
// at the farthest.
func (t *tree) inside(line, column int32) (int32, int32) {
	i := min(max(int(line)-t.shift-1, 0), len(t.lines)-1)
	if i < 0 {
		return line, column
	}
	return int32(i + t.shift + 1), min(column, int32(utf8.RuneCountInString(t.lines[i]))+1)
}

func (t *tree) document(file *ast.File) Node {
	var root Node
	seen := false
	for _, doc := range file.Docs {
		if doc.Body == nil {
			continue
		}
		if d, ok := doc.Body.(*ast.DirectiveNode); ok {
			t.fault(Feature, d.GetToken(), "a head has no YAML directives", "delete the line")
			continue
		}
		if seen {
			t.fault(Feature, doc.Body.GetToken(), "a head is one YAML document, and here a second begins", "delete the line of --- or ...")
			break
		}
		root, seen = t.node(doc.Body), true
	}
	return root
}

// node converts one value.
func (t *tree) node(n ast.Node) Node {
	switch n := n.(type) {
	case *ast.MappingNode:
		return t.mapping(n.Start, n.Values, !n.IsFlowStyle)
	case *ast.MappingValueNode:
		return t.mapping(n.GetToken(), []*ast.MappingValueNode{n}, true)
	case *ast.SequenceNode:
		out := Node{Shape: Sequence, Block: !n.IsFlowStyle, Kids: make([]Node, 0, len(n.Values))}
		out.Line, out.Column = t.at(n.Start)
		for _, v := range n.Values {
			out.Kids = append(out.Kids, t.node(v))
		}
		return out
	case *ast.AnchorNode:
		t.fault(Feature, n.Start, "YAML anchors are not part of the format", "write the value out in full")
		return t.node(n.Value)
	case *ast.AliasNode:
		t.fault(Feature, n.Start, "YAML aliases are not part of the format", "write the value out in full")
		out := Node{Faulty: true}
		out.Line, out.Column = t.at(n.Start)
		return out
	case *ast.TagNode:
		t.fault(Feature, n.Start, "YAML tags are not part of the format", "delete "+spelling.Clip(n.Start.Value))
		return t.node(n.Value)
	}
	return t.scalar(n)
}

func (t *tree) scalar(n ast.Node) Node {
	if n == nil {
		return Node{Line: int32(t.shift + 1), Column: 1}
	}
	tk := n.GetToken()
	out := Node{Shape: Scalar, Text: tk.Value}
	out.Line, out.Column = t.settle(tk)
	switch n := n.(type) {
	case *ast.NullNode:
		out.Shape, out.Text = Nothing, ""
		out.Line, out.Column = t.inside(out.Line, out.Column)
	case *ast.LiteralNode:
		out.Text, out.Block = strings.TrimSuffix(n.Value.Value, "\n"), true
	case *ast.StringNode:
		if out.Quoted = tk.Type == token.SingleQuoteType || tk.Type == token.DoubleQuoteType; out.Quoted {
			out.Line, out.Column = t.at(tk)
		}
	}
	return out
}

func (t *tree) mapping(start *token.Token, values []*ast.MappingValueNode, block bool) Node {
	out := Node{Shape: Mapping, Block: block, Kids: make([]Node, 0, len(values))}
	out.Line, out.Column = t.at(start)
	for i, v := range values {
		key := v.Key.GetToken()
		kid := t.node(v.Value)
		kid.Key = key.Value
		kid.KeyLine, kid.KeyColumn = t.settle(key)
		if kid.Shape == Nothing {
			kid.Line, kid.Column = kid.KeyLine, kid.KeyColumn
		}
		kid.Faulty = !t.key(v.Key, key) || kid.Faulty
		if i == 0 && block {
			out.Line, out.Column = kid.KeyLine, kid.KeyColumn
		}
		out.Kids = append(out.Kids, kid)
	}
	return out
}

// key refuses what may stand before the colon in YAML but not in a head.
func (t *tree) key(k ast.MapKeyNode, tk *token.Token) bool {
	switch k.(type) {
	case *ast.MergeKeyNode:
		t.fault(Feature, tk, "YAML merge keys are not part of the format", "write the keys out in full")
	case *ast.MappingKeyNode:
		t.fault(Feature, tk, "a key is a plain word before a colon", "write it as in title: …")
	case *ast.AnchorNode, *ast.AliasNode, *ast.TagNode:
		t.fault(Feature, tk, "a key carries no YAML anchor, alias or tag", "write the bare word")
	default:
		return true
	}
	return false
}

// tooDeep finds nesting deeper than any head needs before the parser, which recurses, is let at it.
func tooDeep(src string, first int) (Fault, bool) {
	line, flow := first, 0
	var indents []int
	for text := range strings.Lines(src) {
		lead := len(text) - len(strings.TrimLeft(text, " "))
		dashes := strings.Count(text[:len(text)-len(strings.TrimLeft(text, " -?"))], "-")
		for len(indents) > 0 && indents[len(indents)-1] >= lead {
			indents = indents[:len(indents)-1]
		}
		if strings.TrimSpace(text) != "" {
			indents = append(indents, lead)
		}
		for i := 0; i < len(text); i++ {
			switch text[i] {
			case '[', '{':
				flow++
			case ']', '}':
				flow = max(flow-1, 0)
			}
			if flow+len(indents)+dashes > 4*MaxDepth {
				return Fault{TooLarge, line, 1, fmt.Sprintf("lists and mappings are nested more than %d deep", MaxDepth), "five is enough: close the open brackets"}, true
			}
		}
		line++
	}
	return Fault{}, false
}

// Clamp moves a place into the text that begins on line first, since a parser may point past the end.
func Clamp(src string, first, line, column int) (int, int) {
	lines := strings.Split(src, "\n")
	if len(lines) > 1 && lines[len(lines)-1] == "" {
		lines = lines[:len(lines)-1]
	}
	line = min(max(line, first), first+len(lines)-1)
	width := len([]rune(lines[line-first]))
	return line, min(max(column, 1), width+1)
}
