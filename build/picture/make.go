package picture

import (
	"bytes"
	"context"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"io"

	"golang.org/x/image/draw"
	"golang.org/x/image/webp"
	"golang.org/x/sync/errgroup"
)

// Settings names all that decides what a rendition looks like besides the original and its width. It changes whenever
// the result would, so that what was made under another one is not taken for it.
const Settings = "4: jpeg 82, halved by boxes, catmull-rom, paper fbfaf4, webp in studio range"

const (
	quality = 82   // of JPEG: no visible loss on leaves and gravel (our choice, within the 80 to 85 of common practice)
	largest = 1600 // pixels: twice the text's measure, for dense screens
)

// paper is what shows through a transparent picture: the light ground of a label, so that dark lines stay readable
// under the dark scheme too.
var paper = color.RGBA{0xfb, 0xfa, 0xf4, 0xff}

// Wanted are the widths that pages ask for, in pixels: a phone's column, the same on a dense screen, a desk's.
func Wanted() []int { return []int{480, 960, largest} }

// Rendition is a picture made ready.
type Rendition struct {
	Kind          Kind
	Width, Height int
	Data          []byte
}

// Widths are those of wanted (ascending) that a picture can fill, and its own width where that is smaller than the largest
// wanted and at least a tenth more than the one before. A picture is never enlarged.
func (i Info) Widths(wanted []int) []int {
	var out []int
	for _, w := range wanted {
		if w > 0 && w <= i.Width {
			out = append(out, w)
		}
	}
	n := len(out)
	if n == 0 || n < len(wanted) && i.Width*10 >= out[n-1]*11 {
		out = append(out, i.Width)
	}
	return out
}

// HeightAt is the height of the picture at a width, at least 1.
func (i Info) HeightAt(width int) int { return max((width*i.Height+i.Width/2)/i.Width, 1) }

// Make decodes a picture and makes its renditions at [Info.Widths] of widths, ascending, without those that would take
// more bytes than a wider one. The error is a [*Fault], or that of the context, which ends the work at the next read.
func Make(ctx context.Context, data []byte, widths []int) ([]Rendition, error) {
	info, err := Plan("", data)
	if err != nil {
		return nil, err
	}
	src, err := decode(info.Kind, reader{ctx, bytes.NewReader(data)})
	if ctx.Err() != nil {
		return nil, ctx.Err()
	}
	if err != nil {
		return nil, unreadable(info.Kind, err)
	}
	out, err := info.renditions(ctx, src, info.Widths(widths))
	if ctx.Err() != nil {
		return nil, ctx.Err()
	}
	if err != nil {
		return nil, unreadable(info.Kind, err)
	}
	return worthwhile(out), nil
}

// renditions makes those at the widths, each from the next larger, the largest from the original. One is encoded while
// the next is scaled.
func (i Info) renditions(ctx context.Context, src image.Image, widths []int) ([]Rendition, error) {
	out := make([]Rendition, len(widths))
	var g errgroup.Group
	for n := len(widths) - 1; n >= 0 && ctx.Err() == nil; n-- {
		w, h := widths[n], i.HeightAt(widths[n])
		if n == len(widths)-1 {
			src = i.upright(src, w, h)
		} else {
			src = shrunk(src, w, h)
		}
		pixels := src
		g.Go(func() (err error) {
			out[n], err = encode(pixels, i.As)
			return err
		})
	}
	return out, g.Wait()
}

// worthwhile leaves out what a wider rendition makes needless: a drawing of a few colours may take ten times the bytes
// once its edges are softened.
func worthwhile(rs []Rendition) []Rendition {
	kept := rs[len(rs)-1:]
	for i := len(rs) - 2; i >= 0; i-- {
		if len(rs[i].Data) < len(kept[0].Data) {
			kept = append([]Rendition{rs[i]}, kept...)
		}
	}
	return kept
}

// reader ends with its context, so that no decoder goes on for nobody.
type reader struct {
	ctx context.Context
	r   io.Reader
}

func (r reader) Read(p []byte) (int, error) {
	if err := r.ctx.Err(); err != nil {
		return 0, err
	}
	return r.r.Read(p)
}

