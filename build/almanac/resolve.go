package almanac

import (
	"cmp"
	"slices"
	"strings"
)

// NameKind is how a name relates to a species, best first.
type NameKind uint8

// The kinds of names, in the order in which they are tried.
const (
	NoName     NameKind = iota // not found
	Accepted                   // the accepted scientific name
	Synonym                    // an older scientific name
	Misapplied                 // a scientific name that the trade wrongly uses: warn and ask
	Trade                      // an English or trade name
	Listed                     // known only from the regulated lists
)

// Candidate is one plant that a name may mean.
type Candidate struct {
	ID    string // "" when the almanac has it only on a regulated list
	Taxon string
	Kind  NameKind
}

// Match is what a name may mean. With one candidate, ID and Taxon are its own; with several they are empty.
type Match struct {
	Name       string // as asked
	Kind       NameKind
	ID, Taxon  string
	Candidates []Candidate // of the best kind found, by taxon
	Also       []Candidate // of weaker kinds: the trade uses the name for these too
	Doubtful   bool        // ask the grower: it points to several plants, is misapplied, or says "sp." or "cf."
	Why        string      // the reason for Doubtful
}

// Resolve looks a name up: accepted name, then older synonym, then misapplied name, then trade name, then the names
// on the regulated lists. Case, hybrid sign, author and cultivar are ignored.
func (a *Almanac) Resolve(name string) Match {
	m := Match{Name: name}
	found := a.find(name)
	if len(found) == 0 {
		return m
	}
	m.Kind = found[0].Kind
	for _, c := range found {
		if c.Kind == m.Kind {
			m.Candidates = append(m.Candidates, c)
		} else {
			m.Also = append(m.Also, c)
		}
	}
	if len(m.Candidates) == 1 {
		m.ID, m.Taxon = found[0].ID, found[0].Taxon
	}
	m.Why = a.doubt(m, name)
	m.Doubtful = m.Why != ""
	return m
}

// doubt gives the reason to ask about a name that was found, or "".
func (a *Almanac) doubt(m Match, name string) string {
	if m.Kind == Trade || m.Kind == Listed {
		if key := withoutCultivar(fold(name)); a.several[key] || a.several[spaced(key)] {
			return "the name points to several plants"
		}
	}
	switch {
	case len(m.Candidates) > 1:
		return "the name points to more than one plant"
	case m.Kind == Misapplied:
		return "the trade uses this name for another plant"
	case takeApart(name).cf:
		return "the name itself says that the species is not certain"
	case m.Kind == Trade && a.genera[withoutCultivar(fold(name))]:
		return "the name gives the genus alone"
	}
	return ""
}

// find tries the whole name, then the name as spelt in an id, then the scientific name without author and rank.
func (a *Almanac) find(name string) []Candidate {
	whole := withoutCultivar(fold(name))
	for _, key := range []string{whole, spaced(whole)} {
		if c := a.names[key]; len(c) > 0 {
			return c
		}
	}
	w := takeApart(name)
	if len(w.parents) > 0 {
		return nil // a hybrid is neither of its parents
	}
	for _, key := range []string{w.full, w.binomial} {
		c := a.names[key]
		scientific := len(c) > 0 && (c[0].Kind <= Misapplied || c[0].Kind == Listed)
		if scientific {
			return c
		}
	}
	if c := a.names[w.genus+" spp"]; len(c) > 0 && c[0].Kind == Accepted {
		return c // the almanac treats the whole genus as one
	}
	return nil
}

// indexNames fills the index of names.
func (a *Almanac) indexNames() {
	for _, s := range a.species {
		a.genera[firstWord(s.Taxon)] = true
		a.add(s.Taxon, Candidate{s.ID, s.Taxon, Accepted})
		a.put(spaced(s.ID), Candidate{s.ID, s.Taxon, Accepted})
		if genus, ok := strings.CutSuffix(s.Taxon, " spp."); ok {
			a.add(genus, Candidate{s.ID, s.Taxon, Accepted})
		}
		for _, n := range s.Synonyms {
			a.add(n, Candidate{s.ID, s.Taxon, Synonym})
		}
		for _, n := range s.Misapplied {
			a.add(n, Candidate{s.ID, s.Taxon, Misapplied})
		}
		for _, n := range s.TradeNames {
			a.add(n, Candidate{s.ID, s.Taxon, Trade})
		}
	}
	for _, e := range a.everyday {
		a.indexEveryday(e)
	}
	for _, l := range a.listed {
		a.indexListed(l)
	}
	for _, found := range a.names {
		slices.SortFunc(found, func(x, y Candidate) int {
			return cmp.Or(cmp.Compare(x.Kind, y.Kind), cmp.Compare(x.Taxon, y.Taxon))
		})
	}
}

// indexEveryday adds a common or trade name; older names are those of the table of names.
func (a *Almanac) indexEveryday(e Everyday) {
	if e.Kind != "common" && e.Kind != "trade" {
		return
	}
	for _, taxon := range e.Taxa {
		c := Candidate{Taxon: taxon, Kind: Trade}
		if i, ok := a.at[IDOf(taxon)]; ok {
			c = Candidate{a.species[i].ID, a.species[i].Taxon, Trade}
		}
		a.add(e.Name, c)
	}
	if e.Certainty == "several" {
		a.several[fold(e.Name)] = true
	}
}

// indexListed adds the names of a row of the regulated lists.
func (a *Almanac) indexListed(l listed) {
	a.genera[firstWord(l.name)] = true
	c := Candidate{Taxon: l.name, Kind: Listed}
	synonym := Listed
	if i, ok := a.at[IDOf(l.name)]; ok {
		c = Candidate{a.species[i].ID, a.species[i].Taxon, Accepted}
		synonym = Synonym
	}
	a.add(l.name, c)
	for _, n := range l.OldNames {
		a.add(n, Candidate{c.ID, c.Taxon, synonym})
	}
	for _, n := range l.trade {
		a.add(n, Candidate{c.ID, c.Taxon, Trade})
	}
}

// add puts a candidate under a name, and under the name as an id spells it. The kind that a plant
// has first stays: names are added from the best kind down, and the table of names before the lists.
func (a *Almanac) add(name string, c Candidate) {
	key := fold(name)
	a.put(key, c)
	if strings.Contains(key, "-") {
		if other := spaced(key); other != key {
			a.put(other, c)
		}
	}
}

// spaced is a folded name without its hyphens, as an id is read: a hybrid sign between two of them is dropped too.
func spaced(key string) string { return fold(strings.ReplaceAll(key, "-", " ")) }

func (a *Almanac) put(key string, c Candidate) {
	same := func(o Candidate) bool { return o.Taxon == c.Taxon }
	if !slices.ContainsFunc(a.names[key], same) {
		a.names[key] = append(a.names[key], c)
	}
}
