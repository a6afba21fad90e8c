package site

import (
	"bytes"
	"encoding/json"
	"encoding/xml"
	"fmt"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"golang.org/x/net/html"

	"slipleaf/build/page"
	"slipleaf/build/quantity"
	"slipleaf/build/theme"
)

// fileAt is a file of the demonstration.
func fileAt(t *testing.T, name string) []byte {
	t.Helper()
	for _, f := range demoFiles(t) {
		if f.Path == name {
			return f.Data
		}
	}
	t.Fatalf("the site has no %s", name)
	return nil
}

// tool is a program that a check asks. Without it the test is skipped, but for the run of all checks, which installs it.
func tool(t *testing.T, name string) string {
	t.Helper()
	bin, err := exec.LookPath(name)
	if err != nil {
		if os.Getenv("SLIPLEAF_CHECK") != "" {
			t.Fatalf("%s is not installed: run go run ./cmd/check", name)
		}
		t.Skipf("%s is not installed; go run ./cmd/check installs it", name)
	}
	return bin
}

type atomEntry struct {
	ID      string `xml:"id"`
	Title   string `xml:"title"`
	Updated string `xml:"updated"`
	Content string `xml:"content"`
	Summary string `xml:"summary"`
}

type atomFeed struct {
	ID      string      `xml:"id"`
	Updated string      `xml:"updated"`
	Authors []string    `xml:"author>name"`
	Entries []atomEntry `xml:"entry"`
	Links   []struct {
		Rel  string `xml:"rel,attr"`
		Href string `xml:"href,attr"`
	} `xml:"link"`
}

// atomFeeds are the demonstration's Atom feeds by path.
func atomFeeds(t *testing.T, files []theme.File) map[string]atomFeed {
	t.Helper()
	out := map[string]atomFeed{}
	for _, f := range files {
		if strings.HasSuffix(f.Path, ".atom") {
			var a atomFeed
			if err := xml.Unmarshal(f.Data, &a); err != nil {
				t.Fatalf("%s: %v", f.Path, err)
			}
			out[f.Path] = a
		}
	}
	return out
}

// The rules of RFC 4287 that its schema leaves open: an author, unique ids, a self link; and our own limits.
func TestFeedsKeepTheRules(t *testing.T) {
	feeds := atomFeeds(t, demoFiles(t))
	plants := 0
	for name := range feeds {
		if strings.HasPrefix(name, "plants/") {
			plants++
		}
	}
	if len(feeds)-plants != 5 || plants < 20 { // whole, offers, three tanks, and one for each plant
		t.Errorf("%d feeds, %d of them of plants", len(feeds), plants)
	}
	ids := map[string]string{}
	for name, f := range feeds {
		if len(f.Authors) != 1 || f.Authors[0] == "" || f.Links[0].Rel != "self" || f.Links[0].Href != "https://bench.example/"+name {
			t.Errorf("%s: authors %q, links %v", name, f.Authors, f.Links)
		}
		if ids[f.ID] != "" || !strings.HasPrefix(f.ID, "tag:bench.example,2026-") {
			t.Errorf("%s: id %s, also of %s", name, f.ID, ids[f.ID])
		}
		ids[f.ID] = name
		seen := map[string]bool{}
		for _, e := range f.Entries {
			if seen[e.ID] || e.Title == "" || e.Content == "" || e.Updated > f.Updated || !strings.HasPrefix(e.ID, "tag:bench.example,") {
				t.Errorf("%s: %+v", name, e)
			}
			seen[e.ID] = true
		}
		if len(f.Entries) == 0 {
			t.Errorf("%s is empty", name)
		}
	}
	for _, name := range []string{"feed.atom", "feed.json", "offers.atom"} {
		if n := len(fileAt(t, name)); n > 250_000 {
			t.Errorf("%s has %d bytes", name, n)
		}
	}
}

