package page_test

import (
	"encoding/json"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"

	"pgregory.net/rapid"

	"slipleaf/build/page"
	"slipleaf/build/quantity"
	"slipleaf/build/review"
)

// The same things are counted alike wherever they are counted: what was given by the tree, its branches and its list, by the
// years' reviews and their months.
func TestCountsOfWhatWasGivenAgree(t *testing.T) {
	b, err := demoBook()
	if err != nil {
		t.Fatal(err)
	}
	tree := file(t, b, page.PassAlongAddr)
	plants, parcels := countsIn(t, tree, `<p class="lead">(\d+) plants[^.]*? in (\d+) parcels`)
	inYears, parcelsInYears := 0, 0
	for _, year := range b.All.Years() {
		review := file(t, b, review.Addr(year))
		given, sent := countsIn(t, review, `(\d+) plants(?: and \d+ seeds?)? given away in (\d+) parcels`)
		inYears, parcelsInYears = inYears+given, parcelsInYears+sent
		if charted, _ := countsIn(t, review, `>(\d+) plants? given away</text>()`); charted != given {
			t.Errorf("%d: %d plants by month, %d in all", year, charted, given)
		}
	}
	if plants != inYears || parcels != parcelsInYears {
		t.Errorf("the tree has %d plants in %d parcels, the years %d in %d", plants, parcels, inYears, parcelsInYears)
	}
	listed, branched := 0, 0
	for _, m := range regexp.MustCompile(`; (?:\d+ (?:plants?|seeds?)(?: and )?)+ in (\d+) parcels?`).FindAllStringSubmatch(wordsOf(tree), -1) {
		listed += countOf(t, m[1])
	}
	broad, _, _ := strings.Cut(tree, `<svg class="chart narrow"`)
	for _, m := range regexp.MustCompile(`>(\d+) parcels?</text>`).FindAllStringSubmatch(broad, -1) {
		branched += countOf(t, m[1])
	}
	if listed != parcels || branched != parcels {
		t.Errorf("%d parcels in all, %d in the list, %d on the branches", parcels, listed, branched)
	}
	// each parcel has a mark, and so has what was passed on from it; the key has one of each kind more
	lost, open := strings.Count(broad, `class="gone"`)-1, strings.Count(broad, `class="silent"`)-1
	well := strings.Count(broad, `class="well"`) - 1
	established, gone := countsIn(t, broad, `>(\d+) established.*>(\d+) lost<`)
	if lost != gone || established+lost+open != parcels || well < established {
		t.Errorf("%d parcels: %d leaves, %d crosses and %d dashed leaves for %d established and %d lost", parcels, well, lost, open, established, gone)
	}
}

// Whatever a journal holds, a count in a headline is that of the list below it, of the shelf, of the file for machines, of
// the tree and of the year: seeds as seeds, lots as lots, parcels as parcels.
func TestCountsAgreeInDrawnJournals(t *testing.T) {
	forms := []string{"cuttings", "plantlets", "divisions", "portions", "seeds"}
	on := quantity.Date{Year: 2026, Month: 4, Day: 1}
	rapid.Check(t, func(rt *rapid.T) {
		files := small("").(fstest.MapFS)
		lots, sent, parcels := "", [2]int{}, 0 // plants, seeds
		left := map[string]int{}
		for i := range rapid.IntRange(0, 6).Draw(rt, "lots") {
			plant := rapid.SampledFrom([]string{"rotala-rotundifolia", "vallisneria-spiralis"}).Draw(rt, "plant")
			form := rapid.SampledFrom(forms).Draw(rt, "form")
			id := fmt.Sprintf("LT-%d", i+1)
			if rapid.IntRange(0, 4).Draw(rt, "expected") == 0 {
				lots += fmt.Sprintf("  - {lot: %s, plant: %s, form: %s, expected: true}\n", id, plant, form)
				continue
			}
			count := rapid.IntRange(1, 40).Draw(rt, "count")
			lots += fmt.Sprintf("  - {lot: %s, plant: %s, form: %s, count: %d}\n", id, plant, form, count)
			for k := range rapid.IntRange(0, 3).Draw(rt, "parcels") {
				n := rapid.IntRange(1, 14).Draw(rt, "given")
				if n > count {
					break
				}
				count -= n
				head := fmt.Sprintf("lot: %s\ncount: %d\nreserved: 2026-03-30\n", id, n)
				if rapid.IntRange(0, 3).Draw(rt, "kept") > 0 {
					head += "sent: 2026-04-01\nhow: post\ncode: " + fmt.Sprintf("%025d", 100*i+k+1) + "\nregion: GB\n"
					parcels++
					if form == "seeds" {
						sent[1] += n
					} else {
						sent[0] += n
					}
				}
				files[fmt.Sprintf("sent/2026-04-01-p%d%d.md", i, k)] = &fstest.MapFile{Data: []byte("---\n" + head + "---\n")}
			}
			left[form] += count
		}
		if lots != "" {
			files["tanks/bath/2026-03-30.md"] = &fstest.MapFile{Data: []byte("---\nlots:\n" + lots + "---\n")}
		}
		b, err := bookOf(files, on)
		if err != nil {
			rt.Fatal(err)
		}
		offers := file(t, b, page.OffersAddr)
		said := func(name, text, pattern string, want int) {
			got := 0
			for _, m := range regexp.MustCompile(pattern).FindAllStringSubmatch(text, -1) {
				n, err := strconv.Atoi(m[1])
				if err != nil {
					n = slices.Index(numberWords, strings.ToLower(m[1]))
				}
				got += n
			}
			if got != want {
				rt.Fatalf("%s: %d by %s, want %d", name, got, pattern, want)
			}
		}
		plants := left["cuttings"] + left["plantlets"] + left["divisions"] + left["portions"]
		heading := regexp.MustCompile(`(?s)<h1[^>]*>.*?</h1>`).FindString(offers)
		said("the headline", heading, `(\w+) plants?\b`, plants)
		said("the headline", heading, `(\w+) seeds?\b`, left["seeds"])
		shelf := file(t, b, page.PlantsAddr)
		for _, form := range forms {
			said("the list", offers, `<span class="count">(\d+)[ \x{a0}]`+strings.TrimSuffix(form, "s")+`s?</span>`, left[form])
			said("the shelf", wordsOf(shelf), `\b(\d+) `+strings.TrimSuffix(form, "s")+`s? LT-`, left[form])
		}
		for jump, rows := range map[string]string{"ready": `<section class="lot"`, "coming": `<tr class="lot-row"`} {
			said("the way to "+jump, offers, `href="#`+jump+`"><b>(\d+)</b>`, strings.Count(offers, rows))
		}
		var machine struct {
			Offers []struct {
				State string
				Left  int
			}
		}
		if err := json.Unmarshal([]byte(file(t, b, "/offers.json")), &machine); err != nil {
			rt.Fatal(err)
		}
		for _, l := range machine.Offers {
			if l.State == "ready" {
				plants -= l.Left
			}
		}
		if plants+left["seeds"] != 0 {
			rt.Fatalf("the file for machines has %d fewer", plants+left["seeds"])
		}
		if parcels == 0 {
			return
		}
		for name, text := range map[string]string{"the tree": wordsOf(file(t, b, page.PassAlongAddr)), "the year": wordsOf(file(t, b, review.Addr(2026)))} {
			lead, _, _ := strings.Cut(text, " parcel")
			said(name, lead, `(\d+) plants?\b`, sent[0])
			said(name, lead, `(\d+) seeds?\b`, sent[1])
			said(name, lead, `in (\d+)$`, parcels)
		}
	})
}

