package journal

import (
	"fmt"
	"io/fs"
	"path"
	"slices"
	"strings"
)

// renamed takes a file whose name is not in its usual form, unless a file of that name is there too.
func (w *walk) renamed(f found, usual string, e fs.DirEntry) {
	_, listed := slices.BinarySearch(w.names[path.Dir(usual)], path.Base(usual))
	if _, err := fs.Stat(w.fsys, usual); listed || err == nil && !strings.EqualFold(f.path, usual) {
		w.complain(ruleNameClash, f.path, fmt.Sprintf("this would be read as %s, which is there too", path.Base(usual)), "rename or delete one of the two")
		return
	}
	if other := w.usual[usual]; other != "" {
		w.complain(ruleNameClash, f.path, fmt.Sprintf("this would be read as %s, as %s is too", path.Base(usual), path.Base(other)), "rename or delete one of the two")
		return
	}
	if !e.Type().IsRegular() {
		w.refuse(f.path, e)
		return
	}
	if w.usual == nil {
		w.usual = map[string]string{}
	}
	f.name, w.usual[usual] = usual, f.path
	w.complain(ruleTaken, f.path, "this file was taken for "+path.Base(usual), "slipleaf proof --fix renames it")
	w.add(f, e)
}
