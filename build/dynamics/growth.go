// Package dynamics holds the models of how a stand grows: regression, logistic and state space, the day on which a size is
// reached, and how much to leave at a cut. Each is a pure function; nothing here reads a disk or a clock.
package dynamics

import (
	"cmp"
	"math"
	"slices"

	"slipleaf/build/reckon"
)

// ChangeKind says why a stand changed at a stroke.
type ChangeKind uint8

// The kinds of change.
const (
	Trim     ChangeKind = iota // plants cut and taken out
	Planting                   // plants put in
	Loss                       // plants that died or went
)

// Count is what a grower counted of one stand in one measure.
type Count struct {
	Day  float64 // days from any fixed day
	Size float64 // in the measure of the series, 0 or more; 0 says that nothing is there
	By   string  // who counted, where more than one person does
}

// Change is a step in the size of a stand: a cut, a loss or a planting.
type Change struct {
	Day    float64    // days from the same fixed day
	Amount float64    // in the measure of the series: negative taken out, positive added
	Kind   ChangeKind // why
}

// Series is the diary of one stand in one measure. Its lists may be in any order.
//
// Counts of one day are averaged on the log scale (the mean of ln W, after Hoffmann & Poorter 2002, Annals of Botany
// 90:37–42: the mean of several sizes is biased). A count of nothing beside one of something on the same day is left
// out. A count of nothing alone, or a change that takes all that was counted, ends the stand; the next count or
// planting begins it anew. A count on the day of a change is before the change. Several changes of a day act as
// one.
type Series struct {
	Counts   []Count
	Changes  []Change
	Floating bool    // a floating plant: it grows fast, so a week of counts is enough
	Rooted   bool    // a rooted plant, whose rate above [AskAbove] is asked about
	Ceiling  float64 // the largest size that there can be, as of a cover its ground; 0: none is known
	Step     float64 // sizes are rounded to multiples of it, as plants are to whole ones; 0: they are measured
	Prior    Prior   // of the rate, from what is known of its kind; the zero Prior is that of any plant
}

// Limits of what a growth rate can be, per day, and of what is enough to tell one. The rates are our choice, from
// published ones: 0.109 is the fastest of 14 submerged species in Nielsen & Sand-Jensen 1991 (Aquatic Botany
// 39:109–120), 0.519 the fastest of 39 duckweed clones in Ziegler et al. 2015 (Plant Biology), 0.568 the record of a
// Wolffia (Acta Physiologiae Plantarum, 2015).
const (
	FastestRate  = 0.6  // above it a count was mistyped
	AskAbove     = 0.15 // above it a rooted plant's counts are asked about
	FewestDates  = 4    // days with a count
	ShortestSpan = 14.0 // days from the first count to the last
	FloatingSpan = 7.0  // the same for floating plants
	FewestDF     = 2    // degrees of freedom
)

// Doubling is the time in which a size doubles, in days: ln 2 / r.
type Doubling struct {
	Days    float64 // 0 when the stand does not grow
	Low     float64 // by the upper end of the rate; 0 when that is not above 0
	High    float64 // by the lower end of the rate; 0 when Open
	Growing bool    // whether the rate is above 0, so that Days tells something
	Open    bool    // whether the interval has no upper end: the rate may be 0 or less
	Level   float64
}

// DoublingTime turns a growth rate per day into days. A rate so low that a doubling takes over 10⁵ days counts as none; and
// where the rate may be none, so does one that is less than a quarter of what its interval reaches to a side, or would take
// over 1000 days: flat counts have no doubling time (our choice).
func DoublingTime(r reckon.Interval) Doubling {
	const least, seen = math.Ln2 / 1e5, math.Ln2 / 1000
	d := Doubling{Level: r.Level, Growing: r.Value > least, Open: !(r.Low > least)}
	if d.Open && r.Value < max(seen, (r.High-r.Low)/8) {
		d.Growing = false
	}
	if d.Growing {
		d.Days = math.Ln2 / r.Value
	}
	if r.High > least {
		d.Low = math.Ln2 / r.High
	}
	if !d.Open {
		d.High = math.Ln2 / r.Low
	}
	return d
}

// visit is a day of the diary: what was counted, then what was changed.
type visit struct {
	day      float64
	log      float64 // mean ln size of the counts
	x        float64 // the same on the scale of growth
	rounding float64 // variance of a count on that scale because sizes come in steps
	counted  int     // counts above 0
	nothing  bool    // counted, and nothing stood there
	change   float64 // net amount of the changes
	off      float64 // how far off that may be, as a share
	changed  bool
	ends     bool // nothing is left after it
}

