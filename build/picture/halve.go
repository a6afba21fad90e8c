package picture

import (
	"image"
	"image/color"
)

// shrunk resizes a picture: by halves while it is far larger than wanted, the rest by the fine filter.
func shrunk(src image.Image, w, h int) *image.RGBA {
	for src.Bounds().Dx() >= 2*w && src.Bounds().Dy() >= 2*h {
		small, ok := halved(src)
		if !ok {
			break
		}
		if small.Rect.Dx() == w && small.Rect.Dy() == h {
			return small
		}
		src = small
	}
	return scaled(src, w, h)
}

// halved makes a picture half as wide and high, each pixel the mean of a box of 2 × 2: a filter that costs little, for
// what is far larger than wanted before the fine one runs. At an odd edge a box holds what there is twice. ok is false
// for kinds of pictures that photos hardly come in.
func halved(src image.Image) (small *image.RGBA, ok bool) {
	switch src := src.(type) {
	case *image.YCbCr:
		return halvedYCbCr(src), true
	case *image.RGBA:
		return halvedRGBA(src), true
	}
	return nil, false
}

func halvedYCbCr(src *image.YCbCr) *image.RGBA {
	b := src.Rect
	out := image.NewRGBA(image.Rect(0, 0, (b.Dx()+1)/2, (b.Dy()+1)/2))
	one := src.SubsampleRatio == image.YCbCrSubsampleRatio420 && b.Min.X%2 == 0 && b.Min.Y%2 == 0 // a box shares one sample of colour
	for y := range out.Rect.Dy() {
		top := b.Min.Y + 2*y
		low := min(top+1, b.Max.Y-1)
		upper, lower := src.Y[src.YOffset(b.Min.X, top):], src.Y[src.YOffset(b.Min.X, low):]
		first := src.COffset(b.Min.X, top)
		row := out.Pix[y*out.Stride:]
		for x := range out.Rect.Dx() {
			l, r := 2*x, min(2*x+1, b.Dx()-1)
			luma := int(upper[l]) + int(upper[r]) + int(lower[l]) + int(lower[r])
			var cb, cr int
			if one {
				cb, cr = int(src.Cb[first+x]), int(src.Cr[first+x])
			} else {
				left, right := b.Min.X+l, b.Min.X+r
				cb, cr = 2, 2
				for _, c := range [4]int{src.COffset(left, top), src.COffset(right, top), src.COffset(left, low), src.COffset(right, low)} {
					cb, cr = cb+int(src.Cb[c]), cr+int(src.Cr[c])
				}
				cb, cr = cb/4, cr/4
			}
			px := row[4*x : 4*x+4]
			px[0], px[1], px[2] = color.YCbCrToRGB(uint8((luma+2)/4), uint8(cb), uint8(cr))
			px[3] = 255
		}
	}
	return out
}

func halvedRGBA(src *image.RGBA) *image.RGBA {
	b := src.Rect
	out := image.NewRGBA(image.Rect(0, 0, (b.Dx()+1)/2, (b.Dy()+1)/2))
	for y := range out.Rect.Dy() {
		top := b.Min.Y + 2*y
		low := min(top+1, b.Max.Y-1)
		upper, lower := src.Pix[src.PixOffset(b.Min.X, top):], src.Pix[src.PixOffset(b.Min.X, low):]
		row := out.Pix[y*out.Stride:]
		for x := range out.Rect.Dx() {
			l, r := 8*x, 4*min(2*x+1, b.Dx()-1)
			for c := range 4 {
				row[4*x+c] = uint8((int(upper[l+c]) + int(upper[r+c]) + int(lower[l+c]) + int(lower[r+c]) + 2) / 4)
			}
		}
	}
	return out
}
