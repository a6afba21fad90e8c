package demo

import (
	"fmt"
	"hash/fnv"
	"math"
	"math/rand/v2"
	"time"
)

// world is all that the simulation made: for each tank and visit the lines of its head, and the truth behind them.
type world struct {
	entries []entry
	truth   []truth
}

// entry is one visit to one tank, its parts as YAML flow mappings.
type entry struct {
	tank, name                       string
	parameters, waterChange          string
	counts, plantings, trims, losses []string
	doses                            string
}

func (e entry) date() string { return e.name[:10] }

// stream returns the random numbers that belong to one address of the world.
func stream(seed uint64, address string) *rand.Rand {
	h := fnv.New64a()
	h.Write([]byte(address))
	return rand.New(rand.NewPCG(seed, h.Sum64()))
}

// simulate runs every series of every tank over the tank's visits.
func simulate(seed uint64, tanks []tank) world {
	var w world
	for _, t := range tanks {
		entries := make([]entry, len(t.visits))
		for i, v := range t.visits {
			entries[i] = entry{tank: t.name, name: v}
		}
		for _, s := range t.series {
			rng := stream(seed, t.name+"/"+s.plant+"/"+s.from)
			w.truth = append(w.truth, grow(rng, t.name, s, entries))
		}
		drift(stream(seed, t.name), t.water, entries)
		w.entries = append(w.entries, entries...)
	}
	return w
}

// stand is what truly grows there on a day.
type stand struct {
	size  float64 // in the measure: cm of stem, stems, plantlets, leaves, % or g
	stems int
}

func (s stand) length() float64 { return s.size / float64(s.stems) }

// grow walks one series through the visits and notes what the grower would write.
func grow(rng *rand.Rand, tankName string, s series, entries []entry) truth {
	t := truth{Tank: tankName, Plant: s.plant, Measure: s.measure, R: s.r, Q: s.q, M: s.m, Holds: s.holds,
		Start: s.from, StartSize: s.size, Switches: s.switches}
	now := stand{s.size, s.stems}
	day, counted := s.from, ""
	for i := range entries {
		e := &entries[i]
		if e.date() < s.from || e.date() > s.to || len(e.name) > 10 {
			continue
		}
		now = s.step(rng, now, daysBetween(day, e.date()))
		day = e.date()
		if day == s.from && s.planted != "" {
			e.plantings = append(e.plantings, s.planting(now))
			counted = day
			continue
		}
		seen := 0.0
		if s.due(counted, day) || s.leaves != "" && day == s.to {
			seen = s.count(rng, e, &now, len(t.Counts)%3 == 0)
			counted = day
			t.Counts = append(t.Counts, sizeOn{day, round(now.size, 4)})
		}
		if s.leaves != "" && day == s.to {
			e.losses = append(e.losses, s.gone(now, seen))
			now.size = 0
			continue
		}
		s.lose(e, &now)
		if seen > 0 && s.trim.at > 0 && day >= s.trim.startsFrom {
			t.Trims += s.cut(rng, e, &now, seen)
		}
	}
	t.End, t.EndSize = day, round(now.size, 4)
	return t
}

// step lets a stand grow for some days: exponential, or toward what the space holds, with uneven days.
func (s series) step(rng *rand.Rand, now stand, days int) stand {
	for range days {
		r := s.r
		if s.holds > 0 {
			r *= 1 - now.size/s.holds
		}
		gain := float64(r) + float64(s.q*rng.NormFloat64())
		if s.measure == "stem-length" && now.stems < s.crowd() { // a fifth of the growth is new side shoots, in whole stems
			if rng.Float64() < 0.2*s.r*float64(now.stems) {
				now.stems++
			}
		}
		now.size *= math.Exp(gain)
	}
	return now
}

// crowd is how many stems find room: six on a square decimetre.
func (s series) crowd() int { return int(6 * s.area) }

// due reports whether a count falls on the day.
func (s series) due(counted, day string) bool {
	if counted == "" {
		return true
	}
	days := 7
	for _, g := range s.gaps {
		if day >= g.from {
			days = g.days
		}
	}
	return daysBetween(counted, day) >= days
}

// count notes what the grower counts and returns it in the measure of the series.
func (s series) count(rng *rand.Rand, e *entry, now *stand, where bool) float64 {
	seen := now.size * math.Exp(s.m*rng.NormFloat64())
	line := "{plant: " + s.plant
	switch {
	case s.measure == "stem-length":
		length := math.Max(1, math.Round(seen/float64(now.stems)))
		seen = length * float64(now.stems)
		line += fmt.Sprintf(", stems: %d, length: %.0f cm", now.stems, length)
	case s.measure == "cover" && s.switches != "" && e.date() >= s.switches:
		line += fmt.Sprintf(", plantlets: %.0f", math.Round(seen*s.per))
	case s.measure == "cover":
		seen = math.Min(math.Round(seen), 98)
		line += fmt.Sprintf(", cover: %.0f %%", seen)
	case s.measure == "mass":
		seen = math.Round(seen*2) / 2
		line += fmt.Sprintf(", mass: %g g", seen)
	default:
		seen = math.Max(1, math.Round(seen))
		line += fmt.Sprintf(", %s: %.0f", s.measure, seen)
	}
	if s.area > 0 {
		line += fmt.Sprintf(", area: %g dm2", s.area)
	}
	if where && s.where != "" {
		line += ", where: " + s.where
	}
	e.counts = append(e.counts, line+"}")
	return seen
}

