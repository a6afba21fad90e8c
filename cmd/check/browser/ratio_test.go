//go:build browser

package browser

import (
	"math"
	"testing"
)

// Ratios against white as published with the palette of Okabe and Ito and by the formula of WCAG 2.
func TestRatio(t *testing.T) {
	for _, c := range []struct {
		colour, on string
		want       float64
	}{
		{"#000000", "#ffffff", 21}, {"#000", "#fff", 21}, {"#0072B2", "#FFFFFF", 5.19}, {"#009E73", "#fff", 3.42}, {"#E69F00", "#121212", 8.32}, {"#777777", "#777", 1},
	} {
		if got := ratio(c.colour, c.on); math.Abs(got-c.want) > 0.005 {
			t.Errorf("%s on %s: %.3f, want %.2f", c.colour, c.on, got, c.want)
		}
	}
	if !math.IsNaN(ratio("red", "#fff")) {
		t.Error("a name is no figure")
	}
}

func TestSchemes(t *testing.T) {
	got := schemes(":root { --ink: #111; --paper: #eee } @media (prefers-color-scheme: dark) { :root { --ink: #ddd } } @media print { :root { --ink: #000; } } @media (forced-colors: active) { :root { --ink: CanvasText } }")
	for name, want := range map[string]string{"light": "#111", "dark": "#ddd", "print": "#000"} {
		if got[name]["ink"] != want || got[name]["paper"] != "#eee" {
			t.Errorf("%s: %v", name, got[name])
		}
	}
}
