package almanac

import (
	"cmp"
	"errors"
	"io/fs"
	"slices"
	"strings"
	"sync"

	"slipleaf/build/quantity"
)

// Almanac is the parsed tables. What it says never changes after [Open], so that many may read it at once.
type Almanac struct {
	species  []Species              // by id
	at       map[string]int         // id or alias of an id → place in species
	names    map[string][]Candidate // folded name → what it may mean, best kind first
	genera   map[string]bool        // folded genera of all names
	care     map[Kind]*Care
	kin      map[string]Traits // see kinOf
	everyday []Everyday
	sizes    map[string]size // by species id and folded form
	several  map[string]bool // folded trade name that must ask
	listed   []listed
	listedOf map[string][]int    // folded genus → rows of listed
	coverage map[string]Coverage // by code
	newest   quantity.Date
	borders  []Border

	index *index
}

// index is what another package makes of the tables.
type index struct {
	once sync.Once
	made any
}

// Index gives what make gave when it was first asked: what a package makes of the tables is made once for an almanac, when
// it is first needed. There is room for one.
func (a *Almanac) Index(make func(*Almanac) any) any {
	a.index.once.Do(func() { a.index.made = make(a) })
	return a.index.made
}

// Open parses the embedded tables strictly: every cell is checked, and all faults are reported together. That the tables
// hang together is held by their tests. They never change, so they are parsed once; the almanac is read-only.
func Open() (*Almanac, error) { return opened() }

var opened = sync.OnceValues(func() (*Almanac, error) { return open(tables) })

// The headers of the tables.
const (
	traitColumns = "taxon,kind,poison,harms,poison_basis,poison_source,salt_ppt,salt_basis,salt_source,carbon,carbon_basis," +
		"carbon_source,rooting,crown_above,season,season_basis"
	careColumns    = "kind,part,of,en,de,basis,source"
	profileColumns = "taxon,common_name,common_name_de,family,habit,placement,height_min_cm,height_max_cm,spread_cm,temp_min_c,temp_max_c," +
		"ph_min,ph_max,gh_min_d,gh_max_d,kh_min_d,kh_max_d,light_ppfd_min,light_ppfd_good,light_ppfd_max,co2_need,feeding," +
		"growth,rgr_per_day,propagation,cutting_size,spacing_cm,melts_on_moving,melt_note,conversion_note,weediness," +
		"hardy_note,source,bases,confidence"
	nameColumns = "accepted_name,older_synonyms,misapplied_names,trade_names,family,growth_habit,native_range,basis," +
		"basis_source,note"
	listColumns      = "jurisdiction,list_name,list_name_de,place,forbids,reason,basis"
	regulatedColumns = "taxon,synonyms_and_trade_names,jurisdiction,list_name,legal_reference,what_is_forbidden," +
		"listed_since,source_url,seen,retrieved"
)