func decode(kind Kind, r io.Reader) (image.Image, error) {
	switch kind {
	case JPEG:
		return jpeg.Decode(r)
	case PNG:
		return png.Decode(r)
	}
	m, err := webp.Decode(r)
	if err != nil {
		return nil, err
	}
	return fullRange(m), nil
}

// upright scales a decoded picture to w × h as it will stand, and brings it to sRGB, without transparency. A drawing
// of a few colours that needs none of that keeps its palette, which takes a third of the bytes.
func (i Info) upright(src image.Image, w, h int) image.Image {
	if p, ok := src.(*image.Paletted); ok && i.As == PNG && i.Turn <= 1 && i.Profile.to == nil && w == p.Rect.Dx() && p.Opaque() {
		return p
	}
	if i.Turn.onSide() {
		w, h = h, w
	}
	m := shrunk(src, w, h)
	i.Profile.apply(m)
	flatten(m)
	return turned(m, i.Turn)
}

const (
	strip   = 64        // rows or columns that are scaled at once of a large picture
	atATime = 1_200_000 // pixels between the scaler's two passes, of 32 bytes each
)

// scaled resizes a picture by Catmull and Rom's kernel.
func scaled(src image.Image, w, h int) *image.RGBA {
	if w*src.Bounds().Dy() > atATime {
		return inStrips(src, w, h)
	}
	out := image.NewRGBA(image.Rect(0, 0, w, h))
	draw.CatmullRom.Scale(out, out.Rect, src, src.Bounds(), draw.Src, nil)
	return out
}

// inStrips does as scaled, first in width, then in height: a large picture would take up to 440 MB between the scaler's
// two passes. It costs half as much time again. At a scale of 1 the kernel changes nothing, so a strip needs nothing of
// its neighbours.
func inStrips(src image.Image, w, h int) *image.RGBA {
	b := src.Bounds()
	narrow := image.NewRGBA(image.Rect(0, 0, w, b.Dy()))
	across := draw.CatmullRom.NewScaler(w, strip, b.Dx(), strip)
	for y := 0; y < b.Dy(); y += strip {
		n := min(strip, b.Dy()-y)
		scaler := draw.Scaler(across)
		if n < strip {
			scaler = draw.CatmullRom
		}
		scaler.Scale(narrow, image.Rect(0, y, w, y+n), src, image.Rect(b.Min.X, b.Min.Y+y, b.Max.X, b.Min.Y+y+n), draw.Src, nil)
	}
	if h == b.Dy() {
		return narrow
	}
	out := image.NewRGBA(image.Rect(0, 0, w, h))
	down := draw.CatmullRom.NewScaler(strip, h, strip, b.Dy())
	for x := 0; x < w; x += strip {
		n := min(strip, w-x)
		scaler := draw.Scaler(down)
		if n < strip {
			scaler = draw.CatmullRom
		}
		scaler.Scale(out, image.Rect(x, 0, x+n, h), narrow, image.Rect(x, 0, x+n, b.Dy()), draw.Src, nil)
	}
	return out
}

// flatten lays a picture on paper, in place.
func flatten(m *image.RGBA) {
	under := [3]int{int(paper.R), int(paper.G), int(paper.B)}
	for i := 0; i+3 < len(m.Pix); i += 4 {
		px := m.Pix[i : i+4]
		if px[3] == 255 {
			continue
		}
		for c := range 3 {
			px[c] = uint8(min(int(px[c])+(under[c]*(255-int(px[3]))+127)/255, 255))
		}
		px[3] = 255
	}
}

func encode(m image.Image, kind Kind) (Rendition, error) {
	var b bytes.Buffer
	r := Rendition{Kind: kind, Width: m.Bounds().Dx(), Height: m.Bounds().Dy()}
	var err error
	if kind == PNG {
		err = (&png.Encoder{CompressionLevel: png.BestCompression}).Encode(&b, m)
	} else {
		err = jpeg.Encode(&b, m, &jpeg.Options{Quality: quality})
	}
	r.Data = bytes.Clone(b.Bytes()) // all are kept until the site is written: without the room that the buffer has left
	return r, err
}
