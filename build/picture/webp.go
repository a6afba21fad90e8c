package picture

import (
	"bytes"
	"image"
	"image/jpeg"

	"golang.org/x/image/draw"
	xwebp "golang.org/x/image/webp"

	"slipleaf/build/webp"
)

// Beside each JPEG stands the same picture as WebP, for browsers that read it: no worse than the JPEG by the measure
// of structure (Wang and others 2004, "Image quality assessment: from error visibility to structural similarity") over
// a sample of it, and only where all widths together take a tenth and two kilobytes less, since the site holds both.
const (
	worthPart  = 90   // percent of the bytes of the JPEGs
	worthBytes = 2048 // less than they
	coarsest   = 32   // quantiser that is tried; SSIM of photos at JPEG 82 never asked for more
	sampleTile = 64   // pixels on a side
	sampleRow  = 5    // tiles along and down
)

// seconds are the WebP renditions of those that were encoded as JPEG, from the pixels of each; none where they save
// too little.
func seconds(pixels []image.Image, first []Rendition) ([]Rendition, error) {
	var out []Rendition
	before, after := 0, 0
	for i, r := range first {
		m, ok := pixels[i].(*image.RGBA)
		if !ok || r.Kind != JPEG {
			return nil, nil
		}
		q, err := quantiserLike(m)
		if err != nil {
			return nil, err
		}
		data, err := webp.Encode(m, q)
		if err != nil {
			return nil, err
		}
		out = append(out, Rendition{Kind: WebP, Width: r.Width, Height: r.Height, Data: data})
		before, after = before+len(r.Data), after+len(data)
	}
	if after*100 > before*worthPart || after+worthBytes > before {
		return nil, nil
	}
	return out, nil
}

// quantiserLike is the coarsest quantiser at which a picture is no worse as WebP than it is as JPEG.
func quantiserLike(m *image.RGBA) (int, error) {
	s := sampleOf(m)
	var b bytes.Buffer
	if err := jpeg.Encode(&b, s, &jpeg.Options{Quality: quality}); err != nil {
		return 0, err
	}
	as, err := jpeg.Decode(&b)
	if err != nil {
		return 0, err
	}
	want := lumaOf(s)
	enough := likeness(want, lumaOf(as), s.Rect.Size())
	low, high := 0, coarsest
	for low < high {
		q := (low + high + 1) / 2
		data, err := webp.Encode(s, q)
		if err != nil {
			return 0, err
		}
		got, err := xwebp.Decode(bytes.NewReader(data))
		if err != nil {
			return 0, err
		}
		if likeness(want, studioLuma(got.(*image.YCbCr)), s.Rect.Size()) >= enough {
			low = q
		} else {
			high = q - 1
		}
	}
	return low, nil
}

// sampleOf puts tiles from all over a picture side by side; a small picture is its own sample.
func sampleOf(m *image.RGBA) *image.RGBA {
	const side = sampleTile * sampleRow
	size := m.Rect.Size()
	if size.X <= side || size.Y <= side {
		return m
	}
	s := image.NewRGBA(image.Rect(0, 0, side, side))
	for i := range sampleRow * sampleRow {
		x, y := i%sampleRow, i/sampleRow
		from := image.Pt((size.X-sampleTile)*x/(sampleRow-1), (size.Y-sampleTile)*y/(sampleRow-1))
		to := image.Rect(0, 0, sampleTile, sampleTile).Add(image.Pt(x*sampleTile, y*sampleTile))
		draw.Draw(s, to, m, from, draw.Src)
	}
	return s
}

// lumaOf is the luma of a picture, 0 to 255, by ITU-R BT.601.
func lumaOf(m image.Image) []int {
	size := m.Bounds().Size()
	out := make([]int, 0, size.X*size.Y)
	switch m := m.(type) {
	case *image.YCbCr:
		for y := range size.Y {
			for _, v := range m.Y[y*m.YStride : y*m.YStride+size.X] {
				out = append(out, int(v))
			}
		}
	case *image.RGBA:
		for y := range size.Y {
			for x := range size.X {
				px := m.Pix[y*m.Stride+4*x : y*m.Stride+4*x+3]
				out = append(out, (19595*int(px[0])+38470*int(px[1])+7471*int(px[2])+1<<15)>>16)
			}
		}
	}
	return out
}

// studioLuma is the same of a picture read from WebP, whose luma has 219 steps from 16 on.
func studioLuma(m *image.YCbCr) []int {
	out := lumaOf(m)
	for i, v := range out {
		out[i] = min(max((v-16)*255+109, 0)/219, 255)
	}
	return out
}

// likeness is the mean structural similarity of two lumas, in windows of 8 × 8 with a step of 4 and the constants of
// the paper; a picture that holds no window is like any other. Conversions keep the machine from joining sums, which
// would give other figures on other machines.
func likeness(a, b []int, size image.Point) float64 {
	sum, n := 0.0, 0
	for y := 0; y+8 <= size.Y; y += 4 {
		for x := 0; x+8 <= size.X; x += 4 {
			sum += window(a, b, y*size.X+x, size.X)
			n++
		}
	}
	if n == 0 {
		return 1
	}
	return sum / float64(n)
}

func window(a, b []int, at, stride int) float64 {
	const c1, c2 = 6.5025, 58.5225 // (0.01 × 255)² and (0.03 × 255)²
	var sa, sb, aa, bb, ab int
	for range 8 {
		for i := range 8 {
			p, q := a[at+i], b[at+i]
			sa, sb, aa, bb, ab = sa+p, sb+q, aa+p*p, bb+q*q, ab+p*q
		}
		at += stride
	}
	// in whole numbers, 4096 times the products of means and of deviations
	means, squares := 2*sa*sb, sa*sa+sb*sb
	both, spread := 2*(64*ab-sa*sb), 64*(aa+bb)-squares
	top := float64((float64(means)/4096 + c1)) * float64((float64(both)/4096 + c2))
	bottom := float64((float64(squares)/4096 + c1)) * float64((float64(spread)/4096 + c2))
	return top / bottom
}
