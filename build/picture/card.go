package picture

import (
	"bytes"
	"errors"
	"image"
	"image/color"
	xdraw "image/draw"
	"image/png"
	"sync"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/goitalic"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"

	"slipleaf/build/draw"
)

// The size of a card in pixels: 1.91 to 1, which link previews show uncut (common practice).
const (
	CardWidth  = 1200
	CardHeight = 630
)

// Card is what the label of a link preview says. It is a label, drawn, with nothing of a photograph about it. A line whose
// letters the fonts have not (they have Latin, Greek and Cyrillic) is left out.
type Card struct {
	Title  string // of the journal, in the strip at the top
	Corner string // at the right of the strip
	Name   []Run  // the large line; two lines where it is long
	Common string
	Line   string      // at the foot
	Plant  []draw.Area // fitted into PlantWide × PlantTall; without it the card bears a slip
}

// How large a card's plant is, in pixels.
const PlantWide, PlantTall = 230, 330

// Run is a piece of a name in one style.
type Run struct {
	Text   string
	Italic bool
}

// The colours of the default theme's day scheme.
var (
	cardGround = color.RGBA{0xf0, 0xef, 0xe4, 0xff}
	cardInk    = color.RGBA{0x17, 0x25, 0x1c, 0xff}
	cardSoft   = color.RGBA{0x4a, 0x58, 0x4e, 0xff}
	cardLine   = color.RGBA{0x7b, 0x85, 0x76, 0xff}
	cardLeaf   = color.RGBA{0x2a, 0x66, 0x36, 0xff}
	cardStem   = color.RGBA{0x4e, 0x7d, 0x2b, 0xff}
)

// cardText is the part of a card that lines of text may take, left and right, in pixels; the slip is right of it.
const cardLeft, cardRight, cardName = 96, CardWidth - 96, 850

// Draw makes the card as a PNG of few colours, well under 60 kB.
func (c Card) Draw() ([]byte, error) {
	blank := slipCard()
	if len(c.Plant) > 0 {
		blank = bareCard()
	}
	m := canvases.Get().(*image.RGBA)
	defer canvases.Put(m)
	copy(m.Pix, blank.full.Pix)
	plant(m, c.Plant)
	c.write(m, openFonts())
	var b bytes.Buffer
	err := (&png.Encoder{CompressionLevel: png.BestSpeed, BufferPool: &encoders}).Encode(&b, fewColours(m, blank))
	return b.Bytes(), err
}

// What one card leaves is used by the next, since each would take 4 MB.
var (
	canvases = sync.Pool{New: func() any { return image.NewRGBA(image.Rect(0, 0, CardWidth, CardHeight)) }}
	encoders encoderPool
)

// encoderPool keeps what the encoder needs for itself.
type encoderPool struct{ sync.Pool }

// Get implements png.EncoderBufferPool.
func (p *encoderPool) Get() *png.EncoderBuffer {
	b, _ := p.Pool.Get().(*png.EncoderBuffer)
	return b
}

// Put implements png.EncoderBufferPool.
func (p *encoderPool) Put(b *png.EncoderBuffer) { p.Pool.Put(b) }

// blank is a card without words, in full and in few colours. Nobody writes to it.
type blank struct {
	full *image.RGBA
	few  *image.Paletted
}

// bareCard and slipCard are drawn once each: they are the same for all cards.
var (
	bareCard = sync.OnceValue(func() blank { return newBlank(func(*image.RGBA) {}) })
	slipCard = sync.OnceValue(func() blank { return newBlank(slip) })
)

func newBlank(mark func(*image.RGBA)) blank {
	m := image.NewRGBA(image.Rect(0, 0, CardWidth, CardHeight))
	xdraw.Draw(m, m.Rect, image.NewUniform(cardGround), image.Point{}, xdraw.Src)
	xdraw.Draw(m, m.Rect.Inset(36), image.NewUniform(cardLine), image.Point{}, xdraw.Src)
	xdraw.Draw(m, m.Rect.Inset(38), image.NewUniform(paper), image.Point{}, xdraw.Src)
	frame(m, m.Rect.Inset(50), 2)
	rule(m, 150)
	rule(m, 500)
	mark(m)
	return blank{m, fewColours(m, blank{})}
}

func frame(m *image.RGBA, r image.Rectangle, thick int) {
	line := image.NewUniform(cardLine)
	for _, s := range []image.Rectangle{
		{r.Min, image.Pt(r.Max.X, r.Min.Y+thick)}, {image.Pt(r.Min.X, r.Max.Y-thick), r.Max},
		{r.Min, image.Pt(r.Min.X+thick, r.Max.Y)}, {image.Pt(r.Max.X-thick, r.Min.Y), r.Max},
	} {
		xdraw.Draw(m, s, line, image.Point{}, xdraw.Src)
	}
}

