package draw

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"slipleaf/build/livestock"
)

var gallery = flag.String("gallery", "", "a folder to write pages of drawings into, to be looked at")

// TestGallery writes pages of drawings for a person to look at; without -gallery it only draws them.
func TestGallery(t *testing.T) {
	pages := map[string]string{"tanks": tankGallery(), "plates": plateGallery(), "marks": markGallery(), "shelf": shelfGallery(), "care": careGallery()}
	for name, body := range pages {
		if body == "" {
			t.Errorf("nothing drawn for %s", name)
		}
		if *gallery != "" {
			html := "<!doctype html><meta charset=utf-8><meta name=viewport content='width=device-width'>" +
				"<link rel=stylesheet href=tokens.css><link rel=stylesheet href=draw.css><link rel=stylesheet href=gallery.css><body>" + body
			if err := os.WriteFile(filepath.Join(*gallery, name+".html"), []byte(html), 0o666); err != nil {
				t.Fatal(err)
			}
		}
	}
}

func plateOf(g grower) Plate {
	return Plate{ID: "p-" + name(g.taxon), Seed: g.taxon, Title: g.taxon, Habit: g.habit, Leaf: LeafOf(g.habit, g.taxon), HeightCm: g.height}
}

func plateGallery() string {
	var b strings.Builder
	b.WriteString("<div class=plates>")
	for _, g := range growers {
		p := plateOf(g)
		d := p.Draw()
		fmt.Fprintf(&b, "<figure>%s<figcaption><i>%s</i> %d%s%s</figcaption></figure>", d.SVG, g.taxon, len(d.SVG), p.Sprig(), p.Blade())
	}
	return b.String() + "</div>"
}

func shelfGallery() string {
	var b strings.Builder
	b.WriteString("<div class=shelf>")
	shelf := Shelf{mostShelf}
	for _, g := range growers {
		s := shelf.Stand(plateOf(g))
		fmt.Fprintf(&b, "<div>%s<p><i>%s</i> %d</p></div>", s.SVG, g.taxon, len(s.SVG))
	}
	b.WriteString(string(shelf.Bar("").SVG))
	return b.String() + "</div>"
}

func careGallery() string {
	var b strings.Builder
	b.WriteString("<div class=care>")
	for _, taxon := range []string{"Heteranthera zosterifolia", "Ludwigia palustris", "Staurogyne repens", "Cabomba caroliniana", "Cryptocoryne wendtii", "Vallisneria spiralis", "Sagittaria subulata",
		"Helanthium tenellum", "Anubias barteri", "Leptochilus pteropus", "Bolbitis heudelotii", "Ceratopteris thalictroides", "Nymphaea lotus", "Crinum calamistratum", "Taxiphyllum barbieri", "Riccia fluitans",
		"Pistia stratiotes", "Hydrocharis laevigata", "Lemna minor", "Marsilea hirsuta", "Hygrophila pinnatifida"} {
		p := plateOf(growerOf(taxon))
		bed := Bed{Ground: InGround, PieceCm: min(12, p.HeightCm), DepthCm: 2.5, ApartCm: 4, DepthText: "2.5 cm", ApartText: "4 cm"}
		switch {
		case p.Firm() == Frond:
			bed.Ground = OnSurface
		case p.Firm() == Creep || p.Firm() == Hold:
			bed.Ground = OnWood
		case p.Firm() == Tuber:
			bed.Ground, bed.DepthCm = OnGround, 0.5
		}
		fmt.Fprintf(&b, "<figure><i>%s</i>", taxon)
		for i, c := range []Care{p.Label(), p.Feel(p.Firm().String(), "firm"), p.Melt(), p.Rot(), p.Bed(bed)} {
			fmt.Fprintf(&b, "%s<small>%d</small>", c.SVG(fmt.Sprintf("c%s%d", name(taxon), i), c.Seen), len(c.body))
		}
		b.WriteString("</figure>")
	}
	return b.String() + "</div>"
}

func growerOf(taxon string) grower {
	for _, g := range growers {
		if g.taxon == taxon {
			return g
		}
	}
	panic("no plant " + taxon)
}

func markGallery() string {
	var b strings.Builder
	for m := In; m <= NoNews; m++ {
		fmt.Fprintf(&b, "<p>%s word %d</p>", m.SVG(), m)
	}
	return b.String()
}

// growers are the almanac's plants with their habits and usual heights.
var growers = readGrowers()

type grower struct {
	taxon  string
	habit  Habit
	height float64
}

