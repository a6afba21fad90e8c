package words

import (
	"strings"

	"golang.org/x/text/language"
	"golang.org/x/text/language/display"
)

// CountryName is the country's name in the page's language; the code where the tables lack it.
func CountryName(v Locale, code string) string {
	tag, err := language.Parse(v.Lang)
	region, errRegion := language.ParseRegion(code)
	if err != nil || errRegion != nil {
		return code
	}
	if name := display.Regions(tag).Name(region); name != "" {
		return name
	}
	return code
}

// Country is the code of a region's country: no page is finer.
func Country(region string) string {
	c, _, _ := strings.Cut(region, "-")
	return c
}
