package picture

import (
	"bytes"
	"context"
	"encoding/binary"
	"errors"
	"fmt"
	"image"
	"image/color"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"golang.org/x/image/draw"
	"pgregory.net/rapid"
)

func made(t *testing.T, data []byte) []Rendition {
	t.Helper()
	rs, err := Make(context.Background(), data, Wanted())
	if err != nil {
		t.Fatal(err)
	}
	return rs
}

func TestSizes(t *testing.T) {
	for _, c := range []struct {
		name string
		data []byte
		want string
	}{
		{"a photo", jpegOf(t, scene(2000, 1500)), "JPEG 480×360 JPEG 960×720 JPEG 1600×1200"},
		{"one smaller than the largest", jpegOf(t, scene(700, 500)), "JPEG 480×343 JPEG 700×500"},
		{"one on its side", withSegments(jpegOf(t, scene(600, 400)), exifSegment(6)), "JPEG 400×600"},
		{"one pixel", jpegOf(t, scene(1, 1)), "JPEG 1×1"},
		{"one pixel of WebP", still, "JPEG 1×1"},
		{"a tall line", pngOf(t, scene(1, 900)), "PNG 1×900"},
		{"a drawing", pngOf(t, image.NewGray(image.Rect(0, 0, 1000, 100))), "PNG 480×48 PNG 960×96"},
		{"sixteen bits", pngOf(t, image.NewNRGBA64(image.Rect(0, 0, 500, 250))), "PNG 480×240"},
		{"ink on four plates", cmykJPEG(), "JPEG 8×8"},
	} {
		t.Run(c.name, func(t *testing.T) {
			var got []string
			for _, r := range made(t, c.data) {
				got = append(got, fmt.Sprintf("%s %d×%d", r.Kind, r.Width, r.Height))
				if b := decoded(t, r).Bounds(); b.Dx() != r.Width || b.Dy() != r.Height {
					t.Errorf("%d×%d is in truth %v", r.Width, r.Height, b)
				}
			}
			if s := strings.Join(got, " "); s != c.want {
				t.Errorf("%s, want %s", s, c.want)
			}
		})
	}
}

// A drawing of three colours is lighter at its own size than with softened edges at half of it.
func TestNoSmallerRenditionWeighsMore(t *testing.T) {
	m := image.NewPaletted(image.Rect(0, 0, 1200, 600), color.Palette{color.White, color.Black, color.RGBA{40, 100, 50, 255}})
	for i := range m.Pix {
		if x, y := i%1200, i/1200; (x+y*y/97)%23 < 3 {
			m.Pix[i] = uint8(1 + y/300)
		}
	}
	if rs := made(t, pngOf(t, m)); len(rs) != 1 || rs[0].Width != 1200 {
		t.Errorf("%d renditions, the first of %d pixels and %d bytes", len(rs), rs[0].Width, len(rs[0].Data))
	}
}

// Each orientation is undone: whatever way the camera was held, the scene is as it was.
func TestUpright(t *testing.T) {
	want := scene(48, 32)
	for turn := Turn(1); turn <= 8; turn++ {
		w, h := 48, 32
		if turn.onSide() {
			w, h = h, w
		}
		stored := image.NewRGBA(image.Rect(0, 0, w, h))
		for y := range h {
			for x := range w {
				tx, ty := turn.place(x, y, w, h)
				stored.Set(x, y, want.At(tx, ty))
			}
		}
		files := map[string][]byte{
			"jpeg":         withSegments(jpegOf(t, stored), exifSegment(uint16(turn))),
			"png":          withChunk(pngOf(t, stored), "eXIf", exif(binary.LittleEndian, "II", uint16(turn))),
			"png, big end": withChunk(pngOf(t, stored), "eXIf", exif(binary.BigEndian, "MM", uint16(turn))),
		}
		for name, data := range files {
			r := made(t, data)[0]
			got := decoded(t, r)
			if r.Width != 48 || r.Height != 32 {
				t.Fatalf("%s, orientation %d: %d×%d", name, turn, r.Width, r.Height)
			}
			for _, at := range []image.Point{{2, 2}, {45, 2}, {2, 29}, {45, 29}} {
				if !near(got.At(at.X, at.Y), want.At(at.X, at.Y), 16) {
					t.Errorf("%s, orientation %d at %v: %v, want %v", name, turn, at, got.At(at.X, at.Y), want.At(at.X, at.Y))
				}
			}
		}
	}
}

