package sheet

import (
	"math"

	"slipleaf/build/almanac"
	"slipleaf/build/journal"
	"slipleaf/build/quantity"
)

// Spot is where in the tank a plant goes.
type Spot string

// The spots.
const (
	Back        Spot = "back"
	Centre      Spot = "middle"
	Front       Spot = "front"
	OnHardscape Spot = "hardscape"
	OnSurface   Spot = "surface"
	OnBottom    Spot = "bottom"
	AtRim       Spot = "rim"
	Anywhere    Spot = "anywhere"
)

// Place is where the plant goes, how far apart and how many fit.
type Place struct {
	Spot  Spot
	Row   Row // the height at which its light is taken
	Depth quantity.Reading[quantity.Length]
	// Spacing is the planting distance: the species' own, or that of its kind.
	Spacing quantity.Length
	Area    quantity.Area   // that the parcel takes
	Floor   quantity.Area   // of the tank; 0: not known
	Holds   int             // how many the floor would hold, or half the surface of floating plants; 0: not known
	Ground  quantity.Length // depth of the substrate; 0: not known
	Thin    bool            // it is thinner than it is set deep
	Tall    bool            // it grows higher than the water is deep
}

// place finds the spot. Plants on wood or stone go where the light suits them best: at the bottom, half way up or under the
// surface, in this order where two suit alike.
func (s *Sheet) place() Place {
	h := s.Kind.handling()
	p := Place{Spot: spotOf(s.Kind, s.Species.Placement), Row: Bottom, Spacing: quantity.Length(h.spacing)}
	if s.Species.Spacing.Known() {
		p.Spacing = s.Species.Spacing.Mid()
	}
	if h.deepHigh > 0 {
		p.Depth = deep(quantity.Length(h.deepLow), quantity.Length(h.deepHigh), h.roots, s.Lot.Length)
	}
	switch set := s.Kind.Set(); {
	case set == Afloat, set == InAir, s.Kind.Is(almanac.FloatingLeaved), s.Species.Placement == string(OnSurface):
		p.Row = Surface // where its leaves are, also of a plant with its foot in the bottom
	case set == Fixed:
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
		if s.Kind.Set() == Afloat {
			space /= 2 // half the surface stays free for light and air (common practice)
		}
		p.Holds = int(space / each)
	}
	p.Ground = layers(t.Substrate)
	p.Thin = s.Kind.Rooted() && p.Depth.Known() && p.Ground > 0 && p.Ground < p.Depth.Low()
	d, ok := WaterDepth(t.Inside, t.WaterDepth, layers(t.Substrate))
	p.Tall = ok && s.Kind.Rooted() && s.Species.Height.Known() && s.Species.Height.Low() > d
	return p
}

// spotOf is where the species is put, as far as its kind goes there.
func spotOf(k Kind, placement string) Spot {
	switch k.Set() {
	case Afloat:
		return OnSurface
	case Fixed:
		return OnHardscape
	case InAir:
		return AtRim
	case Loose:
		return OnBottom
	}
	if p := Spot(placement); p == Back || p == Centre || p == Front {
		return p
	}
	return Anywhere
}

// deep is the planting depth; a short piece without roots is buried to a quarter or two fifths of its length at the most
// (our choice).
func deep(low, high quantity.Length, roots bool, piece quantity.Reading[quantity.Length]) quantity.Reading[quantity.Length] {
	if piece.Known() && !roots {
		low, high = min(low, halves(piece.Mid()/4)), min(high, halves(piece.Mid()*2/5))
	}
	return quantity.Between(low, high)
}

// halves rounds to half centimetres, one at the least: nobody plants by the millimetre.
func halves(l quantity.Length) quantity.Length {
	return max(0.5, quantity.Length(math.Round(float64(l)*2)/2))
}

// brightEnough is the lowest row whose light is well inside, else the lowest that is not outside, else the bottom.
func (s *Sheet) brightEnough() Row {
	b := properties[LightAt].band(s.Species)
	for _, wanted := range []Outcome{WellInside, NearEdge} {
		for _, row := range []Row{Bottom, Middle, Surface} {
			l := s.Light.At(row)
			if l.Best <= 0 {
				continue
			}
			if o, _ := Judge(b, modelled(l)); o == wanted {
				return row
			}
		}
	}
	return Bottom
}

// layers is the depth of all substrate, as far as it is given.
func layers(substrate []journal.Layer) quantity.Length {
	var d quantity.Length
	for _, l := range substrate {
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

// tabArea is what one tab feeds, 190 cm² or 30 square inches (published advice for hobbyists). tabFloor is the floor for
// which a first helping has one at the most, and no plant gets more than one (common practice: too much root food in a
// small tank feeds algae).
const (
	tabArea  quantity.Area = 1.9
	tabFloor quantity.Area = 4
)

// tabs works out root food for plants that feed at the root in a substrate without any: one for each 190 cm² that they
// take, from day 14 on, when cut roots have healed (common practice), and again after three months.
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
	t.Number = min(max(1, int(math.Ceil(float64(s.Place.Area/tabArea)-1e-9))), max(s.Parcel.Count, 1))
	if s.Place.Floor > 0 {
		t.Number = min(t.Number, max(1, int(s.Place.Floor/tabFloor)))
	}
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

// The course of light where it has to be short: six hours for four weeks, then half an hour more each week up to eight
// (common practice; sources disagree).
const (
	firstHours = 6.0
	usualHours = 8.0
	addHours   = 0.5
	shortDays  = 28
)

// hours is the light of the first weeks where it has to be short: for a plant that loses its CO2 and takes a share of the
// tank. A running tank is not dimmed for a handful of moss. Who has less than six hours keeps them.
func (s *Sheet) hours() []HourStep {
	if !s.Step.LosesCO2() || !s.Kind.Rooted() {
		return nil
	}
	end := usualHours
	if s.Light.Hours > 0 {
		end = min(end, s.Light.Hours)
	}
	if end <= firstHours {
		return nil
	}
	h := firstHours
	out := []HourStep{{0, h}}
	for day := shortDays; h < end-1e-9; day += 7 {
		h = min(h+addHours, end)
		out = append(out, HourStep{day, h})
	}
	return out
}
