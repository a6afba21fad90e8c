package almanac

import (
	"reflect"
	"slices"
)

// Species is what the almanac knows of one plant. A plant that is known by its name alone has Profiled false and no
// figures.
type Species struct {
	ID     string // scientific name in lower case with hyphens: heteranthera-zosterifolia
	Taxon  string // accepted scientific name
	Common string // one name, or ""
	Family string // "" when not known
	// CommonIn is the language of Common where [Species.Spoken] chose it; "" is English, or the grower's own.
	CommonIn           string
	commonDE, commonEN string // the latter where Common is the former
	Profile
	Traits
	Care           *Care // how its kind is handled, shared and never changed; nil where the kind is not known
	Profiled       bool  // the almanac holds a profile, its own or lent
	RGR            Rate  // published relative growth rate; zero when none was found
	CuttingSize    string
	MeltNote       string
	ConversionNote string
	HardyNote      string

	Mark    Phrase     // what tells it from plants of the same everyday name
	Sources []Citation // behind the profile; without any, all of it is common practice
	bases   map[string]string
	german  map[string]string // the almanac's phrases, shared and never changed

	Synonyms   []string // older scientific names
	TradeNames []string
	Misapplied []string // scientific names that the trade wrongly uses for it
	nameBasis  string   // of the name, its synonyms and range

	Own    []string // columns that the grower's file replaced, in the order of [Columns]
	LentBy string   // id of the species whose profile a cultivar or variety uses; "" when it is its own
}

// Rate is a relative growth rate, per day; Low and High are equal for a single figure, and zero when there is none.
type Rate struct{ Low, High float64 }

// Known reports whether there is a figure.
func (r Rate) Known() bool { return r.High > 0 }

// Spoken is the species with its common name in a language of BCP 47, where the almanac has one.
func (s Species) Spoken(lang string) Species {
	switch {
	case german(lang) && s.commonDE != "":
		if s.CommonIn == "" {
			s.commonEN = s.Common
		}
		s.Common, s.CommonIn = s.commonDE, "de"
	case !german(lang) && s.CommonIn == "de":
		s.Common, s.CommonIn = s.commonEN, "en"
	}
	return s
}

// Say gives a text of the almanac about s in a language of BCP 47, and the language that it is in: English where the
// almanac has no translation. A grower's own words are in no known language: "".
func (s Species) Say(column, lang string) (text, in string) {
	text = s.words(column)
	if slices.Contains(s.Own, column) {
		return text, ""
	}
	if de, ok := s.german[text]; ok && german(lang) {
		return de, "de"
	}
	return text, "en"
}

// hasColumn reports whether the named column of s holds anything.
func (s *Species) hasColumn(column string) bool {
	if i := slices.Index(columnNames[:], column); i >= 0 {
		return given(s.values()[i])
	}
	return column == "rgr" && s.RGR.Known() || s.words(column) != ""
}

// words gives the columns that are sentences.
func (s *Species) words(column string) string {
	return map[string]string{
		"propagation": s.Propagation, "cutting-size": s.CuttingSize, "melt-note": s.MeltNote,
		"conversion-note": s.ConversionNote, "hardy-note": s.HardyNote,
	}[column]
}

// With lays the grower's own figures over s, column by column; every column that own has written, "unknown" included,
// replaces that of s and is noted in Own. With a habit of its own its kind is not known. s itself is not changed.
func With(s Species, own Profile) Species {
	before, habit := s.Own, s.Habit
	s.Own = nil
	have, theirs := s.values(), own.values()
	for i, column := range columnNames {
		if given(theirs[i]) {
			reflect.ValueOf(have[i]).Elem().Set(reflect.ValueOf(theirs[i]).Elem())
		}
		if given(theirs[i]) || slices.Contains(before, column) {
			s.Own = append(s.Own, column)
		}
	}
	s.Melts, s.Weediness = copyOf(s.Melts), copyOf(s.Weediness)
	if own.Habit != "" && own.Habit != habit {
		s.Kind = NoKind
	}
	return s
}
