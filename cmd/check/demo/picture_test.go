package demo

import (
	"bytes"
	"image"
	"image/color"
	"image/png"
	"math"
	"math/rand/v2"
)

// benchPlan draws the wash-house from above with a wobbling pen: an honest sketch, since there is no photograph of tanks
// that do not exist. It is a PNG of 1200 by 800 pixels.
func benchPlan(rng *rand.Rand) ([]byte, error) {
	paper := color.Palette{color.RGBA{0xf6, 0xf1, 0xe4, 0xff}, color.RGBA{0x2e, 0x33, 0x30, 0xff},
		color.RGBA{0x7d, 0x9b, 0xa3, 0xff}, color.RGBA{0x4f, 0x7a, 0x46, 0xff}}
	p := pen{image.NewPaletted(image.Rect(0, 0, 1200, 800), paper), rng}
	p.box(60, 60, 1080, 680, ink, 4)    // walls
	p.line(700, 740, 860, 740, 0, 12)   // the door
	p.line(700, 740, 700, 610, ink, 3)  // its leaf
	p.box(110, 100, 760, 210, ink, 3)   // the bench
	p.box(140, 125, 700, 160, water, 3) // the trough
	p.tufts(160, 145, 660, 120, 90)
	p.box(930, 480, 140, 140, water, 3) // the cube on its shelf
	p.tufts(945, 495, 110, 110, 16)
	for i := range 6 { // the stairs
		y := float64(440 + 45*i)
		p.line(110, y, 330, y, ink, 2)
	}
	p.box(120, 395, 200, 130, ink, 3) // the tray
	p.tufts(135, 410, 170, 100, 40)
	p.line(60, 400, 60, 520, water, 8) // the window
	var b bytes.Buffer
	err := (&png.Encoder{CompressionLevel: png.BestCompression}).Encode(&b, p.sheet)
	return b.Bytes(), err
}

// The colours of the sketch, by their place in its palette; 0 is the paper.
const (
	ink   = 1
	water = 2
	leaf  = 3
)

type pen struct {
	sheet *image.Paletted
	rng   *rand.Rand
}

// box draws four strokes that overshoot their corners, as a hand does.
func (p pen) box(x, y, w, h float64, colour uint8, thick int) {
	over := func() float64 { return 6 * p.rng.Float64() }
	p.line(x-over(), y, x+w+over(), y, colour, thick)
	p.line(x+w, y-over(), x+w, y+h+over(), colour, thick)
	p.line(x+w+over(), y+h, x-over(), y+h, colour, thick)
	p.line(x, y+h+over(), x, y-over(), colour, thick)
}

// line draws a stroke that wanders by a pixel or two.
func (p pen) line(x0, y0, x1, y1 float64, colour uint8, thick int) {
	n := math.Ceil(math.Hypot(x1-x0, y1-y0))
	drift := 0.0
	for i := 0.0; i <= n; i++ {
		drift = 0.97*drift + 0.25*p.rng.NormFloat64()
		x, y := x0+(x1-x0)*i/n, y0+(y1-y0)*i/n
		if math.Abs(x1-x0) > math.Abs(y1-y0) {
			y += drift
		} else {
			x += drift
		}
		p.blot(x, y, colour, thick)
	}
}

// tufts scatters small plants of a few strokes each over a field.
func (p pen) tufts(x, y, w, h float64, n int) {
	for range n {
		cx, cy := x+w*p.rng.Float64(), y+h*p.rng.Float64()
		for range 4 {
			a, l := 2*math.Pi*p.rng.Float64(), 6+8*p.rng.Float64()
			p.line(cx, cy, cx+l*math.Cos(a), cy+l*math.Sin(a), leaf, 2)
		}
	}
}

func (p pen) blot(x, y float64, colour uint8, thick int) {
	for dy := range thick {
		for dx := range thick {
			p.sheet.SetColorIndex(int(math.Round(x))+dx-thick/2, int(math.Round(y))+dy-thick/2, colour)
		}
	}
}
