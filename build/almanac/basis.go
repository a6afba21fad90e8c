package almanac

import (
	"regexp"
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

// noteColumns are the columns of a profile that a grower's file cannot replace.
var noteColumns = [...]string{"rgr", "cutting-size", "melt-note", "conversion-note", "hardy-note"}

// Citation is what is behind figures, with an address of an authority, a publisher, a flora or a university where
// the page itself was read.
type Citation struct{ Text, Address string }

var (
	addressHost = regexp.MustCompile(`https?://([^/\s"<>;,)]+)`)
	inBrackets  = regexp.MustCompile(`\(((?:[^()]|\([^()]*\))*)\)(?:, second-hand)?$`)
	finding     = regexp.MustCompile(`^[a-z]|[0-9] ?(%|°C|cm|mm|m\b|g/L|umol|feet|days)|^[0-9]`)
)

// Named is the source without what was found in it: the work that is named, else the place where it is.
func (c Citation) Named() string {
	hand := strings.Contains(c.Text, "second-hand")
	text := strings.TrimSuffix(c.Text, ", second-hand")
	if rest, ok := strings.CutPrefix(text, "from memory"); ok {
		if len(strings.Fields(rest)) > 4 {
			return "from memory"
		}
		return text
	}
	if m := inBrackets.FindStringSubmatch(c.Text); m != nil {
		text = strings.TrimSuffix(m[1], ", second-hand")
	}
	var keep []string
	for part := range strings.SplitSeq(text, ", ") {
		if finding.MatchString(part) {
			break
		}
		keep = append(keep, part)
	}
	name := strings.Join(keep, ", ")
	if name == "" {
		name = "a published page"
		if m := addressHost.FindStringSubmatch(c.Address); m != nil {
			name = m[1]
		}
	}
	if hand {
		name += ", second-hand"
	}
	return name
}

// Basis tells how the figure of a column is known: one of the constants above; "" for a column that holds nothing.
// Columns are those of [Columns] and "rgr", "cutting-size", "melt-note", "conversion-note", "hardy-note".
func (s Species) Basis(column string) string {
	switch {
	case slices.Contains(s.Own, column):
		return OwnFigure
	case !s.hasColumn(column):
		return ""
	case !s.Profiled: // only a habit can stand in the table of names
		return s.nameBasis
	}
	if b, ok := s.bases[column]; ok {
		return b
	}
	return CommonPractice
}

// readBases reads "temperature: seen; ph: memory": the columns that are better known than by common practice.
func readBases(r row) map[string]string {
	out := map[string]string{}
	for _, part := range r.list("bases") {
		column, basis, _ := strings.Cut(part, ": ")
		known := slices.Contains(columnNames[:], column) || slices.Contains(noteColumns[:], column)
		if _, twice := out[column]; twice || !known || !slices.Contains([]string{Seen, SecondHand, Memory}, basis) {
			r.fault("bases", "%q is no column with its basis, or comes twice", part)
		}
		out[column] = basis
	}
	return out
}

// readSources reads "a flora <https://…>; a survey, second-hand".
func readSources(r row) []Citation {
	var out []Citation
	for _, part := range r.list("source") {
		out = append(out, readCitation(r, "source", part))
	}
	return out
}

func readCitation(r row, column, written string) Citation {
	text, address, _ := strings.Cut(written, " <")
	c := Citation{text, strings.TrimSuffix(address, ">")}
	if strings.Contains(c.Text, "://") || c.Address != "" && !strings.HasSuffix(address, ">") {
		r.fault(column, "%q: an address stands at the end in <>", written)
	}
	return c
}
