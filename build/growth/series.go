package growth

import (
	"slices"

	"slipleaf/build/dynamics"
	"slipleaf/build/quantity"
)

// Point is a line of a series: a count, or the signed change that a trim, planting or loss made.
type Point struct {
	Date    quantity.Date
	Size    float64 // in the measure of the series
	Event   Kind
	Segment int    // from 1; a change is in the segment that it ends
	By      string // who counted; "" where the diary does not say
}

// Series is what one measure tells of one life of a plant in a tank.
type Series struct {
	Tank, Plant string
	Measure     Measure
	Life        int     // of the plant in this tank, from 1
	Break       Break   // why it begins although the plant stood there before
	Left        bool    // the plant is gone from the tank
	Over        bool    // another series of this life follows, in another measure or after an unknown change
	Points      []Point // by day, counts first
	Assumed     bool    // stems without a length of their own took that of a count

	Stems  int     // that stand there by the last count and what was changed since; 0 when stems were not counted
	Area   float64 // dm² that the plant is on, by its last count; 0 when not written
	Counts int     // on how many days it was counted, nothing left out
	floor  float64 // dm² of the tank; 0 when not known
	most   float64 // dm² of the largest ground that a count was a share of; 0 where it is no cover
	sums   dynamics.Series
}

// Sums is the series as the sums take it, with days counted from 1970-01-01.
func (s *Series) Sums() dynamics.Series { return s.sums }

// Began is the day of the first line, Ended that of the last.
func (s *Series) Began() quantity.Date { return s.Points[0].Date }

// Ended is the day of the last line.
func (s *Series) Ended() quantity.Date { return s.Points[len(s.Points)-1].Date }

// LastCount is the latest count; ok is false where only changes are known.
func (s *Series) LastCount() (p Point, ok bool) {
	for _, p := range slices.Backward(s.Points) {
		if p.Event == Count {
			return p, true
		}
	}
	return Point{}, false
}

// Standing reports whether the plant is still there, as far as this series can say.
func (s *Series) Standing() bool { return !s.Left && !s.Over }

// maker builds the series of one plant in one tank.
type maker struct {
	tank, plant string
	floor       float64 // dm² of the tank; 0 when not known
	out         []*Series
}

// make turns events into series, in the order of time.
func (k *maker) make(events []event) []*Series {
	for i, l := range lives(events, k.floor) {
		begun := len(k.out)
		for j, st := range l.stretches(k.floor) {
			if i > 0 && j == 0 {
				st.why = CameBack
			}
			k.follow(st, i+1)
		}
		if n := len(k.out); n > begun {
			k.out[n-1].Left, k.out[n-1].Over = l.left, false
		}
	}
	return k.out
}

// follow adds the series of one stretch, and begins another after a change that the measure cannot tell.
func (k *maker) follow(st stretch, number int) {
	length, area := k.places(st.events)
	s := &Series{Tank: k.tank, Plant: k.plant, Measure: st.measure, Life: number, Break: st.why, Over: true, floor: k.floor}
	for i, e := range st.events {
		if e.kind == Count {
			s.count(e, area[i])
			continue
		}
		d, ok := e.change(s.Measure, length[i], area[i])
		if !ok {
			if s.Counts == 0 {
				continue // nothing was counted before it: the first count tells
			}
			k.end(s)
			s = &Series{Tank: k.tank, Plant: k.plant, Measure: st.measure, Life: number, Break: UnknownChange, Over: true, floor: k.floor}
			continue
		}
		s.change(e, d)
	}
	k.end(s)
}

// end closes a series and keeps it where there is a count in it.
func (k *maker) end(s *Series) {
	if s.Counts == 0 {
		return
	}
	s.number()
	k.out = append(k.out, s)
}

// places gives for each event the stem length and the ground of the last count up to it, else of the next one, else 0 and
// the floor.
func (k *maker) places(events []event) (length, area []float64) {
	length = nearestCounts(events, func(e event) float64 { return lengthOf(e, 0) }, 0)
	return length, nearestCounts(events, func(e event) float64 { return areaOf(e, 0) }, k.floor)
}

// nearestCounts gives for each event what the last count up to it that tells it says, else the next one that does, else none.
func nearestCounts(events []event, tell func(event) float64, none float64) []float64 {
	out := make([]float64, len(events))
	known, first := 0.0, -1 // first: the event that told it first
	for i, e := range events {
		if e.kind == Count && !e.nothing() {
			if x := tell(e); x > 0 {
				if known = x; first < 0 {
					first = i
				}
			}
		}
		out[i] = known
	}
	if first < 0 {
		first, known = len(out), none
	} else {
		known = out[first]
	}
	for i := range first {
		out[i] = known
	}
	return out
}

func (s *Series) count(e event, area float64) {
	size, ok := s.Measure.size(e.amount, e.area, 0, area)
	if !ok && !e.nothing() {
		return
	}
	if e.nothing() {
		size = 0
	}
	if n := len(s.Points); n == 0 || s.Points[n-1].Date != e.on || s.Points[n-1].Event != Count {
		s.Counts++
	}
	s.Points = append(s.Points, Point{Date: e.on, Size: size, Event: Count, By: e.by})
	if e.amount.Stems != nil {
		s.Stems = *e.amount.Stems
	}
	if e.area.Known() {
		s.Area = float64(e.area.Mid())
	}
	if s.Measure == Cover {
		s.most = max(s.most, areaOf(e, area))
	}
}

func (s *Series) change(e event, by float64) {
	s.Points = append(s.Points, Point{Date: e.on, Size: by, Event: e.kind})
	if e.area.Known() && e.kind == Planting && s.Area == 0 {
		s.Area = float64(e.area.Mid())
	}
	if s.Measure != StemLength {
		return
	}
	s.Assumed = s.Assumed || e.length == 0 && !e.amount.Length.Known()
	switch {
	case e.kind == Trim && e.amount.Stems == nil:
		s.Stems += e.back
	case e.amount.Stems == nil:
	case e.kind == Planting:
		s.Stems += *e.amount.Stems
	default:
		s.Stems = max(0, s.Stems-*e.amount.Stems)
	}
}

// number hands the points to the sums and takes the numbers of segments from them.
func (s *Series) number() {
	slices.SortStableFunc(s.Points, func(a, b Point) int {
		if c := a.Date.Compare(b.Date); c != 0 {
			return c
		}
		return min(int(a.Event), 1) - min(int(b.Event), 1)
	})
	if s.sums.Ceiling = s.most; s.Measure.Counted() {
		s.sums.Step = 1
	}
	for _, p := range s.Points {
		day := float64(p.Date.Days())
		if p.Event == Count {
			s.sums.Counts = append(s.sums.Counts, dynamics.Count{Day: day, Size: p.Size, By: p.By})
			continue
		}
		s.sums.Changes = append(s.sums.Changes, dynamics.Change{Day: day, Amount: p.Size, Kind: sumsKind[p.Event]})
	}
	segments, err := s.sums.SegmentNumbers()
	if err != nil {
		return // sizes beyond all reason: the fit says so
	}
	for i, n := range segments { // counts and changes come day by day in the order in which they were handed in
		s.Points[i].Segment = n
	}
}

var sumsKind = [...]dynamics.ChangeKind{Trim: dynamics.Trim, Loss: dynamics.Loss, Planting: dynamics.Planting}
