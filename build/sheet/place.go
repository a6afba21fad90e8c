package sheet

import (
	"math"

	"slipleaf/build/journal"
	"slipleaf/build/quantity"
)

// Place is where the plant goes, how far apart and how many fit.
type Place struct {
	Spot  string // back | middle | front | hardscape | surface | "" when not known
	Row   Row    // the height at which its light is taken
	Depth quantity.Reading[quantity.Length]
	// Spacing is the planting distance; Usual says that it is that of its kind, the species' own not being known.
	Spacing quantity.Length
	Usual   bool
	Area    quantity.Area // that the parcel takes
	Floor   quantity.Area // of the tank; 0: not known
	Holds   int           // how many the floor would hold, or a third of the surface of floating plants; 0: not known
	Tall    bool          // it grows higher than the water is deep
}

// habits has what trade practice says of each kind: planting depth and distance in cm, and the piece that is sent.
var habits = map[Kind]struct {
	deepLow, deepHigh float64 // 0: not buried
	spacing           float64
	piece             float64 // length of what is sent
}{
	Stem:     {3, 5, 3, 12},
	Rosette:  {0, 0, 10, 10},
	Crypt:    {0, 0, 10, 10},
	Rhizome:  {0, 0, 5, 8},
	Carpet:   {0, 0, 3, 3},
	Moss:     {0, 0, 5, 3},
	Floating: {0, 0, 4, 4},
	Bulb:     {0, 0, 15, 15},
	AnyPlant: {0, 0, 8, 10},
}

// place finds the spot. Plants on wood or stone go where the light suits them best: at the bottom, half way up or under the
// surface, in this order where two suit alike.
func (s *Sheet) place() Place {
	h := habits[s.Kind]
	p := Place{Spot: s.Species.Placement, Row: Bottom, Spacing: quantity.Length(h.spacing), Usual: true}
	if s.Species.Spacing.Known() {
		p.Spacing, p.Usual = s.Species.Spacing.Mid(), false
	}
	if h.deepHigh > 0 {
		p.Depth = deep(quantity.Length(h.deepLow), quantity.Length(h.deepHigh), s.Lot.Length)
	}
	switch {
	case s.Kind == Floating || p.Spot == "surface":
		p.Row = Surface
	case p.Spot == "hardscape" || s.Kind == Rhizome || s.Kind == Moss:
		p.Row = s.brightEnough()
	}
	each := math.Pow(float64(p.Spacing), 2) * float64(quantity.SquareCM)
	p.Area = quantity.Area(each * float64(max(s.Parcel.Count, 1)))
	t := s.Parcel.Tank
	if t == nil {
		return p
	}
	if t.Inside.Length.Known() && t.Inside.Width.Known() {
		p.Floor = quantity.Area(t.Inside.Length.Mid()*t.Inside.Width.Mid()) * quantity.SquareCM
		space := float64(p.Floor)
		if p.Row == Surface {
			space *= 2.0 / 3 // a third stays free for light and air (common practice)
		}
		p.Holds = int(space / each)
	}
	d, ok := WaterDepth(t.Inside, t.WaterDepth, layers(t))
	p.Tall = ok && s.Species.Height.Known() && s.Species.Height.Low() > d
	return p
}

// deep is the planting depth; a short piece is buried to a quarter or two fifths of its length at the most (our choice).
func deep(low, high quantity.Length, piece quantity.Reading[quantity.Length]) quantity.Reading[quantity.Length] {
	if piece.Known() {
		low, high = min(low, piece.Mid()/4), min(high, piece.Mid()*2/5)
	}
	return quantity.Between(low, high)
}

// brightEnough is the lowest row whose light is well inside, else the lowest that is not outside, else the bottom.
func (s *Sheet) brightEnough() Row {
	b := band(s.Species.Light, "umol/m2/s")
	for _, wanted := range []Outcome{WellInside, NearEdge} {
		for _, row := range []Row{Bottom, Middle, Surface} {
			l := s.Light.At(row)
			if l.Best <= 0 {
				continue
			}
			if o, _ := Judge(b, Value{float64(l.Low), float64(l.Best), float64(l.High), true, true}); o == wanted {
				return row
			}
		}
	}
	return Bottom
}

// layers is the depth of all substrate, as far as it is told.
func layers(t *journal.Recipient) quantity.Length {
	var d quantity.Length
	for _, l := range t.Substrate {
		d += l.Depth.Mid()
	}
	return d
}

// Tabs is root food.
type Tabs struct {
	Needed bool
	Maybe  bool // the substrate is not known
	Number int
	First  quantity.Date // day 14; zero when day 0 is not known
	Again  quantity.Date // three months later
}

// tabArea is what one tab feeds, 190 cm² or 30 square inches (published advice for hobbyists).
const tabArea quantity.Area = 1.9

// tabs reckons root food for plants that feed at the root in a ground without any: one for each 190 cm² that they take, from
// day 14 on, when cut roots have healed (common practice), and again after three months.
func (s *Sheet) tabs() Tabs {
	f := s.Species.Feeding
	if !s.Kind.Rooted() || f != "root" && f != "both" {
		return Tabs{}
	}
	t := Tabs{Maybe: true}
	if s.Parcel.Tank != nil {
		for _, l := range s.Parcel.Tank.Substrate {
			switch l.Nutrients {
			case "some", "rich":
				return Tabs{}
			case "none":
				t.Maybe = false
			}
		}
	}
	if f == "both" && t.Maybe {
		return Tabs{}
	}
	t.Needed = true
	t.Number = max(1, int(math.Ceil(float64(s.Place.Area/tabArea)-1e-9)))
	if !s.Day0.IsZero() {
		t.First, t.Again = s.Day0.Add(14), s.Day0.Add(14+91)
	}
	return t
}

// HourStep is the hours of light from a day on.
type HourStep struct {
	Day   int // after arrival
	Hours float64
}

// The course of light of a newly planted tank: six hours for four weeks, then half an hour more each week up to eight
// (common practice; sources disagree).
const (
	firstHours = 6.0
	usualHours = 8.0
	addHours   = 0.5
	shortDays  = 28
)

// hours is the light of the first weeks. Who has less than six hours keeps them; who has less than eight ends there.
func (s *Sheet) hours() []HourStep {
	end := usualHours
	if s.Light.Hours > 0 {
		end = min(end, s.Light.Hours)
	}
	h := min(firstHours, end)
	out := []HourStep{{0, h}}
	for day := shortDays; h < end-1e-9; day += 7 {
		h = min(h+addHours, end)
		out = append(out, HourStep{day, h})
	}
	return out
}
