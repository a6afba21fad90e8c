package picture

import (
	"bytes"
	"image"
	"image/color"
	"math"
	"sync"

	"golang.org/x/image/vector"

	"slipleaf/build/curve"
	"slipleaf/build/draw"
)

// slipRoom is the part of a card that the slip takes.
var slipRoom = image.Rect(880, 154, 1110, 490)

// slip draws the mark of the site's own card, a cutting with pairs of leaves.
func slip(m *image.RGBA) {
	stem, blades, veins := newOutline(), newOutline(), newOutline()
	const steps = 24
	for i := range 2*steps + 2 { // up one side and down the other
		t, side := float64(i)/steps, 1.0
		if i > steps {
			t, side = float64(2*steps+1-i)/steps, -1
		}
		x, y := slipStem(t)
		stem.line(i == 0, x-side*(3.6-2*t), y)
	}
	stem.ClosePath()
	for i := range 5 {
		x, y := slipStem(0.18 + 0.2*float64(i))
		long := 105 - 13*float64(i)
		leaf(blades, veins, x, y, long, -0.5-0.08*float64(i))
		leaf(blades, veins, x, y-9, long*0.94, math.Pi+0.42+0.08*float64(i))
	}
	x, y := slipStem(1)
	leaf(blades, veins, x, y+4, 56, -math.Pi/2+0.2)
	stem.paint(m, cardStem)
	blades.paint(m, cardLeaf)
	veins.paint(m, paper)
}

// slipStem is the stem's middle, from its foot at 0 to its tip at 1.
func slipStem(t float64) (x, y float64) { return 985 + 26*math.Sin(2.2*t), 470 - 255*t }

// outline is a shape within slipRoom, in the card's pixels.
type outline struct{ *vector.Rasterizer }

func newOutline() outline { return outline{vector.NewRasterizer(slipRoom.Dx(), slipRoom.Dy())} }

// point moves a place into the outline's own corner, on a grid of 1/64 pixel, so that fused multiplications of some
// processors change nothing.
func (outline) point(x, y float64) (float32, float32) {
	return float32(math.Round(64*(x-float64(slipRoom.Min.X))) / 64), float32(math.Round(64*(y-float64(slipRoom.Min.Y))) / 64)
}

func (p outline) line(first bool, x, y float64) {
	if px, py := p.point(x, y); first {
		p.MoveTo(px, py)
	} else {
		p.LineTo(px, py)
	}
}

func (p outline) paint(m *image.RGBA, ink color.RGBA) {
	p.Draw(m, slipRoom, image.NewUniform(ink), image.Point{})
}

// leaf adds a pointed leaf of so many pixels from its foot in a direction (0 is right, positive is down), and its vein.
func leaf(blades, veins outline, x, y, long, direction float64) {
	s, c := math.Sincos(direction)
	at := func(along, across float64) (float64, float64) {
		return x + long*(along*c-across*s), y + long*(along*s+across*c)
	}
	point := func(along, across float64) (float32, float32) { return blades.point(at(along, across)) }
	curve := func(a, b, c, d, e, f float64) {
		bx, by := point(a, b)
		cx, cy := point(c, d)
		ex, ey := point(e, f)
		blades.CubeTo(bx, by, cx, cy, ex, ey)
	}
	blades.MoveTo(point(0, 0))
	curve(0.2, -0.2, 0.7, -0.22, 1, 0)
	curve(0.7, 0.2, 0.25, 0.22, 0, 0)
	blades.ClosePath()
	for i, p := range [][2]float64{{0.06, -0.012}, {0.86, 0}, {0.06, 0.012}} {
		vx, vy := at(p[0], p[1])
		veins.line(i == 0, vx, vy)
	}
	veins.ClosePath()
}

// shades is how many steps lie between paper and an ink: enough for smooth edges.
const shades = 20