func tankGallery() string {
	var b strings.Builder
	for _, e := range []Elevation{sketchTank(), trough(), cube(), tray(), crowd(30), crowded(), twelve(), {ID: "empty", Title: "empty", LengthCm: 45, HeightCm: 30, RimCm: 2, Plants: []Plant{named("Ludwigia repens 'Rubin'", plantOf("Ludwigia repens", 5, 20, Back, 4))}, Animals: []livestock.Animal{{Kind: livestock.Snail, Count: 3, LengthCm: 2}, {Kind: livestock.Tall, Count: 2, LengthCm: 6}, {Kind: livestock.Bottom, Count: 2, LengthCm: 5}}}} {
		d := e.Draw()
		fmt.Fprintf(&b, "<figure class=%s>%s", e.ID, d.SVG)
		for _, s := range d.Stills {
			fmt.Fprintf(&b, "<div class=still>%s</div>", s)
		}
		fmt.Fprintf(&b, "<figcaption>%d bytes:", len(d.SVG))
		for _, k := range d.Key {
			fmt.Fprintf(&b, " <i>%s</i>", k.Name)
		}
		b.WriteString("</figcaption></figure>")
	}
	return b.String()
}

func plantOf(taxon string, from, to float64, row Row, count int) Plant {
	for _, g := range growers {
		if g.taxon == taxon {
			return Plant{ID: taxon, Name: taxon, Latin: true, Habit: g.habit, Leaf: LeafOf(g.habit, taxon), FromCm: from, ToCm: to, Row: row, HeightCm: g.height, Count: count}
		}
	}
	panic("no plant " + taxon)
}

func named(name string, p Plant) Plant {
	p.Name = name
	return p
}

func trough() Elevation {
	stargrass := plantOf("Heteranthera zosterifolia", 57, 97, Middle, 24)
	stargrass.HeightCm = 20
	anubias := plantOf("Anubias barteri", 6, 30, Middle, 0)
	anubias.Leaves, anubias.HeightCm, anubias.FootCm = 41, 9, 7
	crypts := plantOf("Cryptocoryne wendtii", 31, 56, Front, 9)
	crypts.HeightCm = 11
	sag := plantOf("Sagittaria subulata", 92, 117, Front, 0)
	sag.Cover, sag.HeightCm = 0.6, 6
	val := plantOf("Vallisneria nana", 98, 116, Back, 6)
	val.HeightCm = 32
	return Elevation{
		ID: "trough", Seed: "trough", Title: "The trough from the front", LengthCm: 118, HeightCm: 29, RimCm: 2.5,
		Layers: []Layer{{None, 1.8}, {Rich, 3}}, Lamps: []Lamp{{LengthCm: 110, AboveRimCm: 5, Centred: true}},
		Plants: []Plant{stargrass, anubias, crypts, sag, val},
	}
}

func cube() Elevation {
	rotala := plantOf("Rotala rotundifolia", 11, 19, Back, 9)
	rotala.HeightCm = 14
	moss := plantOf("Vesicularia dubyana", 2, 8, Middle, 3)
	moss.HeightCm = 4
	carpet := plantOf("Eleocharis acicularis", 6, 19, Front, 0)
	carpet.Cover, carpet.HeightCm = 0.8, 3.5
	salvinia := plantOf("Salvinia minima", 2, 14, Front, 6)
	buce := plantOf("Bucephalandra spp.", 3, 9, Front, 2)
	buce.HeightCm = 5
	return Elevation{
		ID: "cube", Seed: "cube", Title: "A cube", LengthCm: 20, HeightCm: 20, RimCm: 1.5,
		Layers: []Layer{{Rich, 2}, {Some, 1}, {None, 0.8}}, Lamps: []Lamp{{LengthCm: 12, AboveRimCm: 4, Centred: true}},
		Plants: []Plant{rotala, moss, carpet, salvinia, buce},
	}
}

func tray() Elevation {
	s := plantOf("Staurogyne repens", 3, 18, Middle, 8)
	s.HeightCm = 6
	c := plantOf("Cryptocoryne parva", 20, 34, Front, 7)
	b := plantOf("Bacopa caroliniana", 34, 46, Middle, 6)
	b.HeightCm = 12
	m := plantOf("Marsilea hirsuta", 46, 57, Front, 6)
	m.HeightCm = 4
	return Elevation{ID: "tray", Seed: "tray", Title: "A tray in air", LengthCm: 60, HeightCm: 12, Emersed: true,
		Layers: []Layer{{Rich, 3}}, Plants: []Plant{s, c, b, m}}
}

