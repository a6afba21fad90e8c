package draw

import (
	"encoding/xml"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"slipleaf/build/curve"
	"slipleaf/build/dice"
	"slipleaf/build/livestock"
)

// 118 cm long, 29 cm high with 2.5 cm of rim and 4.8 cm of substrate leave 21.7 cm of water. The trough fills 872 of the
// drawing's 920 units, so that a centimetre is 7.39 of them.
func TestElevationIsToScale(t *testing.T) {
	svg := string(trough().Draw().SVG)
	const cm = 872.0 / 118
	for what, c := range map[string]struct {
		pattern string
		want    []float64
	}{
		"water": {`class="d-water" fill="[^"]+" x="([^"]+)" y="([^"]+)" width="([^"]+)" height="([^"]+)"`, []float64{0, 2.5 * cm, 118 * cm, 21.7 * cm}},
		"sand":  {`class="d-sand" x="([^"]+)" y="([^"]+)" width="([^"]+)" height="([^"]+)"`, []float64{0, 27.2 * cm, 118 * cm, 1.8 * cm}},
		"soil":  {`class="d-soil-rich" x="([^"]+)" y="([^"]+)" width="([^"]+)" height="([^"]+)"`, []float64{0, 24.2 * cm, 118 * cm, 3 * cm}},
		"lamp":  {`class="d-lamp" x="([^"]+)" y="([^"]+)" width="([^"]+)"`, []float64{4 * cm, -5*cm - lampThick, 110 * cm}},
	} {
		m := regexp.MustCompile(c.pattern).FindStringSubmatch(svg)
		if m == nil {
			t.Errorf("no %s", what)
			continue
		}
		for i, want := range c.want {
			if got := numbers(t, m[i+1])[0]; math.Abs(got-want) > 0.06 {
				t.Errorf("%s: figure %d is %g, want %.2f", what, i, got, want)
			}
		}
	}
	us := trough()
	us.Inches = true
	if got := us.Draw().TickCm; math.Abs(got-4*2.54) > 1e-9 {
		t.Errorf("a tick of inches is %g cm", got)
	}
	if got := trough().Draw().TickCm; math.Abs(got-10) > 1e-9 {
		t.Errorf("a tick is %g cm, want 10", got)
	}
}

// All tanks of a page are drawn at one scale: the same centimetres are as many units, in drawings as wide as each other.
func TestTanksOfAPageHaveOneScale(t *testing.T) {
	small, large := cube(), trough()
	small.PageCm, large.PageCm = 118, 118
	var units, widths []float64
	for _, e := range []Elevation{small, large} {
		svg := string(e.Draw().SVG)
		units = append(units, match(t, svg, `class="d-water" fill="[^"]+" x="0" y="[^"]+" width="([^"]+)"`)/e.LengthCm)
		widths = append(widths, match(t, svg, `viewBox="[-\d. ]+" width="([^"]+)"`))
	}
	if math.Abs(units[0]-units[1]) > 0.01 || widths[0] != widths[1] {
		t.Errorf("a centimetre is %v units in drawings %v wide", units, widths)
	}
}

func TestNothingIsDrawnThatIsNotGiven(t *testing.T) {
	svg := string(Elevation{ID: "e", Title: "empty", LengthCm: 60, HeightCm: 30}.Draw().SVG)
	for _, class := range []string{"d-lamp", "d-leg", "d-soil", "d-sand", "d-a", "d-fish", "d-shrimp", "d-root", "<use", "d-name", "<desc", "data-"} {
		if strings.Contains(svg, class) {
			t.Errorf("an empty tank has %s", class)
		}
	}
	if svg := string(tray().Draw().SVG); strings.Contains(svg, "d-water") || strings.Contains(svg, "d-surface") {
		t.Error("a tray in air has water")
	}
}

