package almanac

import (
	"slices"
	"strings"
)

// Lists names the regulated lists held here that apply in a region, as "place: list", and whether the region's own list is
// among them: where it is not, nothing can be said of what its law forbids.
func (a *Almanac) Lists(region string) (held []string, own bool) {
	over := parents(region)
	for _, l := range a.listed {
		in := slices.Contains(over, l.Jurisdiction) || region == "GB" && strings.HasPrefix(l.Jurisdiction, "GB-")
		if !in {
			continue
		}
		own = own || l.Jurisdiction == region || region == "GB" || l.Jurisdiction == "EU" && !strings.Contains(region, "-")
		if name := l.Place + ": " + l.List; !slices.Contains(held, name) {
			held = append(held, name)
		}
	}
	return held, own
}
