package journal

import (
	"slices"

	"slipleaf/build/quantity"
)

// clean remembers in which tanks the last reading found nothing to complain of, and all that this was said of, so that a
// save checks its own tank alone. The zero value remembers none.
type clean struct {
	on     quantity.Date
	photos []string
	rest   []*part            // all but the entries
	tanks  map[string][]*part // the entries of each clean tank; a part that was read anew is another
}

// cleanOf is what a reading may remember, with the entries of every tank.
func cleanOf(parts []*part, opts Options, photos []string) clean {
	c := clean{on: opts.On, photos: photos, tanks: map[string][]*part{}}
	for _, p := range parts {
		if p.entry != nil {
			c.tanks[p.entry.Tank] = append(c.tanks[p.entry.Tank], p)
		} else {
			c.rest = append(c.rest, p)
		}
	}
	return c
}

// beside reports whether all is the same but for the entries.
func (c *clean) beside(now *clean) bool {
	return c.on == now.on && slices.Equal(c.rest, now.rest) && slices.Equal(c.photos, now.photos)
}