func TestRowsAreThreeTonesBackFirst(t *testing.T) {
	e := Elevation{ID: "e", LengthCm: 60, HeightCm: 30, Plants: []Plant{
		plantOf("Staurogyne repens", 0, 30, Front, 2), plantOf("Rotala macrandra", 0, 30, Back, 2), plantOf("Cryptocoryne wendtii", 0, 30, Middle, 2),
	}}
	svg := string(e.Draw().SVG)
	back, middle, front := strings.Index(svg, `<g class="d-back">`), strings.Index(svg, `<g class="d-mid">`), strings.Index(svg, `<g class="d-near">`)
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
	svg := string(e.Draw().SVG)
	uses := regexp.MustCompile(`translate\([^ ]+ ([^)]+)\)scale\((?:[^ )]+ )?([^)]+)\)`).FindAllStringSubmatch(svg, -1)
	if len(uses) != 3 {
		t.Fatalf("%d mats, want 3", len(uses))
	}
	surface := match(t, svg, `class="d-surface" d="M1 ([\d.]+)H`)
	for _, u := range uses {
		if y := numbers(t, u[1])[0]; math.Abs(y-surface) > 1 || !strings.HasPrefix(u[2], "-") {
			t.Errorf("a mat at %s, scaled by %s; want it hanging from the surface at %g", u[1], u[2], surface)
		}
	}
}

func TestKeyIsLeftToRight(t *testing.T) {
	e := trough()
	var got []string
	for _, k := range e.Draw().Key {
		got = append(got, k.Name)
	}
	want := "Anubias barteri, Cryptocoryne wendtii, Heteranthera zosterifolia, Sagittaria subulata, Vallisneria nana"
	if s := strings.Join(got, ", "); s != want {
		t.Errorf("key: %s\nwant: %s", s, want)
	}
	for i, k := range e.LeftToRight() {
		if k.Name != got[i] {
			t.Errorf("before it is drawn, %d is %s", i, k.Name)
		}
	}
}

