package page_test

import (
	"bytes"
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"testing"

	"slipleaf/build/almanac"
	"slipleaf/build/names"
	"slipleaf/build/page"
)

// runSearch runs the script of the search in node with what it is given on standard input.
func runSearch(t *testing.T, program string, in, out any) {
	t.Helper()
	node, err := exec.LookPath("node")
	if err != nil {
		if os.Getenv("CI") != "" {
			t.Fatal("node is not installed, and the checks need it")
		}
		t.Skip("node is not installed: the script of the search is not tried")
	}
	script, err := filepath.Abs("../../themes/bench/scripts/search.js")
	if err != nil {
		t.Fatal(err)
	}
	given, err := json.Marshal(in)
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(node, "-e", `const s = require(process.argv[1]);
let text = ""; process.stdin.on("data", d => text += d).on("end", () => console.log(JSON.stringify((given => `+program+`)(JSON.parse(text)))));`, script)
	cmd.Stdin = bytes.NewReader(given)
	var stderr bytes.Buffer
	cmd.Stderr = &stderr
	answer, err := cmd.Output()
	if err != nil {
		t.Fatalf("%v: %s", err, stderr.String())
	}
	if err := json.Unmarshal(answer, out); err != nil {
		t.Fatal(err)
	}
}

// The search on the site compares names as the program does.
func TestScriptFoldsAsNamesDo(t *testing.T) {
	a, err := almanac.Open()
	if err != nil {
		t.Fatal(err)
	}
	texts := []string{"", "Großer Bär", "Windeløv", "Zwergspeerblaetter", "Cryptocoryne × willisii", "H'Ra", "morsus-ranae (L.)", "ÀÉÎÕÜ", "blue  water\thyssop"}
	for _, e := range a.Everyday() {
		texts = append(texts, e.Name)
	}
	for _, s := range a.All() {
		texts = append(texts, s.Taxon)
	}
	var folded []string
	runSearch(t, "given.map(s.fold)", texts, &folded)
	for i, text := range texts {
		if want := names.Fold(text); folded[i] != want {
			t.Errorf("%q folds to %q, in names to %q", text, folded[i], want)
		}
	}
}

// A plant is found by everyday names, older names and misspellings (common practice of what growers type).
func TestSearchFindsPlantsByAnyName(t *testing.T) {
	index := []page.SearchItem{
		{Kind: "plant", Title: "Heteranthera zosterifolia", Text: "stargrass", Names: []string{"water stargrass", "Seegras-Trugkölbchen"}},
		{Kind: "plant", Title: "Leptochilus pteropus", Text: "Java fern · Microsorum pteropus", Names: []string{"Java fern", "Javafarn", "Java-Farn"}},
		{Kind: "plant", Title: "Taxiphyllum barbieri", Text: "Java moss", Names: []string{"Java moss", "Javamoos"}},
		{Kind: "plant", Title: "Anubias barteri", Text: "anubias", Names: []string{"Zwergspeerblatt"}},
		{Kind: "2026-04-18, The trough", Title: "First cut of the stargrass", Text: "The stargrass reached the surface. Java fern untouched."},
	}
	for asked, first := range map[string]string{
		"heteranthara": "Heteranthera zosterifolia", "java fern": "Leptochilus pteropus", "javafarn": "Leptochilus pteropus", "Javafern": "Leptochilus pteropus",
		"java mos": "Taxiphyllum barbieri", "microsorum": "Leptochilus pteropus", "zwergspeerblaetter": "", "Zwerg-Speerblatt": "Anubias barteri",
		"trugkoelbchen": "Heteranthera zosterifolia", "surface": "First cut of the stargrass", "tomato": "",
	} {
		var found []page.SearchItem
		runSearch(t, "s.find(given.index.map(s.ready), given.asked)", map[string]any{"index": index, "asked": asked}, &found)
		got := ""
		if len(found) > 0 {
			got = found[0].Title
		}
		if first != "" && got != first || first == "" && asked == "tomato" && got != "" {
			t.Errorf("%q finds %q of %d, want %q", asked, got, len(found), first)
		}
	}
}

// The index of a plant holds its everyday names in both languages.
func TestIndexHoldsEverydayNames(t *testing.T) {
	var items []page.SearchItem
	html, err := sample(t).Search()
	if err != nil {
		t.Fatal(err)
	}
	_, after, _ := bytes.Cut(html, []byte(`<script type="application/json" id="search-index">`))
	index, _, _ := bytes.Cut(after, []byte("</script>"))
	if err := json.Unmarshal(index, &items); err != nil {
		t.Fatal(err)
	}
	for _, i := range items {
		if i.Title == "Heteranthera zosterifolia" && slices.Contains(i.Names, "water stargrass") {
			return
		}
	}
	t.Error("Heteranthera zosterifolia is not indexed as water stargrass")
}
