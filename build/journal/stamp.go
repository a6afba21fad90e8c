package journal

import (
	"io/fs"
	"time"
)

// Settled is the age from which a file's time tells that it has not changed since: below it a second save within the
// grain of a disk's clock could go unseen (common practice).
const Settled = 3 * time.Second

// Stamp is the size and time of a file when it was read, and when that was, by the clock that stamps the files.
type Stamp struct {
	Size int64
	Mod  time.Time // zero: not known
	Seen time.Time // zero: not known
}

// StampOf is the stamp of a file that is read now.
func StampOf(info fs.FileInfo, now time.Time) Stamp { return Stamp{info.Size(), info.ModTime(), now} }

// Still reports whether a file must be as it was when it was stamped: it has the same size and time, and had settled.
func (s Stamp) Still(info fs.FileInfo) bool {
	return !s.Mod.IsZero() && s.Seen.Sub(s.Mod) > Settled && info.Size() == s.Size && info.ModTime().Equal(s.Mod)
}