func TestSpread(t *testing.T) {
	in := []Plant{{ID: "a", Count: 16}, {ID: "b", Row: Back}, {ID: "c", FromCm: 5, ToCm: 9}, {ID: "d"}}
	out := Spread(100, in)
	if c := out[2]; c.FromCm != 5 || c.ToCm != 9 {
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

// Whatever is in the tank, the drawing keeps to its weight and no figure is cut by the glass or is out of the water.
func TestElevationKeepsItsBounds(t *testing.T) {
	cm := rapid.OneOf(rapid.Float64Range(0, 150), rapid.SampledFrom([]float64{math.NaN(), math.Inf(1), math.Inf(-1), -3, 1e300}))
	plant := rapid.Custom(func(t *rapid.T) Plant {
		g := rapid.SampledFrom(growers).Draw(t, "grower")
		p := Plant{
			ID: rapid.String().Draw(t, "id"), Name: g.taxon, Habit: rapid.SampledFrom([]Habit{g.habit, g.habit, Moss, "odd"}).Draw(t, "habit"),
			Leaf: LeafOf(g.habit, g.taxon), FromCm: cm.Draw(t, "from"), ToCm: cm.Draw(t, "to"), Row: Row(rapid.IntRange(-1, 3).Draw(t, "row")),
			HeightCm: cm.Draw(t, "height"), FootCm: cm.Draw(t, "foot"), Count: rapid.IntRange(-1, 500).Draw(t, "count"),
			Leaves: rapid.IntRange(-1, 500).Draw(t, "leaves"), Cover: cm.Draw(t, "cover") / 100, Afloat: rapid.Bool().Draw(t, "afloat"),
		}
		for range rapid.IntRange(0, 5).Draw(t, "past") {
			p.Past = append(p.Past, Stage{Count: rapid.IntRange(-1, 90).Draw(t, "then"), HeightCm: cm.Draw(t, "tall"), Absent: rapid.Bool().Draw(t, "absent")})
		}
		return p
	})
	rapid.Check(t, func(rt *rapid.T) {
		e := Elevation{ID: rapid.StringN(0, 80, -1).Draw(rt, "id"), LengthCm: cm.Draw(rt, "length"), HeightCm: cm.Draw(rt, "height"), RimCm: cm.Draw(rt, "rim"),
			PageCm: cm.Draw(rt, "page"), Emersed: rapid.Bool().Draw(rt, "emersed"), Plants: rapid.SliceOfN(plant, 0, 34).Draw(rt, "plants")}
		for range rapid.IntRange(0, 20).Draw(rt, "layers") {
			e.Layers = append(e.Layers, Layer{Nutrients(rapid.IntRange(-1, 4).Draw(rt, "kind")), cm.Draw(rt, "depth")})
			e.Lamps = append(e.Lamps, Lamp{cm.Draw(rt, "lamp"), cm.Draw(rt, "above"), cm.Draw(rt, "left"), rapid.Bool().Draw(rt, "centred"), rapid.Bool().Draw(rt, "legs")})
			e.Animals = append(e.Animals, livestock.Animal{Kind: livestock.Kind(rapid.IntRange(-1, 6).Draw(rt, "animal")), Count: rapid.IntRange(-2, 90).Draw(rt, "many"), LengthCm: cm.Draw(rt, "size")})
		}
		for i := range rapid.IntRange(0, 50).Draw(rt, "moments") {
			e.Moments = append(e.Moments, fmt.Sprint("moment ", i))
		}
		d := e.Draw()
		all, words := string(d.SVG), 0
		for _, s := range d.Stills {
			all += string(s)
			if len(s) > MaxStill+100 {
				rt.Fatalf("a still of %d bytes", len(s))
			}
		}
		for _, p := range e.Plants {
			words += len(plain(p.Name))
		}
		wellFormed(t, "<div>"+all+"</div>")
		finite(t, all)
		if n := len(d.SVG) - words; n > MaxTank {
			rt.Fatalf("%d bytes", n)
		}
		if n := elements(string(d.SVG)); n > mostElements {
			rt.Fatalf("%d elements", n)
		}
		insideTheGlass(rt, e)
	})
}

// Fewer paths show the same: what lies on something is painted after it, and outlines in one path do not cross where a drawing
// has all its detail.
func TestLayersKeepTheOrderOfPainting(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := newSketch(dice.Seeded("order"), 8, rapid.IntRange(0, 3).Draw(t, "fine"), Green)
		at := rapid.Float64Range(0, 60)
		for i := range rapid.IntRange(0, 40).Draw(t, "marks") {
			x, y := at.Draw(t, "x")+float64(i)/1024, at.Draw(t, "y") // no two in one place
			k.hue = rapid.SampledFrom([]Tint{Green, Root}).Draw(t, "hue")
			if rapid.Bool().Draw(t, "leaf") {
				k.leaf(k.blade([]curve.Pt{{X: x, Y: y}, {X: x + 5, Y: y + 4}, {X: x + 9, Y: y + 5}}, 3, func(u float64) float64 { return u * (1 - u) }),
					rapid.IntRange(shade, young).Draw(t, "tone"), pt(x, y), 1)
			} else {
				k.stroke([]curve.Pt{{X: x, Y: y}, {X: x + 6, Y: y - 5}}, rapid.SampledFrom([]string{stemLine, veinLine}).Draw(t, "class"), rapid.SampledFrom([]float64{0, 2}).Draw(t, "width"))
			}
		}
		drawn := slices.Clone(k.marks)
		place := make([]int, len(drawn)) // the layer of each mark
		layers := k.layers()
		for i, m := range drawn {
			place[i] = slices.IndexFunc(layers, func(l layer) bool {
				return l.hue == m.hue && l.class == k.class(m) && l.width == m.width && slices.Contains(l.boxes, m.box())
			})
			if place[i] < 0 {
				t.Fatalf("mark %d is in no layer", i)
			}
		}
		for j, over := range drawn {
			for i, under := range drawn[:j] {
				switch meet := over.box().Meets(under.box()); {
				case meet && place[i] > place[j]:
					t.Fatalf("mark %d lies on mark %d and is painted before it", j, i)
				case meet && place[i] == place[j] && over.leaf && k.fine < 2:
					t.Fatalf("leaves %d and %d cross in one path", i, j)
				}
			}
		}
	})
}

