package page_test

import (
	"strings"
	"testing"
	"testing/fstest"

	"slipleaf/build/page"
	"slipleaf/build/quantity"
)

// A tank and a plant that are named from right to left turn neither the figures nor the words beside them: in a sentence
// and in a drawing the name is shut off by marks, in a table it is in a cell or a link of its own.
func TestRightToLeftNamesAreIsolated(t *testing.T) {
	const tank, plant = "אמבט 3", "עלה ירוק"
	shut := func(name string) string { return "\u2068" + name + "\u2069" }
	files := small("").(fstest.MapFS)
	files["tanks/bath/tank.md"] = &fstest.MapFile{Data: []byte(strings.Replace(string(files["tanks/bath/tank.md"].Data), "The bath", tank, 1))}
	files["plants/rotala-rotundifolia.md"] = &fstest.MapFile{Data: []byte("---\ntaxon: Rotala rotundifolia\ncommon: " + plant + "\n---\n")}
	b, err := bookOf(files, quantity.Date{Year: 2026, Month: 4, Day: 1})
	if err != nil {
		t.Fatal(err)
	}
	text := file(t, b, page.PlantAddr("rotala-rotundifolia"))
	wants(t, "the plant's page", text, "How it grows in "+shut(tank), shut(plant)+" in "+shut(tank)+": centimetres of stem</title>", "Centimetres of stem in "+shut(tank)+". It doubles",
		`<h1 class="taxon">`+plant+`</h1>`, ">"+tank+`</a><bdi class="plainly">`+tank+"</bdi></th>")
	wants(t, "the tank's page", file(t, b, "/tanks/bath/"), shut(tank)+" as counted up to 31 March 2026", "<h1>"+tank+"</h1>")
	wants(t, "the ranking", file(t, b, "/space/"), ">"+tank+"</a>")
	if css := string(b.Theme.Styles.Data); !strings.Contains(css, "unicode-bidi:isolate") {
		t.Error("the style sheet shuts no link off")
	}
	if text := file(t, smallBook(t, ""), page.PlantAddr("rotala-rotundifolia")); strings.ContainsAny(text, "\u2068\u2069") {
		t.Error("a name from left to right is shut off without need")
	}
}
