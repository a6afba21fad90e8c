package webp

import (
	"bytes"
	"image"
	"math"
	"testing"

	"golang.org/x/image/vp8"
	"golang.org/x/image/webp"
	"pgregory.net/rapid"
)

// scene draws a picture with soft shades, edges and grain from a seed.
func scene(w, h int, seed uint64) *image.RGBA {
	m := image.NewRGBA(image.Rect(0, 0, w, h))
	s := seed*2 + 1
	for y := range h {
		for x := range w {
			s ^= s << 13
			s ^= s >> 7
			s ^= s << 17
			v := 128 + 90*math.Sin(float64(x*(int(seed%5)+1))/19)*math.Cos(float64(y)/23)
			if (x/24+y/40)%3 == int(seed%3) {
				v = 255 - v
			}
			i := m.PixOffset(x, y)
			m.Pix[i] = uint8(min(max(v+float64(s%17), 0), 255))
			m.Pix[i+1] = uint8(min(max(v*0.8+float64(s>>8%23), 0), 255))
			m.Pix[i+2] = uint8(x * y / 7)
			m.Pix[i+3] = 255
		}
	}
	return m
}

// TestReaderSeesWhatWasMade holds the encoder's own picture against what an independent reader decodes, sample by
// sample: any slip in a prediction, a transform, a token or a probability tears them apart.
func TestReaderSeesWhatWasMade(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w, h := rapid.IntRange(1, 90).Draw(t, "width"), rapid.IntRange(1, 70).Draw(t, "height")
		m := scene(w, h, rapid.Uint64Range(0, 1<<40).Draw(t, "seed"))
		e := newEncoder(m, rapid.IntRange(0, 127).Draw(t, "quantiser"))
		e.filter = 0
		e.passes()
		data := e.write(m.Rect.Size())
		d := vp8.NewDecoder()
		d.Init(bytes.NewReader(data), len(data))
		if _, err := d.DecodeFrameHeader(); err != nil {
			t.Fatal(err)
		}
		got, err := d.DecodeFrame()
		if err != nil {
			t.Fatal(err)
		}
		for y := range h {
			for x := range w {
				if a, b := got.Y[got.YOffset(x, y)], e.made[0].pix[e.made[0].at(x, y)]; a != b {
					t.Fatalf("luma at %d, %d: read %d, made %d", x, y, a, b)
				}
				c := got.COffset(x, y)
				i := e.made[1].at(x/2, y/2)
				if got.Cb[c] != e.made[1].pix[i] || got.Cr[c] != e.made[2].pix[i] {
					t.Fatalf("colours at %d, %d: read %d %d, made %d %d", x, y, got.Cb[c], got.Cr[c], e.made[1].pix[i], e.made[2].pix[i])
				}
			}
		}
	})
}

// TestFileIsRead reads whole files as browsers get them, and holds them against the original.
func TestFileIsRead(t *testing.T) {
	for _, size := range []image.Point{{1, 1}, {15, 17}, {16, 16}, {200, 133}} {
		m := scene(size.X, size.Y, 7)
		small := 1 << 62
		for _, quantiser := range []int{0, 12, 40, 127} {
			data, err := Encode(m, quantiser)
			if err != nil {
				t.Fatal(err)
			}
			again, err := Encode(m, quantiser)
			if err != nil || !bytes.Equal(data, again) {
				t.Errorf("%v at %d: two runs differ", size, quantiser)
			}
			got, err := webp.Decode(bytes.NewReader(data))
			if err != nil || got.Bounds().Size() != size {
				t.Fatalf("%v at %d: %v", size, quantiser, err)
			}
			if len(data) > small {
				t.Errorf("%v at %d: %d bytes, more than at a finer step", size, quantiser, len(data))
			}
			small = len(data)
			if d := lumaError(m, got.(*image.YCbCr)); quantiser == 0 && d > 2 || quantiser == 12 && d > 6 {
				t.Errorf("%v at %d: luma is off by %.1f", size, quantiser, d)
			}
		}
	}
}

// lumaError is the root of the mean squared error of luma.
func lumaError(m *image.RGBA, got *image.YCbCr) float64 {
	sum, size := 0.0, m.Rect.Size()
	for y := range size.Y {
		for x := range size.X {
			c := m.RGBAAt(x, y)
			want := 16 + (65.738*float64(c.R)+129.057*float64(c.G)+25.064*float64(c.B))/256 // ITU-R BT.601
			d := want - float64(got.Y[got.YOffset(x, y)])
			sum += d * d
		}
	}
	return math.Sqrt(sum / float64(size.X*size.Y))
}

func TestWhatCannotBeWritten(t *testing.T) {
	for _, c := range []struct{ w, h, q int }{{0, 5, 10}, {5, 0, 10}, {1 << 14, 1, 10}, {1, 1 << 14, 10}, {4, 4, -1}, {4, 4, 128}} {
		if _, err := Encode(image.NewRGBA(image.Rect(0, 0, c.w, c.h)), c.q); err == nil {
			t.Errorf("%d × %d at %d is no error", c.w, c.h, c.q)
		}
	}
}

func BenchmarkEncode(b *testing.B) {
	m := scene(960, 640, 3)
	b.SetBytes(960 * 640)
	for b.Loop() {
		if _, err := Encode(m, 12); err != nil {
			b.Fatal(err)
		}
	}
}
