package almanac

import (
	"slices"
	"strings"
)

// The bases that a column can have, best first.
const (
	OwnFigure      = "the grower's own figure"
	Seen           = "seen"        // found and read in what was published
	SecondHand     = "second-hand" // read where somebody cites it
	Memory         = "memory"      // published, written from memory
	CommonPractice = "common practice"
)

// partsOf lists the columns of the table of profiles behind a column of the format.
var partsOf = map[string][]string{
	"temperature": {"temp_min", "temp_max"},
	"ph":          {"ph_min", "ph_max"},
	"gh":          {"gh_min", "gh_max"},
	"kh":          {"kh_min", "kh_max"},
	"light":       {"light_ppfd_min", "light_ppfd_max"},
	"light-good":  {"light_ppfd_good"},
	"co2":         {"co2_need"},
	"height":      {"height_min", "height_max"},
	"melts":       {"melts_on_moving"},
}

// Basis tells how the figure of a column is known: one of the four constants, and the words of the table behind it. A
// column of two ends has the weaker basis of its ends, and words without a figure are no published figure. Columns
// are those of [Columns] and "rgr", "cutting-size", "melt-note", "conversion-note", "hardy-note". Both are "" for a
// column that holds nothing.
func (s Species) Basis(column string) (basis, detail string) {
	if slices.Contains(s.Own, column) {
		return OwnFigure, ""
	}
	if !s.hasColumn(column) {
		return "", ""
	}
	if !s.Profiled { // only a habit can stand in the table of names
		return s.NameBasis, s.NameSource
	}
	parts := partsOf[column]
	if parts == nil {
		parts = []string{strings.ReplaceAll(column, "-", "_")}
	}
	return s.weakest(column, parts)
}

// weakest gives the weakest basis among the parts, with every clause that speaks of one of them.
func (s *Species) weakest(column string, parts []string) (basis, detail string) {
	var details []string
	worst := Seen
	for _, part := range parts {
		b := CommonPractice
		for _, c := range clauses(s.BasisDetail) {
			if c.speaksOf(part) {
				b = c.basis(column, part)
				if !slices.Contains(details, c.text) {
					details = append(details, c.text)
				}
			}
		}
		worst = weaker(worst, b)
	}
	if len(details) == 0 {
		details = []string{"common practice"}
	}
	return weaker(worst, s.BestBasis), strings.Join(details, "; ")
}

// weaker gives the weaker of two bases: no column is better known than the best of its row.
func weaker(a, b string) string {
	if rank(a) > rank(b) {
		return a
	}
	return b
}

func rank(basis string) int {
	return slices.Index([]string{Seen, SecondHand, Memory, CommonPractice}, basis)
}

// clause is one statement of a basis_detail: "temp and ph_min: memory".
type clause struct {
	text, of, how string
}

func clauses(detail string) []clause {
	var out []clause
	for text := range strings.SplitSeq(detail, "; ") {
		of, how, ok := strings.Cut(text, ": ")
		if ok && !strings.HasPrefix(of, "other columns") && !strings.HasPrefix(of, "all columns") {
			out = append(out, clause{text, of, how})
		}
	}
	return out
}

// speaksOf tells whether the clause names the part: by itself, or by the group of its two ends (temp, ph, kh).
func (c clause) speaksOf(part string) bool { return c.phrase(part) != "" }

// phrase gives the words between commas of the clause that name the part, or "".
func (c clause) phrase(part string) string {
	stem := strings.TrimSuffix(strings.TrimSuffix(part, "_min"), "_max")
	for phrase := range strings.SplitSeq(strings.ReplaceAll(withoutBrackets(c.of), " and ", ", "), ", ") {
		for word := range strings.FieldsFuncSeq(phrase, func(r rune) bool { return r == ' ' || r == '/' }) {
			if word == part || word == stem {
				return phrase
			}
		}
	}
	return ""
}

// basis reads how the clause knows a part of a column. It is conservative: "seen" counts for a figure only when a
// figure was seen. "spread" in the table's details mostly means spread in the wild, so it never vouches for the size.
func (c clause) basis(column, part string) string {
	note := strings.HasSuffix(column, "-note")
	said, phrase := c.of+" "+c.how, c.phrase(part)
	wordsOnly := strings.Contains(said, "words") || strings.Contains(said, "no figure") ||
		strings.Contains(phrase, "order") || strings.Contains(phrase, "yield")
	switch {
	case strings.Contains(c.how, CommonPractice):
		return CommonPractice
	case strings.Contains(c.how, Memory):
		return Memory
	case strings.Contains(c.how, Seen) && (note || !wordsOnly) && column != "spread":
		return Seen
	}
	return CommonPractice
}

// withoutBrackets drops what stands in round brackets.
func withoutBrackets(s string) string {
	for {
		open := strings.IndexByte(s, '(')
		if open < 0 {
			return s
		}
		end := strings.IndexByte(s[open:], ')')
		if end < 0 {
			return s[:open]
		}
		s = s[:open] + s[open+end+1:]
	}
}
