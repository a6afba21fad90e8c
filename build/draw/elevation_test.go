package draw

import (
	"encoding/xml"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestElevationIsToScale(t *testing.T) {
	svg := string(trough().Draw().SVG)
	water := regexp.MustCompile(`class="d-water" x="0" y="([^"]+)" width="([^"]+)" height="([^"]+)"`).FindStringSubmatch(svg)
	if water == nil {
		t.Fatal("no water")
	}
	// 118 cm long; 29 cm high with 2.5 cm of rim and 4.8 cm of substrate leave 21.7 cm of water.
	if water[1] != "25" || water[2] != "1180" || water[3] != "217" {
		t.Errorf("water begins at %s, is %s long and %s deep, in mm; want 25, 1180, 217", water[1], water[2], water[3])
	}
	for name, pattern := range map[string]string{
		"a lamp of 110 cm in the middle, 5 cm over the rim": `class="d-lamp" d="M40 -50v`,
		"sand at the bottom":         `class="d-sand" x="0" y="272" width="1180" height="18"`,
		"soil on the sand":           `class="d-soil-rich" x="0" y="242" width="1180" height="30"`,
		"the surface":                `class="d-surface" d="M0 25h1180"`,
		"glass round 1180 by 290 mm": `class="d-glass" d="M-2 0V292H1182V0"`,
	} {
		if !regexp.MustCompile(pattern).MatchString(svg) {
			t.Errorf("no %s", name)
		}
	}
	us := trough()
	us.Inches = true
	if got := us.Draw().TickCm; math.Abs(got-4*2.54) > 1e-9 {
		t.Errorf("a tick of inches is %g cm", got)
	}
	if got := trough().Draw().TickCm; got != 10 {
		t.Errorf("a tick is %g cm, want 10", got)
	}
	ticks := regexp.MustCompile(`class="d-tick" d="([^"]+)"`).FindStringSubmatch(svg)[1]
	if along, upward := strings.Count(ticks, "v"), strings.Count(ticks, "h"); along != 12 || upward != 2 {
		t.Errorf("%d ticks along 118 cm and %d up 26.5 cm, want 12 and 2", along, upward)
	}
}

func TestNothingIsDrawnThatIsNotGiven(t *testing.T) {
	svg := string(Elevation{ID: "e", Title: "empty", LengthCm: 60, HeightCm: 30, OffBench: true}.Draw().SVG)
	for _, class := range []string{"d-lamp", "d-soil", "d-sand", "d-leaf", "d-axis", "d-root", "d-bench", "<use", "<pattern", "<desc"} {
		if strings.Contains(svg, class) {
			t.Errorf("an empty tank has %s", class)
		}
	}
	if svg := string(tray().Draw().SVG); strings.Contains(svg, "d-water") || strings.Contains(svg, "d-surface") {
		t.Error("a tray in air has water")
	}
}

func TestBackRowStandsBehindAndPale(t *testing.T) {
	e := Elevation{ID: "e", LengthCm: 60, HeightCm: 30, Plants: []Plant{
		plantOf("Staurogyne repens", 0, 30, Front, 2), plantOf("Rotala macrandra", 0, 30, Back, 2), plantOf("Cryptocoryne wendtii", 0, 30, Middle, 2),
	}}
	svg := string(e.Draw().SVG)
	back, middle, front := strings.Index(svg, `<g class="d-red d-pale">`), strings.Index(svg, `<g class="d-brown">`), strings.Index(svg, `<g class="d-green">`)
	if back < 0 || !(back < middle && middle < front) {
		t.Errorf("back, middle and front are drawn at %d, %d, %d", back, middle, front)
	}
}

func TestAbundance(t *testing.T) {
	for _, c := range []struct {
		name string
		p    Plant
		want int
	}{
		{"stems counted", Plant{Habit: Stem, Count: 24}, 24},
		{"more than can be told apart", Plant{Habit: Stem, Count: 400}, 48},
		{"41 leaves on rhizomes of nine", Plant{Habit: Rhizome, Leaves: 41}, 5},
		{"cover of a third", Plant{Habit: Carpet, Cover: 0.33, FromCm: 0, ToCm: 30, HeightCm: 5}, 4},
		{"nothing said", Plant{Habit: Rosette}, 1},
	} {
		t.Run(c.name, func(t *testing.T) {
			c.p.ID, c.p.Leaf = "x", LeafOf(c.p.Habit, "")
			c.p.ToCm = math.Max(c.p.ToCm, 20)
			svg := string(Elevation{ID: "e", LengthCm: 60, HeightCm: 30, Plants: []Plant{c.p}}.Draw().SVG)
			if got := strings.Count(svg, "<use"); got != c.want {
				t.Errorf("%d figures, want %d", got, c.want)
			}
		})
	}
}

func TestAfloat(t *testing.T) {
	riccia := plantOf("Riccia fluitans", 5, 25, Front, 3)
	riccia.Afloat = true
	e := Elevation{ID: "e", LengthCm: 30, HeightCm: 30, RimCm: 3, Plants: []Plant{riccia}}
	uses := regexp.MustCompile(`translate\([^ ]+ ([^)]+)\)scale\((?:[^ )]+ )?([^)]+)\)`).FindAllStringSubmatch(string(e.Draw().SVG), -1)
	if len(uses) != 3 {
		t.Fatalf("%d mats, want 3", len(uses))
	}
	for _, u := range uses {
		if u[1] != "30" || !strings.HasPrefix(u[2], "-") {
			t.Errorf("a mat at %s mm, scaled by %s; want it under the surface at 30", u[1], u[2])
		}
	}
}

func TestKeyIsLeftToRight(t *testing.T) {
	var got []string
	for _, k := range trough().Draw().Key {
		got = append(got, k.Name)
	}
	want := "Anubias barteri, Cryptocoryne wendtii, Heteranthera zosterifolia, Sagittaria subulata, Vallisneria nana"
	if s := strings.Join(got, ", "); s != want {
		t.Errorf("key: %s\nwant: %s", s, want)
	}
}

func TestSpread(t *testing.T) {
	in := []Plant{{ID: "a", Count: 16}, {ID: "b", Row: Back}, {ID: "c", FromCm: 5, ToCm: 9}, {ID: "d"}}
	out := Spread(100, in)
	if out[2] != in[2] {
		t.Error("a place that was given has moved")
	}
	if a, d := out[0], out[3]; !(a.FromCm < a.ToCm && a.ToCm < d.FromCm && d.ToCm <= 100) {
		t.Errorf("a and d overlap: %+v %+v", a, d)
	}
	if a, d := out[0], out[3]; a.ToCm-a.FromCm <= d.ToCm-d.FromCm {
		t.Error("the more abundant has no more ground")
	}
	if b := out[1]; b.ToCm-b.FromCm < 95 {
		t.Errorf("b has the back row to itself but stands on %+v", b)
	}
	if in[0].ToCm != 0 {
		t.Error("Spread changed its argument")
	}
}

// Whatever is in the tank, the drawing keeps to its weight and every figure's foot is inside the glass.
func TestElevationKeepsItsBounds(t *testing.T) {
	cm := rapid.OneOf(rapid.Float64Range(0, 150), rapid.SampledFrom([]float64{math.NaN(), math.Inf(1), math.Inf(-1), -3, 1e300}))
	plant := rapid.Custom(func(t *rapid.T) Plant {
		g := rapid.SampledFrom(growers).Draw(t, "grower")
		return Plant{
			ID: rapid.String().Draw(t, "id"), Name: g.taxon, Habit: rapid.SampledFrom([]Habit{g.habit, g.habit, Moss, "odd"}).Draw(t, "habit"),
			Leaf: LeafOf(g.habit, g.taxon), FromCm: cm.Draw(t, "from"), ToCm: cm.Draw(t, "to"), Row: Row(rapid.IntRange(-1, 3).Draw(t, "row")),
			HeightCm: cm.Draw(t, "height"), FootCm: cm.Draw(t, "foot"), Count: rapid.IntRange(-1, 500).Draw(t, "count"),
			Leaves: rapid.IntRange(-1, 500).Draw(t, "leaves"), Cover: cm.Draw(t, "cover") / 100,
		}
	})
	rapid.Check(t, func(rt *rapid.T) {
		e := Elevation{ID: rapid.StringN(0, 80, -1).Draw(rt, "id"), LengthCm: cm.Draw(rt, "length"), HeightCm: cm.Draw(rt, "height"), RimCm: cm.Draw(rt, "rim"),
			Emersed: rapid.Bool().Draw(rt, "emersed"), Plants: rapid.SliceOfN(plant, 0, 34).Draw(rt, "plants")}
		for range rapid.IntRange(0, 20).Draw(rt, "layers") {
			e.Layers = append(e.Layers, Layer{Nutrients(rapid.IntRange(-1, 4).Draw(rt, "kind")), cm.Draw(rt, "depth")})
			e.Lamps = append(e.Lamps, Lamp{cm.Draw(rt, "lamp"), cm.Draw(rt, "above"), cm.Draw(rt, "left"), rapid.Bool().Draw(rt, "centred")})
		}
		svg := string(e.Draw().SVG)
		wellFormed(t, svg)
		finite(t, svg)
		if len(svg) > MaxBytes {
			rt.Fatalf("%d bytes", len(svg))
		}
		long := within(e.LengthCm, 5, 400) * 10
		for _, m := range regexp.MustCompile(`<use href="[^"]+" transform="translate\(([-\d.]+) `).FindAllStringSubmatch(svg, -1) {
			if x, err := strconv.ParseFloat(m[1], 64); err != nil || x < -0.1 || x > long+0.1 {
				rt.Fatalf("a figure at %s in a tank of %g mm", m[1], long)
			}
		}
	})
}

// A caller's words come out of the XML as they went in, less what XML cannot hold, and never as markup.
func FuzzWords(f *testing.F) {
	f.Add("trough", "Ricefish & <shrimp> \"quoted\"", "a\x00b\xff\uFFFE]]>")
	f.Add("1 2", "", "<script>alert(1)</script>")
	f.Fuzz(func(t *testing.T, id, title, desc string) {
		svg := string(Elevation{ID: id, Title: title, Desc: desc, LengthCm: 20, HeightCm: 20, RimCm: 2}.Draw().SVG)
		wellFormed(t, svg)
		var got struct {
			Title string `xml:"title"`
			Desc  string `xml:"desc"`
		}
		if err := xml.Unmarshal([]byte(svg), &got); err != nil {
			t.Fatal(err)
		}
		if want := kept(title); got.Title != want {
			t.Errorf("title %q became %q", want, got.Title)
		}
		if want := kept(desc); got.Desc != want {
			t.Errorf("description %q became %q", want, got.Desc)
		}
	})
}

// kept is s as a reader of XML gets it: broken UTF-8 replaced, unfit characters gone, and then line ends as \n.
func kept(s string) string {
	s = strings.Map(func(r rune) rune {
		if r < ' ' && r != '\t' && r != '\n' && r != '\r' || r == 0xFFFE || r == 0xFFFF {
			return -1
		}
		return r
	}, strings.ToValidUTF8(s, "\uFFFD"))
	return strings.NewReplacer("\r\n", "\n", "\r", "\n").Replace(s)
}

func TestTitleAndDescriptionArriveUnchanged(t *testing.T) {
	e := Elevation{ID: "e", Title: `Shrimp & "moss" <5 cm`, Desc: "Two\nlines"}
	svg := string(e.Draw().SVG)
	if !strings.Contains(svg, `<title id="e-t">Shrimp &amp; &#34;moss&#34; &lt;5 cm</title><desc id="e-d">Two`) {
		t.Errorf("title or description is wrong in %s", svg[:300])
	}
	if !strings.Contains(svg, `role="img" aria-labelledby="e-t" aria-describedby="e-d"`) {
		t.Error("the picture does not point to its title and description")
	}
}

func BenchmarkElevation(b *testing.B) {
	e := crowd(30)
	for b.Loop() {
		e.Draw()
	}
}

func BenchmarkPlate(b *testing.B) {
	p := Plate{Seed: "s", Habit: Stem, Leaf: LeafOf(Stem, "Rotala rotundifolia"), HeightCm: 30}
	for b.Loop() {
		p.Draw()
	}
}
