package picture

import (
	"image"
	"image/color"
)

// fullRange converts what was read from a lossy WebP. Its luma has 219 steps from 16 on (RFC 6386, section 9.2, and
// ITU-R BT.601), while a YCbCr picture of Go is taken to have 255, as in JPEG: black would come out as dark grey and
// white as light grey.
func fullRange(m image.Image) image.Image {
	switch m := m.(type) {
	case *image.YCbCr:
		return studio{m, nil}.upright()
	case *image.NYCbCrA:
		return studio{&m.YCbCr, m}.upright()
	}
	return m
}

// studio is a picture with luma from 16 to 235 and, unless nil, its transparency.
type studio struct {
	m     *image.YCbCr
	alpha *image.NYCbCrA
}

func (s studio) upright() *image.NRGBA {
	b := s.m.Rect
	out := image.NewNRGBA(b)
	for y := b.Min.Y; y < b.Max.Y; y++ {
		for x := b.Min.X; x < b.Max.X; x++ {
			c := s.m.COffset(x, y)
			px := fromStudio(s.m.Y[s.m.YOffset(x, y)], s.m.Cb[c], s.m.Cr[c])
			if s.alpha != nil {
				px.A = s.alpha.A[s.alpha.AOffset(x, y)]
			}
			out.SetNRGBA(x, y, px)
		}
	}
	return out
}

// fromStudio converts a pixel by ITU-R BT.601, in 65536ths: 255/219 for luma, and 255/224 times 1.402, 0.344136,
// 0.714136 and 1.772 for the two colours.
func fromStudio(y, cb, cr uint8) color.NRGBA {
	l, b, r := 76309*(int(y)-16)+1<<15, int(cb)-128, int(cr)-128
	part := func(v int) uint8 { return uint8(min(max(v>>16, 0), 255)) }
	return color.NRGBA{part(l + 104597*r), part(l - 25675*b - 53279*r), part(l + 132201*b), 255}
}
