package almanac

import (
	"cmp"
	"slices"
	"strings"

	"slipleaf/build/spelling"
)

// Nearest gives the id that the writer of an unknown id most probably meant: the species of a known name of any kind
// (java-fern, anubias-nana), else the closest spelling; "" when nothing is near.
func (a *Almanac) Nearest(id string) string {
	if n := a.nearest(id, 1); len(n) > 0 {
		return n[0]
	}
	return ""
}

// nearest gives up to n ids.
func (a *Almanac) nearest(id string, n int) []string {
	var out []string
	for _, c := range a.find(strings.ReplaceAll(id, "-", " ")) {
		if c.ID != "" && len(out) < n {
			out = append(out, c.ID)
		}
	}
	if len(out) > 0 {
		return out
	}
	type near struct {
		id string
		d  int
	}
	want := idOf(id)
	if want == "" {
		return nil
	}
	limit := max(2, len(want)/4)
	var found []near
	for _, s := range a.species {
		if gap := len(s.ID) - len(want); gap > limit || -gap > limit {
			continue // cannot be within the limit, and long junk costs nothing
		}
		if d := spelling.Edits(want, s.ID); d <= limit {
			found = append(found, near{s.ID, d})
		}
	}
	slices.SortFunc(found, func(x, y near) int { return cmp.Or(cmp.Compare(x.d, y.d), cmp.Compare(x.id, y.id)) })
	for _, c := range found[:min(n, len(found))] {
		out = append(out, c.id)
	}
	return out
}
