package page

import (
	"fmt"
	"strconv"
	"strings"

	"slipleaf/build/journal"
	"slipleaf/build/words"
)

// ParametersCSV lists every reading of a tank: date, parameter, value, unit, below-limit.
func (b *Site) ParametersCSV(t *journal.Tank) []byte {
	out := []byte("date,parameter,value,unit,below-limit\n")
	for _, e := range b.facts.EntriesIn(t.ID) {
		for _, r := range words.Readings(b.Locale(), e.Parameters) {
			if r.Known {
				out = fmt.Appendf(out, "%s,%s,%s,%s,%t\n", e.Date, r.Key, csvNumber(r.Base), r.Unit, r.Below)
			}
		}
	}
	return out
}

// csvNumber writes a number for machines: four decimals at most, no trailing zeros.
func csvNumber(f float64) string {
	s := strings.TrimRight(strings.TrimRight(strconv.FormatFloat(f, 'f', 4, 64), "0"), ".")
	if s == "-0" || s == "" {
		return "0"
	}
	return s
}