// What the eight values mean is the standard's, not ours: where the first stored row and column belong (CIPA DC-008,
// 4.6.4: 1 top left, 2 top right, 3 bottom right, 4 bottom left, 5 left top, 6 right top, 7 right bottom, 8 left bottom).
func TestOrientationByTheStandard(t *testing.T) {
	for turn, want := range [][2]string{1: {"top", "left"}, 2: {"top", "right"}, 3: {"bottom", "right"}, 4: {"bottom", "left"}, 5: {"left", "top"}, 6: {"right", "top"}, 7: {"right", "bottom"}, 8: {"left", "bottom"}} {
		if turn == 0 {
			continue
		}
		const w, h = 5, 4
		uw, uh := w, h
		if Turn(turn).onSide() {
			uw, uh = h, w
		}
		edge := func(x1, y1, x2, y2 int) string {
			ax, ay := Turn(turn).place(x1, y1, w, h)
			bx, by := Turn(turn).place(x2, y2, w, h)
			switch {
			case ay == by && ay == 0:
				return "top"
			case ay == by && ay == uh-1:
				return "bottom"
			case ax == bx && ax == 0:
				return "left"
			case ax == bx && ax == uw-1:
				return "right"
			}
			return "nowhere"
		}
		if row, column := edge(0, 0, w-1, 0), edge(0, 0, 0, h-1); row != want[0] || column != want[1] {
			t.Errorf("%d: the first row goes to the %s, the first column to the %s; want %s and %s", turn, row, column, want[0], want[1])
		}
	}
}

// secrets is a picture of each format that is full of what must not get out.
func secrets(t *testing.T) map[string][]byte {
	xmp := []byte("\xe1http://ns.adobe.com/xap/1.0/\x00<x:xmpmeta>SECRET 51.47 N</x:xmpmeta>")
	iptc, comment := []byte("\xedPhotoshop 3.0\x00SECRET street"), []byte("\xfeSECRET comment")
	second := append(jpegOf(t, scene(8, 8)), "SECRET trailer"...)
	still := jpegOf(t, scene(500, 300))
	png := withChunk(withChunk(pngOf(t, scene(500, 300)), "tEXt", []byte("Author\x00SECRET name")), "iTXt", []byte("XML:com.adobe.xmp\x00\x00\x00\x00\x00SECRET"))
	return map[string][]byte{
		"jpeg": append(withSegments(still, exifSegment(1), xmp, iptc, comment, append([]byte("\xe2MPF\x00"), "SECRET"...)), second...),
		"png":  append(withChunk(png, "eXIf", exif(binary.BigEndian, "MM", 1)), "SECRET trailer"...),
		"webp": webpOf("VP8X", "\x0c\x00\x00\x00\x00\x00\x00\x00\x00\x00", "VP8L", string(stillPixels), "EXIF", string(exif(binary.LittleEndian, "II", 1)), "XMP ", "SECRET"),
	}
}

var stillPixels = []byte("\x2f\x00\x00\x00\x10\x07\x10\x11\x11\x88\x88\xfe\x07\x00")

