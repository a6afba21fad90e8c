//go:build !unix && !windows

package site

// stamp is of no folder here: what was left for the next publish cannot be known from what somebody else put there.
func (t *target) stamp() (ns int64, ok bool) { return 0, false }
