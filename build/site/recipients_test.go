package site

import (
	"fmt"
	"regexp"
	"strings"
	"testing"
	"testing/fstest"
)

// The photo that a record shows is for its recipient: its name, which may be theirs, is in no address and no page.
func TestAPhotoOfARecordIsPublishedUnderItsHash(t *testing.T) {
	fsys := photographed(t)
	fsys["photos/Ada Example, 4 Mill Lane.jpg"] = fsys["photos/nana.jpg"]
	fsys["tanks/trough/2026-06-01.md"] = &fstest.MapFile{Data: []byte("---\ntitle: Cut\nlots:\n  - {lot: TR-1, plant: heteranthera-zosterifolia, form: cuttings, count: 5}\n---\n")}
	fsys["sent/a.md"] = &fstest.MapFile{Data: []byte("---\nlot: TR-1\ncount: 2\nsent: 2026-06-03\ncode: 7f3k9m2p4t6w8x0z1b5c7d9qe\n---\n\n![Your cuttings](<Ada Example, 4 Mill Lane.jpg>)\n")}
	files, cs := build(t, fsys, demoPhotos())
	if files == nil {
		t.Fatal(cs)
	}
	shown := regexp.MustCompile(`photos/[0-9a-f]+-\d+\.jpg`)
	if sheet := string(files["sheets/7f3k9m2p4t6w8x0z1b5c7d9qe/index.html"]); !shown.MatchString(sheet) {
		t.Errorf("the sheet shows no photo: %.500s", sheet)
	}
	for name, data := range files {
		for _, word := range []string{"ada example", "ada-example", "mill lane", "mill-lane"} {
			if strings.Contains(strings.ToLower(name+"\n"+string(data)), word) {
				t.Errorf("%s tells %q", name, word)
			}
		}
	}
}

// A month and a country of few parcels would tell some whose parcel it was: below five they are dated by quarters, wherever
// their country is named.
func TestFewParcelsToACountryAreDatedByQuarters(t *testing.T) {
	fsys := fstest.MapFS{
		"journal.yaml":               {Data: []byte("title: Bench\ngrower: Wren\naddress: https://bench.example/\nlanguage: en\nunits: metric\nregion: GB\n")},
		"tanks/trough/tank.md":       {Data: []byte("---\nname: The trough\nbegan: 2026-01-10\n---\n")},
		"tanks/trough/2026-02-01.md": {Data: []byte("---\ntitle: Cut\nlots:\n  - {lot: TR-1, plant: heteranthera-zosterifolia, form: cuttings, count: 40}\n---\n")},
	}
	n := 0
	send := func(region, day string) {
		n++
		fsys[fmt.Sprintf("sent/%d.md", n)] = &fstest.MapFile{Data: fmt.Appendf(nil, "---\nlot: TR-1\ncount: 1\nsent: %s\ncode: 7f3k9m2p4t6w8x0z1b5c%05d\nregion: %s\nreports: [{date: %s, outcome: established}]\n---\n", day, n, region, day)}
	}
	for range 5 {
		send("GB", "2026-03-17")
	}
	for range 4 {
		send("NL", "2026-08-19")
	}
	files, cs := build(t, fsys, demoPhotos())
	if files == nil {
		t.Fatal(cs)
	}
	page := string(files["pass-along/index.html"])
	if !strings.Contains(page, "March 2026") || !strings.Contains(page, "third quarter of 2026") && !strings.Contains(page, "quarter 3 of 2026") && !strings.Contains(page, "Q3 2026") {
		t.Errorf("the page of what went where: %s", page)
	}
	for name, data := range files {
		if !strings.HasPrefix(name, "sheets/") && strings.Contains(string(data), "Netherlands") && (strings.Contains(string(data), "August 2026") || strings.Contains(string(data), "2026-08")) {
			t.Errorf("%s tells the month of a parcel of four: %s", name, around(string(data)))
		}
	}
}

// around shows what is about the month.
func around(text string) string {
	i := max(strings.Index(text, "August 2026"), strings.Index(text, "2026-08"))
	return text[max(0, i-200):min(len(text), i+100)]
}
