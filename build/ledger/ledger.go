// Package ledger keeps the lots: what was available, reserved, sent and is left. No plant is lost or given twice: for
// every lot that has its count, count = reserved + sent + lost + left, and none of them is below zero. It also gathers
// how each species does for recipients. It is pure: the date and the forecasts are parameters.
package ledger

import (
	"cmp"
	"slices"

	"slipleaf/build/journal"
	"slipleaf/build/quantity"
)

// Key names a plant in a tank.
type Key struct{ Tank, Plant string }

// ForecastLevel is how sure a window of a forecast is.
const ForecastLevel = 0.8

// Forecast is the window in which a plant in a tank can next be cut, 80 % from Low to High. It comes from the growth
// that the diary shows; the zero Forecast says that none can be made.
type Forecast struct{ Low, Best, High quantity.Date }

// Known reports whether there is a forecast.
func (f Forecast) Known() bool { return !f.Low.IsZero() && !f.High.IsZero() }

// State is how far a lot is.
type State uint8

// The states of a lot, in the order in which they are shown.
const (
	Ready    State = iota // there are plants to ask for today
	Coming                // not there yet: announced, or ready on a day to come
	Reserved              // none left, but some are reserved and not yet sent
	Gone                  // all sent, or lost
)

// String is the state in one word.
func (s State) String() string {
	return [...]string{"ready", "coming", "reserved", "gone"}[min(s, Gone)]
}

// Reservation is plants kept for somebody, who is not named here.
type Reservation struct {
	On     quantity.Date // the day it was made
	Lapses quantity.Date // the first day on which it no longer holds
	Count  int
}

// Lot is a lot and its account.
type Lot struct {
	*journal.Lot // as received: name, doubt, form, count, pests, dips, copper

	State    State
	Reserved int // in reservations that hold
	Sent     int
	Lost     int           // died before they were sent
	Left     int           // Count − Reserved − Sent − Lost; 0 while only expected
	Ready    quantity.Date // the day from which it can be given; zero while that is only forecast
	Waiting  int           // days since Ready, where it is Ready
	Unseen   int           // days since Ready or, if that was later, an entry said that it is still there
	LastSent quantity.Date // of the latest parcel; zero if none was sent

	// Window is when a coming lot is to be expected: from the forecast, or else the grower's own day at both ends.
	// Own tells which. A window never begins before the day of the ledger.
	Window Forecast
	Own    bool

	Reservations []Reservation // those that stand, by date
	Lapsed       []Reservation // those that lapsed and freed their plants, by date
	Withheld     bool          // the grower gives this plant to nobody

	// Grown is how it grew: the lot's own word, else its tank's: submersed, emersed, culture or mixed.
	Grown string

	// Takings are the parcels behind the totals, by date. They lead to private parts: pages must not use them.
	Takings []journal.Taking
}

// Ledger is every lot's account on one day. It is read-only and safe for concurrent use.
type Ledger struct {
	On   quantity.Date
	Lots []*Lot // by name, withheld ones among them

	journal *journal.Journal
	byID    map[string]*Lot
	parcels map[string][]*journal.Parcel // by lot
}

// New keeps the books of j for a day. forecast may be nil: then coming lots have the day that the grower gave, if any.
func New(j *journal.Journal, on quantity.Date, forecast func(Key) Forecast) *Ledger {
	l := &Ledger{On: on, journal: j, byID: map[string]*Lot{}, parcels: map[string][]*journal.Parcel{}}
	for _, p := range j.Parcels {
		l.parcels[p.Lot] = append(l.parcels[p.Lot], p)
	}
	for _, lot := range j.Lots() {
		a := l.account(lot)
		var f Forecast
		if forecast != nil && a.Expected { // only then is it asked for: one may cost a fit
			f = forecast(Key{lot.Tank, lot.Plant})
		}
		a.look(on, f)
		l.Lots = append(l.Lots, a)
		l.byID[lot.ID] = a
	}
	return l
}

// account books every parcel and loss of a lot up to the day: what lies in its future has not happened.
func (l *Ledger) account(lot *journal.Lot) *Lot {
	lapse := l.journal.HoldDays()
	given, lost := lot.Hand(l.parcels[lot.ID], l.On, lapse)
	a := &Lot{Lot: lot, Grown: lot.Grown, Takings: given}
	if t, ok := l.journal.Tank(lot.Tank); ok {
		a.Grown = cmp.Or(a.Grown, t.Grown)
	}
	if p, ok := l.journal.Plant(lot.Plant); ok {
		a.Withheld = p.Withhold
	}
	for _, t := range a.Takings {
		a.book(t, lapse)
	}
	for _, t := range lost {
		a.Lost += t.Takes
	}
	for _, p := range l.parcels[lot.ID] {
		if p.Lapsed(l.On, lapse) {
			a.Lapsed = append(a.Lapsed, Reservation{On: p.Reserved, Lapses: p.Reserved.Add(lapse + 1), Count: p.Count})
		}
	}
	slices.SortStableFunc(a.Lapsed, func(x, y Reservation) int { return x.On.Compare(y.On) })
	if !lot.Expected {
		a.Left = lot.Count - a.Reserved - a.Sent - a.Lost
	}
	return a
}

