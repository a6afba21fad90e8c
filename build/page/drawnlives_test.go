package page_test

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"pgregory.net/rapid"

	"slipleaf/build/quantity"
)

// However plants grow, stall, are cut and are counted, and whatever size they are to be cut at, every page comes out.
func TestEveryPageOfADrawnGrowthComesOut(t *testing.T) {
	plants := []string{"rotala-rotundifolia", "heteranthera-zosterifolia", "cryptocoryne-wendtii"}
	measures := map[string]string{"stems": " stems", "plantlets": " plantlets", "leaves": " leaves", "cover": " %", "mass": " g"}
	names := slices.Sorted(maps.Keys(measures))
	rapid.Check(t, func(t *rapid.T) {
		files := fstest.MapFS{}
		put := func(name, text string) { files[name] = &fstest.MapFile{Data: []byte(text)} }
		put("journal.yaml", "title: Drawn\ngrower: Wren\nregion: GB\n")
		began := quantity.Date{Year: 2026, Month: 1, Day: 1}
		kinds := rapid.IntRange(1, len(plants)).Draw(t, "kinds")
		head, size, rate, goal := "---\nname: The bath\nbegan: 2026-01-01\ntrim-when:\n", make([]float64, kinds), make([]float64, kinds), make([]int, kinds)
		by, most := make([]string, kinds), make([]float64, kinds)
		amount := func(k, n int) string {
			if unit := measures[by[k]]; unit == " %" || unit == " g" {
				return fmt.Sprint(n, unit)
			}
			return fmt.Sprint(n)
		}
		for k := range kinds {
			size[k], rate[k] = float64(rapid.IntRange(1, 40).Draw(t, "first")), rapid.Float64Range(-0.01, 0.12).Draw(t, "rate")
			by[k], most[k] = rapid.SampledFrom(names).Draw(t, "measure"), 2000
			if by[k] == "cover" {
				most[k] = 100
			}
			goal[k] = rapid.IntRange(2, int(most[k])/5+80).Draw(t, "goal")
			head += fmt.Sprintf("  %s: {%s: %s}\n", plants[k], by[k], amount(k, goal[k]))
		}
		put("tanks/bath/tank.md", head+"---\n")
		day, last := 0, began
		for i := range rapid.IntRange(1, 24).Draw(t, "counts") {
			gap := rapid.IntRange(1, 30).Draw(t, "gap")
			day += gap
			last = began.Add(day)
			counts, trims := "counts:\n", ""
			for k := range kinds {
				size[k] = min(size[k]*math.Exp(rate[k]*float64(gap)+rapid.Float64Range(-0.4, 0.4).Draw(t, "wild")), most[k])
				n := int(size[k])
				if rapid.IntRange(0, 30).Draw(t, "all gone") == 0 {
					n, size[k] = 0, 1
				}
				counts += fmt.Sprintf("  - {plant: %s, %s: %s}\n", plants[k], by[k], amount(k, n))
				if n >= goal[k] && n > 1 && rapid.Bool().Draw(t, "cut") {
					trims += fmt.Sprintf("  - {plant: %s, removed: %d%s}\n", plants[k], n/2, measures[by[k]])
					size[k] -= float64(n / 2)
				}
			}
			if trims != "" {
				trims = "trims:\n" + trims
			}
			lots := ""
			if i == 0 {
				lots = "lots:\n  - {lot: RR-1, plant: rotala-rotundifolia, form: cuttings, expected: true}\n"
			}
			put("tanks/bath/"+last.String()+".md", "---\n"+counts+trims+lots+"---\n")
		}
		b, err := bookOf(files, last.Add(rapid.IntRange(0, 400).Draw(t, "later")))
		if err != nil {
			t.Fatal(err)
		}
		for _, o := range b.Outputs() {
			if strings.HasPrefix(o.Addr, "/schema/") {
				continue // of the program, not of the journal
			}
			if _, err := o.Make(); err != nil {
				t.Fatalf("%s: %v", o.Addr, err)
			}
		}
	})
}

// The band of a few counts that scatter widely has no measure; the page comes out all the same.
func TestCountsThatScatterWidelyAreDrawn(t *testing.T) {
	files := fstest.MapFS{"journal.yaml": {Data: []byte("title: Drawn\ngrower: Wren\n")}, "tanks/bath/tank.md": {Data: []byte("---\nname: The bath\nbegan: 2026-01-01\n---\n")}}
	for i, n := range []int{1, 1_000_000, 2, 900_000, 1} {
		day := quantity.Date{Year: 2026, Month: 2, Day: 1}.Add(9 * i).String()
		files["tanks/bath/"+day+".md"] = &fstest.MapFile{Data: []byte(fmt.Sprintf("---\ncounts:\n  - {plant: rotala-rotundifolia, stems: %d, length: 90 cm}\n---\n", n))}
	}
	b, err := bookOf(files, quantity.Date{Year: 2026, Month: 3, Day: 20})
	if err != nil {
		t.Fatal(err)
	}
	file(t, b, "/plants/rotala-rotundifolia/")
	file(t, b, "/tanks/bath/")
}
