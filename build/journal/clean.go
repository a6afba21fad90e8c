package journal

import (
	"slices"

	"slipleaf/build/quantity"
)

// clean remembers in which tanks the last reading found nothing to complain of, and all that this was said of, so that a
// save checks its own tank alone. The zero value remembers none.
type clean struct {
	on      quantity.Date
	photos  []string
	rest    []*part // all but the entries
	records bool    // nothing was complained of records that is not between them
	tanks   map[string]*tankParts
}

// tankParts are the entries of a tank as they were read; a part that was read anew is another.
type tankParts struct {
	entries []*part
	clean   bool
	byID    bool // no entry names a plant otherwise than by its id
}

// cleanOf is what a reading may remember, with the entries of every tank.
func cleanOf(parts []*part, opts Options, photos []string) clean {
	c := clean{on: opts.On, photos: photos, tanks: map[string]*tankParts{}}
	for _, p := range parts {
		if p.entry == nil {
			c.rest = append(c.rest, p)
			continue
		}
		in := c.tanks[p.entry.Tank]
		if in == nil {
			in = &tankParts{}
			c.tanks[p.entry.Tank] = in
		}
		in.entries = append(in.entries, p)
	}
	return c
}

// take takes over what was known of tanks and records of which nothing has changed.
func (c *clean) take(was *clean) {
	if c.on != was.on || !slices.Equal(c.rest, was.rest) || !slices.Equal(c.photos, was.photos) {
		return
	}
	c.records = was.records
	for id, t := range c.tanks {
		if old := was.tanks[id]; old != nil && slices.Equal(t.entries, old.entries) {
			t.clean, t.byID = old.clean, old.byID
		}
	}
}
