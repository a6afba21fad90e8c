package draw

import (
	"encoding/xml"
	"errors"
	"io"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"flag"

	"pgregory.net/rapid"
)

var update = flag.Bool("update", false, "rewrite the golden files")

// wellFormed fails unless svg is one XML element with unique ids, and with neither style attributes nor script.
func wellFormed(t testing.TB, svg string) {
	t.Helper()
	d := xml.NewDecoder(strings.NewReader(svg))
	ids := map[string]bool{}
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			t.Fatalf("not well-formed: %v", err)
		}
		start, ok := token.(xml.StartElement)
		if !ok {
			continue
		}
		if start.Name.Local == "script" || start.Name.Local == "style" {
			t.Errorf("element <%s>", start.Name.Local)
		}
		for _, a := range start.Attr {
			if a.Name.Local == "style" || strings.HasPrefix(a.Name.Local, "on") {
				t.Errorf("attribute %s on <%s>", a.Name.Local, start.Name.Local)
			}
			if a.Name.Local == "id" {
				if ids[a.Value] {
					t.Errorf("id %q twice", a.Value)
				}
				ids[a.Value] = true
			}
		}
	}
	for _, m := range regexp.MustCompile(`(?:href="#|url\(#|(?:labelled|described)by=")([^")]+)`).FindAllStringSubmatch(svg, -1) {
		if !ids[m[1]] {
			t.Errorf("nothing has the id %q", m[1])
		}
	}
}

// finite fails if a number in the drawing is none.
func finite(t testing.TB, svg string) {
	t.Helper()
	if m := regexp.MustCompile(`NaN|Inf|e\+|\d{7}`).FindString(regexp.MustCompile(`<(title|desc)[^>]*>[^<]*<`).ReplaceAllString(svg, "")); m != "" {
		t.Errorf("the drawing has %q in it", m)
	}
}

func TestGoldenDrawings(t *testing.T) {
	drawings := map[string]string{
		"trough": string(trough().Draw().SVG), "cube": string(cube().Draw().SVG), "tray": string(tray().Draw().SVG),
		"crowd": string(crowd(30).Draw().SVG), "tally": string(Tally{7, 2, 5}.Draw().SVG),
	}
	for _, taxon := range []string{"Heteranthera zosterifolia", "Cryptocoryne wendtii", "Anubias barteri", "Nymphaea lotus", "Bolbitis heudelotii",
		"Marsilea hirsuta", "Vesicularia dubyana", "Salvinia minima"} {
		p := plantOf(taxon, 0, 0, Front, 0)
		plate := Plate{ID: "p", Seed: taxon, Title: taxon, Habit: p.Habit, Leaf: p.Leaf, HeightCm: p.HeightCm}
		file := strings.ReplaceAll(strings.ToLower(taxon), " ", "-")
		drawings["plate-"+file] = string(plate.Draw().SVG)
		drawings["sprig-"+file] = string(plate.Sprig())
	}
	for name, got := range drawings {
		path := filepath.Join("testdata", "golden", name+".svg")
		if *update {
			if err := os.WriteFile(path, []byte(got), 0o666); err != nil {
				t.Fatal(err)
			}
		}
		want, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if got != string(want) {
			t.Errorf("%s differs from %s; look at both, then run with -update", name, path)
		}
	}
}

func TestPlateOfEveryPlantInTheAlmanac(t *testing.T) {
	for _, g := range growers {
		t.Run(g.taxon, func(t *testing.T) {
			p := Plate{ID: "p", Seed: g.taxon, Title: g.taxon, Desc: "drawn", Habit: g.habit, Leaf: LeafOf(g.habit, g.taxon), HeightCm: g.height}
			d := p.Draw()
			for _, svg := range []string{string(d.SVG), string(p.Sprig()), string(p.Blade())} {
				wellFormed(t, svg)
				finite(t, svg)
			}
			if n := len(d.SVG) - len(p.Title) - len(p.Desc) - 8; n > MaxBytes {
				t.Errorf("plate of %d bytes", n)
			}
			if n := len(p.Sprig()); n > MaxSprig {
				t.Errorf("sprig of %d bytes", n)
			}
			if n := strings.Count(string(d.SVG), `class="d-strap"`); n < 1 || n > 3 {
				t.Errorf("%d straps", n)
			}
			if p.Draw().SVG != d.SVG {
				t.Error("drawn twice, it differs")
			}
			p.Seed += " of another grower"
			if p.Draw().SVG == d.SVG {
				t.Error("another seed draws the same")
			}
		})
	}
}

