package words

import (
	"cmp"
	"strings"

	"slipleaf/build/almanac"
)

// CountryName is the country's name in the page's language; the code where the tables lack it.
func CountryName(v Locale, code string) string {
	language, _, _ := strings.Cut(v.Lang, "-")
	return cmp.Or(almanac.CountryName(code, language), code)
}

// Country is the code of a region's country: no page is finer.
func Country(region string) string {
	c, _, _ := strings.Cut(region, "-")
	return c
}
