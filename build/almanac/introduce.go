package almanac

import "cmp"

// Introduce makes the species of a grower's plant file: the almanac's own where id names one; a cultivar or variety
// with the profile of its species (noted in LentBy) where taxon belongs to one; otherwise a plant that only the file
// knows. An empty taxon is read from the id.
func (a *Almanac) Introduce(id, taxon, common string, own Profile) Species {
	s, known := a.Species(id)
	if known && s.ID != id { // found by an alias: the file's own id stays
		s.LentBy, s.ID = s.ID, id
	}
	if !known {
		s, known = a.lend(id, cmp.Or(taxon, id))
	}
	if !known {
		return a.cared(With(Species{ID: id, Taxon: taxon, Common: common}, own))
	}
	if taxon != "" {
		s.Taxon = taxon
	}
	if common != "" {
		s.Common = common
	}
	return a.cared(With(s, own))
}

// cared gives a species of the grower's file its care, and what its genus says of it.
func (a *Almanac) cared(s Species) Species {
	s.learn(a.kin)
	s.Care = a.care[s.Kind].of(s.Taxon)
	return s
}

// lend finds the species to which taxon belongs, and gives its profile under the id of the grower's file.
func (a *Almanac) lend(id, taxon string) (Species, bool) {
	m := a.Resolve(taxon)
	if m.ID == "" || m.Doubtful || (m.Kind != Accepted && m.Kind != Synonym) {
		return Species{}, false
	}
	s, ok := a.Species(m.ID)
	if !ok {
		return Species{}, false
	}
	s.LentBy, s.ID = s.ID, id
	return a.sized(s, taxon), true
}
