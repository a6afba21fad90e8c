package journal

import (
	"io"
	"io/fs"

	"slipleaf/build/head"
)

// Timezone is the timezone that a journal's own file names; "" where it names none that could be one. It reads that file
// alone: the day for which everything else is read depends on it.
func Timezone(fsys fs.FS) string {
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
	n := root.Child("timezone")
	if n == nil || n.Shape != head.Scalar || !zoneName.MatchString(n.Text) {
		return ""
	}
	return n.Text
}
