package page_test

import (
	"testing"

	"slipleaf/build/draw"
)

// Whatever a drawing of a care sheet shows, every language can say.
func TestDrawingsOfSheetsAreSaid(t *testing.T) {
	for _, lang := range []string{"en", "de"} {
		have := sentences(t, "words/"+lang+".yaml")
		for _, habit := range []draw.Habit{draw.Stem, draw.Rosette, draw.Rhizome, draw.Carpet, draw.Fern, draw.Moss, draw.Floating, draw.Bulb, "odd"} {
			p := draw.Plate{Seed: "s", Habit: habit, Leaf: draw.LeafOf(habit, "")}
			seen := []draw.Care{p.Label(), p.Feel("", ""), p.Melt(), p.Rot()}
			for g := draw.InGround; g <= draw.OnSurface; g++ {
				seen = append(seen, p.Bed(draw.Bed{Ground: g}))
			}
			for _, c := range seen {
				if have["sheet.seen-"+c.Seen] == "" {
					t.Errorf("%s cannot say what is seen in %s of %s", lang, c.Seen, habit)
				}
			}
		}
	}
}