// However many kinds there are, each of them is drawn, as high and as wide as with all its detail and in the same colours,
// and the drawing keeps to the weight that it was given.
func TestEveryKindStaysDrawn(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		kinds := rapid.Permutation(growers).Draw(rt, "kinds")[:rapid.IntRange(1, maxPlants).Draw(rt, "n")]
		e := Elevation{ID: rapid.StringMatching("[a-z]{1,48}").Draw(rt, "id"), LengthCm: 120, HeightCm: 50, RimCm: 3, Layers: []Layer{{Rich, 6}}, Lamps: []Lamp{{LengthCm: 90, AboveRimCm: 9, Centred: true, Legs: true}},
			Animals: []livestock.Animal{{Kind: livestock.Shoal, Count: 20, LengthCm: 3}}, MostBytes: rapid.IntRange(LeastTank, MaxTank).Draw(rt, "most")}
		if rapid.Bool().Draw(rt, "months") {
			e.MostBytes = MaxTank
			for i := range rapid.IntRange(1, maxMoments).Draw(rt, "moments") {
				e.Moments = append(e.Moments, fmt.Sprint("month ", i))
			}
		}
		for _, g := range kinds {
			p := plantOf(g.taxon, 0, 0, Row(rapid.IntRange(0, 2).Draw(rt, "row")), rapid.IntRange(0, 60).Draw(rt, "count"))
			p.Name = ""
			for i := range e.Moments {
				p.Past = append(p.Past, Stage{Count: rapid.IntRange(0, 60).Draw(rt, "then"), HeightCm: p.HeightCm * (0.3 + float64(i%5)/7)})
			}
			e.Plants = append(e.Plants, p)
		}
		d := e.Draw()
		if len(d.SVG) > e.MostBytes+len(e.Title) {
			rt.Fatalf("%d bytes of %d", len(d.SVG), e.MostBytes)
		}
		for i, g := range kinds {
			if !strings.Contains(string(d.SVG), `<use href="#`+e.ID+strconv.Itoa(i)+`a"`) {
				rt.Fatalf("%s is not drawn", g.taxon)
			}
		}
	})
}

// With the least detail a plant keeps its height, its width, its colours and leaves enough to know it by.
func TestTheLeastDetailKeepsThePlant(t *testing.T) {
	s := Elevation{LengthCm: 120, HeightCm: 50, RimCm: 3, Layers: []Layer{{Rich, 6}}}.scene()
	for _, g := range growers {
		drawn := func(level int) (*sketch, planting) {
			p := planting{Plant: plantOf(g.taxon, 40, 60, Middle, 1).tidy(s), want: 1, level: level}
			k := p.figure(s, "seed", 0)
			return k, p
		}
		full, _ := drawn(0)
		least, p := drawn(mostLevel)
		p.define(s, "seed")
		if p.bytes > 2600 {
			t.Errorf("%s weighs %d bytes at least", g.taxon, p.bytes)
		}
		if r := least.box.Wide() / full.box.Wide(); r < 0.55 || r > 1.5 {
			t.Errorf("%s is %.2f as wide", g.taxon, r)
		}
		if r := least.box.Lo.Y / full.box.Lo.Y; r < 0.5 || r > 1.4 {
			t.Errorf("%s is %.2f as high", g.taxon, r)
		}
		hues := func(k *sketch) map[Tint]bool {
			out := map[Tint]bool{}
			for _, m := range k.marks {
				if m.hue != Root {
					out[m.hue] = true
				}
			}
			return out
		}
		if a, b := hues(full), hues(least); fmt.Sprint(a) != fmt.Sprint(b) {
			t.Errorf("%s has the colours %v, with all detail %v", g.taxon, b, a)
		}
		parts := 0
		for _, m := range least.marks {
			if m.leaf || m.class != rootLine {
				parts++
			}
		}
		if parts < 3 {
			t.Errorf("%s has %d parts", g.taxon, parts)
		}
	}
}

// insideTheGlass looks at what every figure covers, as it is placed.
func insideTheGlass(t fataler, e Elevation) {
	s := e.scene()
	for _, p := range s.plantings(e.Seed, MaxTank, mostUses, nil) {
		for _, o := range p.spots(s, e.Seed) {
			if lo, hi := o.edges(); lo < -0.01 || hi > s.long+0.01 {
				t.Fatalf("%s reaches from %g to %g in a tank of %g", p.ID, lo, hi, s.long)
			}
		}
	}
}

// With fewer figures than the most of all moments, those that are left lie as evenly: the slider only hides the last ones.
func TestTheFirstFiguresLieEvenly(t *testing.T) {
	s := sketchTank().scene()
	for _, p := range s.plantings("full", MaxTank, mostUses, nil) {
		all := p.spots(s, "full")
		for _, n := range []int{2, 3, 5, 8} {
			if n > len(all) || p.ID == "Vallisneria spiralis" {
				continue
			}
			lo, hi := math.Inf(1), math.Inf(-1)
			for _, o := range all[:n] {
				lo, hi = math.Min(lo, o.X), math.Max(hi, o.X)
			}
			if got, ground := hi-lo, (p.ToCm-p.FromCm)*s.s; got < ground*0.25 {
				t.Errorf("%d of %s stand on %.0f of %.0f units", n, p.ID, got, ground)
			}
		}
	}
}

