package usual

import (
	"fmt"
	"regexp"
	"strings"
)

// otherEnding is what editors and phones make of the ending .md.
var otherEnding = regexp.MustCompile(`(?i)(\.md\.txt|\.md|\.markdown|\.txt)$`)

// TextName is the name of a text file without its ending, where that is not .md; "" for other files.
func TextName(name string) string {
	if strings.HasSuffix(name, ".md") || !otherEnding.MatchString(name) {
		return ""
	}
	return strings.ToLower(otherEnding.ReplaceAllString(name, ""))
}

// Entry is the name of a diary entry: its date, and what tells it from another of the day.
var Entry = regexp.MustCompile(`^([0-9]{4}-[0-9]{2}-[0-9]{2})(?:-([a-z0-9-]+))?$`)

var looseEntry = regexp.MustCompile(`^([0-9]{4})[-._]([0-9]{1,2})[-._]([0-9]{1,2})(?:[-_ ]([A-Za-z0-9][A-Za-z0-9_ -]*))?$`)

// EntryName is the name of an entry with its zeros and hyphens; "" where it is no date, or in that form already.
func EntryName(base string) string {
	m := looseEntry.FindStringSubmatch(base)
	if m == nil {
		return ""
	}
	full := Date(fmt.Sprintf("%s-%s-%s", m[1], m[2], m[3]))
	if full == "" {
		return ""
	}
	if m[4] != "" {
		full += "-" + strings.NewReplacer("_", "-", " ", "-").Replace(strings.ToLower(m[4]))
	}
	if full == base || !Entry.MatchString(full) {
		return ""
	}
	return full
}

// Language is the tag of a language that pages come in, by its name in either; "" for other words.
func Language(name string) string {
	switch strings.ToLower(name) {
	case "english", "englisch":
		return "en"
	case "german", "deutsch":
		return "de"
	}
	return ""
}

// Key is a key of a head as the format spells it: in small letters, with hyphens.
func Key(s string) string { return strings.NewReplacer("_", "-", " ", "-").Replace(strings.ToLower(s)) }
