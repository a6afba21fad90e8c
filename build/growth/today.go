package growth

import (
	"cmp"
	"math"
	"slices"

	"slipleaf/build/almanac"
	"slipleaf/build/journal"
	"slipleaf/build/ledger"
	"slipleaf/build/quantity"
	"slipleaf/build/reckon"
)

// Today is what the grower has to do: on the day and within the week after it.
type Today struct {
	On           quantity.Date    `json:"on"`
	Trim         []TrimDue        `json:"trim"`
	Count        []CountDue       `json:"count"`
	Water        []WaterOff       `json:"water"`
	Lots         []LotDue         `json:"lots"`
	Reservations []ReservationDue `json:"reservations"`
	Ask          []AskDue         `json:"ask"`
}

// TrimDue is a plant to be trimmed: now, or within the week. The window is 80 %.
type TrimDue struct {
	Tank   string        `json:"tank"`
	Plant  string        `json:"plant"`
	Now    bool          `json:"now"` // half of the window is over
	Low    quantity.Date `json:"low"`
	Best   quantity.Date `json:"date"`
	High   quantity.Date `json:"high"`
	Wanted int           `json:"wanted"` // plants reserved from lots of this plant in this tank
}

// CountDue is a plant whose last count is too old for a good forecast.
type CountDue struct {
	Tank  string        `json:"tank"`
	Plant string        `json:"plant"`
	Last  quantity.Date `json:"last"`
	Days  int           `json:"days"` // since then
}

// WaterOff is a reading that lies off what is wanted, or outside what all that grows there tolerates.
type WaterOff struct {
	Tank      string        `json:"tank"`
	Parameter string        `json:"parameter"`
	Value     float64       `json:"value"`
	Wanted    float64       `json:"wanted,omitempty"`
	Low       float64       `json:"low,omitempty"` // with High: what all stand
	High      float64       `json:"high,omitempty"`
	Unit      string        `json:"unit"`
	On        quantity.Date `json:"measured"`
	Cure      Cure          `json:"cure"`
}

// LotDue is an announced lot whose day has come without a count.
type LotDue struct {
	Lot   string        `json:"lot"`
	Plant string        `json:"plant"`
	Ready quantity.Date `json:"ready"`
}

// ReservationDue is plants to be sent before their reservation ends.
type ReservationDue struct {
	Lot    string        `json:"lot"`
	Plant  string        `json:"plant"`
	Count  int           `json:"count"`
	Lapses quantity.Date `json:"lapses"`
	Record string        `json:"record"` // the parcel's file
}

// AskDue is a parcel to ask about: a check day has passed since anything was heard.
type AskDue struct {
	Record   string        `json:"record"`
	Plant    string        `json:"plant"`
	Sent     quantity.Date `json:"sent"`
	Day      int           `json:"day"` // the check day: 7, 30 or 60
	Reported quantity.Date `json:"reported,omitzero"`
}

// Terms of the list (our choice): how old a count may be, for floating plants and others; how far ahead trims and
// reservations are looked for; and how long a silent parcel is asked about.
const (
	countDays         = 10
	countDaysFloating = 7
	weekAhead         = 7
	askUntil          = 120
)

// askDays are the check days on which news is worth asking for.
var askDays = [...]int{60, 30, 7}

// TodayOf makes the list for the day of the ledger.
func (f *Facts) TodayOf(j *journal.Journal, l *ledger.Ledger, species func(id string) almanac.Species) Today {
	t := Today{On: f.On, Trim: []TrimDue{}, Count: []CountDue{}, Water: []WaterOff{}, Lots: []LotDue{}, Reservations: []ReservationDue{}, Ask: []AskDue{}}
	kept := map[string]bool{} // tanks that are not taken down
	for _, tank := range j.Tanks {
		kept[tank.ID] = tank.Ended.IsZero() || tank.Ended.After(f.On)
	}
	for _, g := range f.All() {
		if g.Standing() && !g.Over && kept[g.Tank] {
			f.dueOf(&t, g, wanted(l, g))
		}
	}
	slices.SortStableFunc(t.Trim, func(a, b TrimDue) int { return a.Best.Compare(b.Best) })
	slices.SortStableFunc(t.Count, func(a, b CountDue) int { return cmp.Compare(b.Days, a.Days) })
	for _, tank := range j.Tanks {
		if kept[tank.ID] {
			t.Water = append(t.Water, f.waterOff(tank, species)...)
		}
	}
	for _, lot := range l.Offered() {
		if kept[lot.Tank] && lot.Count == 0 && !lot.Lot.Ready.IsZero() && !lot.Lot.Ready.After(f.On) {
			t.Lots = append(t.Lots, LotDue{lot.ID, lot.Plant, lot.Lot.Ready})
		}
		for _, k := range lot.Takings {
			if p := k.Parcel; !k.Sent && k.Takes > 0 {
				t.Reservations = append(t.Reservations, ReservationDue{lot.ID, lot.Plant, k.Takes, p.Reserved.Add(j.HoldDays()), p.Path})
			}
		}
	}
	slices.SortStableFunc(t.Reservations, func(a, b ReservationDue) int { return a.Lapses.Compare(b.Lapses) })
	t.Ask = asks(j, f.On)
	return t
}

