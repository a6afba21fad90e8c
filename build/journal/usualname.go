package journal

import (
	"fmt"
	"io/fs"
	"path"
	"regexp"
	"strings"
)

// otherEnding is what editors and phones make of the ending .md.
var otherEnding = regexp.MustCompile(`(?i)(\.md\.txt|\.md|\.markdown|\.txt)$`)

// plainName is the name of a text file without its ending, where that is not .md; "" for other files.
func plainName(name string) string {
	if strings.HasSuffix(name, ".md") || !otherEnding.MatchString(name) {
		return ""
	}
	return strings.ToLower(otherEnding.ReplaceAllString(name, ""))
}

var looseEntry = regexp.MustCompile(`^([0-9]{4})[-._]([0-9]{1,2})[-._]([0-9]{1,2})(?:[-_ ]([A-Za-z0-9][A-Za-z0-9_ -]*))?$`)

// usualEntry is the name of an entry with its zeros and hyphens; "" where it is no date, or in that form already.
func usualEntry(base string) string {
	m := looseEntry.FindStringSubmatch(base)
	if m == nil {
		return ""
	}
	full := fullDate(fmt.Sprintf("%s-%s-%s", m[1], m[2], m[3]))
	if full == "" {
		return ""
	}
	if m[4] != "" {
		full += "-" + strings.NewReplacer("_", "-", " ", "-").Replace(strings.ToLower(m[4]))
	}
	if full == base || !entryName.MatchString(full) {
		return ""
	}
	return full
}

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
