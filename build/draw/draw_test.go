package draw

import (
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

func TestGoldenDrawings(t *testing.T) {
	drawings := map[string]string{
		"trough": string(trough().Draw().SVG), "cube": string(cube().Draw().SVG), "tray": string(tray().Draw().SVG),
		"full": string(sketchTank().Draw().SVG), "crowd": string(crowd(30).Draw().SVG),
	}
	for _, taxon := range []string{"Heteranthera zosterifolia", "Cryptocoryne wendtii", "Anubias barteri", "Nymphaea lotus", "Bolbitis heudelotii",
		"Marsilea hirsuta", "Vesicularia dubyana", "Salvinia minima"} {
		p := plantOf(taxon, 0, 0, Front, 0)
		plate := Plate{ID: "p", Seed: taxon, Title: taxon, Habit: p.Habit, Leaf: p.Leaf, HeightCm: p.HeightCm}
		file := strings.ReplaceAll(strings.ToLower(taxon), " ", "-")
		drawings["plate-"+file] = string(plate.Draw().SVG)
		drawings["sprig-"+file] = string(plate.Sprig())
		drawings["plate-"+file+"-feel"] = string(plate.Feel("part", "firm").SVG("p", taxon))
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
			if n := len(d.SVG) - len(p.Title) - len(p.Desc) - 8; n > MaxPlate {
				t.Errorf("plate of %d bytes", n)
			}
			if n := len(p.Sprig()); n > MaxSprig {
				t.Errorf("sprig of %d bytes", n)
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

// The bar must measure the specimen: the plant is as tall as it says, by the bar.
func TestScaleBarIsTrue(t *testing.T) {
	for _, cm := range []float64{3, 8, 15, 40, 120} {
		p := Plate{ID: "p", Seed: "s", Habit: Rosette, Leaf: Leaf{Shape: Linear, LengthCm: cm, WidthCm: cm / 40, Manner: Ribbon}, HeightCm: cm}
		for _, inch := range []string{"", "<in>"} {
			p.Inch = inch
			d := p.Draw()
			bar := match(t, string(d.SVG), `class="d-scale" d="M[\d.]+ [\d.]+v5h([\d.]+)v`)
			k := p.tidy().fit(plateWidth-2*plateMargin, plateTall-2*plateMargin-plateFoot, 0, p.tidy().specimen)
			if tall := -k.box.Lo.Y / bar * d.ScaleCm; tall > cm*1.06 || tall < cm*0.84 {
				t.Errorf("a plant of %g cm measures %.2f cm by the bar of %s", cm, tall, d.Scale)
			}
			if bar > 180 {
				t.Errorf("a bar of %g units", bar)
			}
			if inch == "" {
				continue
			}
			words, inches, _ := strings.Cut(d.Scale, " ")
			n, err := strconv.ParseFloat(strings.Replace(words, "½", "0.5", 1), 64)
			if err != nil || math.Abs(n*2.54-d.ScaleCm) > 1e-9 || inches != "<in>" || !strings.Contains(string(d.SVG), ">"+words+" &lt;in&gt;</text>") {
				t.Errorf("a bar of %g cm is called %s", d.ScaleCm, d.Scale)
			}
		}
	}
}

func TestLeafOfKnowsEveryGenusOfTheAlmanac(t *testing.T) {
	for _, g := range growers {
		if genus := strings.ToLower(strings.Fields(g.taxon)[0]); leaves()[genus] == (Leaf{}) {
			t.Errorf("no leaf for %s", genus)
		}
	}
	for taxon, l := range leaves() {
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

func BenchmarkPlate(b *testing.B) {
	p := Plate{Seed: "s", Habit: Stem, Leaf: LeafOf(Stem, "Rotala rotundifolia"), HeightCm: 30}
	for b.Loop() {
		p.Draw()
	}
}

func BenchmarkSprig(b *testing.B) {
	p := Plate{Seed: "s", Habit: Stem, Leaf: LeafOf(Stem, "Rotala rotundifolia"), HeightCm: 30}
	for b.Loop() {
		p.Sprig()
	}
}

// Every row of leaves.csv is of words that the drawings know, and within what they can draw.
func TestLeavesAreKnown(t *testing.T) {
	if len(shapeNames) != int(Forked)+1 || len(mannerNames) != int(Ball)+1 {
		t.Error("a shape or manner has no name")
	}
	for taxon, l := range leaves() {
		if l.Shape < 0 || l.Tint < 0 || l.Manner < 0 || l != l.tidy() {
			t.Errorf("%s: %+v", taxon, l)
		}
	}
}
