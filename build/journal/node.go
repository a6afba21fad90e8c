package journal

import (
	"strconv"
	"strings"
	"unicode/utf8"
)

// shape is what a place of a head holds.
type shape uint8

const (
	nothing shape = iota // a key without a value, or null
	scalar
	mapping
	sequence
)

// node is a value of a head with its place in the file. The children of a mapping carry their keys.
type node struct {
	key                string
	text               string // of a scalar: as written, without quotes
	kids               []node // of a mapping or sequence
	keyLine, keyColumn int32
	line, column       int32
	shape              shape
	quoted             bool // text begins one character after column, and may hold escapes
	faulty             bool // complained of as YAML: say nothing more of it
	block              bool // a mapping or sequence by indentation; a scalar of several lines
}

// child finds the value of a key.
func (n *node) child(key string) *node {
	if n.shape != mapping {
		return nil
	}
	for i := range n.kids {
		if n.kids[i].key == key {
			return &n.kids[i]
		}
	}
	return nil
}

// place is where a complaint about n points: the value, or the key of a value without a first character of its own.
func (n *node) place() (line, column int) {
	if n.keyLine > 0 && (n.shape == nothing || n.block && n.shape != scalar) {
		return int(n.keyLine), int(n.keyColumn)
	}
	return int(n.line), int(n.column)
}

// within is the place of a fault at a byte offset of n's text.
func (n *node) within(offset int) (line, column int) {
	line, column = n.place()
	if n.shape != scalar || n.block {
		return line, column
	}
	if n.quoted {
		if strings.ContainsAny(n.text, "\"\\'\n") {
			return line, column // escapes may have moved what follows
		}
		column++
	}
	return line, column + utf8.RuneCountInString(n.text[:min(offset, len(n.text))])
}

// At finds the place of a value by its path in the head: "title", "lots[0].count". A value that is a block of lines
// is found at its key. Where the path leads nowhere, the place of the nearest part that does exist is given. The head
// is parsed anew: ask only in order to complain.
func (s Source) At(path string) (line, column int) {
	n, ok := s.find(path)
	if !ok {
		return max(s.HeadLine, 1), 1
	}
	return n.place()
}

// AtKey is [Source.At] for the key rather than its value.
func (s Source) AtKey(path string) (line, column int) {
	n, ok := s.find(path)
	switch {
	case !ok:
		return max(s.HeadLine, 1), 1
	case n.keyLine > 0:
		return int(n.keyLine), int(n.keyColumn)
	}
	return n.place()
}

func (s Source) find(path string) (*node, bool) {
	root, faults := parseHead(s.head.open(), max(s.HeadLine, 1))
	if len(faults) > 0 && root.shape == nothing {
		return nil, false
	}
	at, found := &root, false
	for path != "" {
		var next *node
		next, path = step(at, path)
		if next == nil {
			break
		}
		at, found = next, true
	}
	return at, found
}

// step follows the first part of a path: a key, or an index in brackets.
func step(n *node, path string) (next *node, rest string) {
	path = strings.TrimPrefix(path, ".")
	if strings.HasPrefix(path, "[") {
		digits, rest, ok := strings.Cut(path[1:], "]")
		i, err := strconv.Atoi(digits)
		if !ok || err != nil || n.shape != sequence || i < 0 || i >= len(n.kids) {
			return nil, ""
		}
		return &n.kids[i], rest
	}
	end := strings.IndexAny(path, ".[")
	if end < 0 {
		end = len(path)
	}
	return n.child(path[:end]), path[end:]
}
