package page_test

import (
	"regexp"
	"strconv"
	"strings"
	"testing"

	"slipleaf/build/page"
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
	plants, parcels := countsIn(t, tree, `<p class="lead">(\d+) plants in (\d+) parcels`)
	inYears, parcelsInYears := 0, 0
	for _, year := range b.All.Years() {
		review := file(t, b, review.Addr(year))
		given, sent := countsIn(t, review, `(\d+) plants given away in (\d+) parcels`)
		inYears, parcelsInYears = inYears+given, parcelsInYears+sent
		if charted, _ := countsIn(t, review, `>(\d+) plants? given away</text>()`); charted != given {
			t.Errorf("%d: %d plants by month, %d in all", year, charted, given)
		}
	}
	if plants != inYears || parcels != parcelsInYears {
		t.Errorf("the tree has %d plants in %d parcels, the years %d in %d", plants, parcels, inYears, parcelsInYears)
	}
	listed, branched := 0, 0
	for _, m := range regexp.MustCompile(`; \d+ plants? in (\d+) parcels?`).FindAllStringSubmatch(wordsOf(tree), -1) {
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
