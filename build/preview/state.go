package preview

import (
	"slices"
	"strings"
	"sync/atomic"

	"slipleaf/build/journal"
	"slipleaf/build/theme"
)

// state is all that is served at a moment. It never changes; a newer one takes its place.
type state struct {
	number   int64     // grows with every state
	edition  *edition  // the last that was whole; nil before the first
	trouble  []trouble // what is wrong with the journal now
	failure  string    // what kept the build from being made, other than the journal; "" for nothing
	keepsake map[string]theme.File
	next     chan struct{} // closed when a newer state is there
}

// trouble is a complaint with its line of the file.
type trouble struct {
	journal.Complaint
	Shown string // as a terminal shows it: the place, the line, a caret, the hint
}

// Head is what is wrong and where.
func (t trouble) Head() string { head, _, _ := strings.Cut(t.Shown, "\n"); return head }

// Line is the line of the file and the caret under the place, which a browser must not wrap; "" where there is none.
func (t trouble) Line() string {
	var lines []string
	for l := range strings.Lines(t.Shown) {
		if l, ok := strings.CutPrefix(l, shownIndent); ok {
			lines = append(lines, l)
		}
	}
	return strings.TrimRight(strings.Join(lines, ""), "\n")
}

// shownIndent is what a shown line of a file begins with.
const shownIndent = "    "

// broken reports whether the newest save made no edition, so that an older one is shown.
func (s *state) broken() bool { return s.failure != "" || len(s.errors()) > 0 }

// errors are the complaints that keep a save from being shown; warnings stand on the grower's own page.
func (s *state) errors() []trouble {
	return slices.DeleteFunc(slices.Clone(s.trouble), func(t trouble) bool { return t.Severity != journal.Error })
}

// shown are the errors that may stand on a page which opens without the token, and how many more there are: what is in a
// record, or names one, or holds the code of a sheet, is on the desk and the terminal alone.
func (s *state) shown() (public []trouble, records int) {
	for _, t := range s.errors() {
		if ofRecords(t.File) || ofRecords(t.Message+t.Hint) || t.Rule == "shown-code" {
			records++
			continue
		}
		public = append(public, t)
	}
	return public, records
}

// ofRecords reports whether a text names a file that holds what is private.
func ofRecords(text string) bool {
	return strings.Contains(text, "sent/") || strings.Contains(text, ".undo")
}

// shelf holds the state that is served.
type shelf struct{ now atomic.Pointer[state] }

func newShelf(first int64) *shelf {
	s := &shelf{}
	s.now.Store(&state{number: first, next: make(chan struct{})})
	return s
}

// keptLooks is how many files of styles and scripts of earlier editions are still served, for pages that were loaded
// just before a save.
const keptLooks = 16

// put replaces the state. Only the goroutine that makes editions calls it. A nil edition keeps the last
// one; any other gets its number here.
func (s *shelf) put(e *edition, troubles []trouble, failure string) *state {
	old := s.now.Load()
	n := &state{number: old.number + 1, edition: old.edition, trouble: troubles, failure: failure, keepsake: old.keepsake, next: make(chan struct{})}
	if e != nil {
		n.edition = e
		e.number = n.number
		b := e.site
		n.keepsake = map[string]theme.File{}
		for _, f := range []theme.File{b.Theme.Styles, b.Theme.Sheet, b.Theme.Label, b.Theme.Script} {
			n.keepsake["/"+f.Path] = f
		}
		for addr, f := range old.keepsake {
			if len(n.keepsake) < keptLooks {
				n.keepsake[addr] = f
			}
		}
	}
	s.now.Store(n)
	close(old.next)
	return n
}
