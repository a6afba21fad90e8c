package page

import (
	"cmp"
	"maps"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"slipleaf/build/journal"
	"slipleaf/build/quantity"
)

// View is a tank seen from one place through time.
type View struct {
	ID          string // of the slider between the first and the last
	Name        string
	Shots       []Shot // oldest first
	First, Last Shot
}

// Shot is a photo of a view.
type Shot struct {
	Photo
	Date, ISODate string
	Href          string // the entry that has it
	day           quantity.Date
}

// viewName is how a photo says that it belongs to a view: VIEW-DATE.jpg, as in trough-front-2026-04-18.jpg.
var viewName = regexp.MustCompile(`(?i)^(?:.*/)?([^/]*[^/-])-(\d{4}-\d{2}-\d{2})\.(?:jpe?g|png|webp)$`)

// maxShots is how many photos of a view are shown: the first, the last, and others evenly between them.
const maxShots = 12

// shotSizes is how wide a shot is.
const shotSizes = "(min-width: 40rem) 12rem, 45vw"

// pairSizes is how wide the first and the last stand, one over the other.
const pairSizes = "(min-width: 40rem) 36rem, 95vw"

// views are the views of a tank that its entries have photographed at least twice, by name. A view's photos share the
// name before the date; the date is that of the name, since a photo may be older than its entry.
func (b *Site) views(from string, t *journal.Tank) []View {
	found := map[string][]Shot{}
	for _, e := range b.facts.EntriesIn(t.ID) {
		for _, p := range e.Photos {
			m := viewName.FindStringSubmatch(p.File)
			if m == nil {
				continue
			}
			day, err := quantity.ParseDate(m[2])
			ready := b.photosOf(from, []journal.Photo{p})
			if err != nil || len(ready) == 0 {
				continue
			}
			if ready[0].Sizes != "" {
				ready[0].Sizes = shotSizes
			}
			name := strings.ToLower(m[1])
			found[name] = append(found[name], Shot{ready[0], b.Locale().Date(day), day.String(), b.href(from, EntryAddr(e)), day})
		}
	}
	var out []View
	for _, name := range slices.Sorted(maps.Keys(found)) {
		shots := found[name]
		slices.SortStableFunc(shots, func(x, y Shot) int { return cmp.Or(x.day.Compare(y.day), cmp.Compare(x.Src, y.Src)) })
		if len(shots) > 1 {
			first, last := shots[0], shots[len(shots)-1]
			for _, s := range []*Shot{&first, &last} {
				if s.Sizes != "" {
					s.Sizes = pairSizes
				}
			}
			out = append(out, View{"view-" + strconv.Itoa(len(out)+1), strings.ReplaceAll(name, "-", " "), spread(shots, maxShots), first, last})
		}
	}
	return out
}

// spread picks at most n of all, evenly, the first and the last among them.
func spread(all []Shot, n int) []Shot {
	if len(all) <= n {
		return all
	}
	out := make([]Shot, n)
	for i := range out {
		out[i] = all[i*(len(all)-1)/(n-1)]
	}
	return out
}