var numberWords = strings.Fields("no one two three four five six seven eight nine ten eleven twelve")

// countsIn reads the two figures of a sentence.
func countsIn(t *testing.T, text, pattern string) (a, b int) {
	t.Helper()
	m := regexp.MustCompile(pattern).FindStringSubmatch(strings.Join(strings.Fields(strings.ReplaceAll(text, "\u00a0", " ")), " "))
	if m == nil {
		t.Fatalf("nothing says %s", pattern)
	}
	if a = countOf(t, m[1]); m[2] != "" {
		b = countOf(t, m[2])
	}
	return a, b
}

func countOf(t *testing.T, s string) int {
	t.Helper()
	n, err := strconv.Atoi(s)
	if err != nil {
		t.Fatal(err)
	}
	return n
}

var (
	anySVG  = regexp.MustCompile(`<svg [^>]*>`)
	sizedAs = regexp.MustCompile(` viewBox="\S+ \S+ [0-9.]+ [0-9.]+" width="[0-9.]+" height="[0-9.]+"`)
)

// Where no style sheet comes, no drawing, chart or mark takes a whole screen: each states its size.
func TestEverySVGStatesItsSize(t *testing.T) {
	b, err := demoBook()
	if err != nil {
		t.Fatal(err)
	}
	sheets, all := 0, 0
	for _, o := range b.Outputs() {
		if !strings.HasSuffix(page.PathOf(o.Addr), ".html") {
			continue
		}
		if strings.HasPrefix(o.Addr, "/sheets/") { // they are all alike
			if sheets++; sheets > 40 {
				continue
			}
		}
		text, err := o.Make()
		if err != nil {
			t.Fatal(err)
		}
		for _, svg := range anySVG.FindAllString(string(text), -1) {
			if all++; !sizedAs.MatchString(svg) {
				t.Errorf("%s: %.120s has no size of its own", o.Addr, svg)
			}
		}
	}
	if all < 500 {
		t.Errorf("only %d drawings were looked at", all)
	}
}

// The heading of a care sheet is its verdict, with the name that the plant has at home; a parcel of several plants has theirs.
func TestASheetIsHeadedByItsVerdict(t *testing.T) {
	b, err := demoBook()
	if err != nil {
		t.Fatal(err)
	}
	heads := regexp.MustCompile(`(?s)<h1.*?</h1>`)
	looked := 0
	for _, p := range b.All.Journal.Parcels {
		if p.Code == "" || len(p.Together) > 0 || looked > 20 {
			continue
		}
		lot, _ := b.All.Journal.Lot(p.Lot)
		s := b.Species(lot.Plant)
		text := file(t, b, page.SheetAddr(p.Code))
		all := heads.FindAllString(text, -1)
		if len(all) != 1 || !strings.HasPrefix(all[0], `<h1 class="verdict">`) {
			t.Errorf("%s has the headings %q", p.Name, all)
			continue
		}
		looked++
		name, _, _ := strings.Cut(wordsOf(all[0]), ":")
		if strings.Contains(text, `<html lang="en"`) && s.Common != "" && !strings.EqualFold(strings.TrimSpace(name), s.Common) {
			t.Errorf("%s: the heading names %q, not %s", p.Name, name, s.Common)
		}
	}
	if looked < 10 {
		t.Errorf("only %d sheets were looked at", looked)
	}
}
