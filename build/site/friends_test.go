package site

import (
	"strings"
	"testing"
	"testing/fstest"

	"slipleaf/build/journal"
)

// friendsPage publishes a small journal with friends' files, and gives the page and the complaints.
func friendsPage(t *testing.T, files map[string]string) (string, journal.Complaints) {
	t.Helper()
	return friendsPageIn(t, "", files)
}

func friendsPageIn(t *testing.T, region string, files map[string]string) (string, journal.Complaints) {
	t.Helper()
	fsys := fstest.MapFS{
		"journal.yaml":               {Data: []byte("title: A bench\naddress: https://bench.example/\nfriends: [{name: Marsh Lane, offers: 'https://marsh.example/offers.json'}]\n" + regionLine(region))},
		"tanks/trough/tank.md":       {Data: []byte("---\nname: The trough\nbegan: 2026-01-10\n---\n")},
		"tanks/trough/2026-04-18.md": {Data: []byte("---\ntitle: A cut\nlots:\n  - {lot: VS-1, plant: vallisneria-spiralis, form: plantlets, count: 9}\n---\nWords.\n")},
	}
	for name, text := range files {
		fsys["friends/"+name] = &fstest.MapFile{Data: []byte(text)}
	}
	b, cs, err := Load(t.Context(), fsys, Options{On: demoDay})
	if err != nil || b == nil {
		t.Fatal(err, cs)
	}
	out, err := b.Friends()
	if err != nil {
		t.Fatal(err)
	}
	return string(out), cs
}

func regionLine(region string) string {
	if region == "" {
		return ""
	}
	return "region: " + region + "\n"
}

func offer(plant, taxon, more string) string {
	return `{"lot":"A-1","plant":"` + plant + `","taxon":"` + taxon + `","form":"cuttings","left":3,"state":"ready"` + more + `}`
}

func offersFile(title string, offers ...string) string {
	return `{"journal":{"title":"` + title + `","address":"https://marsh.example/"},"as-of":"2026-11-20","offers":[` + strings.Join(offers, ",") + `]}`
}

func TestFriendsMeetByTheAcceptedName(t *testing.T) {
	text, cs := friendsPage(t, map[string]string{
		"marsh-lane.json": offersFile("Marsh", offer("hygrophila-difformis", "Hygrophila difformis", ""), offer("vallisneria-spiralis", "Vallisneria spiralis", "")),
		"other.json":      offersFile("Other", offer("synnema-triflorum", "Synnema triflorum", "")),
	})
	if len(cs) > 0 {
		t.Errorf("%v", cs)
	}
	lacking, ours, ok := strings.Cut(text, `id="h-ours"`)
	if !ok || strings.Count(lacking, "<h3") != 1 || !strings.Contains(lacking, "listed there as") || !strings.Contains(lacking, "Synnema triflorum") {
		t.Errorf("a synonym did not meet its species:\n%s", lacking)
	}
	if !strings.Contains(ours, "Vallisneria spiralis") || !strings.Contains(ours, "9 left of lot VS-1") {
		t.Errorf("what is grown here stands elsewhere:\n%s", ours)
	}
}

// What came from a friend and was passed on is counted; the link by which it came stays secret.
func TestGiftsPassedOnAreCounted(t *testing.T) {
	text := string(fileAt(t, "friends/index.html"))
	if !strings.Contains(text, "2 parcels sent on from here were grown from plants of theirs.") {
		t.Errorf("gifts of Marsh Lane are not counted:\n%s", text)
	}
	for _, f := range demoFiles(t) {
		if !strings.HasPrefix(f.Path, "sheets/") && strings.Contains(string(f.Data), "marsh.example/sheets/") {
			t.Errorf("%s shows a sheet of another grower", f.Path)
		}
	}
}

// The law of this journal's region is beside what others offer.
func TestOffersOfOthersCarryTheLaw(t *testing.T) {
	text, _ := friendsPage(t, map[string]string{"marsh-lane.json": offersFile("Marsh", offer("pistia-stratiotes", "Pistia stratiotes", ""))})
	if strings.Contains(text, `class="law"`) {
		t.Error("a journal without a region shows a law")
	}
	text, _ = friendsPageIn(t, "GB", map[string]string{"marsh-lane.json": offersFile("Marsh", offer("crassula-helmsii", "Crassula helmsii", ""))})
	if !strings.Contains(text, `class="law"`) {
		t.Errorf("no word of the law:\n%s", text)
	}
}

// Words of strangers stay words, and a file that does not hold is a warning and no more.
func TestHostileFriendsDoNoHarm(t *testing.T) {
	text, cs := friendsPage(t, map[string]string{
		"marsh-lane.json": offersFile(`<script>alert(1)</script>`, offer("a", `<img src=x onerror=alert(1)>`, `,"page":"https://a.example/?q='&x=%22"`), offer("b", `Aaa\u202ebbb`, `,"claim":"mailto:a@b.example"`)),
		"bad.json":        offersFile("Bad", offer("a", "A", `,"page":"javascript:alert(1)"`)),
		"deep.json":       `{"journal":` + strings.Repeat(`{"a":`, 100) + `1` + strings.Repeat("}", 100) + `,"offers":[]}`,
	})
	for _, never := range []string{"<script>alert", "<img", "javascript:", "\u202e", "mailto:a@b"} {
		if strings.Contains(text, never) {
			t.Errorf("the page holds %q:\n%s", never, text)
		}
	}
	if !strings.Contains(text, "&lt;img src=x onerror=alert(1)&gt;") {
		t.Errorf("the words were not kept as words:\n%s", text)
	}
	warned := 0
	for _, c := range cs {
		if c.Severity == journal.Warning && c.Rule == "friend-file" && strings.HasPrefix(c.File, "friends/") {
			warned++
		}
	}
	if warned != 2 || cs.Errors() > 0 {
		t.Errorf("%v", cs)
	}
}
