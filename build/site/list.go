package site

import (
	"bytes"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"path"
	"slices"
	"strconv"
	"strings"

	"slipleaf/build/disk"
)

// The list of a site's files lies in the build cache and not in the site: it holds the addresses of care sheets. What is at
// a target and in neither its list nor the list of the site that was being put there is somebody else's.
const (
	listName     = "files"      // of the site at the target
	listNextName = "files.next" // of the one that is being put there
	listHead     = "slipleaf files 1\n"
	maxList      = 256 << 20 // bytes: ten times what the most files come to
	sumListed    = 12        // bytes of a file's fingerprint that are kept
)

// list is what a publish has put at a target.
type list struct {
	generation string            // by which folders beside the target are known for ours
	journal    string            // the folder of the journal that the site is made from; "" where it is not known
	keep       []string          // files and folders of others that stay
	files      map[string]string // the beginning of the hash of each file's bytes, by path
}

// encode writes a list; the same list gives the same bytes.
func (l *list) encode(outputs []output) []byte {
	var b bytes.Buffer
	b.WriteString(listHead + "generation " + l.generation + "\n")
	if l.journal != "" {
		fmt.Fprintf(&b, "journal %q\n", l.journal)
	}
	for _, k := range l.keep {
		fmt.Fprintf(&b, "keep %q\n", k)
	}
	for i := range outputs {
		b.WriteString(hex.EncodeToString(outputs[i].sum[:sumListed]) + " " + outputs[i].Path + "\n")
	}
	return b.Bytes()
}

// decodeList reads a list; ok is false for one that is damaged.
func decodeList(data []byte) (l *list, ok bool) {
	rest, ok := bytes.CutPrefix(data, []byte(listHead))
	if !ok || !bytes.HasSuffix(data, []byte("\n")) {
		return nil, false
	}
	l = &list{files: map[string]string{}}
	for line := range strings.Lines(string(rest)) {
		key, value, ok := strings.Cut(strings.TrimSuffix(line, "\n"), " ")
		switch {
		case !ok:
			return nil, false
		case key == "generation":
			l.generation = value
		case key == "journal":
			from, err := strconv.Unquote(value)
			if err != nil {
				return nil, false
			}
			l.journal = from
		case key == "keep":
			name, err := strconv.Unquote(value)
			if err != nil || checkKeep(name) != nil {
				return nil, false
			}
			l.keep = append(l.keep, name)
		default:
			l.files[value] = key
		}
	}
	return l, l.generation != ""
}

// readList reads a list of a target; nil where there is none, or a damaged one.
func (t *target) readList(name string) (*list, error) {
	data, err := disk.Read(t.root, t.sibling(buildCache)+"/"+name, maxList)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	l, _ := decodeList(data)
	return l, nil
}

// writeList writes a list so that it lasts: it must be there before the site that it is of.
func (t *target) writeList(name string, l *list, outputs []output) error {
	return disk.Replace(t.root, t.sibling(buildCache)+"/"+name, l.encode(outputs), disk.Private)
}

// checkKeep refuses names that are none of a file or folder below a target.
func checkKeep(name string) error {
	if !fs.ValidPath(name) || name == "." || strings.ContainsAny(name, "\\\x00") || name == marker || name == besideMark {
		return fmt.Errorf("--keep %q is no name of a file or folder in the site's folder", name)
	}
	return nil
}

// kept reports whether a path is one that stays, or lies in one.
func (l *list) kept(p string) bool {
	return slices.ContainsFunc(l.keep, func(k string) bool { return p == k || strings.HasPrefix(p, k+"/") })
}

// clash gives a file of the site that wants the place of what is to stay; "" for none.
func (l *list) clash(outputs []output) string {
	if len(l.keep) == 0 {
		return ""
	}
	for i := range outputs {
		for p := outputs[i].Path; p != "."; p = path.Dir(p) {
			if slices.Contains(l.keep, p) {
				return p
			}
		}
		if slices.ContainsFunc(l.keep, func(k string) bool { return strings.HasPrefix(k, outputs[i].Path+"/") }) {
			return outputs[i].Path
		}
	}
	return ""
}
