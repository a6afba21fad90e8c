package almanac

import (
	"cmp"
	"slices"
	"strings"
)

// Notices gives the rows of the regulated lists that name taxon and hold in region: its own, those of the larger
// jurisdictions around it, and (InParts) those of its parts. Region "" gives every jurisdiction that names the
// plant. Rows come by jurisdiction, list and name, those of the whole region first. No row means nothing: the table
// does not know every list.
func (a *Almanac) Notices(taxon, region string) []Notice {
	s := a.subject(taxon)
	rows := a.rowsOf(s)
	around, disputed := parents(region), leftOut(s, rows)
	var out []Notice
	for _, l := range rows {
		n := l.Notice
		n.InParts = region != "" && !slices.Contains(around, n.Jurisdiction)
		if n.InParts && !partOf(n.Jurisdiction, region) {
			continue
		}
		names, why := s.match(l)
		if !names {
			continue
		}
		if why == "" && l.genus != "" && slices.Contains(disputed, l.Jurisdiction) {
			why = "another list of " + l.Place + " leaves it out"
		}
		n.Doubtful, n.Why = why != "", why
		n.OldNames = slices.Clone(n.OldNames)
		out = append(out, n)
	}
	part := func(n Notice) int { // after those that hold in all of it
		if n.InParts {
			return 1
		}
		return 0
	}
	slices.SortStableFunc(out, func(x, y Notice) int {
		return cmp.Or(part(x)-part(y), cmp.Compare(x.Jurisdiction, y.Jurisdiction), cmp.Compare(x.List, y.List), cmp.Compare(x.ListedAs, y.ListedAs))
	})
	return out
}

// rowsOf gives the rows of the lists that may name a subject, in their order: those of its genera.
func (a *Almanac) rowsOf(s subject) []*listed {
	genera := map[string]bool{s.open: true}
	for _, g := range s.genera {
		genera[g] = true
	}
	for _, n := range slices.Concat(s.names, s.perhaps) {
		genera[firstOf(n)] = true
	}
	var at []int
	for g := range genera {
		at = append(at, a.listedOf[g]...)
	}
	slices.Sort(at)
	at = slices.Compact(at)
	out := make([]*listed, len(at))
	for i, n := range at {
		out[i] = &a.listed[n]
	}
	return out
}

// genera gives the folded genera under which a row names plants.
func (l *listed) genera() []string {
	out := []string{firstWord(l.name)}
	for _, n := range append(l.folded, l.genus) {
		if g := firstOf(n); g != "" && !slices.Contains(out, g) {
			out = append(out, g)
		}
	}
	return out
}

// firstOf is the first word of a folded name.
func firstOf(folded string) string {
	first, _, _ := strings.Cut(folded, " ")
	return first
}

// leftOut lists the jurisdictions with a list of the plant's genus that leaves the plant out; also under a name that is
// not its own.
func leftOut(s subject, rows []*listed) []string {
	var out []string
	for _, l := range rows {
		if slices.Contains(s.genera, l.genus) && (meet(s.names, l.except) || meet(s.sold, l.except)) {
			out = append(out, l.Jurisdiction)
		}
	}
	return out
}

// subject is a plant whose notices are sought, with every name that it goes by.
type subject struct {
	names   []string // folded scientific names that are surely this plant
	sold    []string // folded scientific names that the trade wrongly uses for it
	genera  []string // folded genera that are surely this plant's
	perhaps []string // folded names of plants that it may be
	why     string   // why they are only perhaps
	open    string   // a folded genus of which the species is not said
}

// subject gathers the names of taxon.
func (a *Almanac) subject(taxon string) subject {
	w, m := takeApart(taxon), a.Resolve(taxon)
	s := subject{names: slices.DeleteFunc([]string{w.full, w.binomial}, func(s string) bool { return s == "" })}
	if w.genus == "" {
		return s
	}
	switch {
	case len(w.parents) > 0:
		s = subject{genera: []string{w.genus}, why: "it is a hybrid, and the list may name a parent"}
		for _, p := range w.parents {
			s.perhaps = append(s.perhaps, a.allNames(p)...)
		}
	case w.cf, w.open && (a.genera[w.genus] || m.Kind == NoName):
		s = subject{genera: []string{w.genus}, open: w.genus, perhaps: a.namesOf(m.Candidates),
			why: "the species is not certain, and the list names one that it may be"}
	case m.Doubtful:
		s.perhaps, s.why = a.namesOf(m.Candidates), m.Why
	case m.Kind == NoName:
		s.genera = []string{w.genus}
	default:
		s.genera = []string{firstWord(m.Taxon)}
		if sp, ok := a.Species(m.ID); ok {
			for _, n := range sp.Misapplied {
				s.sold = append(s.sold, fold(n))
			}
		}
		s.names = append(s.names, a.namesOf(m.Candidates)...)
	}
	return s
}

// namesOf gives every folded scientific name of the candidates.
func (a *Almanac) namesOf(candidates []Candidate) []string {
	var out []string
	for _, c := range candidates {
		out = append(out, a.allNames(c.Taxon)...)
	}
	return out
}

// allNames gives the folded name and the synonyms of a taxon.
func (a *Almanac) allNames(taxon string) []string {
	out := []string{fold(taxon)}
	m := a.Resolve(taxon)
	if sp, ok := a.Species(m.ID); ok && m.Kind <= Synonym {
		out = append(out, fold(sp.Taxon))
		for _, n := range sp.Synonyms {
			out = append(out, fold(n))
		}
	}
	return out
}

// match reports whether row l names the plant, and why that is in doubt; "" when it is not.
func (s subject) match(l *listed) (named bool, why string) {
	if l.genus != "" {
		return s.matchGenus(l)
	}
	switch {
	case meet(s.names, l.folded):
		return true, condition(l.limit)
	case meet(s.perhaps, l.folded):
		return true, s.why
	case s.open != "" && slices.ContainsFunc(l.folded, func(n string) bool { return strings.HasPrefix(n, s.open+" ") }):
		return true, s.why
	}
	return false, ""
}

func (s subject) matchGenus(l *listed) (named bool, why string) {
	inPerhaps := slices.ContainsFunc(s.perhaps, func(n string) bool {
		return strings.HasPrefix(n, l.genus+" ") && !slices.Contains(l.except, n)
	})
	switch {
	case meet(s.names, l.except):
		return false, ""
	case meet(s.sold, l.except):
		return true, "the list leaves out a name under which this plant is sold"
	case slices.Contains(s.genera, l.genus) && s.open != "" && len(l.except) > 0:
		return true, "the list leaves out one species of the genus, and which one this is stays open"
	case slices.Contains(s.genera, l.genus):
		return true, condition(l.limit)
	case inPerhaps:
		return true, s.why
	}
	return false, ""
}

// condition words a condition of the list that a name cannot decide.
func condition(limit string) string {
	if limit == "" {
		return ""
	}
	return "the list names only: " + limit
}

func meet(a, b []string) bool {
	return slices.ContainsFunc(a, func(n string) bool { return slices.Contains(b, n) })
}
