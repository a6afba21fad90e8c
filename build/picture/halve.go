package picture

import (
	"image"
	"image/color"
)

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
	for y := range out.Rect.Dy() {
		top := b.Min.Y + 2*y
		low := min(top+1, b.Max.Y-1)
		row := out.Pix[y*out.Stride:]
		for x := range out.Rect.Dx() {
			left := b.Min.X + 2*x
			right := min(left+1, b.Max.X-1)
			luma := int(src.Y[src.YOffset(left, top)]) + int(src.Y[src.YOffset(right, top)]) + int(src.Y[src.YOffset(left, low)]) + int(src.Y[src.YOffset(right, low)])
			at := [4]int{src.COffset(left, top), src.COffset(right, top), src.COffset(left, low), src.COffset(right, low)}
			cb, cr := 0, 0
			for _, c := range at {
				cb, cr = cb+int(src.Cb[c]), cr+int(src.Cr[c])
			}
			px := row[4*x : 4*x+4]
			px[0], px[1], px[2] = color.YCbCrToRGB(uint8((luma+2)/4), uint8((cb+2)/4), uint8((cr+2)/4))
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
		row := out.Pix[y*out.Stride:]
		for x := range out.Rect.Dx() {
			left := b.Min.X + 2*x
			right := min(left+1, b.Max.X-1)
			at := [4]int{src.PixOffset(left, top), src.PixOffset(right, top), src.PixOffset(left, low), src.PixOffset(right, low)}
			for c := range 4 {
				sum := 2
				for _, i := range at {
					sum += int(src.Pix[i+c])
				}
				row[4*x+c] = uint8(sum / 4)
			}
		}
	}
	return out
}