// plant paints a plant's shapes into the slip's place.
func plant(m *image.RGBA, shapes []draw.Area) {
	r := vector.NewRasterizer(1, 1)
	for _, s := range shapes {
		box := around(s).Intersect(slipRoom)
		if box.Empty() {
			continue
		}
		r.Reset(box.Dx(), box.Dy())
		for _, ring := range s.Rings {
			for i, p := range ring {
				x, y := slipPoint(p, box)
				if i == 0 {
					r.MoveTo(x, y)
				} else {
					r.LineTo(x, y)
				}
			}
			r.ClosePath()
		}
		r.Draw(m, box, image.NewUniform(s.Ink), image.Point{})
	}
}

// slipPoint is where a place of a plant lies in a part of the card, on a grid of 1/64 pixel as [outline.point].
func slipPoint(p curve.Pt, box image.Rectangle) (float32, float32) {
	return float32(math.Round(64*(p.X+float64(slipRoom.Min.X-box.Min.X))) / 64), float32(math.Round(64*(p.Y+float64(slipRoom.Min.Y-box.Min.Y))) / 64)
}

// around is the part of the card that a shape touches.
func around(s draw.Area) image.Rectangle {
	var box image.Rectangle
	for _, ring := range s.Rings {
		for _, p := range ring {
			x, y := int(math.Floor(p.X))+slipRoom.Min.X, int(math.Floor(p.Y))+slipRoom.Min.Y
			box = box.Union(image.Rect(x, y, x+2, y+2))
		}
	}
	return box
}

// palette holds the inks of words in steps from paper, and a plant's inks whole and half.
var palette = sync.OnceValue(func() color.Palette {
	out := color.Palette{cardGround, paper}
	add := func(ink color.RGBA, steps int) {
		for i := 1; i <= steps; i++ {
			mix := func(a, b uint8) uint8 { return uint8((int(a)*(steps-i) + int(b)*i) / steps) }
			out = append(out, color.RGBA{mix(paper.R, ink.R), mix(paper.G, ink.G), mix(paper.B, ink.B), 255})
		}
	}
	for _, ink := range []color.RGBA{cardInk, cardSoft, cardLeaf, cardStem, cardLine} {
		add(ink, shades)
	}
	for _, ink := range draw.Inks() {
		add(ink, 2)
	}
	return out[:min(len(out), 256)]
})

// exact are the colours of the palette, by their place in it.
var exact = sync.OnceValue(func() map[color.RGBA]uint8 {
	out := map[color.RGBA]uint8{}
	for i, c := range palette() {
		if px := c.(color.RGBA); out[px] == 0 {
			out[px] = uint8(i)
		}
	}
	return out
})

// nearest are the colours of the palette nearest to all others, in steps of eight: where edges are smooth, no eye sees
// more.
var nearest = sync.OnceValue(func() *[1 << 15]uint8 {
	out, palette := new([1 << 15]uint8), palette()
	for i := range out {
		step := func(shift int) uint8 { return uint8(i>>shift&31)<<3 | 4 }
		out[i] = uint8(palette.Index(color.RGBA{step(10), step(5), step(0), 255}))
	}
	return out
})

// stretch is how many pixels of a card are compared with the blank at once.
const stretch = CardWidth / 20

// fewColours maps a card to its inks and their shades on paper. The stretches that are as on the blank, if there is one,
// are taken from it.
func fewColours(m *image.RGBA, b blank) *image.Paletted {
	out := image.NewPaletted(m.Rect, palette())
	inks, nearest := exact(), nearest()
	last, at := color.RGBA{}, uint8(0)
	for i := 0; i < len(out.Pix); i++ {
		if end := i + stretch; b.full != nil && i%stretch == 0 && bytes.Equal(m.Pix[4*i:4*end], b.full.Pix[4*i:4*end]) {
			copy(out.Pix[i:end], b.few.Pix[i:end])
			i = end - 1
			continue
		}
		px := color.RGBA{m.Pix[4*i], m.Pix[4*i+1], m.Pix[4*i+2], 255}
		if px != last { // most pixels are as the one before
			var ok bool
			if at, ok = inks[px]; !ok {
				at = nearest[int(px.R>>3)<<10|int(px.G>>3)<<5|int(px.B>>3)]
			}
			last = px
		}
		out.Pix[i] = at
	}
	return out
}
