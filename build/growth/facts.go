package growth

import (
	"fmt"
	"runtime"
	"slices"

	"golang.org/x/sync/errgroup"

	"slipleaf/build/almanac"
	"slipleaf/build/fingerprint"
	"slipleaf/build/journal"
	"slipleaf/build/ledger"
	"slipleaf/build/quantity"
	"slipleaf/build/reckon"
)

// Facts is what the diary tells about growth on one day. It is read-only and safe for concurrent use.
type Facts struct {
	On quantity.Date

	growth []*Growth // by tank in the journal's order, plant, time; fitted when first asked for
	byKey  map[ledger.Key][]*Growth
	yields map[ledger.Key]Yield
	named  map[string][]string // by tank
}

// Named lists the plants that the entries of a tank name, whatever their day, sorted.
func (f *Facts) Named(tank string) []string { return f.named[tank] }

// New gathers the facts of a journal for a day. Species tells what is known of a plant by its id; the zero Species does
// where nothing is.
func New(j *journal.Journal, species func(id string) almanac.Species, on quantity.Date) *Facts {
	return new(Memory).Facts(j, species, on)
}

// All lists every series, by tank in the journal's order, plant and time.
func (f *Facts) All() []*Growth { return fitted(f.growth) }

// Of lists the series of a plant in a tank in the order of time.
func (f *Facts) Of(tank, plant string) []*Growth {
	return fitted(f.byKey[ledger.Key{Tank: tank, Plant: plant}])
}

// InTank lists the series of a tank, by plant and time.
func (f *Facts) InTank(tank string) []*Growth {
	return fitted(f.pick(func(g *Growth) bool { return g.Tank == tank }))
}

// OfPlant lists the series of a plant, by tank and time.
func (f *Facts) OfPlant(plant string) []*Growth {
	return fitted(f.pick(func(g *Growth) bool { return g.Plant == plant }))
}

// pick lists the series that are wanted, as they are.
func (f *Facts) pick(wanted func(*Growth) bool) []*Growth {
	return slices.DeleteFunc(slices.Clone(f.growth), func(g *Growth) bool { return !wanted(g) })
}

// Now is the series that follows a plant in a tank today; ok is false where it does not stand there or was never counted.
func (f *Facts) Now(tank, plant string) (g *Growth, ok bool) {
	all := f.byKey[ledger.Key{Tank: tank, Plant: plant}]
	if len(all) == 0 || !all[len(all)-1].Standing() {
		return nil, false
	}
	g = all[len(all)-1]
	g.fit()
	return g, true
}

// Pace is how fast a plant grows by its counts, whatever the day.
type Pace struct {
	Rate   reckon.Interval // per day
	Counts int
}

// Pace is how fast a plant that is in a tank grows; ok is false where its counts do not tell.
func (f *Facts) Pace(tank, plant string) (p Pace, ok bool) {
	g, ok := f.Now(tank, plant)
	if !ok || g.Fit == nil || g.Fit.StateSpace == nil {
		return p, false
	}
	return Pace{g.Fit.StateSpace.Rate, g.Fit.StateSpace.Counts}, true
}

// Gone reports whether a plant was counted in a tank and has left it.
func (f *Facts) Gone(tank, plant string) bool {
	all := f.byKey[ledger.Key{Tank: tank, Plant: plant}]
	return len(all) > 0 && all[len(all)-1].Left
}

// Sum is the fingerprint of the series of a plant in a tank: of their counts, or, with today, of all that [Facts.Of] and
// [Facts.Yield] tell of them on the day.
func (f *Facts) Sum(tank, plant string, today bool) fingerprint.Sum {
	k := ledger.Key{Tank: tank, Plant: plant}
	sum := fingerprint.New()
	for _, g := range f.byKey[k] {
		if !today {
			sum.Write(g.counted[:])
			continue
		}
		sum.Write(g.made[:])
	}
	if today {
		fmt.Fprintf(sum, "%+v", f.yields[k])
	}
	return sum.Value()
}

// fitted fits the series that are not yet, side by side. The order in which they end changes nothing.
func fitted(all []*Growth) []*Growth {
	var g errgroup.Group
	g.SetLimit(runtime.GOMAXPROCS(0)) // fits are bound by the processor
	for _, one := range all {
		g.Go(func() error { one.fit(); return nil })
	}
	_ = g.Wait() // a fit that fails says so in its own series
	return all
}

// Yield is what a plant in a tank gives.
func (f *Facts) Yield(tank, plant string) Yield {
	return f.yields[ledger.Key{Tank: tank, Plant: plant}]
}

// Forecast is the window of the next trim of a plant in a tank, for a lot that is only expected; the zero Forecast where
// none can be known, or where its days are over without a word of the plant: nobody is told to come today, and again tomorrow.
func (f *Facts) Forecast(k ledger.Key) ledger.Forecast {
	g, ok := f.Now(k.Tank, k.Plant)
	if !ok || g.Next.Overdue || g.Next.Open && !g.Next.High.After(f.On) {
		return ledger.Forecast{}
	}
	return ledger.Forecast{Low: g.Next.Low, Best: g.Next.Best, High: g.Next.High}
}

// floorOf is the floor of a tank in dm²; 0 when its measures are not known.
func floorOf(t *journal.Tank) float64 {
	if !t.Inside.Length.Known() || !t.Inside.Width.Known() {
		return 0
	}
	return float64(t.Inside.Length.Mid()) * float64(t.Inside.Width.Mid()) / 100
}
