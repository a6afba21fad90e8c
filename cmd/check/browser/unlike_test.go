//go:build browser

package browser

import (
	"image"
	"image/color"
	"testing"
)

// sketch is a paper with a dark box.
func sketch(width, height int, box image.Rectangle, ink color.Color) *image.RGBA {
	img := image.NewRGBA(image.Rect(0, 0, width, height))
	for y := range height {
		for x := range width {
			img.Set(x, y, color.RGBA{240, 239, 228, 255})
			if (image.Point{X: x, Y: y}).In(box) {
				img.Set(x, y, ink)
			}
		}
	}
	return img
}

func TestUnlike(t *testing.T) {
	dark, leaf := color.RGBA{20, 30, 25, 255}, color.RGBA{42, 102, 54, 255}
	box := image.Rect(40, 40, 120, 120)
	base := sketch(200, 200, box, dark)
	for _, c := range []struct {
		name string
		got  image.Image
		same bool
	}{
		{"the same", sketch(200, 200, box, dark), true},
		{"few colours", fewer(base, 4), true},
		{"a little taller", sketch(200, 204, box, dark), true},
		{"a hair's breadth", sketch(200, 200, image.Rect(40, 40, 120, 121), dark), true},
		{"moved by 8 CSS px", sketch(200, 200, box.Add(image.Pt(4, 0)), dark), false},
		{"another colour", sketch(200, 200, box, leaf), false},
		{"much taller", sketch(200, 220, box, dark), false},
		{"wider", sketch(204, 200, box, dark), false},
	} {
		if fault := unlike(base, c.got); (fault == "") != c.same {
			t.Errorf("%s: %q", c.name, fault)
		}
	}
}

func TestFewer(t *testing.T) {
	img := sketch(64, 64, image.Rect(0, 0, 8, 8), color.RGBA{200, 10, 10, 255})
	for i := range 64 {
		img.Set(i, 60, color.RGBA{uint8(100 + i), 100, 100, 255})
	}
	got := fewer(img, 8)
	if len(got.Palette) != 8 {
		t.Errorf("%d colours", len(got.Palette))
	}
	if r, _, _, _ := got.At(2, 2).RGBA(); r>>8 != 200 {
		t.Errorf("the box is %v", got.At(2, 2))
	}
}
