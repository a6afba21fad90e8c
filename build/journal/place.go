package journal

import "slipleaf/build/head"

// At finds the place of a value by its path in the head: "title", "lots[0].count". A value that is a block of lines
// is found at its key. Where the path leads nowhere, the place of the nearest part that does exist is given. The head
// is parsed anew: ask only in order to complain.
func (s Source) At(path string) (line, column int) {
	n, ok := s.find(path)
	if !ok {
		return max(s.HeadLine, 1), 1
	}
	return n.Place()
}

// AtKey is [Source.At] for the key rather than its value.
func (s Source) AtKey(path string) (line, column int) {
	n, ok := s.find(path)
	switch {
	case !ok:
		return max(s.HeadLine, 1), 1
	case n.KeyLine > 0:
		return int(n.KeyLine), int(n.KeyColumn)
	}
	return n.Place()
}

func (s Source) find(path string) (*head.Node, bool) {
	root, faults := head.Parse(s.head.open(), max(s.HeadLine, 1))
	if len(faults) > 0 && root.Shape == head.Nothing {
		return nil, false
	}
	if isEntry(s.Path) {
		withoutBlanks(&root)
	}
	return root.Find(path)
}
