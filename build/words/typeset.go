package words

import (
	"regexp"
	"strings"

	"slipleaf/build/almanac"
)

var (
	// apostrophes stand between letters, or after the s of a plural's genitive; a foot or a minute stands after a digit.
	apostrophes = regexp.MustCompile(`(\pL)'(\pL|$|[ ,.;:)])`)
	spanned     = regexp.MustCompile(`(\d) ?- ?(\d)`)
	citation    = regexp.MustCompile(`\s*\(([^()]*https?://[^()]*)\)`)
)

// Typeset gives plain text of the almanac the marks of print: an apostrophe, and the dash between the ends of a range.
func Typeset(s string) string {
	if !strings.ContainsAny(s, "'-") {
		return s
	}
	return spanned.ReplaceAllString(apostrophes.ReplaceAllString(s, "$1’$2"), "$1–$2")
}

// TypesetSpecies is a species as pages print it: its remarks without the sources in brackets, which join those of the
// profile.
func TypesetSpecies(s almanac.Species) almanac.Species {
	s.Common, s.Propagation, s.SapBasis = Typeset(s.Common), Typeset(s.Propagation), Typeset(s.SapBasis)
	for _, text := range []*string{&s.MeltNote, &s.ConversionNote, &s.HardyNote, &s.CuttingSize} {
		for _, m := range citation.FindAllStringSubmatch(*text, -1) {
			s.Source = strings.Join(NonEmpty(s.Source, strings.TrimSpace(m[1])), "; ")
		}
		*text = Typeset(citation.ReplaceAllString(*text, ""))
	}
	return s
}
