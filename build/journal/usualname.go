package journal

import (
	"fmt"
	"io/fs"
	"path"
	"strings"
)

// renamed takes a file whose name is not in its usual form, unless a file of that name is there too.
func (w *walk) renamed(f found, usual string, e fs.DirEntry) {
	if _, err := fs.Stat(w.fsys, usual); err == nil && !strings.EqualFold(f.path, usual) {
		w.complain(ruleNameClash, f.path, fmt.Sprintf("this would be read as %s, which is there too", path.Base(usual)), "rename or delete one of the two")
		return
	}
	for _, other := range w.files {
		if other.name == usual || other.path == usual {
			w.complain(ruleNameClash, f.path, fmt.Sprintf("this would be read as %s, as %s is too", path.Base(usual), path.Base(other.path)), "rename or delete one of the two")
			return
		}
	}
	if !e.Type().IsRegular() {
		w.refuse(f.path, e)
		return
	}
	f.name = usual
	w.complain(ruleTaken, f.path, "this file was taken for "+path.Base(usual), "slipleaf proof --fix renames it")
	w.add(f, e)
}