// Law: from day to day an entry's updated time moves exactly when its words do.
func TestUpdatedTellsOfChanges(t *testing.T) {
	t.Parallel()
	type state struct{ updated, content string }
	before, moved, memory := map[string]state{}, 0, new(Memory)
	for day := demoDay.Add(-8); !day.After(demoDay.Add(32)); day = day.Add(4) {
		files := feedsOn(t, day, memory)
		now := map[string]state{}
		for _, f := range atomFeeds(t, files) {
			for _, e := range f.Entries {
				now[e.ID] = state{e.Updated, e.Title + e.Content + e.Summary}
				was, there := before[e.ID]
				if there && was.content != now[e.ID].content && was.updated >= e.Updated {
					t.Errorf("%s on %s: the words changed from %q to %q, but updated stayed %s", e.ID, day, was.content, now[e.ID].content, e.Updated)
				}
				if there && was.content != now[e.ID].content {
					moved++
				}
				if there && was.updated > e.Updated || e.Updated > day.String()+"T99" {
					t.Errorf("%s on %s: updated %s after %s", e.ID, day, e.Updated, was.updated)
				}
			}
		}
		before = now
	}
	if moved < 3 {
		t.Errorf("only %d changes were seen", moved)
	}
}

// feedsOn are the feeds of the demonstration on a day.
func feedsOn(t *testing.T, day quantity.Date, memory *Memory) []theme.File {
	t.Helper()
	b, _, err := Load(t.Context(), os.DirFS("../../content"), Options{On: day, Memory: memory, Photos: demoPhotos()})
	if err != nil {
		t.Fatal(err)
	}
	var out []theme.File
	for _, o := range b.Outputs() {
		if strings.HasSuffix(o.Addr, ".atom") {
			data, err := o.Make()
			if err != nil {
				t.Fatal(err)
			}
			out = append(out, theme.File{Path: page.PathOf(o.Addr), Data: data})
		}
	}
	return out
}

func TestAtomHoldsAgainstTheSchemaOfTheRFC(t *testing.T) {
	jing := tool(t, "jing")
	dir := t.TempDir()
	var names []string
	for _, f := range demoFiles(t) {
		if strings.HasSuffix(f.Path, ".atom") {
			name := filepath.Join(dir, strings.ReplaceAll(f.Path, "/", "-"))
			if err := os.WriteFile(name, f.Data, 0o644); err != nil {
				t.Fatal(err)
			}
			names = append(names, name)
		}
	}
	schema := "../../testdata/reference/atom.rnc"
	if out, err := exec.CommandContext(t.Context(), jing, append([]string{"-c", schema}, names...)...).CombinedOutput(); err != nil {
		t.Errorf("%v\n%s", err, out)
	}
	good, err := os.ReadFile(names[0])
	if err != nil {
		t.Fatal(err)
	}
	for i, bad := range []struct{ old, new string }{{"T12:00:00Z</updated>", "</updated>"}, {"<title>", "<title type=\"odd\">"}, {"<id>", "<name>x</name><id>"}} {
		name := filepath.Join(dir, fmt.Sprint("bad", i))
		if err := os.WriteFile(name, bytes.Replace(good, []byte(bad.old), []byte(bad.new), 1), 0o644); err != nil {
			t.Fatal(err)
		}
		if exec.CommandContext(t.Context(), jing, "-c", schema, name).Run() == nil {
			t.Errorf("the schema takes %q", bad.new)
		}
	}
}

func TestFeedReadersReadThem(t *testing.T) {
	python := tool(t, "/usr/bin/python3")
	if err := exec.Command(python, "-c", "import feedparser").Run(); err != nil {
		tool(t, "python3-feedparser")
	}
	script := `import feedparser, json, sys
for text in json.load(sys.stdin):
    d = feedparser.parse(text.encode())
    print(json.dumps({"bozo": bool(d.bozo), "version": d.version, "author": d.feed.get("author", ""), "ids": [e.id for e in d.entries], "links": [e.link for e in d.entries], "dates": [list(e.updated_parsed[:3]) for e in d.entries]}))`
	var paths, texts []string
	for _, f := range demoFiles(t) {
		if strings.HasSuffix(f.Path, ".atom") {
			paths, texts = append(paths, f.Path), append(texts, string(f.Data))
		}
	}
	all, err := json.Marshal(texts)
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.CommandContext(t.Context(), python, "-c", script)
	cmd.Stdin = bytes.NewReader(all)
	out, err := cmd.Output()
	if err != nil {
		t.Fatal(err)
	}
	said := json.NewDecoder(bytes.NewReader(out))
	for _, path := range paths {
		var got struct {
			Bozo            bool
			Version, Author string
			IDs, Links      []string
			Dates           [][]int
		}
		if err := said.Decode(&got); err != nil {
			t.Fatal(err)
		}
		if got.Bozo || got.Version != "atom10" || got.Author != "Perrin" || len(got.IDs) == 0 || got.Dates[0][0] != 2026 || !strings.HasPrefix(got.Links[0], "https://bench.example/") {
			t.Errorf("%s was read as %+v", path, got)
		}
	}
}