func open(fsys fs.FS) (*Almanac, error) {
	profiles := readTable(fsys, "profiles.csv", profileColumns)
	names := readTable(fsys, "names.csv", nameColumns)
	traits := readTable(fsys, "traits.csv", traitColumns)
	everyday := readTable(fsys, "everyday.csv", "name,language,means,kind,certainty,form,basis,source")
	coverage := readTable(fsys, "coverage.csv", "code,name,lists_that_apply,lists_de,held,as_of,official_address,note")
	marks := readTable(fsys, "marks.csv", "taxon,en,de,basis")
	forms := readTable(fsys, "forms.csv", "taxon,form,height_min_cm,height_max_cm,spread_cm,basis")
	phrases := readTable(fsys, "phrases.csv", "en,de")
	care := readTable(fsys, "care.csv", careColumns)
	borders := readTable(fsys, "borders.csv", "from,to,en,de,basis,about")
	lists := readTable(fsys, "lists.csv", listColumns)
	regulated := readTable(fsys, "regulated.csv", regulatedColumns)

	a := &Almanac{index: &index{}, several: map[string]bool{}, care: readCare(care), everyday: readEveryday(everyday), coverage: readCoverage(coverage), listed: readListed(regulated, lists), borders: readBorders(borders)}
	species, mergeErr := merge(readNames(names), readProfiles(profiles))
	own := readTraits(traits)
	a.kin = kinOf(species, own)
	joinTraits(species, own, a.kin, a.care)
	a.sizes = readSizes(forms, species)
	nameInGerman(species, a.everyday)
	german, mark := readPhrases(phrases), readMarks(marks)
	for i := range species {
		species[i].german, species[i].Mark = german, mark[species[i].ID]
	}
	propagateItsOwnWay(species)
	if err := errors.Join(profiles.err(), names.err(), traits.err(), care.err(), phrases.err(), borders.err(), coverage.err(), marks.err(), forms.err(), everyday.err(), lists.err(), regulated.err(), mergeErr); err != nil {
		return nil, err
	}
	a.species = species
	slices.SortFunc(a.species, func(x, y Species) int { return cmp.Compare(x.ID, y.ID) })
	for _, l := range a.listed {
		if l.Retrieved.After(a.newest) {
			a.newest = l.Retrieved
		}
	}
	a.listedOf = map[string][]int{}
	for i := range a.listed {
		for _, g := range a.listed[i].genera() {
			a.listedOf[g] = append(a.listedOf[g], i)
		}
	}
	a.indexSpecies()
	return a, nil
}

// Species returns the species of that id. A hybrid is found without its sign too, a genus without its "spp.".
func (a *Almanac) Species(id string) (Species, bool) {
	i, ok := a.at[id]
	if !ok {
		return Species{}, false
	}
	return a.species[i].clone(), true
}

// All returns every species, by id.
func (a *Almanac) All() []Species {
	out := make([]Species, len(a.species))
	for i, s := range a.species {
		out[i] = s.clone()
	}
	return out
}

// Retrieved is the day on which the newest row of the regulated lists was looked up: a build warns when it is over
// twelve months ago (project choice).
func (a *Almanac) Retrieved() quantity.Date { return a.newest }

// clone copies what a caller could otherwise change.
func (s Species) clone() Species {
	s.Synonyms, s.TradeNames, s.Misapplied = slices.Clone(s.Synonyms), slices.Clone(s.TradeNames), slices.Clone(s.Misapplied)
	s.Sources = slices.Clone(s.Sources)
	s.Poison.Harms = slices.Clone(s.Poison.Harms)
	s.Melts, s.Weediness = copyOf(s.Melts), copyOf(s.Weediness)
	return s
}

func copyOf(n *int) *int {
	if n == nil {
		return nil
	}
	return new(*n)
}

// IDOf is the id of a scientific name, as heteranthera-zosterifolia: lower case, hyphens, hybrid sign as x, no quotes and dots.
func IDOf(taxon string) string {
	var b strings.Builder
	for _, r := range strings.ReplaceAll(strings.ToLower(taxon), "×", "x ") {
		switch {
		case 'a' <= r && r <= 'z' || '0' <= r && r <= '9':
			b.WriteRune(r)
		case r == ' ' || r == '-':
			b.WriteByte(' ')
		}
	}
	return strings.Join(strings.Fields(b.String()), "-")
}

// indexSpecies builds the ways to find a species.
func (a *Almanac) indexSpecies() {
	a.at, a.names, a.genera = map[string]int{}, map[string][]Candidate{}, map[string]bool{}
	for i, s := range a.species {
		a.at[s.ID] = i
	}
	for i, s := range a.species {
		a.alias(strings.Replace(s.ID, "-x-", "-", 1), i)
		if genus, ok := strings.CutSuffix(s.ID, "-spp"); ok {
			a.alias(genus, i)
			a.alias(s.ID+".", i)
		}
	}
	a.indexNames()
}

// alias adds an id unless it is taken.
func (a *Almanac) alias(id string, i int) {
	if _, taken := a.at[id]; !taken {
		a.at[id] = i
	}
}
