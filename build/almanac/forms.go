package almanac

import (
	"strings"

	"slipleaf/build/quantity"
)

// size is how large a cultivar or trade form of a species grows.
type size struct {
	height quantity.Reading[quantity.Length]
	spread quantity.Reading[quantity.Length]
	basis  string
}

// readSizes reads the table of forms by species id and folded form.
func readSizes(t *table, species []Species) map[string]size {
	out := map[string]size{}
	profiled := map[string]bool{}
	for _, s := range species {
		profiled[s.Taxon] = s.Profiled
	}
	for _, r := range t.rows {
		taxon := r.must("taxon")
		if !profiled[taxon] {
			r.fault("taxon", "%q has no profile", taxon)
		}
		key := sizeKey(IDOf(taxon), r.must("form"))
		if _, twice := out[key]; twice {
			r.fault("form", "stands there twice")
		}
		out[key] = size{height: between[quantity.Length](r, "height_min_cm", "height_max_cm", "cm"),
			spread: single[quantity.Length](r, "spread_cm", "cm"), basis: r.one("basis", Seen, SecondHand, Memory, CommonPractice)}
	}
	return out
}

func sizeKey(id, form string) string { return id + " " + fold(form) }

// sized gives a cultivar or variety of a species its own size, where it is known.
func (a *Almanac) sized(s Species, taxon string) Species {
	own, ok := a.sizes[sizeKey(s.LentBy, formOf(taxon))]
	if !ok {
		return s
	}
	bases := map[string]string{}
	for c, b := range s.bases {
		bases[c] = b
	}
	bases["height"], bases["spread"] = own.basis, own.basis
	s.Height, s.Spread, s.bases = own.height, own.spread, bases
	return s
}

// formOf is the cultivar of a scientific name, without its quotes, or its variety.
func formOf(taxon string) string {
	key := fold(taxon)
	if i := strings.Index(key, " '"); i > 0 {
		return strings.Trim(key[i:], " '")
	}
	if _, variety, ok := strings.Cut(key, " var "); ok {
		return variety
	}
	return ""
}

// readMarks reads what tells plants apart, by species id.
func readMarks(t *table) map[string]Phrase {
	out := map[string]Phrase{}
	for _, r := range t.rows {
		out[IDOf(r.must("taxon"))] = Phrase{r.must("en"), r.must("de")}
	}
	return out
}
