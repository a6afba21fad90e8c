package growth

import (
	"fmt"
	"maps"
	"runtime"
	"slices"
	"sync"

	"golang.org/x/sync/errgroup"

	"slipleaf/build/almanac"
	"slipleaf/build/fingerprint"
	"slipleaf/build/journal"
	"slipleaf/build/ledger"
	"slipleaf/build/quantity"
)

// Memory keeps what was worked out of a journal, so that a tank or a series of which nothing changed is not fitted again.
// It holds what the last facts were made of, and no more. Use it from one goroutine at a time; nil remembers nothing.
type Memory struct {
	tanks map[fingerprint.Sum]*tankFacts
	fits  map[fingerprint.Sum]*Growth
}

// tankFacts is what one tank's entries tell.
type tankFacts struct {
	made   fingerprint.Sum // of what they rest on
	growth []*Growth       // by plant, time
	yields map[string]Yield
	named  []string // plants that its entries name, whatever their day; sorted
}

// Facts gathers the facts of a journal as [New] does.
func (m *Memory) Facts(j *journal.Journal, species func(id string) almanac.Species, on quantity.Date) *Facts {
	f := &Facts{On: on, byKey: map[ledger.Key][]*Growth{}, yields: map[ledger.Key]Yield{}, named: map[string][]string{}}
	if m == nil {
		m = new(Memory)
	}
	tanks, fits := map[fingerprint.Sum]*tankFacts{}, map[fingerprint.Sum]*Growth{}
	for i, known := range m.ofTanks(j, species, on) {
		t := j.Tanks[i]
		tanks[known.made] = known
		for _, g := range known.growth {
			fits[g.made] = g
			f.growth = append(f.growth, g)
			k := ledger.Key{Tank: t.ID, Plant: g.Plant}
			f.byKey[k] = append(f.byKey[k], g)
		}
		f.named[t.ID] = known.named
		for plant, y := range known.yields {
			f.yields[ledger.Key{Tank: t.ID, Plant: plant}] = y
		}
	}
	f.relate(func(g *Growth) *Growth {
		if was, ok := m.fits[g.made]; ok {
			g = was
		}
		fits[g.made] = g
		return g
	})
	m.tanks, m.fits = tanks, fits
	return f
}

// ofTanks finds what each tank's entries tell, side by side where it is not known.
func (m *Memory) ofTanks(j *journal.Journal, species func(id string) almanac.Species, on quantity.Date) []*tankFacts {
	out := make([]*tankFacts, len(j.Tanks))
	habits := habitsOf(j, on)
	var asking sync.Mutex
	one := func(id string) almanac.Species {
		asking.Lock()
		defer asking.Unlock()
		return species(id)
	}
	var g errgroup.Group
	g.SetLimit(runtime.GOMAXPROCS(0)) // bound by the processor
	for i, t := range j.Tanks {
		print := tankPrint(t, habits)
		if out[i] = m.tanks[print]; out[i] == nil {
			g.Go(func() error {
				out[i] = m.work(j, t, one, on)
				out[i].made = print
				return nil
			})
		}
	}
	_ = g.Wait() // none fails
	return out
}

// work finds the series of a tank. They are fitted when they are first asked for.
func (m *Memory) work(j *journal.Journal, t *journal.Tank, species func(id string) almanac.Species, on quantity.Date) *tankFacts {
	out := &tankFacts{yields: map[string]Yield{}, named: namedIn(t)}
	events := eventsOf(t, on)
	var all []*Series
	for _, plant := range slices.Sorted(maps.Keys(events)) {
		k := maker{tank: t.ID, plant: plant, floor: floorOf(t)}
		series := k.make(events[plant])
		all = append(all, series...)
		out.yields[plant] = yields(t, plant, series, events[plant], on)
	}
	for _, s := range all {
		g := begin(j, s, species(s.Plant), on)
		g.print(on)
		if was, ok := m.fits[g.made]; ok {
			g = was
		}
		out.growth = append(out.growth, g)
	}
	return out
}

// print takes the fingerprints of all that a fit rests on. Of a series that has ended the same is told on every later day.
func (g *Growth) print(on quantity.Date) {
	g.counted = fingerprint.Of(fmt.Appendf(nil, "%#v %v %v %v", *g.Series, g.Floating, g.Goal, g.GoalFrom))
	if g.made = g.counted; g.Standing() {
		g.made = fingerprint.Of(fmt.Appendf(nil, "%v %x", on, g.counted))
	}
}

// youngest is how many counts make a series that tells of others, and needs them no more itself (our choice).
const youngest = 8

// relate gives each series with few counts those of its plant in other tanks that have more. Known finds one that was fitted
// beside the same before.
func (f *Facts) relate(known func(*Growth) *Growth) {
	for i, g := range f.growth {
		if g.Counts >= youngest || !g.Standing() || g.Goal <= 0 {
			continue
		}
		young := &Growth{Series: g.Series, Floating: g.Floating, Goal: g.Goal, GoalFrom: g.GoalFrom, counted: g.counted, on: g.on}
		sum := fingerprint.New()
		sum.Write(g.made[:])
		for _, k := range f.growth {
			if k.Plant == g.Plant && k.Tank != g.Tank && k.Measure == g.Measure && k.Counts >= youngest {
				young.kin = append(young.kin, k)
				sum.Write(k.made[:])
			}
		}
		if len(young.kin) == 0 {
			continue
		}
		young.made = sum.Value()
		young = known(young)
		f.growth[i] = young
		of := f.byKey[ledger.Key{Tank: g.Tank, Plant: g.Plant}]
		of[slices.Index(of, g)] = young
	}
}

// habitsOf begins the fingerprint of a tank: what the facts of any tank rest on besides its own files.
func habitsOf(j *journal.Journal, on quantity.Date) []byte {
	out := fmt.Appendf(nil, "%v %x", on, j.HeadSum)
	for _, p := range j.Plants {
		out = fmt.Appendf(out, " %s %x", p.ID, p.HeadSum)
	}
	return out
}

// tankPrint is the fingerprint of all that a tank's facts rest on.
func tankPrint(t *journal.Tank, habits []byte) fingerprint.Sum {
	h := fingerprint.New()
	h.Write(habits)
	fmt.Fprintf(h, "\n%s %x\n", t.ID, t.HeadSum)
	for _, e := range t.Entries {
		h.Write(e.HeadSum[:])
		h.Write([]byte(e.Path))
	}
	return h.Value()
}

// namedIn lists the plants that a tank's entries name.
func namedIn(t *journal.Tank) []string {
	seen := map[string]bool{}
	for _, e := range t.Entries {
		for id := range e.Named() {
			seen[id] = true
		}
	}
	return slices.Sorted(maps.Keys(seen))
}
