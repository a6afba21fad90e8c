package site

import "syscall"

// stamp is when the site's folder was made, in nanoseconds: archives bring no such time along. ok is false where there is
// no folder.
func (t *target) stamp() (ns int64, ok bool) {
	info, err := t.root.Lstat(t.name)
	if err != nil {
		return 0, false
	}
	s, ok := info.Sys().(*syscall.Win32FileAttributeData)
	if !ok {
		return 0, false
	}
	return s.CreationTime.Nanoseconds(), true
}
