package theme_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"slipleaf/build/theme"
	"slipleaf/themes"
)

// Words and colours of a look that do nothing, or cannot be read, are said at their place; what it makes use of itself is not.
func TestALooksSlipsAreSaid(t *testing.T) {
	for _, row := range []struct {
		name, file, text string
		want             []string
	}{
		{"a word that is there", "words/en.yaml", "nav:\n  plants: What I grow\n", nil},
		{"a slip in a word's key", "words/en.yaml", "nav:\n  plents: What I grow\n", []string{`words/en.yaml:2:3: nothing says "nav.plents", so this is never seen`}},
		{"a colour", "styles/99-mine.css", ":root { --leaf: #1a4020 }\n", nil},
		{"a slip in a colour", "styles/99-mine.css", ":root {\n  --leef: #1a4020 }\n", []string{"styles/99-mine.css:2:3: nothing is coloured by --leef"}},
		{"a colour of its own", "styles/99-mine.css", ":root { --mine: #fff } a { color: var(--mine) }\n", nil},
		{"pale text", "styles/99-mine.css", ":root { --soft: #999 }\n", []string{
			"styles/99-mine.css:1:9: text in --soft on --ground has a contrast of 2.5 in the light scheme; 4.5 is the least that can be read",
			"styles/99-mine.css:1:9: text in --soft on --paper has a contrast of 2.7 in the light scheme; 4.5 is the least that can be read"}},
		{"a dark ground under dark text", "styles/99-mine.css", "@media (prefers-color-scheme: light) { :root { --paper: #333 } }\n", []string{
			"styles/99-mine.css:1:48: text in --ink on --paper has a contrast of 1.3 in the light scheme; 4.5 is the least that can be read",
			"styles/99-mine.css:1:48: text in --soft on --paper has a contrast of 1.4 in the light scheme; 4.5 is the least that can be read",
			"styles/99-mine.css:1:48: text in --leaf on --paper has a contrast of 1.4 in the light scheme; 4.5 is the least that can be read",
			"styles/99-mine.css:1:48: text in --clay on --paper has a contrast of 1.4 in the light scheme; 4.5 is the least that can be read",
			"styles/99-mine.css:1:48: text in --slate on --paper has a contrast of 1.4 in the light scheme; 4.5 is the least that can be read"}},
		{"dim text in the dark", "styles/99-mine.css", "@media (prefers-color-scheme: dark) { :root { --ink: #444 } }\n", []string{
			"styles/99-mine.css:1:47: text in --ink on --ground has a contrast of 1.8 in the dark scheme; 4.5 is the least that can be read",
			"styles/99-mine.css:1:47: text in --ink on --paper has a contrast of 1.6 in the dark scheme; 4.5 is the least that can be read"}},
		{"a word that is no colour", "styles/99-mine.css", ":root { --clay: blurple; --ink: #12345; --slate: currentColor; --soft: rgb(0 0 0); --mine: serif }\n", []string{
			`styles/99-mine.css:1:9: --clay is a colour, and "blurple" is none that is known`, `styles/99-mine.css:1:26: --ink is a colour, and "#12345" is none that is known`}},
		{"a colour by its name", "styles/99-mine.css", ":root { --ink: Black; --clay: red }\n", []string{
			"styles/99-mine.css:1:23: text in --clay on --ground has a contrast of 3.5 in the light scheme; 4.5 is the least that can be read",
			"styles/99-mine.css:1:23: text in --clay on --paper has a contrast of 3.8 in the light scheme; 4.5 is the least that can be read"}},
		{"an alpha", "styles/99-mine.css", ":root { --ink: #000f; --leaf: #1a4020ff }\n", nil},
		{"paper of its own", "styles/99-mine.css", "@media print { :root { --ink: #eee } }\n", nil},
	} {
		var got []string
		for _, f := range theme.LookFaults(filesOf(map[string]string{row.file: row.text}), themes.Bench()) {
			got = append(got, fmt.Sprintf("%s:%d:%d: %s", f.File, f.Line, f.Column, f.Message))
		}
		if !slices.Equal(got, row.want) {
			t.Errorf("%s: got %q, want %q", row.name, got, row.want)
		}
	}
}

// The theme itself has neither.
func TestTheThemeHasNoSlips(t *testing.T) {
	if got := theme.LookFaults(themes.Bench(), themes.Bench()); len(got) > 0 {
		t.Errorf("%+v", got)
	}
}

// A look from elsewhere may be made to keep a publish busy: the work grows with its size and no faster, and what is said of it
// has an end.
func BenchmarkLookFaults(b *testing.B) {
	for _, n := range []int{1000, 10_000} {
		look := filesOf(map[string]string{"styles/99.css": strings.Repeat("@media (min-width: 1px) { :root { --leef: #999 } }\n", n)})
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			for b.Loop() {
				if got := len(theme.LookFaults(look, themes.Bench())); got != 100 {
					b.Fatal(got)
				}
			}
		})
	}
}

func TestFaultsOfALookHaveAnEnd(t *testing.T) {
	var css, yaml strings.Builder
	yaml.WriteString("nav:\n")
	for i := range 300 {
		fmt.Fprintf(&css, ":root { --leef%d: #999 }\n", i)
		fmt.Fprintf(&yaml, "  plents%d: x\n", i)
	}
	if got := theme.LookFaults(filesOf(map[string]string{"styles/99.css": css.String(), "words/en.yaml": yaml.String()}), themes.Bench()); len(got) != 200 {
		t.Errorf("%d faults are listed, want 100 of words and 100 of colours", len(got))
	}
}
