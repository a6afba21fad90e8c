package ledger

import (
	"slices"

	"slipleaf/build/journal"
	"slipleaf/build/quantity"
	"slipleaf/build/reckon"
)

// Arrivals is how plants came through the post, by what recipients reported up to a day.
type Arrivals struct {
	Sent int       // by post, whether anybody reported or not
	Lost int       // in the post
	Days []int     // in the post, of each parcel that says so, the shortest first
	By   []Arrival // those, by days
}

// Arrival is the parcels that took some days.
type Arrival struct {
	From, To                int // days, both included
	Parcels                 int
	Plants, Alive           int // of the parcels that say how many were alive when they came
	Established, Died, Open int // parcels, by their first result
}

// spans are the days by which arrivals are told apart; the last has no end.
var spans = [][2]int{{0, 2}, {3, 4}, {5, 7}, {8, 60}}

// ArrivalsOf sums up the parcels that went by post, of all plants where of is nil.
func ArrivalsOf(parcels []*journal.Parcel, on quantity.Date, of func(*journal.Parcel) bool) Arrivals {
	a := Arrivals{By: make([]Arrival, len(spans))}
	for i, s := range spans {
		a.By[i].From, a.By[i].To = s[0], s[1]
	}
	for _, p := range parcels {
		if p.Sent.IsZero() || p.Sent.After(on) || !p.Cancelled.IsZero() || p.How == "by-hand" || of != nil && !of(p) {
			continue
		}
		a.Sent++
		a.add(p, on)
	}
	slices.Sort(a.Days)
	a.By = slices.DeleteFunc(a.By, func(x Arrival) bool { return x.Parcels == 0 })
	return a
}

func (a *Arrivals) add(p *journal.Parcel, on quantity.Date) {
	for _, r := range p.Reports {
		switch {
		case r.Date.After(on):
		case r.Outcome == journal.LostInPost:
			a.Lost++
			return
		case r.DaysInPost != nil:
			a.Days = append(a.Days, *r.DaysInPost)
			for i := range a.By {
				if x := &a.By[i]; *r.DaysInPost >= x.From && *r.DaysInPost <= x.To {
					x.add(p, r, on)
				}
			}
			return
		}
	}
}

func (x *Arrival) add(p *journal.Parcel, r journal.Report, on quantity.Date) {
	x.Parcels++
	if r.Alive != nil {
		x.Plants, x.Alive = x.Plants+p.Count, x.Alive+*r.Alive
	}
	switch StatusOf(p, on) {
	case reckon.Established:
		x.Established++
	case reckon.Died:
		x.Died++
	default:
		x.Open++
	}
}