// book adds one parcel. What a lot cannot give is not booked; a reservation of an expected lot is, since its plants are
// still to come.
func (a *Lot) book(t journal.Taking, lapse int) {
	p := t.Parcel
	switch {
	case t.Over:
	case !t.Sent:
		n := t.Takes
		if a.Expected {
			n = p.Count
		}
		a.Reserved += n
		a.Reservations = append(a.Reservations, Reservation{On: p.Reserved, Lapses: p.Reserved.Add(lapse + 1), Count: n})
	default:
		a.Sent += t.Takes
		a.LastSent = p.Sent
	}
}

// look finds what is left of the lot on a day.
func (a *Lot) look(on quantity.Date, f Forecast) {
	a.Ready = cmp.Or(a.Lot.Ready, a.Date)
	switch {
	case a.Expected:
		a.State, a.Ready = Coming, quantity.Date{}
		a.expect(on, f)
	case a.Left > 0 && a.Ready.After(on):
		a.State, a.Own = Coming, true
		a.Window = Forecast{a.Ready, a.Ready, a.Ready}
	case a.Left > 0:
		a.State, a.Waiting = Ready, on.Since(a.Ready)
		a.Unseen = a.Waiting
		for _, day := range a.Seen {
			if !day.After(on) {
				a.Unseen = min(a.Unseen, on.Since(day))
			}
		}
	case a.Reserved > 0:
		a.State = Reserved
	default:
		a.State = Gone
	}
}

// expect sets the window of a lot without a count.
func (a *Lot) expect(on quantity.Date, f Forecast) {
	switch {
	case f.Known():
		a.Window = f
	case !a.Lot.Ready.IsZero():
		a.Own = true
		a.Window = Forecast{a.Lot.Ready, a.Lot.Ready, a.Lot.Ready}
	default:
		return
	}
	for _, d := range []*quantity.Date{&a.Window.Low, &a.Window.Best, &a.Window.High} {
		if d.Before(on) {
			*d = on
		}
	}
}

// Lot gives the account of one lot.
func (l *Ledger) Lot(id string) (*Lot, bool) { a, ok := l.byID[id]; return a, ok }

// LotsOf lists the lots of a plant, withheld or not, by name.
func (l *Ledger) LotsOf(plant string) []*Lot {
	return l.pick(func(a *Lot) bool { return a.Plant == plant })
}

// Offered lists the lots that may be shown, by name: all but those of plants that the grower withholds.
func (l *Ledger) Offered() []*Lot { return l.pick(func(a *Lot) bool { return !a.Withheld }) }

func (l *Ledger) pick(want func(*Lot) bool) []*Lot {
	return slices.DeleteFunc(slices.Clone(l.Lots), func(a *Lot) bool { return !want(a) })
}

// In lists the offered lots of one state in the order in which pages show them: what has waited longest first; what is
// coming by its day, without a day last; reserved ones by the day on which that ends; gone ones with the latest first.
func (l *Ledger) In(s State) []*Lot {
	out := l.pick(func(a *Lot) bool { return !a.Withheld && a.State == s })
	slices.SortStableFunc(out, func(a, b *Lot) int {
		switch s {
		case Ready:
			return cmp.Or(b.Waiting-a.Waiting, cmp.Compare(a.ID, b.ID))
		case Coming:
			return cmp.Or(orLast(a.Window.Best).Compare(orLast(b.Window.Best)), cmp.Compare(a.ID, b.ID))
		case Reserved:
			return cmp.Or(a.frees().Compare(b.frees()), cmp.Compare(a.ID, b.ID))
		}
		return cmp.Or(b.LastSent.Compare(a.LastSent), cmp.Compare(a.ID, b.ID))
	})
	return out
}

func (a *Lot) frees() quantity.Date {
	if len(a.Reservations) == 0 {
		return quantity.Date{}
	}
	return a.Reservations[0].Lapses
}

// orLast puts what has no date behind all that has one.
func orLast(d quantity.Date) quantity.Date {
	if d.IsZero() {
		return quantity.Date{Year: 9999, Month: 12, Day: 31}
	}
	return d
}
