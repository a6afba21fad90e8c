package preview

import (
	"maps"
	"path/filepath"
	"slices"
	"strings"
	"sync"
)

// touched gathers the files that may have changed since the journal was last read. It is safe for concurrent use; the
// zero value says that any may have.
type touched struct {
	mu    sync.Mutex
	paths map[string]bool // nil: any file
}

// add notes a file, by the path that the system gives; "" stands for any.
func (t *touched) add(p string) {
	t.mu.Lock()
	defer t.mu.Unlock()
	switch {
	case p == "":
		t.paths = nil
	case t.paths != nil:
		t.paths[p] = true
	}
}

// take gives the files that may have changed, and begins anew. They are nil where any may have.
func (t *touched) take() map[string]bool {
	t.mu.Lock()
	defer t.mu.Unlock()
	was := t.paths
	t.paths = map[string]bool{}
	return was
}

// back returns what was taken by a reading that came to nothing.
func (t *touched) back(was map[string]bool) {
	t.mu.Lock()
	defer t.mu.Unlock()
	if was == nil || t.paths == nil {
		t.paths = nil
		return
	}
	maps.Copy(t.paths, was)
}

// within are the files below dir, as slash paths from there, sorted; nil where any may have changed. A folder's own path
// and those outside, as a theme's, are of no reading of the journal; a folder that came or went is noted by its own path.
func within(dir string, paths map[string]bool) []string {
	if paths == nil {
		return nil
	}
	out := []string{}
	for p := range paths {
		rel, err := filepath.Rel(dir, p)
		if err != nil {
			return nil
		}
		if rel = filepath.ToSlash(rel); rel != ".." && !strings.HasPrefix(rel, "../") {
			out = append(out, rel)
		}
	}
	slices.Sort(out)
	return out
}
