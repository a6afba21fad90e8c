package main

import (
	"bytes"
	"fmt"
	"image"
	"image/jpeg"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf8"
)

// weekly is a week's work at the keyboard: what is typed at the prompt, and what is answered. Twelve plants are looked at,
// eight of them with a new count, three are cut and offered, three readings, a photo, a sentence; somebody's message is
// taken, her plants go out, somebody else reports, and the site is published. Every character is a key, Enter too.
var weekly = []struct{ command, answers string }{
	{"slipleaf today", ""},
	{"slipleaf jot trough --ask", "24.5\n6.8\n6\n\n\n" + // temperature, pH, GH
		"26 31\n\n40 28\n12\n=\n12 14\n\n\n\n30 22\n8\n=\n9 20\n\n\n\n16 12\n\n22 30\n6\n=\n\n\n\n\n18 11\n\n" + // twelve plants
		"front.jpg\nthe trough from the front\nThe stargrass is at the surface again.\n"},
	{"slipleaf reserve Ada --from m --yes", ""},
	{"slipleaf send Ada", ""},
	{"slipleaf report Bo rooted", ""},
	{"slipleaf publish", ""},
}

// mostKeys is what the week's work may take: it took 1,330 when entries were written out by hand.
const mostKeys = 350

func TestTheWeeksWorkInKeys(t *testing.T) {
	t.Parallel()
	bin := built(t)
	dir := t.TempDir()
	put := func(name, text string) {
		t.Helper()
		file := filepath.Join(dir, name)
		if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(file, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	plants := []string{"anubias-barteri", "bacopa-caroliniana", "bacopa-monnieri", "ceratophyllum-demersum", "heteranthera-zosterifolia", "hygrophila-difformis",
		"limnophila-sessiliflora", "ludwigia-palustris", "ludwigia-repens", "myriophyllum-mattogrossense", "rotala-rotundifolia", "staurogyne-repens"}
	counts := ""
	for _, p := range plants {
		counts += "  - {plant: " + p + ", stems: 20, length: 25 cm, area: 3 dm2}\n"
	}
	put("journal.yaml", "title: Bench\ngrower: Test\naddress: https://bench.example/\n")
	put("tanks/trough/tank.md", "---\nname: The trough\nbegan: 2026-01-10\n---\n")
	put("tanks/trough/2026-06-01.md", "---\ntitle: Last week\nparameters: {temperature: 24 C, ph: 6.9, gh: 6 dGH}\ncounts:\n"+counts+
		"lots:\n  - {lot: HZ-0601, plant: heteranthera-zosterifolia, form: cuttings, count: 12}\n---\n")
	put("sent/bo.md", "---\nlot: HZ-0601\ncount: 2\nsent: 2026-06-02\nprivate: {name: Bo Example}\n---\n")
	put("m", "Hi! Could you post me 4 of HZ-0601? The tank is 60 x 30 x 30 cm, 24 °C, pH 7, GH 8 dGH, KH 5 dKH, no CO2.\nCheers, Ada\n")
	put("photos/front.jpg", string(read1x1(t)))
	keys := 0
	for _, w := range weekly {
		args := append(strings.Fields(w.command)[1:], "--on", "2026-06-08") // the day is the machine's, for the grower
		cmd := exec.Command(bin, args...)
		cmd.Dir, cmd.Stdin = dir, strings.NewReader(w.answers)
		if out, err := cmd.CombinedOutput(); err != nil {
			t.Fatalf("%s: %v\n%s", w.command, err, out)
		}
		keys += utf8.RuneCountInString(w.command) + 1 + utf8.RuneCountInString(w.answers)
	}
	entry, err := os.ReadFile(filepath.Join(dir, "tanks/trough/2026-06-08.md"))
	if err != nil {
		t.Fatal(err)
	}
	for part, n := range map[string]int{"stems: ": 8, "cuttings: ": 3, "  - {lot: ": 3, "temperature: 24.5 C, ph: 6.8, gh: 6 dGH": 1, "alt: ": 1, "stargrass is at the surface": 1} {
		if got := strings.Count(string(entry), part); got != n {
			t.Errorf("%q is there %d times, not %d:\n%s", part, got, n, entry)
		}
	}
	t.Attr("figure", fmt.Sprintf("keys of a week's work by commands and jot --ask, of 1,330 by hand: %d", keys))
	if keys > mostKeys {
		t.Errorf("%d keys, at most %d were asked for", keys, mostKeys)
	}
}

// read1x1 is the smallest photo.
func read1x1(t *testing.T) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := jpeg.Encode(&b, image.NewGray(image.Rect(0, 0, 8, 8)), nil); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}
