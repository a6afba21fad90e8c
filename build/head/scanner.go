package head

import (
	"strings"
	"unicode/utf8"
)

// head reads the plain YAML that nearly all heads are written in: mappings and lists by indentation with spaces or
// in brackets, plain and quoted text on one line, comments. It is some thirty times faster than the full parser, and
// that is all it is for: whatever it is not sure of it refuses, and a test holds that it gives the full parser's tree
// whenever it gives one. The tree of the head before is gone then.
func (s *Scanner) head(src string, first int) (Node, bool) {
	if strings.ContainsAny(src, "\t\r\x00") || strings.Contains(src, "\ufeff") {
		return Node{}, false
	}
	if strings.Count(src, "[")+strings.Count(src, "{") > MaxDepth { // what the parser is not let at is not read here either
		if _, deep := tooDeep(src, first); deep {
			return Node{}, false
		}
	}
	*s = Scanner{src: src, line: int32(first), col: 1, stack: s.stack[:0], slab: s.slab[:0]}
	indent, ok := s.nextLine()
	if !ok || indent != 0 || s.at >= len(src) {
		return Node{}, false
	}
	root, ok := s.mapping(0)
	return root, ok && s.at >= len(src)
}

// Scanner reads heads that are written in plain YAML, one after another. It is at a byte of the one it reads.
type Scanner struct {
	src       string
	at        int
	lineStart int
	line      int32
	depth     int
	stack     []Node // children of what is being read, innermost last
	slab      []Node // where children end up
	colAt     int    // column counts the characters from lineStart to colAt
	col       int32
}

// place is the line and column of s.at. It counts on from the last place asked for on the line.
func (s *Scanner) place() (line, column int32) {
	if s.colAt < s.lineStart || s.colAt > s.at {
		s.colAt, s.col = s.lineStart, 1
	}
	s.col += int32(utf8.RuneCountInString(s.src[s.colAt:s.at]))
	s.colAt = s.at
	return s.line, s.col
}

func (s *Scanner) peek(ahead int) byte {
	if s.at+ahead < len(s.src) {
		return s.src[s.at+ahead]
	}
	return '\n'
}

func (s *Scanner) spaces() {
	for s.at < len(s.src) && s.src[s.at] == ' ' {
		s.at++
	}
}

// endLine goes past the end of a line on which only a comment may still stand.
func (s *Scanner) endLine() bool {
	s.spaces()
	if s.peek(0) == '#' && (s.at == s.lineStart || s.src[s.at-1] == ' ') {
		if i := strings.IndexByte(s.src[s.at:], '\n'); i >= 0 {
			s.at += i
		} else {
			s.at = len(s.src)
		}
	}
	if s.at < len(s.src) && s.src[s.at] != '\n' {
		return false
	}
	s.newline()
	return true
}

func (s *Scanner) newline() {
	s.at = min(s.at+1, len(s.src))
	s.lineStart = s.at
	s.line++
}

// nextLine goes to the first character of the next line that says something, and gives its indentation. At the end of
// the head the indentation is -1.
func (s *Scanner) nextLine() (indent int, ok bool) {
	for s.at < len(s.src) {
		s.spaces()
		switch s.peek(0) {
		case '\n', '#':
			if !s.endLine() {
				return 0, false
			}
		default:
			return s.at - s.lineStart, true
		}
	}
	return -1, true
}

// finish moves the children pushed since mark into a slice of their own.
func (s *Scanner) finish(mark int) []Node {
	n := len(s.stack) - mark
	s.depth--
	if n == 0 {
		return []Node{}
	}
	if n > cap(s.slab)-len(s.slab) {
		s.slab = make([]Node, 0, max(n, 32, min(2*cap(s.slab), 1024))) // many small slices in one allocation
	}
	from := len(s.slab)
	s.slab = append(s.slab, s.stack[mark:]...)
	s.stack = s.stack[:mark]
	return s.slab[from:len(s.slab):len(s.slab)]
}