func TestJSONFeedOfTheDemonstration(t *testing.T) {
	var f struct {
		Version string
		Home    string `json:"home_page_url"`
		Self    string `json:"feed_url"`
		Items   []struct {
			ID, URL   string
			Published time.Time `json:"date_published"`
			HTML      string    `json:"content_html"`
		}
	}
	if err := json.Unmarshal(fileAt(t, "feed.json"), &f); err != nil {
		t.Fatal(err)
	}
	whole := atomFeeds(t, demoFiles(t))["feed.atom"]
	if f.Version != "https://jsonfeed.org/version/1.1" || f.Home != "https://bench.example/" || f.Self != "https://bench.example/feed.json" || len(f.Items) != len(whole.Entries) {
		t.Errorf("%+v", f)
	}
	for i, item := range f.Items {
		if item.ID != whole.Entries[i].ID || item.HTML != whole.Entries[i].Content || item.URL == "" || item.Published.IsZero() {
			t.Errorf("%d: %+v", i, item)
		}
	}
}

func TestCalendarIsRead(t *testing.T) {
	node := tool(t, "node")
	mod, err := filepath.Abs("../../testdata/node/node_modules/ical.js")
	if err != nil {
		t.Fatal(err)
	}
	if _, err := os.Stat(mod); err != nil {
		tool(t, "ical.js")
	}
	script := `const fs = require("fs"), path = require("path");
const dir = process.argv[1];
const main = JSON.parse(fs.readFileSync(path.join(dir, "package.json"))).main || "dist/ical.js";
import(path.join(dir, main)).then(m => { const ICAL = m.default || m;
const c = new ICAL.Component(ICAL.parse(fs.readFileSync(0, "utf8")));
console.log(JSON.stringify(c.getAllSubcomponents("vevent").map(v => { const e = new ICAL.Event(v); return {uid: e.uid, day: e.startDate.isDate, start: e.startDate.toString(), end: e.endDate.toString(), summary: e.summary, stamp: v.getFirstPropertyValue("dtstamp").toString()}; }))); });`
	cmd := exec.CommandContext(t.Context(), node, "-e", script, mod)
	cmd.Stdin = bytes.NewReader(fileAt(t, "offers.ics"))
	out, err := cmd.CombinedOutput()
	if err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	var events []struct {
		UID, Start, End, Summary, Stamp string
		Day                             bool
	}
	if err := json.Unmarshal(out, &events); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	seen := map[string]bool{}
	for _, e := range events {
		if !e.Day || e.Start >= e.End || e.Stamp > demoDay.String()+"T99" || seen[e.UID] || !strings.HasSuffix(e.UID, "@bench.example") {
			t.Errorf("%+v", e)
		}
		seen[e.UID] = true
	}
	if len(events) < 5 {
		t.Errorf("%d events", len(events))
	}
}

func TestSitemapListsWhatIsPublicAndNothingElse(t *testing.T) {
	var s struct {
		URLs []struct {
			Loc string `xml:"loc"`
		} `xml:"url"`
	}
	if err := xml.Unmarshal(fileAt(t, "sitemap.xml"), &s); err != nil {
		t.Fatal(err)
	}
	listed := map[string]bool{}
	for _, u := range s.URLs {
		listed[strings.TrimPrefix(u.Loc, "https://bench.example/")+"index.html"] = true
	}
	for _, f := range demoFiles(t) {
		isPage := strings.HasSuffix(f.Path, "index.html")
		if public := isPage && !strings.HasPrefix(f.Path, "sheets/") && f.Path != "tankside/index.html"; public != listed[f.Path] {
			t.Errorf("%s: listed %t", f.Path, listed[f.Path])
		}
		if isPage && strings.Contains(string(f.Data), `rel="canonical"`) {
			addr := "https://bench.example/" + strings.TrimSuffix(f.Path, "index.html")
			if !strings.Contains(string(f.Data), `rel="canonical" href="`+addr+`"`) {
				t.Errorf("%s: the canonical address is not %s", f.Path, addr)
			}
		}
	}
}

