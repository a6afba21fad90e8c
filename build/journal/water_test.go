package journal

import (
	"fmt"
	"strings"
	"testing"
	"testing/fstest"

	"pgregory.net/rapid"

	"slipleaf/build/quantity"
)

// An entry that measures one thing leaves what was measured before it: GH and KH do not vanish behind a temperature.
func TestWaterIsTheNewestReadingOfEach(t *testing.T) {
	day := func(d int) quantity.Date { return quantity.Date{Year: 2026, Month: 4, Day: d} }
	fsys := fstest.MapFS{"journal.yaml": {Data: []byte("title: A\n")}, "tanks/t/tank.md": {Data: []byte("---\nname: T\n---\n")}}
	for d, water := range map[int]string{1: "{gh: 6 dGH, kh: 4 dKH, ph: unknown}", 5: "{temperature: 24 C, kh: unknown}", 9: "{temperature: 25 C}", 12: "{gh: 9 dGH}"} {
		fsys[fmt.Sprintf("tanks/t/%s.md", day(d))] = &fstest.MapFile{Data: []byte("---\nparameters: " + water + "\n---\n")}
	}
	j, complaints, err := Read(t.Context(), fsys, mustAlmanac(t), Options{})
	if err != nil || len(complaints) > 0 {
		t.Fatal(complaints, err)
	}
	w := j.Tanks[0].WaterOn(day(10))
	keys, values := w.Texts()
	if got := strings.Join(keys, " ") + ": " + strings.Join(values, ", "); got != "temperature ph gh kh: 25 C, unknown, 6 dGH, 4 dKH" {
		t.Error(got)
	}
	for key, want := range map[string]quantity.Date{"temperature": day(9), "gh": day(1), "kh": day(1), "ph": {}} {
		if w.Days[key] != want {
			t.Errorf("%s is of %s, not %s", key, w.Days[key], want)
		}
	}
	if w.Newest() != day(9) || w.Newest("gh", "kh") != day(1) || !w.Newest("iron").IsZero() {
		t.Error(w.Newest(), w.Newest("gh", "kh"), w.Newest("iron"))
	}
}

// By the definition, read off entry by entry and backwards.
func TestWaterAgreesWithItsDefinition(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tank := new(Tank)
		for d := range rapid.IntRange(0, 12).Draw(t, "entries") {
			var p Parameters
			for _, x := range parameters {
				if rapid.IntRange(0, 3).Draw(t, x.key) == 0 {
					full := Parameters{Temperature: quantity.Of(quantity.Temperature(d)), PH: quantity.Of(quantity.PH(d)), GH: quantity.Of(quantity.Hardness(d)), Nitrate: quantity.Of(quantity.Concentration(d))}
					x.keep(&p, &full)
				}
			}
			tank.Entries = append(tank.Entries, &Entry{Date: quantity.FromDays(d), Parameters: p})
		}
		on := rapid.IntRange(0, 14).Draw(t, "on")
		w := tank.WaterOn(quantity.FromDays(on))
		for _, x := range parameters {
			want := ""
			for i := len(tank.Entries) - 1; i >= 0 && want == ""; i-- {
				if tank.Entries[i].Date.Days() <= on {
					want = x.text(&tank.Entries[i].Parameters)
				}
			}
			if got := x.text(&w.Parameters); got != want {
				t.Fatalf("%s: %q, not %q", x.key, got, want)
			}
		}
	})
}
