package listing

import (
	"fmt"
	"io/fs"
	"path"
	"slices"
	"strings"
)

// renamed takes a file whose name is not in its usual form, unless a file of that name is there too.
func (w *Listing) renamed(f File, usual string, e fs.DirEntry) {
	_, listed := slices.BinarySearch(w.Names[path.Dir(usual)], path.Base(usual))
	_, err := fs.Stat(w.fsys, usual)
	switch other := w.usual[usual]; {
	case listed || err == nil && !strings.EqualFold(f.Path, usual):
		w.complain(NameClash, f.Path, fmt.Sprintf("this would be read as %s, which is there too", path.Base(usual)), "rename or delete one of the two")
		return
	case other != "":
		w.complain(NameClash, f.Path, fmt.Sprintf("this would be read as %s, as %s is too", path.Base(usual), path.Base(other)), "rename or delete one of the two")
		return
	case !e.Type().IsRegular():
		w.refuse(f.Path, e)
		return
	}
	if w.usual == nil {
		w.usual = map[string]string{}
	}
	f.Name, w.usual[usual] = usual, f.Path
	w.complain(Taken, f.Path, "this file was taken for "+path.Base(usual), "slipleaf proof --fix renames it")
	w.add(f, e)
}
