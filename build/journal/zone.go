package journal

import (
	"cmp"
	"io"
	"io/fs"
	"slices"
	"strings"

	"slipleaf/build/head"
	"slipleaf/build/quantity"
	"slipleaf/build/usual"
)

// Timezone is the timezone that a journal's own file names; "" where it names none that could be one. It reads that file
// alone: the day for which everything else is read depends on it.
func Timezone(fsys fs.FS) string {
	if name := ownWord(fsys, "timezone"); zoneName.MatchString(name) {
		return name
	}
	return ""
}

// Language is the language that a journal's own file names; "" where it names none. It reads that file alone.
func Language(fsys fs.FS) string { return ownWord(fsys, "language") }

// HeldAt is the day at which a journal's own file holds it; zero where it goes on. It reads that file alone.
func HeldAt(fsys fs.FS) quantity.Date {
	d, err := quantity.ParseDate(cmp.Or(usual.Date(ownWord(fsys, "made-for")), "none"))
	if err != nil {
		return quantity.Date{}
	}
	return d
}

// ownWord is the value of a key of journal.yaml; "" where there is none.
func ownWord(fsys fs.FS, key string) string {
	limits := Limits{}.orDefault()
	f, err := fsys.Open("journal.yaml")
	if err != nil {
		return ""
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, int64(limits.HeadBytes)))
	d := &decoder{limits: limits}
	data, ok := d.clean(data)
	if err != nil || !ok {
		return ""
	}
	root, _ := head.Parse(string(data), 1)
	i := slices.IndexFunc(root.Kids, func(n head.Node) bool { return usual.Key(strings.TrimSpace(n.Key)) == key })
	if i < 0 || root.Kids[i].Shape != head.Scalar {
		return ""
	}
	return root.Kids[i].Text
}
