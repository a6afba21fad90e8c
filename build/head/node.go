package head

import (
	"strconv"
	"strings"
	"unicode/utf8"

	"slipleaf/build/spelling"
)

// Shape is what a place of a head holds.
type Shape uint8

const (
	Nothing Shape = iota // a key without a value, or null
	Scalar
	Mapping
	Sequence
)

// Node is a value of a head with its place in the file. The children of a mapping carry their keys.
type Node struct {
	Key                string
	Text               string // of a scalar: as written, without quotes
	Kids               []Node // of a mapping or sequence
	KeyLine, KeyColumn int32
	Line, Column       int32
	Shape              Shape
	Quoted             bool // text begins one character after column, and may hold escapes
	Faulty             bool // complained of as YAML: say nothing more of it
	Block              bool // a mapping or sequence by indentation; a scalar of several lines
}

// Child finds the value of a key.
func (n *Node) Child(key string) *Node {
	if n.Shape != Mapping {
		return nil
	}
	for i := range n.Kids {
		if n.Kids[i].Key == key {
			return &n.Kids[i]
		}
	}
	return nil
}

// Place is where a complaint about n points: the value, or the key of a value without a first character of its own.
func (n *Node) Place() (line, column int) {
	if n.KeyLine > 0 && (n.Shape == Nothing || n.Block && n.Shape != Scalar) {
		return int(n.KeyLine), int(n.KeyColumn)
	}
	return int(n.Line), int(n.Column)
}

// Within is the place of a fault at a byte offset of n's text.
func (n *Node) Within(offset int) (line, column int) {
	line, column = n.Place()
	if n.Shape != Scalar || n.Block {
		return line, column
	}
	if n.Quoted {
		if strings.ContainsAny(n.Text, "\"\\'\n") {
			return line, column // escapes may have moved what follows
		}
		column++
	}
	return line, column + utf8.RuneCountInString(n.Text[:min(offset, len(n.Text))])
}

// Describe says what n is, in words: "a mapping", "a list", a text in quotes.
func (n *Node) Describe() string {
	switch n.Shape {
	case Mapping:
		return "a mapping"
	case Sequence:
		return "a list"
	case Scalar:
		return strconv.Quote(spelling.Clip(n.Text))
	}
	return "nothing"
}

// Find follows a path such as "title" or "lots[0].count" to a value. Where the path leads nowhere, found is false, or at is
// the nearest part that does exist.
func (n *Node) Find(path string) (at *Node, found bool) {
	at = n
	for path != "" {
		var next *Node
		next, path = step(at, path)
		if next == nil {
			break
		}
		at, found = next, true
	}
	return at, found
}

// step follows the first part of a path: a key, or an index in brackets.
func step(n *Node, path string) (next *Node, rest string) {
	path = strings.TrimPrefix(path, ".")
	if strings.HasPrefix(path, "[") {
		digits, rest, ok := strings.Cut(path[1:], "]")
		i, err := strconv.Atoi(digits)
		if !ok || err != nil || n.Shape != Sequence || i < 0 || i >= len(n.Kids) {
			return nil, ""
		}
		return &n.Kids[i], rest
	}
	end := strings.IndexAny(path, ".[")
	if end < 0 {
		end = len(path)
	}
	return n.Child(path[:end]), path[end:]
}
