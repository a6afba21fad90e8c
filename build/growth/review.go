package growth

import (
	"cmp"
	"maps"
	"slices"

	"slipleaf/build/journal"
	"slipleaf/build/ledger"
	"slipleaf/build/quantity"
	"slipleaf/build/reckon"
)

// Review is what a year came to: grown, trimmed, given, established.
type Review struct {
	Year    int
	Partial bool // the year is not over on the day of the facts
	Entries int
	Plants  []ReviewPlant // by plants given, most first
	Total   ReviewPlant   // Plant is ""
	Lands   int           // countries that parcels went to, where that is known
	InPost  int           // parcels that were lost in the post; they are in no other count
	Months  []ReviewMonth // of the year, as far as it has begun
}

// ReviewMonth is what a month came to; Given are plants, without seeds. Established are parcels that were sent in it.
type ReviewMonth struct{ Slips, Given, Established int }

// ReviewPlant is what one plant came to in a year.
type ReviewPlant struct {
	Plant       string
	Cuts        int // days on which it was cut, in all tanks
	Slips       int // pieces taken
	Parcels     int // sent
	Given       int // plants in them, and
	Seeds       int
	Heard       int // of those parcels, heard of by the day of the facts
	Established int
	Lost        int
	PassedOn    int
}

// Years lists the years that a journal has entries or parcels in, newest first.
func Years(j *journal.Journal, on quantity.Date) []int {
	seen := map[int]bool{}
	for _, t := range j.Tanks {
		for _, e := range t.Entries {
			if !e.Date.After(on) {
				seen[e.Date.Year] = true
			}
		}
	}
	for _, p := range j.Parcels {
		if !p.Sent.IsZero() && !p.Sent.After(on) {
			seen[p.Sent.Year] = true
		}
	}
	out := slices.Sorted(maps.Keys(seen))
	slices.Reverse(out)
	return out
}

// ReviewOf sums a year up as far as the day of the facts.
func (f *Facts) ReviewOf(j *journal.Journal, year int) Review {
	r := Review{Year: year, Partial: year == f.On.Year && f.On.Before(quantity.Date{Year: year, Month: 12, Day: 31})}
	r.Months = make([]ReviewMonth, 12)
	if r.Partial {
		r.Months = r.Months[:int(f.On.Month)]
	}
	plants := map[string]*ReviewPlant{}
	at := func(id string) *ReviewPlant {
		if plants[id] == nil {
			plants[id] = &ReviewPlant{Plant: id}
		}
		return plants[id]
	}
	for _, t := range j.Tanks {
		r.Entries += f.cutsOf(t, year, at, r.Months)
	}
	lands := map[string]bool{}
	for _, p := range j.Parcels {
		if p.Sent.IsZero() || p.Sent.Year != year || p.Sent.After(f.On) || !p.Cancelled.IsZero() {
			continue
		}
		if p.Lost(f.On) {
			r.InPost++
			continue
		}
		if lot, ok := j.Lot(p.Lot); ok {
			at(lot.Plant).add(p, lot, f.On)
			r.Months[p.Sent.Month-1].add(p, lot, f.On)
		}
		if len(p.Region) >= 2 {
			lands[p.Region[:2]] = true
		}
	}
	r.Lands = len(lands)
	for _, p := range plants {
		r.Plants = append(r.Plants, *p)
		r.Total.sum(*p)
	}
	slices.SortFunc(r.Plants, func(a, b ReviewPlant) int {
		return cmp.Or(cmp.Compare(b.Given, a.Given), cmp.Compare(b.Slips, a.Slips), cmp.Compare(a.Plant, b.Plant))
	})
	return r
}

// cutsOf notes what was cut in a tank in a year, and counts its entries.
func (f *Facts) cutsOf(t *journal.Tank, year int, at func(string) *ReviewPlant, months []ReviewMonth) (entries int) {
	for _, e := range t.Entries {
		if e.Date.Year == year && !e.Date.After(f.On) {
			entries++
		}
	}
	for _, plant := range f.Named(t.ID) {
		last := quantity.Date{}
		for _, k := range f.yields[ledger.Key{Tank: t.ID, Plant: plant}].taken {
			if k.on.Year != year {
				continue
			}
			at(plant).Slips += k.slips
			months[k.on.Month-1].Slips += k.slips
			if k.on != last {
				at(plant).Cuts, last = at(plant).Cuts+1, k.on
			}
		}
	}
	return entries
}

// add counts a parcel.
func (m *ReviewMonth) add(p *journal.Parcel, lot *journal.Lot, on quantity.Date) {
	plants, _ := lot.Split(p.Count)
	m.Given += plants
	if ledger.StatusOf(p, on) == reckon.Established {
		m.Established++
	}
}

// add counts a parcel.
func (r *ReviewPlant) add(p *journal.Parcel, lot *journal.Lot, on quantity.Date) {
	r.Parcels++
	plants, seeds := lot.Split(p.Count)
	r.Given, r.Seeds = r.Given+plants, r.Seeds+seeds
	heard, passed := false, false
	for _, report := range p.Reports {
		if !report.Date.After(on) {
			heard = true
			passed = passed || report.Outcome == "passed-on"
		}
	}
	if heard {
		r.Heard++
	}
	if passed {
		r.PassedOn++
	}
	switch ledger.StatusOf(p, on) {
	case reckon.Established:
		r.Established++
	case reckon.Died:
		r.Lost++
	}
}

func (r *ReviewPlant) sum(o ReviewPlant) {
	r.Cuts, r.Slips, r.Parcels, r.Given = r.Cuts+o.Cuts, r.Slips+o.Slips, r.Parcels+o.Parcels, r.Given+o.Given
	r.Seeds += o.Seeds
	r.Heard, r.Established, r.Lost, r.PassedOn = r.Heard+o.Heard, r.Established+o.Established, r.Lost+o.Lost, r.PassedOn+o.PassedOn
}
