package draw

import "math"

// Shape is the outline of one leaf, frond or shoot.
type Shape int

// The shapes. Each serves a few kinds: a drawing shows the sort of leaf, not the species' key.
const (
	Lanceolate Shape = iota // widest below the middle, pointed
	Linear                  // parallel sides, narrow: grasses, ribbons
	Strap                   // long, narrow, waved edge
	Elliptic                // widest in the middle
	Ovate                   // egg-shaped, broad base
	Cordate                 // heart-shaped, two lobes at the stalk
	Round                   // nearly a circle
	Notched                 // a circle with one slit, on a stalk
	Spatulate               // widest towards a blunt tip
	Needle                  // a fine bristle
	Feather                 // cut into threads
	Lobed                   // cut into lobes to near the midrib
	Pinnate                 // a frond with leaflets
	Bipinnate               // a frond with divided leaflets
	Clover                  // three or four leaflets on a stalk
	Sprays                  // a moss shoot, branched to both sides
	Thallus                 // a flat body that forks
	Fan                     // threads spread like a fan from the stalk
	Forked                  // stiff threads that fork once or twice
)

// Manner is how the whole plant is built, where habit and leaf do not say it.
type Manner int

// The manners.
const (
	ByHabit  Manner = iota
	Creeping        // stems that lie down, root, and turn up at the end
	Eelgrass        // parallel ribbons from a tight foot
	Ribbon          // firm ribbons that arch from halfway
	Pads            // floating leaves on stalks, seen on edge
	Cabbage         // a floating cup of wedge leaves
	Chain           // small floating leaves along a thread
	Specks          // floating discs
	Ball            // a ball of threads
)

// Tint is a colour that a plant, or what it sits on, is drawn in: one of the theme's.
type Tint int

// The tints.
const (
	Green Tint = iota
	Fresh      // yellow-green
	Deep       // blue-green, dark
	Brown      // bronze, olive brown
	Red        // pink to wine
	Olive      // the lower leaves of red plants
	Pale       // floating leaves
	Mossy
	Wood
	Stone
	Root
	Rot // what is dead
)

var tintClass = [...]string{Green: "d-green", Fresh: "d-fresh", Deep: "d-deep", Brown: "d-brown", Red: "d-red", Olive: "d-olive", Pale: "d-pale",
	Mossy: "d-moss", Wood: "d-wood", Stone: "d-stone", Root: "d-root", Rot: "d-rot"}

func (t Tint) class() string {
	if t < 0 || int(t) >= len(tintClass) {
		t = Green
	}
	return tintClass[t]
}

// Leaf is what a drawing needs to know of a plant's leaves (fronds, shoots).
type Leaf struct {
	Shape     Shape
	LengthCm  float64 // blade without its stalk, 0.1–200
	WidthCm   float64 // widest, 0.05–50
	PetioleCm float64 // stalk, 0–100
	PerNode   int     // 1 alternate, 2 opposite, 3–12 whorled; 0: 1
	Tint      Tint
	Manner    Manner
}

// tidy returns the leaf within its ranges.
func (l Leaf) tidy() Leaf {
	if l.Shape < 0 || l.Shape > Forked {
		l.Shape = Lanceolate
	}
	l.LengthCm = within(l.LengthCm, 0.1, 200)
	l.WidthCm = within(l.WidthCm, 0.05, 50)
	l.PetioleCm = within(l.PetioleCm, 0, 100)
	l.PerNode = max(1, min(12, l.PerNode))
	return l
}

// grassy leaves are blades from the base, without stalk.
func (l Leaf) grassy() bool { return l.Shape == Linear || l.Shape == Needle }

// within keeps v in [lo, hi]; NaN becomes lo.
func within(v, lo, hi float64) float64 {
	if math.IsNaN(v) || v < lo {
		return lo
	}
	return math.Min(v, hi)
}

// half is half the width of the shape at u along the blade, as a share of the largest half width. Most shapes are
// u^p·(1-u)^q scaled to 1: an end with exponent ½ is round, with 1 pointed, above 1 drawn out.
func (s Shape) half(u float64) float64 {
	switch s {
	case Linear, Needle:
		return 1 - math.Pow(math.Abs(1-2*math.Pow(u, 0.8)), 5)
	case Strap:
		return (1 - math.Pow(math.Abs(1-2*u), 3)) * (1 + 0.1*math.Sin(u*34))
	case Elliptic:
		return beta(u, 0.75, 0.75)
	case Ovate:
		return beta(u, 0.55, 0.95)
	case Cordate:
		return beta(u, 0.5, 0.85)
	case Round, Notched:
		return beta(u, 0.5, 0.5)
	case Spatulate:
		return beta(u, 1.15, 0.5)
	}
	return beta(u, 0.8, 1.15)
}

func beta(u, p, q float64) float64 {
	top := p / (p + q)
	return math.Pow(u, p) * math.Pow(1-u, q) / (math.Pow(top, p) * math.Pow(1-top, q))
}