// size is the counted size of the day.
func (v visit) size() float64 { return math.Exp(v.log) }

// visits sorts and gathers the series by day.
func (s Series) visits() ([]visit, error) {
	if err := s.check(); err != nil {
		return nil, err
	}
	byDay := map[float64]*visit{}
	at := func(day float64) *visit {
		day += 0 // −0 is 0
		v := byDay[day]
		if v == nil {
			v = &visit{day: day}
			byDay[day] = v
		}
		return v
	}
	counts, on := s.unbiased(), scale{s.Ceiling}
	slices.SortStableFunc(counts, func(a, b Count) int { return cmp.Compare(a.Size, b.Size) }) // any order, same sum
	for _, c := range counts {
		v := at(c.Day)
		if c.Size == 0 {
			v.nothing = v.counted == 0
			continue
		}
		v.log += math.Log(c.Size)
		v.x += on.of(c.Size)
		v.counted++
		v.nothing = false
	}
	changes := append([]Change(nil), s.Changes...)
	slices.SortStableFunc(changes, func(a, b Change) int { return cmp.Compare(a.Amount, b.Amount) })
	for _, c := range changes {
		v := at(c.Day)
		if math.Abs(c.Amount) < leastSize {
			c.Amount = 0
		}
		v.change += c.Amount
		v.changed = true
	}
	out := make([]visit, 0, len(byDay))
	for _, v := range byDay {
		if v.counted > 1 {
			v.log /= float64(v.counted)
			v.x /= float64(v.counted)
		}
		if v.rounding = on.rounding(v.x); s.Ceiling == 0 {
			v.rounding = s.Step * s.Step / 12 * math.Exp(-2*v.log)
		}
		if v.changed && s.Step == 0 {
			v.off = cutError
		}
		out = append(out, *v)
	}
	slices.SortFunc(out, func(a, b visit) int { return cmp.Compare(a.day, b.day) })
	markEnds(out)
	return out, nil
}

// markEnds finds the days after which nothing is left: a count of nothing, or a change that takes all that was counted,
// unless the next count finds something that nobody planted, so that the count before was too low.
func markEnds(vs []visit) {
	back := false // the next line of the diary is a count of something
	for i := len(vs) - 1; i >= 0; i-- {
		v := &vs[i]
		v.ends = v.nothing || v.counted > 0 && v.changed && v.size()+v.change <= 0 && !back
		back = v.counted > 0
	}
}

// The sizes and days that a diary can hold.
const (
	leastSize, mostSize = 1e-9, 1e12
	farDay              = 1e7
	sizeWhy             = "a size that a stand can have"
)

// check refuses figures that no diary holds.
func (s Series) check() error {
	for _, c := range s.Counts {
		if err := reckon.Inside("day", c.Day, -farDay, farDay, "the day of a count"); err != nil {
			return err
		}
		if err := reckon.Inside("count", c.Size, leastSize, mostSize, "or 0 where nothing stands"); c.Size != 0 && err != nil {
			return err
		}
	}
	for _, c := range s.Changes {
		if err := reckon.Inside("day", c.Day, -farDay, farDay, "the day of a change"); err != nil {
			return err
		}
		if err := reckon.Inside("change", c.Amount, -mostSize, mostSize, "what was taken out or added"); err != nil {
			return err
		}
	}
	return nil
}

// levelInside refuses a level that is no share of cases.
func levelInside(level float64) error {
	return reckon.Inside("level", level, 0.01, 0.9999, "the share of cases that an interval is to hold")
}

// ready gathers a series by day and by segment, if it has counts enough to show a rate.
func (s Series) ready() ([]visit, []Segment, error) {
	vs, err := s.visits()
	if err != nil {
		return nil, nil, err
	}
	segs := segments(vs)
	free := -1 - len(segs)
	for _, g := range segs {
		free += len(g)
	}
	return vs, segs, s.enough(vs, free)
}

// enough reports whether there are counts enough to show a rate, given the degrees of freedom of the regression.
func (s Series) enough(vs []visit, free int) error {
	e := &TooFewCounts{DF: free, NeedSpan: ShortestSpan}
	if s.Floating {
		e.NeedSpan = FloatingSpan
	}
	first := 0.0
	for _, v := range vs {
		if v.counted == 0 {
			continue
		}
		if e.Dates == 0 {
			first = v.day
		}
		e.Dates++
		e.Span = v.day - first
	}
	if e.Dates < FewestDates || e.Span < e.NeedSpan || free < FewestDF {
		return e
	}
	return nil
}
