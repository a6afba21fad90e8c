package journal

import (
	"fmt"
	"math"
	"slices"

	"slipleaf/build/quantity"
)

// fastest is in how many days what grows fastest in a tank doubles: duckweed in good light (common practice, rounded down).
const fastest = 3

// stock is what the diary lets there be of a plant: its last count, and what was planted since.
type stock struct {
	on      quantity.Date
	amounts []*Amount
}

// overTrimmed warns where more was cut than there can be: more than was counted that day, or than the last count and what
// was planted since can have become. A count is of before the trim.
func (l *linker) overTrimmed(t *Tank) {
	stocks := map[string]stock{}
	for i, e := range t.Entries {
		if i == 0 || t.Entries[i-1].Date != e.Date {
			for _, o := range sameDay(t.Entries, i) {
				takeStock(stocks, o)
			}
		}
		for k := range e.Trims {
			if s, ok := stocks[e.Trims[k].Plant]; ok && e.Trims[k].Plant != "" {
				l.compareTrim(e, k, s)
			}
		}
	}
}

func takeStock(stocks map[string]stock, e *Entry) {
	for i := range e.Counts {
		stocks[e.Counts[i].Plant] = stock{e.Date, []*Amount{&e.Counts[i].Amount}}
	}
	for i := range e.Plantings {
		p := &e.Plantings[i]
		s := stocks[p.Plant]
		if len(s.amounts) == 0 {
			s.on = e.Date
		}
		stocks[p.Plant] = stock{s.on, append(slices.Clip(s.amounts), &p.Amount)}
	}
}

// sameDay lists the entries of the day of the i-th, which is the first.
func sameDay(entries []*Entry, i int) []*Entry {
	to := i + 1
	for to < len(entries) && entries[to].Date == entries[i].Date {
		to++
	}
	return entries[i:to]
}

// of adds up a figure of all amounts; ok is false where one does not say it.
func (s stock) of(f figure) (sum float64, ok bool) {
	for _, a := range s.amounts {
		n, said := f(a)
		if !said {
			return 0, false
		}
		sum += n
	}
	return sum, true
}

func whole(n *int) (float64, bool) {
	if n == nil {
		return 0, false
	}
	return float64(*n), true
}

// figure is one measure of an amount; ok is false where it does not say it.
type figure func(a *Amount) (f float64, ok bool)

// byMeasure are the measures in which a trim is compared, and how each is said.
var byMeasure = []struct {
	figure figure
	said   string
}{
	{func(a *Amount) (float64, bool) { return whole(a.Stems) }, "%.0f stems"},
	{func(a *Amount) (float64, bool) { return whole(a.Plantlets) }, "%.0f plantlets"},
	{func(a *Amount) (float64, bool) { return whole(a.Leaves) }, "%.0f leaves"},
	{func(a *Amount) (float64, bool) { return float64(a.Mass.High()), a.Mass.Known() }, "%.4g g"},
	{func(a *Amount) (float64, bool) { return 100 * float64(a.Cover.High()), a.Cover.Known() }, "%.0f %% cover"},
}

// compareTrim warns where a trim took more than there can be.
func (l *linker) compareTrim(e *Entry, k int, s stock) {
	t := &e.Trims[k]
	days := e.Date.Since(s.on)
	grown := math.Exp2(float64(days) / fastest)
	over := func(key, said string, took float64, m int, pieces float64) bool {
		there, known := s.of(byMeasure[m].figure)
		if !known || took <= there*grown*pieces+1e-9 {
			return false
		}
		when, hint := "that day", ""
		if days > 0 {
			when, hint = "on "+s.on.String(), "count before you cut, or correct the count or the trim"
		}
		l.complain(ruleOverTrimmed, e.Source, fmt.Sprintf("trims[%d].%s", k, key), fmt.Sprintf("%s, but only %s of %s were counted or planted %s",
			fmt.Sprintf(said, took), fmt.Sprintf(byMeasure[m].said, there), l.called(t.Plant), when), hint)
		return true
	}
	if cut, said := whole(t.Cuttings); said && over("cuttings", "%.0f cuttings taken", cut, 0, s.pieces(t.Length)) {
		return
	}
	for m := range byMeasure {
		if took, said := byMeasure[m].figure(&t.Removed); said && over("removed", byMeasure[m].said+" taken out", took, m, 1) {
			return
		}
	}
}

// pieces is how many cuttings of a length a stem can give; 1 where a length is not known.
func (s stock) pieces(of quantity.Reading[quantity.Length]) float64 {
	most := 1.0
	for _, a := range s.amounts {
		if a.Length.Known() && of.Low() > 0 {
			most = max(most, math.Floor(float64(a.Length.High()/of.Low())))
		}
	}
	return most
}
