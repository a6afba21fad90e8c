package names

import (
	"slices"
	"strings"
	"sync"

	"slipleaf/build/almanac"
)

// Plant is one plant that a name may mean.
type Plant struct {
	Taxon  string
	ID     string         // the plant's id; "" where the almanac has it on a regulated list only
	Common string         // an English name, or ""
	Mark   almanac.Phrase // what tells it from plants of the same name; empty where nothing is known
}

// kind is how a name relates to its plant, the surest first.
type kind uint8

const (
	accepted kind = iota
	older
	everyday
	abbreviation
	form
	misapplied
)

// entry is a name that is known, with the plants that it means.
type entry struct {
	name    string
	words   []string
	compact string
	sound   string
	plants  []int // the likeliest first
	kind    kind
	several bool
	usual   bool   // nearly always this plant, but not surely
	form    string // the form that the name adds
}

// binomial reports whether the entry is a scientific name of genus and epithet.
func (e *entry) binomial() bool { return e.kind <= older && len(e.words) == 2 }

// Resolver finds plants by name. It may be used by many at once.
type Resolver struct {
	*index
	regions []string
	listed  sync.Map // place in plants → whether a list of the regions names it
	others  sync.Map // regions, joined → the resolver that guards their lists
}

// index is the names of an almanac, whatever lists are guarded.
type index struct {
	almanac *almanac.Almanac
	plants  []Plant
	at      map[string]int // taxon → place in plants
	entries []entry
	shapes  [][]shape        // of the entries, by their length
	exact   map[string][]int // compact name → entries
	sorted  map[string][]int // sorted words → entries
	genera  map[string][]int // folded genus → plants
	parts   map[string][]int // compact epithet or form → entries
}

// New makes a resolver of the names of an almanac. Plants that lists of one of the regions name are never resolved
// silently; without a region, those of any list.
func New(a *almanac.Almanac, regions ...string) *Resolver {
	r := &Resolver{index: &index{almanac: a, at: map[string]int{}, exact: map[string][]int{}, sorted: map[string][]int{},
		genera: map[string][]int{}, parts: map[string][]int{}}, regions: regions}
	species := a.All()
	for _, s := range species {
		r.science(s.Taxon, accepted, r.plant(Plant{s.Taxon, s.ID, s.Common, s.Mark}))
	}
	for _, s := range species {
		for _, n := range s.Synonyms {
			r.science(n, older, r.at[s.Taxon])
		}
		for _, n := range s.Misapplied {
			r.add(entry{name: n, kind: misapplied, usual: true, plants: []int{r.at[s.Taxon]}})
		}
	}
	for _, l := range a.ListedNames() {
		p := r.plant(Plant{Taxon: l.Taxon, ID: l.ID})
		r.science(l.Taxon, accepted, p)
		for _, n := range l.Older {
			r.science(n, older, p)
		}
	}
	r.addEveryday()
	for _, s := range species {
		for _, n := range s.TradeNames {
			r.addUnlessKnown(n, r.at[s.Taxon])
		}
	}
	for _, l := range a.ListedNames() {
		for _, n := range l.Trade {
			r.addUnlessKnown(n, r.at[l.Taxon])
		}
	}
	return r
}

// Of is the resolver of an almanac's names that guards the plants of every list: made once, when it is first asked for.
func Of(a *almanac.Almanac) *Resolver {
	return a.Index(func(a *almanac.Almanac) any { return New(a) }).(*Resolver)
}

// With gives a resolver of the same names that guards the lists of other regions: made once for them.
func (r *Resolver) With(regions ...string) *Resolver {
	key := strings.Join(regions, " ")
	if known, ok := r.others.Load(key); ok {
		return known.(*Resolver)
	}
	other, _ := r.others.LoadOrStore(key, &Resolver{index: r.index, regions: regions})
	return other.(*Resolver)
}

// plant gives the place of a taxon, which may be new.
func (r *Resolver) plant(p Plant) int {
	if i, ok := r.at[p.Taxon]; ok {
		return i
	}
	r.plants = append(r.plants, p)
	r.at[p.Taxon] = len(r.plants) - 1
	return len(r.plants) - 1
}

// science adds a scientific name, and the plant to its genus.
func (r *Resolver) science(name string, k kind, plant int) {
	words := fold(name).words
	if len(words) == 0 {
		return
	}
	if genus := words[0]; !slices.Contains(r.genera[genus], plant) {
		r.genera[genus] = append(r.genera[genus], plant)
	}
	r.add(entry{name: name, kind: k, plants: []int{plant}})
}

func (r *Resolver) addEveryday() {
	for _, n := range r.almanac.Everyday() {
		e := entry{name: n.Name, kind: map[string]kind{"older": older, "abbreviation": abbreviation, "form": form}[n.Kind],
			several: n.Certainty == "several", usual: n.Certainty == "usual", form: n.Form}
		if n.Kind == "common" || n.Kind == "trade" {
			e.kind = everyday
		}
		for _, t := range n.Taxa {
			e.plants = append(e.plants, r.plant(Plant{Taxon: t}))
		}
		r.add(e)
	}
}

// addUnlessKnown adds an everyday name of a plant to names that the table of everyday names does not have.
func (r *Resolver) addUnlessKnown(name string, plant int) {
	if len(r.exact[compact(fold(name).words)]) == 0 {
		r.add(entry{name: name, kind: everyday, plants: []int{plant}})
	}
}

// add indexes a name, once for each kind and meaning of a spelling.
func (r *Resolver) add(e entry) {
	f := fold(e.name)
	e.words = append(f.words, fold(f.form).words...)
	if len(e.words) == 0 {
		return
	}
	e.compact = compact(e.words)
	e.sound = sound(e.compact)
	same := func(i int) bool { return r.entries[i].kind == e.kind && slices.Equal(r.entries[i].plants, e.plants) }
	if slices.ContainsFunc(r.exact[e.compact], same) {
		return
	}
	r.entries = append(r.entries, e)
	for len(r.shapes) <= len(e.compact) {
		r.shapes = append(r.shapes, nil)
	}
	r.shapes[len(e.compact)] = append(r.shapes[len(e.compact)], shape{lettersOf(e.compact), len(r.entries) - 1})
	r.exact[e.compact] = append(r.exact[e.compact], len(r.entries)-1)
	if e.binomial() {
		r.parts[e.words[1]] = append(r.parts[e.words[1]], len(r.entries)-1)
	}
	if form := compact(fold(e.form).words); form != "" {
		r.parts[form] = append(r.parts[form], len(r.entries)-1)
	}
	key := sorted(e.words)
	r.sorted[key] = append(r.sorted[key], len(r.entries)-1)
}

// shape is what tells at a glance that two names are not alike: which letters are in it.
type shape struct {
	letters uint32
	entry   int
}

// lettersOf marks which letters a folded text has.
func lettersOf(s string) uint32 {
	var m uint32
	for i := range len(s) {
		if c := s[i]; 'a' <= c && c <= 'z' {
			m |= 1 << (c - 'a')
		}
	}
	return m
}

// isListed reports whether a list that holds in one of the regions names the plant; without regions, any list.
func (r *Resolver) isListed(plant int) bool {
	if known, ok := r.listed.Load(plant); ok {
		return known.(bool)
	}
	regions := r.regions
	if len(regions) == 0 {
		regions = []string{""}
	}
	is := slices.ContainsFunc(regions, func(region string) bool { return len(r.almanac.Notices(r.plants[plant].Taxon, region)) > 0 })
	r.listed.Store(plant, is)
	return is
}