// Nothing that machines read names what is unlisted or private.
func TestMachineFilesGiveNothingAway(t *testing.T) {
	for _, f := range demoFiles(t) {
		machine := strings.HasSuffix(f.Path, ".atom") || strings.HasSuffix(f.Path, ".ics") || strings.HasSuffix(f.Path, ".txt") || strings.HasSuffix(f.Path, ".xml") ||
			f.Path == "feed.json" || f.Path == "offers.json"
		if !machine || strings.HasPrefix(f.Path, "sheets/") {
			continue
		}
		for _, secret := range []string{"CANARY", "/sheets/", "sheets"} {
			if strings.Contains(string(f.Data), secret) {
				t.Errorf("%s holds %q", f.Path, secret)
			}
		}
	}
}

// A journal without an address has feeds all the same: stable ids, and no link that leads nowhere.
func TestFeedsWithoutAnAddress(t *testing.T) {
	dir := t.TempDir()
	if err := os.CopyFS(dir, os.DirFS("../../content")); err != nil {
		t.Fatal(err)
	}
	name := filepath.Join(dir, "journal.yaml")
	text, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	text = bytes.Replace(text, []byte("address: https://bench.example/\n"), nil, 1)
	if err := os.WriteFile(name, text, 0o644); err != nil {
		t.Fatal(err)
	}
	b, _, err := Load(t.Context(), os.DirFS(dir), Options{On: demoDay, Photos: demoPhotos()})
	if err != nil || b == nil {
		t.Fatal(err)
	}
	files, err := Make(t.Context(), b, Options{On: demoDay, only: withoutCards})
	if err != nil {
		t.Fatal(err)
	}
	for name, f := range atomFeeds(t, files) {
		for _, e := range f.Entries {
			if !strings.HasPrefix(e.ID, "tag:perrin@bench.example,") {
				t.Errorf("%s: id %s", name, e.ID)
			}
			if i := strings.Index(e.Content, `href="`); i >= 0 {
				if u, err := url.Parse(e.Content[i+6:][:strings.Index(e.Content[i+6:], `"`)]); err != nil || !u.IsAbs() {
					t.Errorf("%s: %s", name, e.Content)
				}
			}
		}
	}
	for _, f := range files {
		if f.Path == "sitemap.xml" {
			t.Error("a sitemap needs absolute addresses")
		}
		if f.Path == "robots.txt" && strings.Contains(string(f.Data), "Sitemap") {
			t.Error("robots.txt names a sitemap that is not there")
		}
	}
}

func TestStructuredDataIsThere(t *testing.T) {
	for name, kind := range map[string]string{"index.html": "Blog", "offers/index.html": "OfferCatalog", "plants/anubias-barteri/index.html": "Taxon", "tanks/trough/2026-11-22/index.html": "BlogPosting"} {
		_, after, ok := strings.Cut(string(fileAt(t, name)), `<script type="application/ld+json">`)
		data, _, _ := strings.Cut(after, "</script>")
		var v map[string]any
		if err := json.Unmarshal([]byte(data), &v); !ok || err != nil || v["@type"] != kind || v["@context"] != "https://schema.org" {
			t.Errorf("%s: %v %v", name, v, err)
		}
		offers, _ := v["itemListElement"].([]any)
		for _, o := range offers {
			if o := o.(map[string]any); o["price"] != "0" || o["priceCurrency"] != "GBP" || !strings.HasPrefix(o["availability"].(string), "https://schema.org/") {
				t.Errorf("%v", o)
			}
		}
	}
}

// Microformats: an h-entry without an explicit p-name would take its whole text for a name.
func TestEntriesCarryTheirNames(t *testing.T) {
	lists := 0
	for _, f := range demoFiles(t) {
		if !strings.HasSuffix(f.Path, ".html") {
			continue
		}
		root, err := html.Parse(bytes.NewReader(f.Data))
		if err != nil {
			t.Fatal(err)
		}
		for n := range root.Descendants() {
			switch classes := strings.Fields(attribute(n, "class")); {
			case slices.Contains(classes, "h-feed"):
				lists++
			case slices.Contains(classes, "h-entry"):
				for _, want := range []string{"p-name", "dt-published"} {
					if countClass(n, want) != 1 {
						t.Errorf("%s: an h-entry has %d %s", f.Path, countClass(n, want), want)
					}
				}
			}
		}
	}
	if lists < 3 {
		t.Errorf("only %d lists are an h-feed", lists)
	}
}

func countClass(n *html.Node, class string) int {
	count := 0
	for d := range n.Descendants() {
		if slices.Contains(strings.Fields(attribute(d, "class")), class) {
			count++
		}
	}
	return count
}
