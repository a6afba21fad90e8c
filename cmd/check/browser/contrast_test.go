//go:build browser

package browser

import (
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// Contrast ratios that WCAG 2.2 asks for: 1.4.6 (enhanced) for text, 1.4.11 for controls and the parts of a picture that
// carry something.
const (
	textContrast = 7
	markContrast = 3.0
)

var (
	textTokens = []string{"ink", "soft", "leaf", "clay", "slate"}
	markTokens = []string{"line", "bench", "stem", "rosette", "rhizome", "blade", "root"} // text tokens draw marks too
	grounds    = []string{"ground", "paper", "leaf-tint", "clay-tint", "slate-tint"}
	drawnOn    = []string{"ground", "paper"} // plants are drawn on no tint
	token      = regexp.MustCompile(`--([a-z-]+):\s*(#[0-9a-fA-F]{3,6})\b`)
)

// Every pair of the theme's colours in light, dark and print, by the formula of WCAG 2.2.
func TestContrast(t *testing.T) {
	text, err := os.ReadFile(filepath.Join("themes", "bench", "styles", "00-tokens.css"))
	if err != nil {
		t.Fatal(err)
	}
	for name, set := range schemes(string(text)) {
		check := func(fore, back string, least float64) {
			f, okF := set[fore]
			b, okB := set[back]
			if r := ratio(f, b); !okF || !okB || !(r >= least) {
				t.Errorf("%s: %s (%s) on %s (%s): %.2f of %.1f", name, fore, f, back, b, r, least)
			}
		}
		for _, g := range grounds {
			for _, text := range textTokens {
				check(text, g, textContrast)
			}
			check("line", g, markContrast)
		}
		for _, g := range drawnOn {
			for _, m := range markTokens {
				check(m, g, markContrast)
			}
		}
		check("on-leaf", "leaf", textContrast)
	}
}

// schemes reads the colours of each scheme; what a scheme does not name is as in light.
func schemes(css string) map[string]map[string]string {
	read := func(part string, base map[string]string) map[string]string {
		out := map[string]string{}
		for k, v := range base {
			out[k] = v
		}
		for _, m := range token.FindAllStringSubmatch(part, -1) {
			out[m[1]] = m[2]
		}
		return out
	}
	before, dark, _ := strings.Cut(css, "@media (prefers-color-scheme: dark)")
	dark, paper, _ := strings.Cut(dark, "@media print")
	paper, _, _ = strings.Cut(paper, "@media")
	light := read(before, nil)
	return map[string]map[string]string{"light": light, "dark": read(dark, light), "print": read(paper, light)}
}

// ratio is the contrast of two colours #rgb or #rrggbb, from 1 to 21 (WCAG 2.2, "contrast ratio").
func ratio(a, b string) float64 {
	x, y := luminance(a), luminance(b)
	return (max(x, y) + 0.05) / (min(x, y) + 0.05)
}

// luminance is the relative luminance of a colour, from 0 to 1 (WCAG 2.2, "relative luminance"); NaN for no colour.
func luminance(hex string) float64 {
	h := strings.TrimPrefix(hex, "#")
	if len(h) == 3 {
		h = string([]byte{h[0], h[0], h[1], h[1], h[2], h[2]})
	}
	n, err := strconv.ParseUint(h, 16, 32)
	if err != nil || len(h) != 6 {
		return math.NaN()
	}
	part := func(shift int) float64 {
		v := float64(n>>shift&255) / 255
		if v <= 0.04045 {
			return v / 12.92
		}
		return math.Pow((v+0.055)/1.055, 2.4)
	}
	return 0.2126*part(16) + 0.7152*part(8) + 0.0722*part(0)
}