// The bar must measure the specimen: a bare stem's axis, foot to tip, is as long as its height.
func TestScaleBarIsTrue(t *testing.T) {
	for _, cm := range []float64{3, 8, 15, 40, 120} {
		leaf := Leaf{Shape: Lanceolate, LengthCm: cm / 4, WidthCm: cm / 20, PerNode: 2}
		d := Plate{ID: "p", Seed: "s", Habit: Stem, Leaf: leaf, HeightCm: cm, Unrooted: true, Single: true}.Draw()
		bar := match(t, string(d.SVG), `class="d-scale" d="M[\d.]+ [\d.]+v5h([\d.]+)v`)
		f, _ := Plate{Seed: "s", Habit: Stem, Leaf: leaf, HeightCm: cm, Unrooted: true, Single: true}.fit(layout{368, 518, 14}, plateLevels[0])
		axis := f.anchors[1].at.y - f.anchors[0].at.y
		if axis >= 0 {
			t.Fatal("the stem grows downwards")
		}
		tall := length(t, string(d.SVG), "d-axis")
		if got := tall / bar * d.ScaleCm / 0.985; math.Abs(got-cm) > cm*0.04 {
			t.Errorf("a stem of %g cm measures %.2f cm by the bar of %g cm", cm, got, d.ScaleCm)
		}
		us := Plate{ID: "p", Seed: "s", Habit: Stem, Leaf: leaf, HeightCm: cm, Unrooted: true, Single: true, Inch: "<in>"}.Draw()
		bar = match(t, string(us.SVG), `class="d-scale" d="M[\d.]+ [\d.]+v5h([\d.]+)v`)
		if got := tall / bar * us.ScaleCm / 0.985; math.Abs(got-cm) > cm*0.04 || bar > 180 {
			t.Errorf("a stem of %g cm measures %.2f cm by the bar of %s, %g units long", cm, got, us.Scale, bar)
		}
		words, inches, _ := strings.Cut(us.Scale, " ")
		n, err := strconv.ParseFloat(strings.Replace(words, "½", "0.5", 1), 64)
		if err != nil || math.Abs(n*2.54-us.ScaleCm) > 1e-9 || inches != "<in>" || !strings.Contains(string(us.SVG), ">"+words+" &lt;in&gt;</text>") {
			t.Errorf("a bar of %g cm is called %s", us.ScaleCm, us.Scale)
		}
	}
}

// length adds up the chords of the first path of a class.
func length(t *testing.T, svg, class string) float64 {
	t.Helper()
	d := regexp.MustCompile(`class="` + class + `" d="M([^"]*)"`).FindStringSubmatch(svg)
	if d == nil {
		t.Fatalf("no path of class %s", class)
	}
	total := 0.0
	for _, piece := range strings.Split(d[1], "c")[1:] {
		n := numbers(t, piece)
		total += math.Hypot(n[4], n[5])
	}
	return total
}

func TestLeafOfKnowsEveryGenusOfTheAlmanac(t *testing.T) {
	for _, g := range growers {
		if genus := strings.ToLower(strings.Fields(g.taxon)[0]); leaves[genus] == (Leaf{}) {
			t.Errorf("no leaf for %s", genus)
		}
	}
	for taxon, l := range leaves {
		if l != l.tidy() {
			t.Errorf("%s: %+v is outside the ranges", taxon, l)
		}
		if l.WidthCm > l.LengthCm*1.25 {
			t.Errorf("%s: wider than long", taxon)
		}
	}
}

func TestLeafOf(t *testing.T) {
	for _, c := range []struct {
		name  string
		habit Habit
		taxon string
		want  Shape
	}{
		{"species before genus", Stem, "Rotala wallichii", Needle},
		{"genus for an unknown species", Stem, "Rotala sp. green", Elliptic},
		{"an id", Stem, "heteranthera-zosterifolia", Linear},
		{"a hybrid", Rosette, "Cryptocoryne x willisii", Lanceolate},
		{"a hybrid with the sign", Rosette, "Cryptocoryne × willisii", Lanceolate},
		{"unknown genus by habit", Fern, "Nonesuchia mirabilis", Lanceolate},
		{"no name", Floating, "", Round},
		{"no habit either", "", "", Lanceolate},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := LeafOf(c.habit, c.taxon).Shape; got != c.want {
				t.Errorf("shape %d, want %d", got, c.want)
			}
		})
	}
	if LeafOf(Rosette, "Cryptocoryne x willisii") != LeafOf(Rosette, "Cryptocoryne willisii") {
		t.Error("the hybrid sign changes the leaf")
	}
}

// The first numbers of splitmix64 for the seed 1234567, as commonly published for the algorithm.
func TestDiceAreSplitmix64(t *testing.T) {
	d := &dice{1234567}
	for i, want := range []uint64{6457827717110365317, 3203168211198807973, 9817491932198370423} {
		if got := d.next(); got != want {
			t.Errorf("throw %d is %d, want %d", i, got, want)
		}
	}
}

func TestDiceSeedPartsDoNotRunTogether(t *testing.T) {
	if seeded("ab", "c").next() == seeded("a", "bc").next() {
		t.Error(`"ab","c" and "a","bc" throw the same`)
	}
}

// Relative steps must not add up rounding: wherever the pen went, the sum of its steps is the rounded end.
func TestPenDoesNotDrift(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := pen{scale: rapid.Float64Range(0.1, 9).Draw(t, "scale")}
		p.move(pt{})
		var last pt
		for range rapid.IntRange(1, 60).Draw(t, "steps") {
			last = pt{rapid.Float64Range(-500, 500).Draw(t, "x"), rapid.Float64Range(-500, 500).Draw(t, "y")}
			p.line(last)
		}
		x, y := 0.0, 0.0
		for _, step := range strings.Split(string(p.buf), "l")[1:] {
			n := numbers(t, step)
			x, y = x+n[0], y+n[1]
		}
		if math.Abs(x-last.x*p.scale) > 0.051 || math.Abs(y-last.y*p.scale) > 0.051 {
			t.Fatalf("the pen ends at %g %g instead of %v × %g", x, y, last, p.scale)
		}
	})
}

func TestNumbersAreShort(t *testing.T) {
	for v, want := range map[float64]string{0: "0", 0.5: ".5", -0.25: "-.2", 12: "12", -3.14: "-3.1", 100.06: "100.1", -0.01: "0"} {
		if got := num(v); got != want {
			t.Errorf("num(%g) = %q, want %q", v, got, want)
		}
	}
}
