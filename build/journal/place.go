package journal

import "slipleaf/build/head"

// Places finds where in files something stands. It keeps the last head that it looked at, since a file with one fault often
// has thousands. The zero Places is ready; use it from one goroutine at a time.
type Places struct {
	of    Source
	root  head.Node
	sound bool
	lines []string // of the head
}

// At finds the place of a value by its path in the head of s: "title", "lots[0].count". A value that is a block of lines
// is found at its key. Where the path leads nowhere, the place of the nearest part that does exist is given. The head
// is parsed anew: ask only in order to complain.
func (p *Places) At(s Source, path string) (line, column int) {
	n, ok := p.find(s, path)
	if !ok {
		return max(s.HeadLine, 1), 1
	}
	return n.Place()
}

// AtKey is [Places.At] for the key rather than its value.
func (p *Places) AtKey(s Source, path string) (line, column int) {
	n, ok := p.find(s, path)
	switch {
	case !ok:
		return max(s.HeadLine, 1), 1
	case n.KeyLine > 0:
		return int(n.KeyLine), int(n.KeyColumn)
	}
	return n.Place()
}

func (p *Places) find(s Source, path string) (*head.Node, bool) {
	if p.look(s); !p.sound {
		return nil, false
	}
	return p.root.Find(path)
}

func (p *Places) look(s Source) {
	if p.lines != nil && p.of.Path == s.Path && p.of.HeadLine == s.HeadLine && p.of.head == s.head {
		return
	}
	root, faults := head.Parse(s.head.open(), max(s.HeadLine, 1))
	if isEntry(s.Path) {
		withoutBlanks(&root)
	}
	*p = Places{s, root, len(faults) == 0 || root.Shape != head.Nothing, linesOf([]byte(s.head.open()))}
}

// within moves a place of a head to the nearest that is in it.
func (p *Places) within(s Source, line, column int) (int, int) {
	if first := max(s.HeadLine, 1); line >= first && s.head.open() != "" {
		p.look(s)
		line, column = inFile(p.lines, line-first+1, column)
		line += first - 1
	}
	return line, column
}