// lose takes away what died that day.
func (s series) lose(e *entry, now *stand) {
	for _, l := range s.losses {
		if l.date != e.date() {
			continue
		}
		e.losses = append(e.losses, fmt.Sprintf("{plant: %s, %s, cause: %s}", s.plant, s.amount(l.count), l.cause))
		if s.measure == "stem-length" {
			now.size -= float64(l.count) * now.length()
			now.stems -= l.count
		} else {
			now.size -= float64(l.count)
		}
	}
}

// amount writes a number of the series' own things as a key and value.
func (s series) amount(n int) string {
	switch s.measure {
	case "stem-length":
		return fmt.Sprintf("stems: %d", n)
	case "cover":
		return fmt.Sprintf("cover: %d %%", n)
	case "mass":
		return fmt.Sprintf("mass: %d g", n)
	}
	return fmt.Sprintf("%s: %d", s.measure, n)
}

// gone writes the loss of the whole stand as the grower counted it.
func (s series) gone(now stand, seen float64) string {
	if s.measure == "stem-length" {
		return fmt.Sprintf("{plant: %s, stems: %d, length: %.0f cm, cause: %s}", s.plant, now.stems, seen/float64(now.stems), s.leaves)
	}
	return fmt.Sprintf("{plant: %s, %s, cause: %s}", s.plant, s.amount(int(seen)), s.leaves)
}

func (s series) planting(now stand) string {
	line := "{plant: " + s.plant
	if s.measure == "stem-length" {
		line += fmt.Sprintf(", stems: %d, length: %.0f cm", now.stems, now.length())
	} else {
		line += ", " + s.amount(int(now.size))
	}
	if s.area > 0 {
		line += fmt.Sprintf(", area: %g dm2", s.area)
	}
	if s.where != "" {
		line += ", where: " + s.where
	}
	return line + ", from: " + s.planted + "}"
}

// cut trims a stand that has reached the grower's mark, and returns how many trims that makes.
func (s series) cut(rng *rand.Rand, e *entry, now *stand, seen float64) int {
	share := s.trim.shareLo + float64((s.trim.shareHi-s.trim.shareLo)*rng.Float64())
	if s.measure == "stem-length" {
		return s.cutStems(rng, e, now, seen, share)
	}
	if seen < s.trim.at {
		return 0
	}
	n := math.Round(share * math.Min(seen, now.size))
	now.size -= n
	switch {
	case s.switches != "" && e.date() >= s.switches:
		plantlets := math.Round(n * s.per)
		e.trims = append(e.trims, fmt.Sprintf("{plant: %s, removed: %.0f plantlets}", s.plant, plantlets))
	case s.measure == "cover":
		e.trims = append(e.trims, fmt.Sprintf("{plant: %s, removed: %.0f %%}", s.plant, n))
	case s.measure == "mass":
		e.trims = append(e.trims, fmt.Sprintf("{plant: %s, removed: %.0f g}", s.plant, n))
	default:
		e.trims = append(e.trims, fmt.Sprintf("{plant: %s, removed: %.0f %s}", s.plant, n, s.measure))
	}
	return 1
}

func (s series) cutStems(rng *rand.Rand, e *entry, now *stand, seen, share float64) int {
	length := seen / float64(now.stems)
	if length < s.trim.at {
		return 0
	}
	n := int(math.Round(share * float64(now.stems)))
	part := s.trim.cutLo + float64((s.trim.cutHi-s.trim.cutLo)*rng.Float64())
	cm := math.Round(part * math.Min(length, now.length()))
	back := int(s.trim.replantMax * rng.Float64() * float64(n))
	if now.stems+back > s.crowd() {
		back = 0
	}
	line := fmt.Sprintf("{plant: %s, cuttings: %d, length: %.0f cm", s.plant, n, cm)
	if back > 0 {
		line += fmt.Sprintf(", replanted: %d", back)
	}
	e.trims = append(e.trims, line+"}")
	now.size -= float64(n-back) * cm
	now.stems += back
	return 1
}

// daysBetween counts whole days from a to b, both yyyy-mm-dd.
func daysBetween(a, b string) int {
	return int(mustDate(b).Sub(mustDate(a)).Hours() / 24)
}

func mustDate(s string) time.Time {
	d, err := time.Parse(time.DateOnly, s)
	if err != nil {
		panic("the plan holds a bad date: " + s)
	}
	return d
}

// round keeps n decimals.
func round(x float64, n int) float64 {
	f := math.Pow10(n)
	return math.Round(x*f) / f
}
