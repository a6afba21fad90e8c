package head

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// inline reads a value that begins on this line and is not itself a mapping by indentation.
func (s *Scanner) inline(n *Node, indent int) bool {
	if ok, is := s.enclosed(n, indent); is {
		return ok
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

// enclosed reads a value in brackets or quotes; is is false for others.
func (s *Scanner) enclosed(n *Node, indent int) (ok, is bool) {
	n.Line, n.Column = s.place()
	switch s.peek(0) {
	case '{':
		return s.flow(n, indent, '}'), true
	case '[':
		return s.flow(n, indent, ']'), true
	case '"', '\'':
		return s.quoted(n), true
	}
	return false, false
}

// plain takes text, or its part before trailing spaces, as a plain scalar.
func (s *Scanner) plain(n *Node, text string) bool {
	text = strings.TrimRight(text, " ")
	if text == "" || !plainStart(text) || strings.HasSuffix(text, ":") {
		return false
	}
	ascii := true
	for i := 0; i < len(text); i++ {
		c := text[i]
		if c == ':' && i+1 < len(text) && text[i+1] == ' ' || c < ' ' || c == 0x7f {
			return false
		}
		ascii = ascii && c < utf8.RuneSelf
	}
	if !ascii && !printable(text) {
		return false
	}
	s.at += len(text)
	n.Shape, n.Text = Scalar, text
	switch text {
	case "~", "null", "Null", "NULL":
		n.Shape, n.Text, n.Line, n.Column = Nothing, "", n.KeyLine, n.KeyColumn
	}
	return true
}

// printable reports whether a text beyond ASCII has only characters about which no two readers differ.
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
func (s *Scanner) quoted(n *Node) bool {
	quote := s.src[s.at]
	for i := s.at + 1; i < len(s.src); i++ {
		switch c := s.src[i]; {
		case c == '\n' || c == '\\' || c < ' ' || c == 0x7f:
			return false
		case c == quote:
			if i+1 < len(s.src) && s.src[i+1] == quote {
				return false
			}
			n.Shape, n.Quoted, n.Text = Scalar, true, s.src[s.at+1:i]
			s.at = i + 1
			return printable(n.Text)
		}
	}
	return false
}

// flow reads a mapping or list in brackets, to its closing bracket.
func (s *Scanner) flow(n *Node, indent int, closing byte) bool {
	mark := len(s.stack)
	if s.depth++; s.depth > MaxDepth {
		return false
	}
	n.Shape = Sequence
	if closing == '}' {
		n.Shape = Mapping
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
	n.Kids = s.finish(mark)
	return true
}

// flowPart reads one part of a mapping or list in brackets.
func (s *Scanner) flowPart(indent int, keyed bool) (kid Node, ok bool) {
	if keyed {
		if kid, ok = s.pair(); !ok || s.peek(0) != ' ' {
			return kid, false
		}
		s.spaces()
	}
	ok = s.flowValue(&kid, indent) && (keyed || kid.Shape != Nothing)
	if !keyed && kid.Shape == Scalar && !kid.Quoted && strings.Contains(kid.Text, ":") {
		return kid, false // in a list the parser takes 0:0 for a mapping
	}
	return kid, ok
}

// flowSpace passes spaces and ends of lines between brackets; what follows must be indented.
func (s *Scanner) flowSpace(indent int) bool {
	s.spaces()
	if s.at < len(s.src) && s.src[s.at] == '\n' {
		s.newline()
		s.spaces()
		return s.at-s.lineStart > indent && s.at < len(s.src) && s.src[s.at] != '\n' && s.src[s.at] != '#'
	}
	return s.at < len(s.src)
}

// flowValue reads a value between brackets.
func (s *Scanner) flowValue(n *Node, indent int) bool {
	if ok, is := s.enclosed(n, indent); is {
		return ok
	}
	end := strings.IndexAny(s.src[s.at:], ",{}[]\n")
	if end < 0 || strings.IndexByte(",}]", s.src[s.at+end]) < 0 {
		return false
	}
	text := s.src[s.at : s.at+end]
	return !strings.Contains(text, " #") && s.plain(n, text)
}
