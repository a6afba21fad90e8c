package picture

import (
	"image/color"
	"os"
	"testing"
)

// Black, white and colours of a lossy WebP come out as they went in, not in the 219 steps of its luma. The files are
// plain areas of 48 × 48, written by cwebp 1.2.4 of libwebp.
func TestWebPInItsRange(t *testing.T) {
	for name, c := range map[string]color.RGBA{
		"black": {0, 0, 0, 255}, "white": {255, 255, 255, 255}, "red": {200, 30, 40, 255}, "green": {20, 120, 60, 255}, "blue": {30, 40, 200, 255},
	} {
		data, err := os.ReadFile("testdata/" + name + ".webp")
		if err != nil {
			t.Fatal(err)
		}
		if got := decoded(t, made(t, data)[0]).At(24, 24); !near(got, c, 5) {
			t.Errorf("%s became %v", name, got)
		}
	}
}