func TestNothingButPixelsGetsOut(t *testing.T) {
	exiftool, _ := exec.LookPath("exiftool")
	for name, data := range secrets(t) {
		for _, r := range made(t, data) {
			for _, word := range []string{"SECRET", "Exif", "latitude", "GPS", "eXIf", "tEXt", "iTXt", "ICC_PROFILE", "MPF", "ns.adobe", "Photoshop", "EXIF", "XMP "} {
				if bytes.Contains(r.Data, []byte(word)) {
					t.Errorf("%s at %d: %q got out", name, r.Width, word)
				}
			}
			if r.Kind == JPEG {
				onlyPixelSegments(t, r.Data)
			}
			if exiftool != "" {
				byExiftool(t, exiftool, r)
			}
		}
	}
}

// onlyPixelSegments walks a JPEG of ours: tables, frame and scan, no APP and no comment.
func onlyPixelSegments(t *testing.T, data []byte) {
	t.Helper()
	for at := 2; at+4 < len(data) && data[at+1] != 0xda; at += 2 + int(binary.BigEndian.Uint16(data[at+2:])) {
		if m := data[at+1]; data[at] != 0xff || m != 0xdb && m != 0xc0 && m != 0xc4 {
			t.Errorf("a segment %#x", m)
		}
	}
	if !bytes.HasSuffix(data, []byte("\xff\xd9")) {
		t.Error("something follows the picture")
	}
}

func byExiftool(t *testing.T, tool string, r Rendition) {
	t.Helper()
	file := filepath.Join(t.TempDir(), "a"+r.Kind.Extension())
	if err := os.WriteFile(file, r.Data, 0o600); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command(tool, "-G1", "-a", "-s", file).CombinedOutput()
	if err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	for line := range strings.Lines(string(out)) {
		group, _, _ := strings.Cut(line, "]")
		switch strings.Trim(group, "[ ") {
		case "ExifTool", "System", "File", "PNG", "Composite":
		default:
			t.Errorf("exiftool finds %s", line)
		}
	}
}

func TestTransparentStandsOnPaper(t *testing.T) {
	m := image.NewNRGBA(image.Rect(0, 0, 40, 40))
	m.SetNRGBA(20, 20, color.NRGBA{0, 0, 0, 255})
	got := decoded(t, made(t, pngOf(t, m))[0])
	if !near(got.At(1, 1), paper, 0) || !near(got.At(20, 20), color.Black, 0) {
		t.Errorf("%v and %v", got.At(1, 1), got.At(20, 20))
	}
}

func TestFewColoursKeepTheirPalette(t *testing.T) {
	m := image.NewPaletted(image.Rect(0, 0, 300, 200), color.Palette{color.White, color.Black, color.RGBA{40, 100, 50, 255}})
	for i := range m.Pix {
		m.Pix[i] = uint8(i / 97 % 3)
	}
	r := made(t, pngOf(t, m))[0]
	if p, ok := decoded(t, r).(*image.Paletted); !ok || !bytes.Equal(p.Pix, m.Pix) {
		t.Error("the palette or the pixels changed")
	}
}

func TestInkOnFourPlatesIsGrey(t *testing.T) {
	c := color.RGBAModel.Convert(decoded(t, made(t, cmykJPEG())[0]).At(4, 4)).(color.RGBA)
	if c.R < 55 || c.R > 75 || c.R != c.G || c.G != c.B { // half of each ink: 255 × ½ × ½
		t.Errorf("%v", c)
	}
}

// Scaling in strips gives what scaling at once gives, to the rounding between the two passes.
func TestStripsLeaveNoSeam(t *testing.T) {
	src := scene(333, 271)
	for i := range src.Pix {
		if i%4 != 3 {
			src.Pix[i] ^= uint8(i*i>>4) & 31
		}
	}
	for _, to := range []image.Point{{100, 81}, {333, 271}, {17, 14}} {
		whole := image.NewRGBA(image.Rect(0, 0, to.X, to.Y))
		draw.CatmullRom.Scale(whole, whole.Rect, src, src.Rect, draw.Src, nil)
		got := inStrips(src, to.X, to.Y)
		for y := range to.Y {
			for x := range to.X {
				if !near(got.At(x, y), whole.At(x, y), 3) {
					t.Fatalf("to %v at %d, %d: %v, want %v", to, x, y, got.At(x, y), whole.At(x, y))
				}
			}
		}
	}
}

