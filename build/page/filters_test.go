package page_test

import (
	"regexp"
	"strconv"
	"strings"
	"testing"

	"slipleaf/build/page"
)

var (
	fitOf   = regexp.MustCompile(`data-fit="([^"]*)"`)
	selects = regexp.MustCompile(`(?s)<select id="(f-[a-z0-9]+)">(.*?)</select>`)
	values  = regexp.MustCompile(`value="([a-z0-9-]+)"`)
)

// Each filter of the offers has an answer that leaves lots out, or it is of no use to who looks for a plant; and no kind
// of light or water leaves out all of them.
func TestEachFilterLeavesSomethingOut(t *testing.T) {
	b, err := demoBook()
	if err != nil {
		t.Fatal(err)
	}
	text := file(t, b, page.OffersAddr)
	lots := fitOf.FindAllStringSubmatch(text, -1)
	if len(lots) < 8 {
		t.Fatalf("%d lots", len(lots))
	}
	filters := selects.FindAllStringSubmatch(text, -1)
	if len(filters) != 5 {
		t.Fatalf("%d filters", len(filters))
	}
	for _, f := range filters {
		least := len(lots)
		for _, v := range values.FindAllStringSubmatch(f[2], -1) {
			n := 0
			for _, l := range lots {
				n += strings.Count(" "+l[1]+" ", " "+v[1]+" ")
			}
			if least = min(least, n); n == 0 && (f[1] == "f-light" || f[1] == "f-water") {
				t.Errorf("%s leaves no lot", v[1])
			}
		}
		if least == len(lots) {
			t.Errorf("no answer to %s leaves anything out", f[1])
		}
	}
}

// The headline of the offers counts what the labels below count: pieces, and seeds apart from them; the links count lots.
func TestOffersCountsAgree(t *testing.T) {
	b, err := demoBook()
	if err != nil {
		t.Fatal(err)
	}
	text := file(t, b, page.OffersAddr)
	plants, seeds := 0, 0
	labels := regexp.MustCompile(`<span class="count">(\d+) ([a-z]+)</span>`).FindAllStringSubmatch(text, -1)
	for _, m := range labels {
		n, _ := strconv.Atoi(m[1])
		if strings.HasPrefix(m[2], "seed") {
			seeds += n
		} else {
			plants += n
		}
	}
	if plants == 0 || seeds == 0 {
		t.Fatalf("%d plants and %d seeds: nothing to compare", plants, seeds)
	}
	wants(t, "the offers", text, `<h1 class="across">`+strconv.Itoa(plants)+" plants and "+strconv.Itoa(seeds)+" seeds available today</h1>",
		`<a href="#ready"><b>`+strconv.Itoa(len(labels))+`</b> lots ready</a>`)
}

// A tank's diary lists six entries; the others are folded, by year, and none is lost.
func TestTanksDiaryFolds(t *testing.T) {
	b, err := demoBook()
	if err != nil {
		t.Fatal(err)
	}
	text := file(t, b, page.TankAddr("trough"))
	_, diary, _ := strings.Cut(text, `id="h-diary"`)
	open, folded, ok := strings.Cut(diary, "<details>")
	if n := strings.Count(open, `class="h-entry"`); n != 6 || !ok {
		t.Errorf("%d entries are open", n)
	}
	if n := strings.Count(folded, `class="h-entry"`); n != 24 || !strings.Contains(folded, "<summary>2026: 24 earlier entries</summary>") {
		t.Errorf("%d entries are folded:\n%.200s", n, folded)
	}
}

// A plant's page leads to a feed of the entries that name it.
func TestPlantFeed(t *testing.T) {
	b, err := demoBook()
	if err != nil {
		t.Fatal(err)
	}
	const id = "heteranthera-zosterifolia"
	feed := file(t, b, page.PlantAtomAddr(id))
	if n := strings.Count(feed, "<entry>"); n != 20 {
		t.Errorf("%d entries", n)
	}
	wants(t, "the plant's page", file(t, b, page.PlantAddr(id)), `title="stargrass · The Wash-house Bench" href="../../plants/heteranthera-zosterifolia/feed.atom"`)
}
