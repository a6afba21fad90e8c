package almanac

import (
	"maps"
	"slices"
	"sync"
)

// countries are the countries of ISO 3166-1 by code, with their names: those of the Unicode CLDR in golang.org/x/text, whose
// own tables hold every language that there is and would make the program 2.5 MB larger.
var countries = sync.OnceValue(func() map[string]row {
	out := map[string]row{}
	for _, r := range readTable(tables, "countries.csv", "code,en,de").rows {
		out[r.must("code")] = r
	}
	return out
})

// Countries lists the codes of all countries in order.
func Countries() []string { return slices.Sorted(maps.Keys(countries())) }

// CountryName is the name of a country in a language, en or de; "" where it is not known.
func CountryName(code, language string) string {
	r, ok := countries()[code]
	if !ok || !slices.Contains(r.table.columns[1:], language) {
		return ""
	}
	return r.text(language)
}
