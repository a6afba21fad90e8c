package diary

import (
	"cmp"
	"slices"

	"slipleaf/build/almanac"
	"slipleaf/build/journal"
	"slipleaf/build/ledger"
	"slipleaf/build/quantity"
)

// Facts is what the diary tells about growth on one day. It is read-only and safe for concurrent use.
type Facts struct {
	On     quantity.Date
	Growth []*Growth // by tank in the journal's order, plant, time

	byKey  map[ledger.Key][]*Growth
	yields map[ledger.Key]Yield
}

// New gathers the facts of a journal for a day. Species tells what is known of a plant by its id; the zero Species does
// where nothing is.
func New(j *journal.Journal, species func(id string) almanac.Species, on quantity.Date) *Facts {
	return new(Memory).Facts(j, species, on)
}

// Of lists the series of a plant in a tank in the order of time.
func (f *Facts) Of(tank, plant string) []*Growth {
	return f.byKey[ledger.Key{Tank: tank, Plant: plant}]
}

// OfPlant lists the series of a plant, by tank and time.
func (f *Facts) OfPlant(plant string) []*Growth {
	var out []*Growth
	for _, g := range f.Growth {
		if g.Plant == plant {
			out = append(out, g)
		}
	}
	return out
}

// Now is the series that follows a plant in a tank today; ok is false where it does not stand there or was never counted.
func (f *Facts) Now(tank, plant string) (g *Growth, ok bool) {
	all := f.Of(tank, plant)
	if len(all) == 0 || !all[len(all)-1].Standing() {
		return nil, false
	}
	return all[len(all)-1], true
}

// Yield is what a plant in a tank gives.
func (f *Facts) Yield(tank, plant string) Yield {
	return f.yields[ledger.Key{Tank: tank, Plant: plant}]
}

// Forecasts are the windows of the next trims, for the lots that are only expected.
func (f *Facts) Forecasts() map[ledger.Key]ledger.Forecast {
	out := map[ledger.Key]ledger.Forecast{}
	for _, g := range f.Growth {
		if g.Standing() && g.Next.Known() {
			out[ledger.Key{Tank: g.Tank, Plant: g.Plant}] = ledger.Forecast{Low: g.Next.Low, Best: g.Next.Best, High: g.Next.High}
		}
	}
	return out
}

// floorOf is the floor of a tank in dm²; 0 when its measures are not known.
func floorOf(t *journal.Tank) float64 {
	if !t.Inside.Length.Known() || !t.Inside.Width.Known() {
		return 0
	}
	return float64(t.Inside.Length.Mid()) * float64(t.Inside.Width.Mid()) / 100
}

func sortedKeys[K cmp.Ordered, V any](m map[K]V) []K {
	out := make([]K, 0, len(m))
	for k := range m {
		out = append(out, k)
	}
	slices.Sort(out)
	return out
}