func rule(m *image.RGBA, y int) {
	xdraw.Draw(m, image.Rect(cardLeft, y, cardRight, y+2), image.NewUniform(cardLine), image.Point{}, xdraw.Src)
}

// write sets the card's lines.
func (c Card) write(m *image.RGBA, f fonts) {
	corner := []Run{{c.Corner, false}}
	room := cardRight - cardLeft
	if c.Corner != "" && f.has(corner) {
		room -= f.line(m, corner, 30, cardRight, 120, room/2, cardSoft, true) + 40
	}
	f.line(m, []Run{{c.Title, false}}, 34, cardLeft, 121, room, cardInk, false)
	below := f.name(m, c.Name)
	f.line(m, []Run{{c.Common, false}}, 46, cardLeft, below, cardName-cardLeft, cardSoft, false)
	f.line(m, []Run{{c.Line, false}}, 32, cardLeft, 553, cardRight-cardLeft, cardLeaf, false)
}

// fonts are the Go fonts (Bigelow & Holmes, 2016; licensed as Go is).
type fonts struct{ upright, italic *sfnt.Font }

func openFonts() fonts {
	up, err := opentype.Parse(goregular.TTF)
	it, err2 := opentype.Parse(goitalic.TTF)
	if err := errors.Join(err, err2); err != nil {
		panic(err) // both are in the program
	}
	return fonts{up, it}
}

func (f fonts) of(r Run) *sfnt.Font {
	if r.Italic {
		return f.italic
	}
	return f.upright
}

// has reports whether the fonts have every letter.
func (f fonts) has(runs []Run) bool {
	var b sfnt.Buffer
	for _, r := range runs {
		for _, letter := range r.Text {
			if i, err := f.of(r).GlyphIndex(&b, letter); err != nil || i == 0 {
				return false
			}
		}
	}
	return true
}

// face is the font of a run at a size in pixels.
func (f fonts) face(r Run, size int) font.Face {
	face, err := opentype.NewFace(f.of(r), &opentype.FaceOptions{Size: float64(size), DPI: 72, Hinting: font.HintingNone})
	if err != nil {
		panic(err) // the fonts are in the program
	}
	return face
}

// width measures runs at a size in pixels.
func (f fonts) width(runs []Run, size int) int {
	var w fixed.Int26_6
	for _, r := range runs {
		w += font.MeasureString(f.face(r, size), r.Text)
	}
	return w.Ceil()
}

// smallest is the size in pixels below which a card's text is cut instead of shrunk: smaller is not read in a preview.
const smallest = 26

// line sets runs on a base line, shrunk and then cut to fit into room. With right, x is where it ends. It returns the
// width in pixels.
func (f fonts) line(m *image.RGBA, runs []Run, size, x, y, room int, ink color.RGBA, right bool) int {
	if !f.has(runs) {
		return 0
	}
	w := f.width(runs, size)
	for ; w > room && size > smallest; w = f.width(runs, size) {
		size--
	}
	for w > room && len(runs) > 0 {
		runs = cut(runs)
		w = f.width(runs, size)
	}
	if right {
		x -= w
	}
	dot := fixed.P(x, y)
	for _, r := range runs {
		d := font.Drawer{Dst: m, Src: image.NewUniform(ink), Face: f.face(r, size), Dot: dot}
		d.DrawString(r.Text)
		dot = d.Dot
	}
	return w
}

// cut takes a letter off the end and marks the place.
func cut(runs []Run) []Run {
	last := runs[len(runs)-1]
	letters := []rune(last.Text)
	if n := len(letters); n > 0 && letters[n-1] == '…' {
		letters = letters[:n-1]
	}
	if len(letters) < 2 {
		return runs[:len(runs)-1]
	}
	last.Text = string(letters[:len(letters)-1]) + "…"
	return append(append([]Run(nil), runs[:len(runs)-1]...), last)
}

// name sets the plant's name, on two lines where it does not fit one at a good size, and returns the base line for what
// is below.
func (f fonts) name(m *image.RGBA, runs []Run) (below int) {
	const size, room = 84, cardName - cardLeft
	if len(runs) == 0 {
		return 300
	}
	words := split(runs)
	if f.width(runs, size) <= room || len(words) < 2 {
		f.line(m, runs, size, cardLeft, 305, room, cardInk, false)
		return 385
	}
	n := 1
	for n < len(words)-1 && f.width(words[:n+1], size) <= room {
		n++
	}
	f.line(m, words[:n], size, cardLeft, 262, room, cardInk, false)
	f.line(m, words[n:], size, cardLeft, 355, room, cardInk, false)
	return 432
}

// split cuts runs after every space.
func split(runs []Run) []Run {
	var out []Run
	for _, r := range runs {
		for i, word := range bytes.SplitAfter([]byte(r.Text), []byte(" ")) {
			if len(word) > 0 || i == 0 && r.Text == "" {
				out = append(out, Run{string(word), r.Italic})
			}
		}
	}
	return out
}
