package journal

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// inline reads a value that begins on this line and is not itself a mapping by indentation.
func (s *scanner) inline(n *node, indent int) bool {
	n.line, n.column = s.place()
	switch s.peek(0) {
	case '{':
		return s.flow(n, indent, '}')
	case '[':
		return s.flow(n, indent, ']')
	case '"', '\'':
		return s.quoted(n)
	}
	end := strings.IndexByte(s.src[s.at:], '\n')
	if end < 0 {
		end = len(s.src) - s.at
	}
	text := s.src[s.at : s.at+end]
	if i := strings.Index(text, " #"); i >= 0 {
		text = text[:i]
	}
	return s.plain(n, text)
}

// plain takes text, or its part before trailing spaces, as a plain scalar.
func (s *scanner) plain(n *node, text string) bool {
	text = strings.TrimRight(text, " ")
	if text == "" || !plainStart(text) || strings.HasSuffix(text, ":") {
		return false
	}
	for i := 0; i < len(text); i++ {
		switch c := text[i]; {
		case c == ':' && i+1 < len(text) && text[i+1] == ' ', c < ' ', c == 0x7f:
			return false
		case c >= utf8.RuneSelf:
			if !printable(text) {
				return false
			}
		}
	}
	s.at += len(text)
	n.shape, n.text = scalar, text
	switch text {
	case "~", "null", "Null", "NULL":
		n.shape, n.text, n.line, n.column = nothing, "", n.keyLine, n.keyColumn
	}
	return true
}

// printable tells whether a text beyond ASCII has only characters about which no two readers differ.
func printable(text string) bool {
	return !strings.ContainsFunc(text, func(r rune) bool {
		return r >= utf8.RuneSelf && (unicode.IsSpace(r) || unicode.IsControl(r) || r == utf8.RuneError || r >= 0xfff0 && r <= 0xffff)
	})
}

func plainStart(text string) bool {
	switch c := text[0]; c {
	case '-':
		return len(text) > 1 && text[1] >= '0' && text[1] <= '9'
	case '<':
		return len(text) > 1 && text[1] != '<'
	default:
		return strings.IndexByte("?:,[]{}#&*!|>'\"%@`=", c) < 0
	}
}

// quoted reads a quoted text of one line without escapes.
func (s *scanner) quoted(n *node) bool {
	quote := s.src[s.at]
	for i := s.at + 1; i < len(s.src); i++ {
		switch c := s.src[i]; {
		case c == '\n' || c == '\\' || c < ' ' || c == 0x7f:
			return false
		case c == quote:
			if i+1 < len(s.src) && s.src[i+1] == quote {
				return false
			}
			n.shape, n.quoted, n.text = scalar, true, s.src[s.at+1:i]
			s.at = i + 1
			return printable(n.text)
		}
	}
	return false
}

// flow reads a mapping or list in brackets, to its closing bracket.
func (s *scanner) flow(n *node, indent int, closing byte) bool {
	mark := len(s.stack)
	if s.depth++; s.depth > maxDepth {
		return false
	}
	n.shape = sequence
	if closing == '}' {
		n.shape = mapping
	}
	s.at++
	for first := true; ; first = false {
		if !s.flowSpace(indent) {
			return false
		}
		if first && s.peek(0) == closing {
			break
		}
		kid, ok := s.flowPart(indent, closing == '}')
		if !ok {
			return false
		}
		s.stack = append(s.stack, kid)
		s.spaces()
		if s.peek(0) == closing {
			break
		}
		if s.peek(0) != ',' {
			return false
		}
		s.at++
	}
	s.at++
	n.kids = s.finish(mark)
	return true
}

// flowPart reads one part of a mapping or list in brackets.
func (s *scanner) flowPart(indent int, keyed bool) (kid node, ok bool) {
	if keyed {
		if kid, ok = s.pair(); !ok || s.peek(0) != ' ' {
			return kid, false
		}
		s.spaces()
	}
	ok = s.flowValue(&kid, indent) && (keyed || kid.shape != nothing)
	if !keyed && kid.shape == scalar && !kid.quoted && strings.Contains(kid.text, ":") {
		return kid, false // in a list the parser takes 0:0 for a mapping
	}
	return kid, ok
}

// flowSpace passes spaces and ends of lines between brackets; what follows must be indented.
func (s *scanner) flowSpace(indent int) bool {
	s.spaces()
	if s.at < len(s.src) && s.src[s.at] == '\n' {
		s.newline()
		s.spaces()
		return s.at-s.lineStart > indent && s.at < len(s.src) && s.src[s.at] != '\n' && s.src[s.at] != '#'
	}
	return s.at < len(s.src)
}

// flowValue reads a value between brackets.
func (s *scanner) flowValue(n *node, indent int) bool {
	n.line, n.column = s.place()
	switch s.peek(0) {
	case '{':
		return s.flow(n, indent, '}')
	case '[':
		return s.flow(n, indent, ']')
	case '"', '\'':
		return s.quoted(n)
	}
	end := strings.IndexAny(s.src[s.at:], ",{}[]\n")
	if end < 0 || strings.IndexByte(",}]", s.src[s.at+end]) < 0 {
		return false
	}
	text := s.src[s.at : s.at+end]
	return !strings.Contains(text, " #") && s.plain(n, text)
}
