package site

import (
	"cmp"
	"errors"
	"fmt"
	"strings"
	"sync"
)

// The most that a site may hold, so that a journal from a shared folder fills neither the memory nor the disk: five
// times what 10,000 entries and 2,000 parcels come to (our choice). Hosts take less; they say so themselves.
const (
	MaxOutputBytes = 2 << 30
	MaxOutputFiles = 200_000
)

// ErrTooMuch is returned for a site above [MaxOutputBytes] or [MaxOutputFiles].
var ErrTooMuch = errors.New("the site is too large")

// amount adds up what a site holds while it is made. It is safe for concurrent use.
type amount struct {
	files, bytes int64 // the most of each
	mu           sync.Mutex
	n, sum       int64
	by           map[string]int64 // bytes by the first folder of the path
}

func newAmount(o Options) *amount {
	return &amount{files: cmp.Or(int64(o.MaxFiles), MaxOutputFiles), bytes: cmp.Or(o.MaxBytes, MaxOutputBytes), by: map[string]int64{}}
}

// add counts a file that was made or is kept. The error names what takes the most room.
func (a *amount) add(path string, size int64) error {
	a.mu.Lock()
	defer a.mu.Unlock()
	folder, _, _ := strings.Cut(path, "/")
	a.n++
	a.sum += size
	a.by[folder] += size
	if a.n <= a.files && a.sum <= a.bytes {
		return nil
	}
	most := ""
	for folder, n := range a.by {
		if n > a.by[most] || n == a.by[most] && folder < most {
			most = folder
		}
	}
	what := fmt.Sprintf("more than %d files", a.files)
	if a.sum > a.bytes {
		what = fmt.Sprintf("more than %s", sized(a.bytes))
	}
	return fmt.Errorf("%w: the limit is %s; stopped at %s (files: %d), %s of that in %s: %s",
		ErrTooMuch, what, sized(a.sum), a.n, sized(a.by[most]), most, smaller(most))
}

// smaller says what to do about the folder that takes the most room.
func smaller(folder string) string {
	if folder == "photos" {
		return "show fewer photos, or smaller ones"
	}
	return "keep years that are past in a journal of their own"
}

// sized writes a number of bytes for people.
func sized(n int64) string {
	switch {
	case n >= 1<<30:
		return fmt.Sprintf("%.1f GB", float64(n)/(1<<30))
	case n >= 1<<20:
		return fmt.Sprintf("%.1f MB", float64(n)/(1<<20))
	}
	return fmt.Sprintf("%.1f kB", float64(n)/(1<<10))
}