// dueOf notes a trim that is due and a count that is overdue.
func (f *Facts) dueOf(t *Today, g *Growth, wanted int) {
	if w := g.Next.from(f.On); w.Known() && !w.Low.After(f.On.Add(weekAhead)) {
		t.Trim = append(t.Trim, TrimDue{g.Tank, g.Plant, !w.Best.After(f.On), w.Low, w.Best, w.High, wanted})
	}
	most := countDays
	if g.Floating {
		most = countDaysFloating
	}
	if last, ok := g.LastCount(); ok && f.On.Since(last.Date) > most {
		t.Count = append(t.Count, CountDue{g.Tank, g.Plant, last.Date, f.On.Since(last.Date)})
	}
}

// wanted counts the plants reserved from lots of a plant out of a tank.
func wanted(l *ledger.Ledger, g *Growth) int {
	n := 0
	for _, lot := range l.LotsOf(g.Plant) {
		if lot.Tank == g.Tank {
			n += lot.Reserved
		}
	}
	return n
}

// asks lists the parcels of which news is due: a check day has passed, nothing was heard since it, it was not lost in the post, no verdict has
// come, and asking still makes sense.
func asks(j *journal.Journal, on quantity.Date) []AskDue {
	out := []AskDue{}
	for _, p := range j.Parcels {
		if p.Sent.IsZero() || !p.Cancelled.IsZero() || p.Lost(on) || on.Since(p.Sent) > askUntil || ledger.StatusOf(p, on) != reckon.Censored {
			continue
		}
		heard := quantity.Date{}
		for _, r := range p.Reports {
			if !r.Date.After(on) && r.Date.After(heard) {
				heard = r.Date
			}
		}
		for _, day := range askDays {
			if due := p.Sent.Add(day); !due.After(on) {
				if heard.Before(due) {
					plant := ""
					if lot, ok := j.Lot(p.Lot); ok {
						plant = lot.Plant
					}
					out = append(out, AskDue{p.Path, plant, p.Sent, day, heard})
				}
				break
			}
		}
	}
	slices.SortStableFunc(out, func(a, b AskDue) int { return cmp.Or(a.Sent.Compare(b.Sent), cmp.Compare(a.Record, b.Record)) })
	return out
}

// judgedBy is one parameter of a tank in the unit in which it is judged.
type judgedBy struct {
	name, unit string
	read       func(p journal.Parameters) (float64, bool)
	stands     func(s almanac.Species) (low, high float64, ok bool)
	noise      float64 // a difference from the wish that means nothing (our choice)
}

// judged are the parameters that have a tolerance.
func judged() []judgedBy {
	return []judgedBy{
		{"temperature", "C", func(p journal.Parameters) (float64, bool) { return asUnit(p.Temperature, "C") },
			func(s almanac.Species) (float64, float64, bool) { return limitsIn(s.Temperature, "C") }, 1},
		{"ph", "", func(p journal.Parameters) (float64, bool) { return asUnit(p.PH, "") },
			func(s almanac.Species) (float64, float64, bool) { return limitsIn(s.PH, "") }, 0.3},
		{"gh", "dGH", func(p journal.Parameters) (float64, bool) { return asUnit(p.GH, "dGH") },
			func(s almanac.Species) (float64, float64, bool) { return limitsIn(s.GH, "dGH") }, 2},
		{"kh", "dKH", func(p journal.Parameters) (float64, bool) { return asUnit(p.KH, "dKH") },
			func(s almanac.Species) (float64, float64, bool) { return limitsIn(s.KH, "dKH") }, 1},
	}
}

// waterOff compares a tank's latest readings with its targets and with what all that is there tolerates.
func (f *Facts) waterOff(t *journal.Tank, species func(id string) almanac.Species) []WaterOff {
	var out []WaterOff
	water := t.WaterOn(f.On)
	for _, fig := range judged() {
		value, ok := fig.read(water.Parameters)
		if !ok {
			continue
		}
		w := WaterOff{Tank: t.ID, Parameter: fig.name, Value: round(value), Unit: fig.unit, On: water.Days[fig.name]}
		if want, ok := fig.read(t.Target); ok && math.Abs(value-want) > fig.noise {
			w.Wanted = round(want)
			w.Cure = cureOf(t, w)
			out = append(out, w)
			continue
		}
		low, high, ok := f.shared(t.ID, fig, species)
		if ok && low <= high && (value < low || value > high) {
			w.Low, w.High = round(low), round(high)
			w.Cure = cureOf(t, w)
			out = append(out, w)
		}
	}
	return out
}

// shared is what every plant that is in a tank tolerates.
func (f *Facts) shared(tank string, fig judgedBy, species func(id string) almanac.Species) (low, high float64, ok bool) {
	low, high = math.Inf(-1), math.Inf(1)
	for _, g := range f.growth {
		if g.Tank != tank || !g.Standing() {
			continue
		}
		if lo, hi, known := fig.stands(species(g.Plant)); known {
			low, high, ok = max(low, lo), min(high, hi), true
		}
	}
	return low, high, ok
}

func asUnit[T quantity.Scalar](r quantity.Reading[T], unit string) (float64, bool) {
	v, ok := quantity.In(r.Mid(), unit)
	return v, ok && r.Known()
}

func limitsIn[T quantity.Scalar](r quantity.Reading[T], unit string) (low, high float64, ok bool) {
	low, ok1 := quantity.In(r.Low(), unit)
	high, ok2 := quantity.In(r.High(), unit)
	return low, high, ok1 && ok2 && r.Known()
}

func round(f float64) float64 { return math.Round(f*100) / 100 }
