package picture

import (
	"bytes"
	"encoding/binary"
	"image"
	"image/color"
	"image/jpeg"
	"math"
	"os/exec"
	"testing"

	xwebp "golang.org/x/image/webp"

	"slipleaf/build/webp"
)

// gravel is a picture with what photos of planted tanks have: soft light, stems and a bottom of fine grain.
func gravel(w, h int) *image.RGBA {
	m := image.NewRGBA(image.Rect(0, 0, w, h))
	s := uint32(9)
	for y := range h {
		for x := range w {
			s = s*1664525 + 1013904223
			fx, fy := float64(x)/float64(w), float64(y)/float64(h)
			v := 60 + 90*(1-fy) + 40*math.Sin(fx*90+4*math.Sin(fy*11))*math.Exp(-3*fy)
			if fy > 0.6 {
				v += float64(s>>26) - 32
			}
			m.SetRGBA(x, y, color.RGBA{uint8(v * 0.6), uint8(v), uint8(v * (0.3 + 0.3*fx)), 255})
		}
	}
	return m
}

func TestWebPBesideJPEG(t *testing.T) {
	rs := made(t, jpegOf(t, gravel(1700, 1200)))
	if len(rs) != 6 {
		t.Fatalf("%d renditions; want three as JPEG and three as WebP", len(rs))
	}
	before, after := 0, 0
	for i, r := range rs[3:] {
		twin := rs[i]
		if twin.Kind != JPEG || r.Kind != WebP || r.Width != twin.Width || r.Height != twin.Height {
			t.Errorf("%s %d×%d beside %s %d×%d", r.Kind, r.Width, r.Height, twin.Kind, twin.Width, twin.Height)
		}
		before, after = before+len(twin.Data), after+len(r.Data)
		onlyAFrame(t, r.Data)
		if tool, err := exec.LookPath("exiftool"); err == nil {
			byExiftool(t, tool, r)
		}
	}
	if after*10 > before*9 {
		t.Errorf("WebP takes %d bytes, JPEG %d", after, before)
	}
}

// onlyAFrame holds that a WebP file is one chunk of VP8, so that there is no place for anything else.
func onlyAFrame(t *testing.T, data []byte) {
	t.Helper()
	if n := binary.LittleEndian.Uint32(data[16:]); string(data[:4]) != "RIFF" || string(data[8:16]) != "WEBPVP8 " || int(n)+20 != len(data) || int(binary.LittleEndian.Uint32(data[4:]))+8 != len(data) {
		t.Errorf("%q and a chunk of %d bytes in a file of %d", data[:16], n, len(data))
	}
}

// What the sample promises holds for the whole picture: the WebP is as like the original as the JPEG, to a thousandth.
func TestWebPIsNoWorse(t *testing.T) {
	m := gravel(900, 700)
	want := lumaOf(m)
	q, err := quantiserLike(m)
	if err != nil {
		t.Fatal(err)
	}
	r, err := encode(m, JPEG)
	if err != nil {
		t.Fatal(err)
	}
	data, err := webp.Encode(m, q)
	if err != nil {
		t.Fatal(err)
	}
	asJPEG, err := jpeg.Decode(bytes.NewReader(r.Data))
	if err != nil {
		t.Fatal(err)
	}
	asWebP, err := xwebp.Decode(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	size := m.Rect.Size()
	a, b := likeness(want, lumaOf(asJPEG), size), likeness(want, studioLuma(asWebP.(*image.YCbCr)), size)
	if q < 2 || q >= coarsest || b < a-0.001 {
		t.Errorf("quantiser %d: WebP is like the original to %.4f, JPEG to %.4f", q, b, a)
	}
}

func TestLikeness(t *testing.T) {
	m := gravel(64, 48)
	a := lumaOf(m)
	if v := likeness(a, a, image.Pt(64, 48)); v != 1 {
		t.Errorf("a picture is like itself to %v", v)
	}
	b := make([]int, len(a))
	for i := range b {
		b[i] = 255 - a[i]
	}
	if v := likeness(a, b, image.Pt(64, 48)); v > 0.5 {
		t.Errorf("a picture is like its negative to %v", v)
	}
}

// Black, white and colours of a lossy WebP come out as they went in, not in the 219 steps of its luma.
func TestWebPInItsRange(t *testing.T) {
	for _, c := range []color.RGBA{{0, 0, 0, 255}, {255, 255, 255, 255}, {200, 30, 40, 255}, {20, 120, 60, 255}, {30, 40, 200, 255}} {
		m := image.NewRGBA(image.Rect(0, 0, 48, 48))
		for i := range m.Pix {
			m.Pix[i] = [4]uint8{c.R, c.G, c.B, c.A}[i%4]
		}
		data, err := webp.Encode(m, 4)
		if err != nil {
			t.Fatal(err)
		}
		if got := decoded(t, made(t, data)[0]).At(24, 24); !near(got, c, 5) {
			t.Errorf("%v became %v", c, got)
		}
	}
}