// mapping reads a mapping by indentation, from its first key on. It stops at the first line with less indentation.
func (s *Scanner) mapping(indent int) (Node, bool) {
	out := Node{Shape: Mapping, Block: true}
	out.Line, out.Column = s.place()
	mark := len(s.stack)
	if s.depth++; s.depth > MaxDepth {
		return out, false
	}
	for {
		kid, ok := s.pair()
		if !ok {
			return out, false
		}
		next, ok := s.blockValue(&kid, indent)
		if !ok || next > indent {
			return out, false
		}
		s.stack = append(s.stack, kid)
		if next < indent {
			break
		}
		if s.peek(0) == '-' {
			return out, false
		}
	}
	out.Kids = s.finish(mark)
	return out, true
}

// pair reads a key and its colon.
func (s *Scanner) pair() (kid Node, ok bool) {
	length := s.keyLength()
	if length == 0 {
		return kid, false
	}
	kid.KeyLine, kid.KeyColumn = s.place()
	kid.Key = s.src[s.at : s.at+length]
	s.at += length + 1
	return kid, true
}

// keyLength is the length of a plain key with a colon after it; 0 where there is none.
func (s *Scanner) keyLength() int {
	i := s.at
	for i < len(s.src) && isKeyByte(s.src[i], i == s.at) {
		i++
	}
	if i == s.at || i >= len(s.src) || s.src[i] != ':' || i+1 < len(s.src) && s.src[i+1] != ' ' && s.src[i+1] != '\n' {
		return 0
	}
	return i - s.at
}

func isKeyByte(c byte, first bool) bool {
	return c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || !first && (c == '-' || c == '_' || c >= '0' && c <= '9')
}

// blockValue reads what is after the colon of a key of a mapping by indentation, on its line or below. next is the
// indentation of the line that follows.
func (s *Scanner) blockValue(kid *Node, indent int) (next int, ok bool) {
	s.spaces()
	if c := s.peek(0); c != '\n' && c != '#' {
		if !s.inline(kid, indent) || !s.endLine() {
			return 0, false
		}
		return s.nextLine()
	}
	if !s.endLine() {
		return 0, false
	}
	next, ok = s.nextLine()
	if !ok {
		return 0, false
	}
	dash := next >= 0 && s.peek(0) == '-' && s.peek(1) == ' '
	switch {
	case dash && next >= indent:
		return s.below(kid, next, s.sequence)
	case next > indent:
		return s.below(kid, next, s.mapping)
	}
	kid.Line, kid.Column = kid.KeyLine, kid.KeyColumn
	return next, true
}

// below reads the block under a key, and gives the indentation of the line after it.
func (s *Scanner) below(kid *Node, indent int, read func(int) (Node, bool)) (next int, ok bool) {
	value, ok := read(indent)
	value.Key, value.KeyLine, value.KeyColumn = kid.Key, kid.KeyLine, kid.KeyColumn
	*kid = value
	if s.at >= len(s.src) {
		return -1, ok
	}
	return s.at - s.lineStart, ok
}

// sequence reads a list by indentation, from its first dash on.
func (s *Scanner) sequence(indent int) (Node, bool) {
	out := Node{Shape: Sequence, Block: true}
	out.Line, out.Column = s.place()
	mark := len(s.stack)
	if s.depth++; s.depth > MaxDepth {
		return out, false
	}
	for {
		item, next, ok := s.item(indent)
		if !ok || next > indent {
			return out, false
		}
		s.stack = append(s.stack, item)
		if next < indent || s.peek(0) != '-' {
			break
		}
		if s.peek(1) != ' ' {
			return out, false
		}
	}
	out.Kids = s.finish(mark)
	return out, true
}

// item reads what follows a dash, and gives the indentation of the line after it.
func (s *Scanner) item(indent int) (item Node, next int, ok bool) {
	s.at++
	s.spaces()
	if s.keyLength() > 0 {
		inner := s.at - s.lineStart
		item, ok = s.mapping(inner)
		if s.at >= len(s.src) {
			return item, -1, ok
		}
		return item, s.at - s.lineStart, ok
	}
	if c := s.peek(0); c == '\n' || c == '#' || !s.inline(&item, indent) || item.Shape == Nothing || !s.endLine() {
		return item, 0, false
	}
	next, ok = s.nextLine()
	return item, next, ok
}
