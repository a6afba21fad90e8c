package webp

import "image"

// plane is one component of a picture in whole macroblocks, with a row above and a column to the left of it.
type plane struct {
	pix    []uint8
	stride int
}

// newPlane has room for w × h samples. What lies above is 127 and what lies to the left 129, as section 12.2 has it.
func newPlane(w, h int) plane {
	p := plane{pix: make([]uint8, (w+1)*(h+1)), stride: w + 1}
	for i := range p.stride {
		p.pix[i] = 127
	}
	for y := 1; y <= h; y++ {
		p.pix[y*p.stride] = 129
	}
	return p
}

// at is the place of a sample.
func (p plane) at(x, y int) int { return (y+1)*p.stride + x + 1 }

// frame is a picture as Y, Cb and Cr, these two at half the width and height.
type frame [3]plane

func newFrame(across, down int) frame {
	return frame{newPlane(16*across, 16*down), newPlane(8*across, 8*down), newPlane(8*across, 8*down)}
}

// split converts a picture to Y'CbCr of ITU-R BT.601 with 219 steps of luma, which is what readers of WebP expect.
// Beyond the picture's edges its last row and column go on.
func split(m *image.RGBA, across, down int) frame {
	f := newFrame(across, down)
	size := m.Rect.Size()
	at := func(x, y int) []uint8 {
		i := min(y, size.Y-1)*m.Stride + 4*min(x, size.X-1)
		return m.Pix[i : i+3 : i+3]
	}
	for y := 0; y < 16*down; y += 2 {
		for x := 0; x < 16*across; x += 2 {
			var sum [3]int
			for i, px := range [4][]uint8{at(x, y), at(x+1, y), at(x, y+1), at(x+1, y+1)} {
				r, g, b := int(px[0]), int(px[1]), int(px[2])
				f[0].pix[f[0].at(x+i&1, y+i>>1)] = uint8((16839*r + 33059*g + 6420*b + 16<<16 + 1<<15) >> 16)
				sum[0], sum[1], sum[2] = sum[0]+r, sum[1]+g, sum[2]+b
			}
			r, g, b := sum[0], sum[1], sum[2]
			c := f[1].at(x/2, y/2)
			f[1].pix[c] = uint8((-9719*r - 19081*g + 28800*b + 128<<18 + 1<<17) >> 18)
			f[2].pix[c] = uint8((28800*r - 24116*g - 4684*b + 128<<18 + 1<<17) >> 18)
		}
	}
	return f
}
