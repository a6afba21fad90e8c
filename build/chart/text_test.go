package chart

import (
	"testing"
	"unicode"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/opentype"
)

const allLetters = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789 .,:;!?()[]/–—−+=<>≥≤±×%°µ²³₂·'’“”„&#@*äöüßÄÖÜéèêçñøåÅØæœłżščřžőūĐŁΩαβπЖШщю…→"

// The estimate is never less than what the Go fonts take up: a humanist sans of common width, from golang.org/x/image.
func TestWidthIsAnUpperGuess(t *testing.T) {
	for name, c := range map[string]struct {
		ttf      []byte
		estimate func(string) float64
	}{"regular": {goregular.TTF, textWidth}, "bold": {gobold.TTF, boldWidth}} {
		parsed, err := opentype.Parse(c.ttf)
		if err != nil {
			t.Fatal(err)
		}
		face, err := opentype.NewFace(parsed, &opentype.FaceOptions{Size: fontSize, DPI: 72, Hinting: font.HintingNone})
		if err != nil {
			t.Fatal(err)
		}
		for _, r := range allLetters {
			advance, ok := face.GlyphAdvance(r)
			if !ok {
				t.Fatalf("the font lacks %q", r)
			}
			if have := float64(advance) / 64; c.estimate(string(r)) < have {
				t.Errorf("%s %q is %.2f wide, guessed %.2f", name, r, have, c.estimate(string(r)))
			}
		}
	}
}

func TestFitTo(t *testing.T) {
	for _, c := range []struct {
		s     string
		width float64
		want  string
	}{
		{"moss", 200, "moss"},
		{"  moss \n and\tfern ", 200, "moss and fern"},
		{"a portion to somebody", 90, "a portion…"},
		{"moss", 3, ""},
		{"", 50, ""},
		{"a\x00b\u202ec\xff", 200, "abc"},
	} {
		got := fitTo(c.s, c.width)
		if got != c.want {
			t.Errorf("%q in %v is %q, want %q", c.s, c.width, got, c.want)
		}
		if textWidth(got) > c.width {
			t.Errorf("%q is wider than %v", got, c.width)
		}
		for _, r := range got {
			if unicode.IsControl(r) {
				t.Errorf("%q holds a control character", got)
			}
		}
	}
}
