package almanac

import (
	"cmp"
	"slices"
)

// Everyday is a name that growers use, with the plants that it may mean.
type Everyday struct {
	Name     string
	Language string   // en, en-GB, en-US, de, or trade for a name that knows no language
	Taxa     []string // the likeliest first
	Kind     string   // common | trade | form | older | abbreviation
	// Certainty: one, it means this plant; usual, nearly always this plant; several, it means several.
	Certainty string
	Form      string // the cultivar or trade form that the name adds to the species
}

// readEveryday reads the table of everyday names.
func readEveryday(t *table) []Everyday {
	out := make([]Everyday, 0, len(t.rows))
	for _, r := range t.rows {
		e := Everyday{
			Name: r.must("name"), Language: r.one("language", "en", "en-GB", "en-US", "de", "trade"), Taxa: r.list("means"),
			Kind:      r.one("kind", "common", "trade", "form", "older", "abbreviation"),
			Certainty: r.one("certainty", "one", "usual", "several"), Form: r.text("form"),
		}
		if (len(e.Taxa) > 1) != (e.Certainty == "several") || len(e.Taxa) == 0 {
			r.fault("means", "several plants are several, one is not")
		}
		out = append(out, e)
	}
	return out
}

// nameInGerman gives species without a profile, whose German name no table says, the first German name that means it alone.
func nameInGerman(species []Species, everyday []Everyday) {
	first := map[string]string{}
	for _, e := range everyday {
		if e.Language != "de" || e.Kind != "common" || e.Certainty != "one" || e.Form != "" {
			continue
		}
		if id := IDOf(e.Taxa[0]); first[id] == "" {
			first[id] = e.Name
		}
	}
	for i := range species {
		if s := &species[i]; !s.Profiled && s.commonDE == "" {
			s.commonDE = first[s.ID]
		}
	}
}

// Everyday gives the names that growers use, in the order of the table.
func (a *Almanac) Everyday() []Everyday { return slices.Clone(a.everyday) }

// ListedName is a plant on a regulated list, with the names that lists know it by.
type ListedName struct {
	Taxon string
	ID    string // "" where the almanac has the plant on lists only
	Older []string
	Trade []string
}

// ListedNames gives every plant that a list names as a species, by taxon.
func (a *Almanac) ListedNames() []ListedName {
	at := map[string]int{}
	var out []ListedName
	for _, l := range a.listed {
		if l.genus != "" {
			continue
		}
		id, taxon := "", l.name
		if i, ok := a.at[IDOf(l.name)]; ok {
			id, taxon = a.species[i].ID, a.species[i].Taxon
		}
		i, ok := at[taxon]
		if !ok {
			i = len(out)
			at[taxon] = i
			out = append(out, ListedName{Taxon: taxon, ID: id})
		}
		out[i].Older = union(out[i].Older, l.OldNames)
		out[i].Trade = union(out[i].Trade, l.trade)
	}
	slices.SortFunc(out, func(x, y ListedName) int { return cmp.Compare(x.Taxon, y.Taxon) })
	return out
}

func union(a, b []string) []string {
	for _, s := range b {
		if !slices.Contains(a, s) {
			a = append(a, s)
		}
	}
	return a
}

// EverydayNames are the names that growers use, by the identifier of each plant that they may mean; without those of a form.
func (a *Almanac) EverydayNames() map[string][]string {
	out := map[string][]string{}
	for _, e := range a.Everyday() {
		if e.Form != "" {
			continue
		}
		for _, taxon := range e.Taxa {
			out[IDOf(taxon)] = append(out[IDOf(taxon)], e.Name)
		}
	}
	return out
}
