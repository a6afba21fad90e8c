package journal

import (
	"fmt"
	"maps"
	"reflect"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"pgregory.net/rapid"
)

// Habits of people who write by hand: each turns a usual form into another that is plainly the same.
var habits = []struct{ usual, written string }{
	{"inside:", "Inside:"}, {"water-depth:", "Water_Depth:"}, {"co2:", "CO2:"}, {"name: The trough", "name:The trough"}, {"  - {kind", "\t- {kind"},
	{"length: 60 cm", "length: 60\u00a0cm"}, {"width: 12 in,", "width: 12 inches,"}, {"width: 12 in,", "width: 12\","}, {"height: 40.5 cm", "height: 40,5 cm"},
	{"injected: true", "injected: yes"}, {"output: 2400 lm,", "output: 2400 lumen,"}, {"output: 2400 lm,", "output: 2400,"}, {"hours: 8,", "hours: 8h,"}, {"hours: 8,", "hours: 8 hours,"},
	{"2026-01-09", "2026-1-9"}, {"2026-01-09", "2026/01/09"}, {"above-water: 6 cm", "above-water: 6 CM"},
}

const usualTank = "---\nname: The trough\nbegan: 2026-01-09\ninside: {length: 60 cm, width: 12 in, height: 40.5 cm}\nwater-depth: 28 cm\nco2: {injected: true}\n" +
	"light:\n  - {kind: white led, output: 2400 lm, hours: 8, above-water: 6 cm}\n---\nWords: pH 7,5 and 12\" stay.\n"

// Whatever habits a tank's file is written with, it is read without an error as what is meant, with a note on every line
// that differs; in its usual form it is read without a note, and means the same.
func TestWhatIsMeantIsTaken(t *testing.T) {
	names := mustAlmanac(t)
	read := func(t *rapid.T, text string) (*Journal, Complaints) {
		j, cs, err := Read(t.Context(), fstest.MapFS{"journal.yaml": {Data: []byte("title: A\n")}, "tanks/a/tank.md": {Data: []byte(text)}}, names, Options{On: june})
		if err != nil {
			t.Fatal(err)
		}
		return j, cs
	}
	rapid.Check(t, func(t *rapid.T) {
		text := usualTank
		for _, i := range rapid.SliceOfDistinct(rapid.IntRange(0, len(habits)-1), func(i int) int { return i }).Draw(t, "habits") {
			text = strings.Replace(text, habits[i].usual, habits[i].written, 1)
		}
		fence := rapid.SampledFrom([]string{"---", "—-", "—", "———", "–-"}).Draw(t, "fence")
		text = strings.ReplaceAll(text, "---\n", fence+"\n")
		crlf := rapid.Bool().Draw(t, "crlf")
		if crlf {
			text = strings.ReplaceAll(text, "\n", "\r\n")
		}
		j, cs := read(t, text)
		want, none := read(t, usualTank)
		if len(none) > 0 {
			t.Fatal(none)
		}
		differ := map[int]bool{}
		is, was := linesOf([]byte(text)), linesOf([]byte(usualTank))
		for i := range was {
			if is[i] != was[i] {
				differ[i+1] = true
			}
		}
		for _, c := range cs {
			if c.Severity != Note || !differ[c.Line] {
				t.Fatalf("%s\n%s", c, text)
			}
			delete(differ, c.Line)
		}
		delete(differ, 4) // a no-break space between figure and unit is a usual form
		if len(differ) > 0 {
			t.Fatalf("no note on lines %v of\n%s", slices.Collect(maps.Keys(differ)), text)
		}
		a, b := *j.Tanks[0], *want.Tanks[0]
		if a.Name != b.Name || a.Began != b.Began || a.Inside != b.Inside || a.WaterDepth != b.WaterDepth || a.CO2 != b.CO2 || !slices.Equal(a.Light, b.Light) {
			t.Fatalf("%+v\n%+v\n%s", a, b, text)
		}
		list, err := InUsualForm(t.Context(), fstest.MapFS{"journal.yaml": {Data: []byte("title: A\n")}, "tanks/a/tank.md": {Data: []byte(text)}}, Limits{})
		if err != nil || len(list) > 1 || len(list) == 0 && len(cs) > 0 {
			t.Fatal(list, err)
		}
		if len(list) == 0 {
			return
		}
		fixed := string(list[0].After)
		if crlf != strings.Contains(fixed, "\r\n") {
			t.Fatalf("the ends of lines changed: %q", fixed)
		}
		if again := strings.ReplaceAll(strings.ReplaceAll(fixed, "\r", ""), "\u00a0", " "); again != usualTank {
			t.Fatalf("%s\nis not\n%s", again, usualTank)
		}
		if _, cs := read(t, fixed); len(cs) > 0 {
			t.Fatal(cs)
		}
	})
}

// A decimal comma in braces, where a comma also parts the keys, is read as a point, whatever the unit, and with none where the
// figure tells it; a note says so.
func TestADecimalCommaInBracesIsAPoint(t *testing.T) {
	names := mustAlmanac(t)
	units := map[string][]string{"temperature": {" C", "°C", ""}, "ph": {""}, "gh": {" dGH", " °d"}, "kh": {" dKH"}, "nitrate": {" mg/L", " ppm"}, "conductivity": {" uS/cm"}}
	rapid.Check(t, func(t *rapid.T) {
		var points, commas []string
		for _, key := range rapid.Permutation(slices.Sorted(maps.Keys(units))).Draw(t, "keys") {
			whole := rapid.IntRange(5, 8).Draw(t, key)
			if key == "temperature" { // only so is its unit plain
				whole += 18
			}
			v := fmt.Sprintf("%d.%d%s", whole, rapid.IntRange(1, 9).Draw(t, "decimal"), rapid.SampledFrom(units[key]).Draw(t, "unit"))
			points, commas = append(points, key+": "+v), append(commas, key+": "+strings.Replace(v, ".", ",", 1))
		}
		read := func(pairs []string) (*Entry, Complaints) {
			text := "---\ntitle: x\nparameters: {" + strings.Join(pairs, ", ") + "}\n---\n"
			j, cs, err := Read(t.Context(), fstest.MapFS{"journal.yaml": {Data: []byte("title: A\n")}, "tanks/a/tank.md": {Data: []byte("---\nname: A\n---\n")}, "tanks/a/2026-06-01.md": {Data: []byte(text)}}, names, Options{On: june})
			if err != nil || cs.Errors() > 0 {
				t.Fatal(text, cs, err)
			}
			return j.Tanks[0].Entries[0], cs
		}
		want, _ := read(points)
		got, cs := read(commas)
		if !reflect.DeepEqual(got.Parameters, want.Parameters) {
			t.Fatalf("%v is read as %+v, not %+v", commas, got.Parameters, want.Parameters)
		}
		if !slices.ContainsFunc(cs, func(c Complaint) bool { return c.Rule == rules[ruleTaken].Name && c.Line == 3 }) {
			t.Fatalf("no note on %v: %v", commas, cs)
		}
	})
}
