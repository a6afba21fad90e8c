//go:build unix

package site

import (
	"golang.org/x/sys/unix"
)

// stamp is when the system last noted a change of the site's folder, in nanoseconds: a time that no program can set, and so
// no archive can bring along. ok is false where there is no folder.
func (t *target) stamp() (ns int64, ok bool) {
	d, err := t.root.Open(t.name)
	if err != nil {
		return 0, false
	}
	defer d.Close()
	var s unix.Stat_t
	if unix.Fstat(int(d.Fd()), &s) != nil {
		return 0, false
	}
	return s.Ctim.Nano(), true
}