func crowd(n int) Elevation {
	e := Elevation{ID: "crowd", Seed: "crowd", Title: "A crowd", LengthCm: 120, HeightCm: 50, RimCm: 3, Layers: []Layer{{Rich, 6}}}
	for i := range n {
		g := growers[(i*17)%len(growers)]
		e.Plants = append(e.Plants, Plant{ID: g.taxon, Name: g.taxon, Habit: g.habit, Leaf: LeafOf(g.habit, g.taxon), HeightCm: g.height, Row: Row(i % 3), Count: 3 + i})
	}
	return e
}

// crowded has more names in one place than lines for them.
func crowded() Elevation {
	e := crowd(26)
	e.ID, e.LengthCm = "crowded", 30
	for i := range e.Plants {
		e.Plants[i].FromCm, e.Plants[i].ToCm, e.Plants[i].Count = 10, 12, 1
	}
	return e
}

// twelve is a tank as a keen grower plants it.
func twelve() Elevation {
	e := Elevation{ID: "twelve", Seed: "twelve", Title: "Twelve plants", LengthCm: 90, HeightCm: 45, RimCm: 3,
		Layers: []Layer{{Rich, 4}, {None, 2}}, Lamps: []Lamp{{LengthCm: 60, AboveRimCm: 12, Centred: true}}}
	for _, p := range []struct {
		taxon    string
		from, to float64
		row      Row
		height   float64
		count    int
	}{
		{"Rotala macrandra", 2, 18, Back, 30, 9}, {"Limnophila sessiliflora", 18, 36, Back, 34, 8}, {"Hygrophila corymbosa", 66, 88, Back, 32, 5},
		{"Bolbitis heudelotii", 30, 48, Middle, 22, 2}, {"Nymphaea lotus", 52, 66, Middle, 24, 1}, {"Bacopa caroliniana", 68, 86, Middle, 18, 8},
		{"Cryptocoryne wendtii", 4, 22, Middle, 14, 4}, {"Anubias barteri", 24, 34, Front, 9, 1}, {"Marsilea hirsuta", 34, 58, Front, 4, 8},
		{"Taxiphyllum barbieri", 58, 66, Front, 5, 3}, {"Eleocharis acicularis", 64, 88, Front, 6, 10}, {"Hydrocharis laevigata", 6, 40, Front, 3, 4},
	} {
		plant := plantOf(p.taxon, p.from, p.to, p.row, p.count)
		plant.HeightCm = p.height
		e.Plants = append(e.Plants, plant)
	}
	return e
}

// sketchTank holds a plant of nearly every habit, with lamps on legs, livestock and a past.
func sketchTank() Elevation {
	e := Elevation{ID: "full", Seed: "full", Title: "A planted trough", LengthCm: 118, HeightCm: 29, RimCm: 1.5,
		Layers: []Layer{{Rich, 3}, {None, 2.5}}, Lamps: []Lamp{{LengthCm: 48, AboveRimCm: 4, FromCm: 7, Legs: true}, {LengthCm: 48, AboveRimCm: 4, FromCm: 63, Legs: true}},
		Animals: []livestock.Animal{{Kind: livestock.Shoal, Count: 8, LengthCm: 2.4}, {Kind: livestock.Shrimp, Count: 4, LengthCm: 2}}, Moments: []string{"March", "April", "May", "June", "July"}}
	for _, p := range []struct {
		taxon    string
		from, to float64
		row      Row
		height   float64
		count    int
	}{
		{"Vallisneria spiralis", 2, 16, Back, 42, 4}, {"Cryptocoryne wendtii", 18, 32, Middle, 12, 5}, {"Anubias barteri", 34, 60, Middle, 9, 3},
		{"Helanthium tenellum", 36, 72, Front, 5, 24}, {"Heteranthera zosterifolia", 60, 82, Back, 18, 9}, {"Staurogyne repens", 74, 90, Front, 5, 9},
		{"Leptochilus pteropus", 82, 97, Middle, 13, 1}, {"Ludwigia palustris", 98, 115, Back, 16, 8}, {"Hydrocharis laevigata", 64, 104, Front, 3, 5},
	} {
		plant := plantOf(p.taxon, p.from, p.to, p.row, p.count)
		plant.HeightCm = p.height
		for i := range 5 {
			plant.Past = append(plant.Past, Stage{Count: max(1, p.count*(i+1)/5), HeightCm: p.height * (0.5 + 0.1*float64(i+1))})
		}
		e.Plants = append(e.Plants, plant)
	}
	return e
}