func TestSameBytesTwice(t *testing.T) {
	data := jpegOf(t, scene(1000, 700))
	a, b := made(t, data), made(t, data)
	for i := range a {
		if !bytes.Equal(a[i].Data, b[i].Data) {
			t.Errorf("rendition %d differs", i)
		}
	}
}

func FuzzMake(f *testing.F) {
	f.Add(jpegOf(f, scene(20, 10)))
	f.Add(withSegments(jpegOf(f, scene(9, 9)), exifSegment(6), iccSegment(displayP3)))
	f.Add(pngOf(f, scene(20, 10)))
	f.Add(withChunk(pngOf(f, image.NewNRGBA64(image.Rect(0, 0, 9, 5))), "eXIf", exif(binary.BigEndian, "MM", 8)))
	f.Add(still)
	f.Add(moving)
	f.Add(cmykJPEG())
	f.Fuzz(func(t *testing.T, data []byte) {
		info, err := Plan("a.jpg", data)
		if err != nil || info.Width*info.Height > 1<<18 {
			return
		}
		rs, err := Make(context.Background(), data, []int{16, 64})
		if err != nil {
			return
		}
		for i, r := range rs { // what the head alone tells is true of what was made
			if !slices.Contains(info.Widths([]int{16, 64}), r.Width) || r.Height != info.HeightAt(r.Width) || r.Kind != info.As || i > 0 && len(r.Data) <= len(rs[i-1].Data) {
				t.Errorf("rendition %d: %s %d×%d", i, r.Kind, r.Width, r.Height)
			}
			if b := decoded(t, r).Bounds(); b.Dx() != r.Width || b.Dy() != r.Height {
				t.Errorf("rendition %d is in truth %v", i, b)
			}
		}
	})
}

// Whatever share of its pixels a picture keeps the colour of, and wherever it is cut, a pixel of the half is the mean of
// its box.
func TestHalvesAreMeansOfBoxes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ratio := image.YCbCrSubsampleRatio(rapid.IntRange(0, int(image.YCbCrSubsampleRatio410)).Draw(t, "ratio"))
		src := image.NewYCbCr(image.Rect(0, 0, 12, 11), ratio)
		for _, plane := range [][]uint8{src.Y, src.Cb, src.Cr} {
			copy(plane, rapid.SliceOfN(rapid.Uint8(), len(plane), len(plane)).Draw(t, "plane"))
		}
		x, y := rapid.IntRange(0, 10).Draw(t, "x"), rapid.IntRange(0, 9).Draw(t, "y")
		part := src.SubImage(image.Rect(x, y, rapid.IntRange(x+1, 12).Draw(t, "right"), rapid.IntRange(y+1, 11).Draw(t, "bottom"))).(*image.YCbCr)
		got := halvedYCbCr(part)
		for v := range got.Rect.Dy() {
			for u := range got.Rect.Dx() {
				sum := [3]int{2, 2, 2}
				for _, p := range []image.Point{{0, 0}, {1, 0}, {0, 1}, {1, 1}} {
					c := part.YCbCrAt(min(x+2*u+p.X, part.Rect.Max.X-1), min(y+2*v+p.Y, part.Rect.Max.Y-1))
					sum[0], sum[1], sum[2] = sum[0]+int(c.Y), sum[1]+int(c.Cb), sum[2]+int(c.Cr)
				}
				r, g, b := color.YCbCrToRGB(uint8(sum[0]/4), uint8(sum[1]/4), uint8(sum[2]/4))
				if want := (color.RGBA{r, g, b, 255}); got.RGBAAt(u, v) != want {
					t.Fatalf("%v %v at %d, %d: %v, want %v", ratio, part.Rect, u, v, got.RGBAAt(u, v), want)
				}
			}
		}
	})
}

