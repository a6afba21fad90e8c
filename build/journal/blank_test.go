package journal

import (
	"fmt"
	"strings"
	"testing"
	"testing/fstest"

	"pgregory.net/rapid"

	"slipleaf/build/quantity"
)

// An entry with blanks anywhere means the same as one without these keys and items.
func TestABlankMeansThatItIsNotThere(t *testing.T) {
	names := mustAlmanac(t)
	rapid.Check(t, func(t *rapid.T) {
		var blanks, bare strings.Builder
		both := func(s string) { blanks.WriteString(s); bare.WriteString(s) }
		both("---\ntitle: Drawn\n")
		blanks.WriteString(rapid.SampledFrom([]string{"", "doses:\n", "doses:\n  - {salt: , mass: }\n", "water-change: {share: , with: tap}\n", "parameters: {ph: , gh: }\n", "losses:\n  - {plant: , stems: , cause: }\n"}).Draw(t, "blank"))
		both("counts:\n  - {plant: anubias-barteri, leaves: 3}\n")
		for i := range rapid.IntRange(0, 6).Draw(t, "items") {
			n := rapid.IntRange(0, 40).Draw(t, "n")
			switch rapid.IntRange(0, 3).Draw(t, "kind") {
			case 0:
				blanks.WriteString(fmt.Sprintf("  - {plant: vallisneria-spiralis, plantlets: , area: %d dm2}\n", n+1))
			case 1:
				both(fmt.Sprintf("  - {plant: plant-%d, plantlets: %d", i, n))
				blanks.WriteString(", area: ")
				both("}\n")
			case 2:
				blanks.WriteString("  -\n")
			case 3:
				both(fmt.Sprintf("  - {plant: plant-%d, stems: %d}\n", i, n))
			}
		}
		both("---\n\nWords.\n")
		read := func(text string) string {
			fsys := fstest.MapFS{"journal.yaml": {Data: []byte("title: Bench\n")}, "tanks/trough/tank.md": {Data: []byte("---\nname: The trough\n---\n")}, "tanks/trough/2026-05-01.md": {Data: []byte(text)}}
			j, cs, err := Read(t.Context(), fsys, names, Options{On: june})
			if err != nil {
				t.Fatal(err)
			}
			e := *j.Tanks[0].Entries[0]
			e.Source = Source{}
			said := ""
			lines := strings.Split(text, "\n")
			for _, c := range cs {
				line := []rune(lines[c.Line-1])
				said += c.Rule + " at " + strings.SplitN(string(line[c.Column-1:]), ",", 2)[0] + "\n"
			}
			for _, c := range e.Counts {
				said += fmt.Sprintf("%s %v %v %v %v\n", c.Plant, deref(c.Stems), deref(c.Plantlets), deref(c.Leaves), c.Area)
			}
			return said + fmt.Sprint(e.Parameters, e.WaterChange, len(e.Doses), len(e.Losses), e.Title)
		}
		if a, b := read(blanks.String()), read(bare.String()); a != b {
			t.Errorf("with blanks\n%s\n%s\nwithout\n%s\n%s", blanks.String(), a, bare.String(), b)
		}
	})
}

func deref(n *int) any {
	if n == nil {
		return nil
	}
	return *n
}

// What is in a tank, as the diary tells it.
func TestAPlantIsThereUntilItIsCountedAsNoneOrAllIsLost(t *testing.T) {
	day := func(d int) quantity.Date { return quantity.Date{Year: 2026, Month: 5, Day: d} }
	n := func(k int) *int { return &k }
	counted := func(d, stems int) *Entry {
		return &Entry{Date: day(d), Counts: []Count{{Plant: "p", Amount: Amount{Stems: n(stems)}}}}
	}
	planted := func(d, stems int) *Entry {
		return &Entry{Date: day(d), Plantings: []Planting{{Plant: "p", Amount: Amount{Stems: n(stems)}}}}
	}
	lost := func(d, stems int) *Entry {
		return &Entry{Date: day(d), Losses: []Loss{{Plant: "p", Amount: Amount{Stems: n(stems)}}}}
	}
	all := func(d int) *Entry { return &Entry{Date: day(d), Losses: []Loss{{Plant: "p", All: "stems"}}} }
	for _, c := range []struct {
		name    string
		entries []*Entry
		there   bool
		stems   int
		planted bool
	}{
		{"never named", nil, false, 0, false},
		{"planted", []*Entry{planted(1, 12)}, true, 12, true},
		{"planted and counted", []*Entry{planted(1, 12), counted(2, 10)}, true, 10, false},
		{"counted, and more planted", []*Entry{counted(1, 10), planted(2, 5)}, true, 10, false},
		{"counted as none", []*Entry{counted(1, 10), counted(2, 0)}, false, 0, false},
		{"counted as none, planted again", []*Entry{counted(1, 0), planted(2, 5)}, true, 5, true},
		{"all lost", []*Entry{planted(1, 12), all(2)}, false, 0, false},
		{"all lost of what was counted", []*Entry{counted(1, 12), all(2)}, false, 0, false},
		{"all lost, planted again", []*Entry{counted(1, 12), all(2), planted(3, 4)}, true, 4, true},
		{"as many lost as there were", []*Entry{planted(1, 12), lost(2, 5), lost(3, 7)}, false, 0, false},
		{"some lost", []*Entry{planted(1, 12), lost(2, 5)}, true, 12, true},
		{"lost in the future", []*Entry{planted(1, 12), all(30)}, true, 12, true},
	} {
		t.Run(c.name, func(t *testing.T) {
			got := Standing(c.entries, day(20))
			switch {
			case len(got) == 0 && !c.there:
			case len(got) != 1 || !c.there || *got[0].Stems != c.stems || got[0].Planted != c.planted:
				t.Errorf("%+v", got)
			}
		})
	}
}

// A change of measure is warned of until it has been kept up for three counts; one that goes to and fro always.
func TestAChangeOfMeasureThatIsKeptUpIsMeant(t *testing.T) {
	for _, c := range []struct {
		counts []string
		warned bool
	}{
		{[]string{"stems: 4", "stems: 5"}, false},
		{[]string{"stems: 4", "cover: 10 %"}, true},
		{[]string{"stems: 4", "cover: 10 %", "cover: 11 %"}, true},
		{[]string{"stems: 4", "cover: 10 %", "cover: 11 %", "cover: 12 %"}, false},
		{[]string{"stems: 4", "cover: 10 %", "stems: 5", "cover: 12 %", "stems: 5", "stems: 5", "stems: 5"}, true},
	} {
		fsys := fstest.MapFS{"journal.yaml": {Data: []byte("title: Bench\n")}, "tanks/trough/tank.md": {Data: []byte("---\nname: The trough\n---\n")}}
		for i, count := range c.counts {
			fsys[fmt.Sprintf("tanks/trough/2026-05-%02d.md", i+1)] = &fstest.MapFile{Data: []byte("---\ncounts: [{plant: staurogyne-repens, " + count + "}]\n---\n")}
		}
		_, cs, err := Read(t.Context(), fsys, mustAlmanac(t), Options{On: june})
		if err != nil || (len(cs) > 0) != c.warned {
			t.Errorf("%v: %v, %v", c.counts, cs, err)
		}
	}
}
