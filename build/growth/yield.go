package growth

import (
	"slices"

	"slipleaf/build/journal"
	"slipleaf/build/quantity"
)

// RecentWeeks is the time that the recent yield looks back over.
const RecentWeeks = 12

// Rate is what a plant gave in a time: slips, which are pieces taken to be planted elsewhere.
type Rate struct {
	Slips int
	Cuts  int     // on how many days
	Weeks float64 // in which it stood there
	Area  float64 // dm² of floor
	// Unevenness is the variance of what a cut gives for the time since the one before, over the square of what one gives on
	// average; of two cuts and more.
	Unevenness float64
}

// Known reports whether slips, area and time are there to divide.
func (r Rate) Known() bool { return r.Area > 0 && r.Weeks >= 1 }

// Weekly is slips per dm² and week; 0 when not known.
func (r Rate) Weekly() float64 {
	if !r.Known() {
		return 0
	}
	return float64(r.Slips) / r.Area / r.Weeks
}

// Yield is what a plant in a tank gives.
type Yield struct {
	Recent, All Rate
	FromLots    bool // it was cut or given away, and its trims do not say how many pieces they made: lots were counted

	taken []taking
}

// taking is a day on which slips were taken.
type taking struct {
	on    quantity.Date
	slips int
}

// yields reckons what a plant gave. Cuttings less those planted again, or plantlets or stems removed, count as slips;
// where no trim says how many, the lots do that were made of it. Time in which the plant did not stand there is left out.
func yields(t *journal.Tank, plant string, series []*Series, events []event, on quantity.Date) Yield {
	taken, told := takings(events)
	if !told {
		taken = lotTakings(t, plant, on)
	}
	y := Yield{taken: taken}
	if len(series) == 0 {
		return y
	}
	y.FromLots = !told && (len(taken) > 0 || trimmed(events))
	y.All = rate(taken, series, series[0].Began(), on)
	y.Recent = rate(taken, series, on.Add(1-7*RecentWeeks), on)
	return y
}

// rate counts what was taken from a day on, over the weeks in which the plant stood there.
func rate(taken []taking, series []*Series, from, on quantity.Date) Rate {
	r := Rate{Weeks: float64(daysStood(series, from, on)) / 7}
	for _, s := range series {
		if s.ground() > 0 && (s.Area > 0 || s.Measure == Cover) {
			r.Area = s.ground()
		}
	}
	last := quantity.Date{}
	var cuts []taking // by day
	for _, t := range taken {
		if t.on.Before(from) || t.on.Before(series[0].Began()) || t.on.After(on) {
			continue // what was cut before the first count has no time to be divided by
		}
		r.Slips += t.slips
		if t.on != last {
			r.Cuts, last = r.Cuts+1, t.on
			cuts = append(cuts, taking{on: t.on})
		}
		cuts[len(cuts)-1].slips += t.slips
	}
	if begin := series[0].Began(); from.Before(begin) {
		from = begin
	}
	r.Unevenness = unevenness(cuts, from)
	return r
}

// unevenness is how much the yields of the single cuts differ: from what each gave, less what the time since the cut before
// lets expect (the variance of a ratio: Cochran 1977, Sampling Techniques, section 6.4).
func unevenness(cuts []taking, from quantity.Date) float64 {
	slips, days := 0.0, 0.0
	for _, c := range cuts {
		slips += float64(c.slips)
	}
	if n := len(cuts); n < 2 || slips == 0 {
		return 0
	} else if days = float64(cuts[n-1].on.Since(from)); days <= 0 {
		return 0
	}
	sum, before := 0.0, from
	for _, c := range cuts {
		off := float64(c.slips) - slips/days*float64(c.on.Since(before))
		sum += off * off
		before = c.on
	}
	n := float64(len(cuts))
	mean := slips / n
	return sum / (n - 1) / (mean * mean)
}

// daysStood counts the days between two that lie in the life of some series, both ends included.
func daysStood(series []*Series, from, on quantity.Date) int {
	sum, done := 0, from // done: the first day not yet counted
	for _, s := range series {
		end := on
		if !s.Standing() {
			end = s.Ended()
		}
		if end.After(on) {
			end = on
		}
		begin := s.Began()
		if begin.Before(done) {
			begin = done
		}
		if n := end.Since(begin) + 1; n > 0 {
			sum += n
			done = end.Add(1)
		}
	}
	return sum
}

// trimmed reports whether a plant was cut at all.
func trimmed(events []event) bool {
	return slices.ContainsFunc(events, func(e event) bool { return e.kind == Trim })
}

// takings lists the slips that trims tell of; told is false when none says how many.
func takings(events []event) (out []taking, told bool) {
	for _, e := range events {
		n := 0
		switch {
		case e.kind != Trim:
			continue
		case e.cuttings != nil:
			n = *e.cuttings - e.back
		case e.amount.Plantlets != nil:
			n = *e.amount.Plantlets
		case e.amount.Stems != nil:
			n = *e.amount.Stems
		default:
			continue
		}
		told = true
		if n > 0 {
			out = append(out, taking{e.on, n})
		}
	}
	return out, told
}

// lotTakings lists the lots of a plant that a tank's entries give a count.
func lotTakings(t *journal.Tank, plant string, on quantity.Date) []taking {
	var out []taking
	for _, e := range t.Entries {
		for _, l := range e.Lots {
			if l.Plant == plant && l.Count > 0 && !e.Date.After(on) {
				out = append(out, taking{e.Date, l.Count})
			}
		}
	}
	return out
}
