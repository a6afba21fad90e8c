package page_test

import (
	"context"
	"fmt"
	"strings"
	"testing"
	"testing/fstest"

	"slipleaf/build/almanac"
	"slipleaf/build/journal"
	"slipleaf/build/page"
	"slipleaf/build/quantity"
	"slipleaf/build/theme"
	"slipleaf/themes"
)

// longDiary is a journal of one tank with n entries, 20 days apart, by output address.
func longDiary(t *testing.T, n int) map[string]string {
	t.Helper()
	on := quantity.Date{Year: 2026, Month: 3, Day: 1}
	disk := fstest.MapFS{
		"journal.yaml":    {Data: []byte("title: Long\n")},
		"tanks/a/tank.md": {Data: []byte("---\nname: The vat\n---\n")},
	}
	for i := range n {
		name := fmt.Sprintf("tanks/a/%s.md", on.Add(-20*i))
		disk[name] = &fstest.MapFile{Data: []byte(fmt.Sprintf("---\ntitle: Number %d.\n---\nWords.\n", i))}
	}
	a, err := almanac.Open()
	if err != nil {
		t.Fatal(err)
	}
	j, complaints, err := journal.Read(context.Background(), disk, a, journal.Options{On: on})
	if err != nil || complaints.Errors() > 0 {
		t.Fatal(err, complaints)
	}
	look, err := theme.Load(themes.Bench(), "en", "")
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]string{}
	for _, o := range page.NewSite(j, a, look, on, page.Options{}).Outputs() {
		html, err := o.Make()
		if err != nil {
			t.Fatal(err)
		}
		out[o.Addr] = string(html)
	}
	return out
}

func listed(html string, entry int) int {
	return strings.Count(html, fmt.Sprintf(">Number %d.</a>", entry))
}

// Every entry is listed on exactly one page of the diary, and the newest year's is the diary itself.
func TestDiaryIsListedByYear(t *testing.T) {
	const entries = 45 // from 1 March 2026 back to October 2023
	out := longDiary(t, entries)
	for addr, want := range map[string]int{"/diary/": 3, "/diary/2025/": 19, "/diary/2024/": 18, "/diary/2023/": 5} {
		n := 0
		for i := range entries {
			n += listed(out[addr], i)
		}
		if n != want {
			t.Errorf("%s lists %d entries, not %d", addr, n, want)
		}
	}
	if _, ok := out["/diary/2026/"]; ok {
		t.Error("the newest year has two addresses")
	}
	if !strings.Contains(out["/diary/"], `href="`+page.Relative("/diary/", "/diary/2024/", false)+`">2024</a>`) || !strings.Contains(out["/diary/2024/"], `href="`+page.Relative("/diary/2024/", "/diary/", false)+`">2026</a>`) {
		t.Error("the years of the diary do not lead to each other")
	}
	if !strings.Contains(out["/diary/2025/"], "Diary for 2025</h1>") {
		t.Error("the page of 2025 does not say so")
	}
	if short := longDiary(t, 2)["/diary/"]; !strings.Contains(short, "All diary entries</h1>") || strings.Contains(short, "Other years") {
		t.Error("a diary of one year is not whole")
	}
}

// A tank's page lists the newest thirty entries and leads to the years of the rest.
func TestTankListsItsNewestEntries(t *testing.T) {
	for _, row := range []struct {
		entries int
		years   string // that older entries are in
	}{{30, ""}, {31, "2024"}, {45, "2024 2023"}} {
		html := longDiary(t, row.entries)["/tanks/a/"]
		for i := range row.entries {
			want := 1
			if i >= 30 {
				want = 0
			}
			if n := listed(html, i); n != want {
				t.Errorf("of %d entries, number %d is listed %d times", row.entries, i, n)
			}
		}
		_, older, has := strings.Cut(html, "Older entries:")
		if has != (row.years != "") {
			t.Errorf("%d entries: whether there are older ones: %v", row.entries, has)
		}
		for _, y := range strings.Fields(row.years) {
			if !strings.Contains(older, `<a href="../../diary/`+y+`/">`+y+`</a>`) {
				t.Errorf("%d entries: no link to %s", row.entries, y)
			}
		}
	}
}