// Halving is scaling by a box: what is flat stays, and the mean of a picture does.
func TestHalvesKeepTheirMean(t *testing.T) {
	for _, size := range []image.Point{{200, 160}, {201, 161}, {2, 2}, {3, 1}} {
		rgba := scene(size.X, size.Y)
		full, err := decode(JPEG, bytes.NewReader(jpegOf(t, rgba)))
		if err != nil {
			t.Fatal(err)
		}
		for _, src := range []image.Image{rgba, full} {
			got, ok := halved(src)
			if want := image.Pt((size.X+1)/2, (size.Y+1)/2); !ok || got.Rect.Size() != want {
				t.Fatalf("%v became %v", size, got.Rect)
			}
			if a, b := meanOf(src), meanOf(got); math.Abs(a-b) > 4 {
				t.Errorf("%T %v: mean %.1f became %.1f", src, size, a, b)
			}
			if got.RGBAAt(0, 0).A != 255 {
				t.Error("it became transparent")
			}
		}
	}
	if _, ok := halved(image.NewGray(image.Rect(0, 0, 4, 4))); ok {
		t.Error("a kind that has no way of its own was halved")
	}
}

// meanOf is the mean of a picture's green, 0 to 255.
func meanOf(m image.Image) float64 {
	b, sum := m.Bounds(), 0.0
	for y := b.Min.Y; y < b.Max.Y; y++ {
		for x := b.Min.X; x < b.Max.X; x++ {
			_, g, _, _ := m.At(x, y).RGBA()
			sum += float64(g) / 257
		}
	}
	return sum / float64(b.Dx()*b.Dy())
}

// Halved first, a large photo looks as if the fine filter had done it all.
func TestHalvedLooksAsScaled(t *testing.T) {
	data := jpegOf(t, scene(3400, 2600))
	src, err := decode(JPEG, bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	want := scaled(src, 1600, 1224)
	got := Info{As: JPEG}.upright(src, 1600, 1224).(*image.RGBA)
	for i := range want.Pix {
		if d := int(want.Pix[i]) - int(got.Pix[i]); d > 12 || d < -12 {
			t.Fatalf("byte %d is %d and was %d", i, got.Pix[i], want.Pix[i])
		}
	}
}

// A picture of many passes over the same pixels takes a processor for minutes and is refused before it is decoded; an
// ordinary progressive one has some ten.
func TestManyScansAreRefused(t *testing.T) {
	for _, c := range []struct {
		scans int
		ok    bool
	}{{1, true}, {maxScans, true}, {maxScans + 1, false}, {60_000, false}} {
		_, err := Plan("a.jpg", scansOf(jpegOf(t, scene(60, 40)), c.scans))
		var f *Fault
		if (err == nil) != c.ok || !c.ok && (!errors.As(err, &f) || f.Rule != RuleUnreadable) {
			t.Errorf("%d scans: %v", c.scans, err)
		}
	}
}

// scansOf repeats the only scan of a JPEG.
func scansOf(data []byte, n int) []byte {
	at := bytes.Index(data, []byte("\xff\xda"))
	end := len(data) - 2
	return append(append(append([]byte(nil), data[:at]...), bytes.Repeat(data[at:end], n)...), data[end:]...)
}

// Whoever ends the work is not kept waiting for a large picture.
func TestMakingEndsWithItsContext(t *testing.T) {
	for name, data := range map[string][]byte{"jpeg": jpegOf(t, scene(900, 700)), "png": pngOf(t, scene(900, 700)), "webp": still} {
		ctx, stop := context.WithCancel(context.Background())
		stop()
		if rs, err := Make(ctx, data, Wanted()); rs != nil || !errors.Is(err, context.Canceled) {
			t.Errorf("%s: %d renditions, %v", name, len(rs), err)
		}
	}
}

func BenchmarkMake12Megapixels(b *testing.B) {
	data := jpegOf(b, scene(4000, 3000))
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Make(context.Background(), data, Wanted()); err != nil {
			b.Fatal(err)
		}
	}
}