func TestStillsShowBeginTwoBetweenAndNow(t *testing.T) {
	for n, want := range map[int][]int{0: nil, 1: nil, 2: {0, 1}, 3: {0, 1, 2}, 4: {0, 1, 2, 3}, 12: {0, 3, 7, 11}, 60: {0, 11, 23, 35}} {
		if got := shown(min(n, maxMoments)); fmt.Sprint(got) != fmt.Sprint(want) {
			t.Errorf("of %d moments %v are shown, want %v", n, got, want)
		}
	}
	d := sketchTank().Draw()
	if len(d.Stills) != 4 || !strings.Contains(string(d.Stills[0]), ">March</title>") || !strings.Contains(string(d.Stills[3]), ">July</title>") {
		t.Fatalf("%d stills", len(d.Stills))
	}
	first, last := strings.Count(string(d.Stills[0]), "<use"), strings.Count(string(d.Stills[3]), "<use")
	if first >= last {
		t.Errorf("%d figures in March, %d in July", first, last)
	}
	if !strings.Contains(string(d.SVG), `data-n="`) {
		t.Error("nothing for the slider")
	}
}

// A caller's words come out of the XML as they went in, less what XML cannot hold, and never as markup.
func FuzzWords(f *testing.F) {
	f.Add("trough", "Ricefish & <shrimp> \"quoted\"", "a\x00b\xff\uFFFE]]>")
	f.Add("1 2", "", "<script>alert(1)</script>")
	f.Fuzz(func(t *testing.T, id, title, desc string) {
		e := Elevation{ID: id, Title: title, Desc: desc, LengthCm: 20, HeightCm: 20, RimCm: 2, Plants: []Plant{{ID: id, Name: title, Habit: Stem, Leaf: LeafOf(Stem, "")}}} // moss takes 300 times as long
		svg := string(e.Draw().SVG)
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

// Every drawing states its size, and the same size as its viewBox.
func TestDrawingsStateTheirSize(t *testing.T) {
	all := tankGallery() + plateGallery() + shelfGallery() + careGallery()
	boxes := regexp.MustCompile(`viewBox="([-\d.]+) ([-\d.]+) ([\d.]+) ([\d.]+)"([^>]*)>`).FindAllStringSubmatch(all, -1)
	if len(boxes) < 100 {
		t.Fatalf("%d drawings", len(boxes))
	}
	for _, m := range boxes {
		if !strings.Contains(m[5], ` width="`+m[3]+`" height="`+m[4]+`"`) {
			t.Fatalf("a drawing of %s by %s says %s", m[3], m[4], m[5])
		}
		if w, err := strconv.ParseFloat(m[3], 64); err != nil || w <= 0 {
			t.Errorf("%s wide", m[3])
		}
	}
}

func BenchmarkElevation(b *testing.B) {
	e := crowd(30)
	for b.Loop() {
		e.Draw()
	}
}

func BenchmarkTrough(b *testing.B) {
	e := sketchTank()
	for b.Loop() {
		e.Draw()
	}
}

// A tank full of mats that changed every month, each of which keeps its figures as long as it can, is no heavier than others.
func TestATankOfMatsKeepsItsBounds(t *testing.T) {
	e := Elevation{ID: strings.Repeat("i", 48), LengthCm: 120, HeightCm: 50, RimCm: 3}
	for i := range maxMoments {
		e.Moments = append(e.Moments, fmt.Sprint("month ", i))
	}
	for i := range maxPlants {
		p := Plant{ID: fmt.Sprint("p", i), Name: "A moss", Habit: Moss, ToCm: 120, Row: Row(i % 3), HeightCm: 6, FootCm: 3, Cover: 1}
		for range maxMoments - 1 {
			p.Past = append(p.Past, Stage{HeightCm: float64(3 + i%3), Absent: i%2 == 0})
		}
		e.Plants = append(e.Plants, p)
	}
	if d := e.Draw(); len(d.SVG) > MaxTank+6*maxPlants {
		t.Errorf("%d bytes", len(d.SVG))
	}
}
