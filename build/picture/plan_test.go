package picture

import (
	"bytes"
	"context"
	"fmt"
	"image"
	"slices"
	"strings"
	"testing"
)

// still is the smallest lossless WebP, 1 × 1, and the head of one that moves.
var (
	still  = webpOf("VP8L", "\x2f\x00\x00\x00\x10\x07\x10\x11\x11\x88\x88\xfe\x07\x00")
	moving = webpOf("VP8X", "\x02\x00\x00\x00\x07\x00\x00\x07\x00\x00", "ANIM", "\x00\x00\x00\x00\x00\x00", "ANMF", strings.Repeat("\x00", 24))
)

func TestRefused(t *testing.T) {
	huge := jpegOf(t, scene(16, 16))
	at := bytes.Index(huge, []byte{0xff, 0xc0})
	copy(huge[at+5:], "\x36\xb0\x38\xa4") // 14000 × 14500: 203 megapixels
	progressive := jpegOf(t, scene(16, 16))
	progressive[at+1] = 0xc2
	copy(progressive[at+5:], "\x1b\x58\x1b\x58") // 7000 × 7000
	progressive[at+11] = 0x11                    // 4:4:4
	limits := 0
	for _, c := range []struct {
		name, file string
		data       []byte
		rule, why  string
	}{
		{"an empty file", "a.jpg", nil, RuleUnreadable, "empty"},
		{"a JPEG of 203 megapixels", "a.jpg", huge, RuleTooLarge, "14500 × 14000 pixels, which is 203 megapixels"},
		{"71 bytes that claim 3600 megapixels", "a.png", claiming(60000, 60000), RuleTooLarge, "3600 megapixels"},
		{"a long thin line", "a.png", claiming(30000, 2), RuleTooLarge, "20000 on a side"},
		{"a side of nothing", "a.png", claiming(0, 5), RuleUnreadable, "cannot be read as PNG"},
		{"a WebP canvas of 268 megapixels", "a.webp", webpOf("VP8X", "\x00\x00\x00\x00\xff\x3f\x00\xff\x3f\x00"), RuleTooLarge, "268 megapixels"},
		{"a progressive JPEG that would fill the memory", "a.jpg", progressive, RuleTooLarge, "MB of memory"},
		{"more than 32 MiB", "a.png", append(claiming(5, 5), make([]byte, MaxBytes)...), RuleTooLarge, "32 MB"},
		{"a drawing that may hold scripts", "a.svg", []byte("<svg xmlns='http://www.w3.org/2000/svg'/>"), RuleKind, "SVG"},
		{"the same under another name", "a.jpg", []byte("<?xml version='1.0'?>\n<svg onload='x()'/>"), RuleKind, "SVG"},
		{"a phone's own format", "a.heic", []byte("\x00\x00\x00\x18ftypheic\x00\x00\x00\x00"), RuleKind, "HEIC"},
		{"a GIF", "a.gif", []byte("GIF89a\x01\x00\x01\x00"), RuleKind, "GIF"},
		{"a WebP that moves", "a.webp", moving, RuleKind, "animated"},
		{"words", "a.jpg", []byte("no picture"), RuleKind, "not a JPEG, PNG or WebP"},
		{"a JPEG's first bytes", "a.jpg", []byte("\xff\xd8\xff\xe0"), RuleUnreadable, "cannot be read as JPEG"},
	} {
		if c.rule == RuleTooLarge {
			limits++
		}
		t.Run(c.name, func(t *testing.T) {
			_, err := Plan(c.file, c.data)
			f := faultOf(t, err)
			if f.Rule != c.rule || !strings.Contains(f.Why, c.why) {
				t.Errorf("%s: %s; want %s: …%s…", f.Rule, f.Why, c.rule, c.why)
			}
			if c.rule == RuleTooLarge && f.Hint == "" {
				t.Errorf("%s: there is no hint what to do", f.Why)
			}
			if _, err := Make(context.Background(), c.data, Wanted()); err == nil {
				t.Error("Make takes what Plan refuses")
			}
		})
	}
	t.Attr("figure", fmt.Sprintf("limits shown, of a photo: %d", limits))
}

func TestCutOffFiles(t *testing.T) {
	for name, data := range map[string][]byte{"jpeg": jpegOf(t, scene(200, 160)), "png": pngOf(t, scene(200, 160)), "webp": still} {
		for _, n := range []int{len(data) / 2, len(data) * 9 / 10} {
			_, err := Make(context.Background(), data[:n], Wanted())
			if f := faultOf(t, err); f.Rule != RuleUnreadable {
				t.Errorf("%s at %d: %s %s", name, n, f.Rule, f.Why)
			}
		}
	}
}

func TestWidths(t *testing.T) {
	for _, c := range []struct {
		width int
		want  []int
	}{
		{4000, []int{480, 960, 1600}}, {1600, []int{480, 960, 1600}}, {1599, []int{480, 960, 1599}}, {1000, []int{480, 960}}, {1056, []int{480, 960, 1056}},
		{700, []int{480, 700}}, {480, []int{480}}, {479, []int{479}}, {1, []int{1}},
	} {
		if got := (Info{Width: c.width, Height: 10}).Widths(Wanted()); !slices.Equal(got, c.want) {
			t.Errorf("%d: %v, want %v", c.width, got, c.want)
		}
	}
}

func TestWhatADrawingIs(t *testing.T) {
	flat := image.NewRGBA(image.Rect(0, 0, 200, 100))
	if i, err := Plan("a.png", pngOf(t, flat)); err != nil || i.As != PNG {
		t.Errorf("a flat PNG becomes %s, %v", i.As, err)
	}
	noisy := scene(200, 100)
	for i := range noisy.Pix {
		noisy.Pix[i] ^= uint8(i*i*31>>3) & 63
	}
	if i, err := Plan("a.png", pngOf(t, noisy)); err != nil || i.As != JPEG {
		t.Errorf("a PNG full of grain becomes %s, %v", i.As, err)
	}
}
