package growth

// A life of a plant in a tank runs from its first line in the diary, or from its return, to the day on which it left.
type life struct {
	events []event
	left   bool // it is gone
}

// lives cuts the events of a plant where it had left: where a count finds nothing, or where a cut or loss takes all that
// was last counted and no count follows before it is planted again.
func lives(events []event, floor float64) []life {
	var out []life
	begun := 0
	b := balance{floor: floor}
	for i := 0; i < len(events); {
		day, next := dayAt(events, i)
		b.add(day)
		i = next
		again := i < len(events) && events[i].kind == Count && !events[i].nothing()
		if b.nothing || b.empty() && !again {
			out = append(out, life{events[begun:i:i], true})
			begun, b = i, balance{floor: floor}
		}
	}
	if begun < len(events) {
		out = append(out, life{events[begun:], false})
	}
	return out
}

// dayAt gives the events of the day that begins at i, and where the next day begins.
func dayAt(events []event, i int) ([]event, int) {
	j := i + 1
	for j < len(events) && events[j].on == events[i].on {
		j++
	}
	return events[i:j:j], j
}

// balance follows what should still stand there by the last count, in every measure that it gave.
type balance struct {
	floor   float64
	stands  map[Measure]float64
	length  float64
	area    float64
	nothing bool
}

// add books the events of one day.
func (b *balance) add(day []event) {
	counted := false
	for _, e := range day {
		if e.kind == Count {
			b.count(e, !counted)
			counted = true
			continue
		}
		for m := range b.stands {
			if e.all {
				b.stands[m] = 0
				continue
			}
			if m == Stems && e.kind == Trim && e.cuttings != nil {
				continue // a stem whose top is cut is still there
			}
			if d, ok := e.change(m, b.length, b.area); ok {
				b.stands[m] += d
			}
		}
		if e.kind == Planting {
			b.nothing = false
		}
	}
}

func (b *balance) count(e event, first bool) {
	if first {
		b.nothing, b.stands = true, map[Measure]float64{}
	}
	b.nothing = b.nothing && e.nothing()
	b.length, b.area = lengthOf(e, b.length), areaOf(e, b.floor)
	for _, m := range given(e, b.floor) {
		size, _ := m.size(e.amount, e.area, 0, b.floor)
		b.stands[m] = max(b.stands[m], size)
	}
}

// empty reports whether nothing can be left in the best measure that tells it.
func (b *balance) empty() bool {
	for m := Mass; m <= Stems; m++ {
		if left, ok := b.stands[m]; ok && left <= 1e-9 {
			return true
		}
	}
	return false
}

func lengthOf(e event, before float64) float64 {
	if e.amount.Length.Known() {
		return float64(e.amount.Length.Mid())
	}
	return before
}

func areaOf(e event, floor float64) float64 {
	if e.area.Known() {
		return float64(e.area.Mid())
	}
	return floor
}

// stretch is a part of a life that one measure follows.
type stretch struct {
	measure Measure
	events  []event
	why     Break // why it begins where it does
}

// Break is why a series begins although the plant stood there before.
type Break uint8

// The breaks.
const (
	NoBreak       Break = iota
	NewMeasure          // its counts share no measure with those before
	UnknownChange       // the change before it was not told in the measure of the series
	CameBack            // it had left and was planted again
)

// stretches cuts a life where the counts stop to share a measure: the change of a measure is followed apart.
func (l life) stretches(floor float64) []stretch {
	var out []stretch
	var can []Measure
	begun, why := 0, NoBreak
	for i, e := range l.events {
		if e.kind == Count && !e.nothing() {
			has := given(e, floor)
			both := shared(can, has)
			if can == nil {
				both = has
			}
			if len(both) == 0 && len(has) > 0 {
				day := i
				for day > begun && !l.events[day-1].on.Before(e.on) {
					day--
				}
				out = append(out, stretch{can[0], l.events[begun:day:day], why})
				begun, why, both = day, NewMeasure, has
			}
			if len(has) > 0 {
				can = both
			}
		}
	}
	if can == nil {
		return out // never counted
	}
	return append(out, stretch{can[0], l.events[begun:], why})
}
