package feed

import (
	"encoding/json"
	"encoding/xml"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"golang.org/x/net/html"
	"pgregory.net/rapid"

	"slipleaf/build/quantity"
)

var april = quantity.Date{Year: 2026, Month: 4, Day: 18}

// sample is a channel whose words try to break out.
func sample() Channel {
	return Channel{ID: "tag:bench.example,2026-01-10:feed.atom", Title: `A <b>bench</b> & "more"`, Author: "Wren", Updated: april, Items: []Item{
		{ID: "tag:bench.example,2026-04-18:trough/2026-04-18", Title: "]]> <script>", URL: "https://bench.example/?a=1&b=2", Published: april, Updated: april,
			HTML: "<p>]]&gt; \x0b é</p>", Summary: "a\x00b", Tags: []string{"<tag>"}}}}
}

func TestAtomHoldsWhatWasPutIn(t *testing.T) {
	out, err := Atom(sample())
	if err != nil {
		t.Fatal(err)
	}
	var back atomFeed
	if err := xml.Unmarshal(out, &back); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	e := back.Entries[0]
	for _, row := range []struct{ got, want string }{
		{back.Title, `A <b>bench</b> & "more"`}, {back.Updated, "2026-04-18T12:00:00Z"}, {back.Author.Name, "Wren"}, {e.Title, "]]> <script>"},
		{e.Links[0].Href, "https://bench.example/?a=1&b=2"}, {e.Content.Text, "<p>]]&gt;  é</p>"}, {e.Content.Type, "html"}, {e.Summary, "ab"}, {e.Categories[0].Term, "<tag>"},
	} {
		if row.got != row.want {
			t.Errorf("got %q, want %q", row.got, row.want)
		}
	}
	if len(back.Links) != 0 {
		t.Errorf("a journal without an address has links: %v", back.Links)
	}
}

func TestJSONFeedHoldsWhatTheFormatAsksFor(t *testing.T) {
	out, err := JSON(sample())
	if err != nil {
		t.Fatal(err)
	}
	var back map[string]any
	if err := json.Unmarshal(out, &back); err != nil {
		t.Fatal(err)
	}
	if back["version"] != "https://jsonfeed.org/version/1.1" || back["title"] == "" {
		t.Errorf("%v", back)
	}
	for _, absent := range []string{"home_page_url", "feed_url"} {
		if _, ok := back[absent]; ok {
			t.Errorf("a journal without an address has %s", absent)
		}
	}
	item := back["items"].([]any)[0].(map[string]any)
	if item["id"] != sample().Items[0].ID || item["content_html"] == "" || item["date_modified"] != "2026-04-18T12:00:00Z" {
		t.Errorf("%v", item)
	}
	empty, err := JSON(Channel{})
	if err != nil || !strings.Contains(string(empty), `"items": []`) {
		t.Errorf("a feed without entries: %s", empty)
	}
}

func TestIDs(t *testing.T) {
	for name, row := range map[string]struct {
		mint Mint
		want string
	}{
		"the host of the address":         {NewMint("https://Bench.example/", "a@b.example", "T", "G"), "tag:bench.example,2026-04-18:trough/x"},
		"a port is no part of a name":     {NewMint("http://bench.example:8080/", "", "T", "G"), "tag:bench.example,2026-04-18:trough/x"},
		"a folder keeps two sites apart":  {NewMint("https://host.example/bench/", "", "T", "G"), "tag:host.example,2026-04-18:bench/trough/x"},
		"the mail address where no site":  {NewMint("", "wren@bench.example", "T", "G"), "tag:wren@bench.example,2026-04-18:trough/x"},
		"a UUID where there is neither":   {NewMint("", "", "T", "G"), "urn:"},
		"a bare number is no tag's owner": {NewMint("http://[::1]/", "", "T", "G"), "urn:"},
	} {
		got := row.mint.ID(april, "trough/x")
		if strings.HasPrefix(row.want, "urn:") {
			if !strings.HasPrefix(got, "urn:uuid:") || len(got) != 45 || got[23] != '5' || got != row.mint.ID(april, "trough/x") || got == row.mint.ID(april, "trough/y") {
				t.Errorf("%s: %s", name, got)
			}
		} else if got != row.want {
			t.Errorf("%s: %s, want %s", name, got, row.want)
		}
	}
}

// uuidOfTGk is what Python's uuid.uuid5(uuid.NAMESPACE_URL, "T\nG\nk") gives.
const uuidOfTGk = "urn:uuid:06e8f02d-f107-58f4-b182-a03c550ef20b"

func TestUUIDIsThatOfTheRFC(t *testing.T) {
	if got := NewMint("", "", "T", "G").ID(april, "k"); got != uuidOfTGk {
		t.Errorf("%s, want %s", got, uuidOfTGk)
	}
}

func TestPlain(t *testing.T) {
	base := "https://bench.example/tanks/trough/2026-04-18/"
	for _, row := range []struct{ name, in, base, want string }{
		{"a link becomes absolute", `<p><a class="x" href="../../../plants/a/">a</a></p>`, base, `<p><a href="https://bench.example/plants/a/">a</a></p>`},
		{"a place on the page is on the page", `<a href="#fn">1</a>`, base, `<a href="` + base + `#fn">1</a>`},
		{"without an address a link is its words", `<p><a href="../x/">a</a> <a href="https://b.example/">b</a></p>`, "", `<p>a <a href="https://b.example/">b</a></p>`},
		{"without an address a picture goes", `<p><img src="../x.jpg" alt="x">b</p>`, "", `<p>b</p>`},
		{"of two formats the one that all readers know", `<p><picture><source type="image/webp" srcset="/p.webp 480w"><img src="/p.jpg" alt="a"></picture></p>`, base, `<p><img src="https://bench.example/p.jpg" alt="a"/></p>`},
		{"a picture keeps its measures", `<img src="/p.jpg" alt="a &amp; b" width="3" srcset="q 1x" onerror="x()">`, base, `<img src="https://bench.example/p.jpg" alt="a &amp; b" width="3"/>`},
		{"drawings go", `<figure><svg><title>t</title><a href="https://x.example/">x</a></svg><figcaption>c</figcaption></figure>`, base, `c`},
		{"scripts go", `<p>a<script>alert(1)</script><style>p{}</style></p>`, base, `<p>a</p>`},
		{"a script's address is none", `<a href="javascript:alert(1)">a</a>`, base, `a`},
		{"no styles and no ids", `<p id="a" class="b" style="c">d</p>`, base, `<p>d</p>`},
		{"what is unknown is its content", `<section><details><summary>a</summary><p>b</p></details></section>`, base, `a<p>b</p>`},
	} {
		if got := Plain(row.in, row.base); got != row.want {
			t.Errorf("%s: %s, want %s", row.name, got, row.want)
		}
	}
}

// Law: what comes out holds no script, no handler and no address but http, https and mailto, and no element but those kept.
func FuzzPlain(f *testing.F) {
	for _, s := range []string{`<p><a href="x">`, `<svg><foreignObject><script>`, `<math><mtext><table><mglyph><style><img src=x onerror=1>`, `<a href=" java&#10;script:x">`, `<plaintext>`, `<select><a href=y>`} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		out := Plain(s, "https://bench.example/x/")
		root, err := html.Parse(strings.NewReader(out))
		if err != nil {
			t.Fatal(err)
		}
		for n := range root.Descendants() {
			if n.Type != html.ElementNode || n.Data == "html" || n.Data == "head" || n.Data == "body" {
				continue
			}
			if !slices.Contains(kept, n.DataAtom) && n.Data != "colgroup" {
				t.Fatalf("%q -> %q holds <%s>", s, out, n.Data)
			}
			for _, a := range n.Attr {
				ok := slices.Contains(keptAttributes, a.Key) || strings.HasPrefix(a.Val, "http") || strings.HasPrefix(a.Val, "mailto:")
				if !ok {
					t.Fatalf("%q -> %q holds %s=%q", s, out, a.Key, a.Val)
				}
			}
		}
	})
}

// unfold undoes RFC 5545 §3.1 and checks its limits.
func unfold(t interface{ Fatalf(string, ...any) }, ics string) []string {
	if !strings.HasSuffix(ics, "\r\n") || strings.Contains(strings.ReplaceAll(ics, "\r\n", ""), "\n") || strings.Contains(strings.ReplaceAll(ics, "\r\n", ""), "\r") {
		t.Fatalf("lines do not all end in CRLF: %q", ics)
	}
	var out []string
	for _, l := range strings.Split(strings.TrimSuffix(ics, "\r\n"), "\r\n") {
		if len(l) > 75 || !utf8.ValidString(l) {
			t.Fatalf("%d octets, or a character cut in two: %q", len(l), l)
		}
		if rest, ok := strings.CutPrefix(l, " "); ok && len(out) > 0 {
			out[len(out)-1] += rest
		} else {
			out = append(out, l)
		}
	}
	return out
}

var unescape = strings.NewReplacer(`\\`, `\`, `\;`, ";", `\,`, ",", `\n`, "\n")

func TestCalendarKeepsWhatIsPutIn(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		title := rapid.StringMatching(`[ -~äößΩ植🌿\n,;\\]{0,200}`).Draw(t, "title")
		c := Calendar{"Bench", []Event{{UID: "x@y", Changed: april, First: april, Last: april, Title: title, URL: "https://a.example/"}}}
		lines := unfold(t, string(c.Write()))
		found := false
		for _, l := range lines {
			if v, ok := strings.CutPrefix(l, "SUMMARY:"); ok {
				if found = true; unescape.Replace(v) != title {
					t.Fatalf("%q came back as %q", title, unescape.Replace(v))
				}
			}
		}
		if !found {
			t.Fatalf("no summary in %q", lines)
		}
	})
}

func TestCalendarHasItsProperties(t *testing.T) {
	c := Calendar{"Bench", []Event{{UID: "x@y", Changed: april, First: april, Last: april.Add(2), Title: "a", Tentative: true}}}
	want := []string{"BEGIN:VCALENDAR", "VERSION:2.0", "PRODID:-//slipleaf//offers//EN", "CALSCALE:GREGORIAN", "X-WR-CALNAME:Bench", "BEGIN:VEVENT", "UID:x@y",
		"DTSTAMP:20260418T120000Z", "DTSTART;VALUE=DATE:20260418", "DTEND;VALUE=DATE:20260421", "SUMMARY:a", "TRANSP:TRANSPARENT", "STATUS:TENTATIVE", "END:VEVENT", "END:VCALENDAR"}
	if got := unfold(t, string(c.Write())); !slices.Equal(got, want) {
		t.Errorf("%q", got)
	}
}

func TestRobotsGivesNothingAway(t *testing.T) {
	for _, s := range []string{string(Robots("")), string(Robots("https://bench.example/sitemap.xml"))} {
		if strings.Contains(s, "sheets") || !strings.HasPrefix(s, "User-agent: *\nDisallow:\n") {
			t.Errorf("%q", s)
		}
	}
}

func TestSitemapStopsAtItsLimit(t *testing.T) {
	out, err := Sitemap(make([]Place, mostPlaces+3))
	if err != nil || strings.Count(string(out), "<url>") != mostPlaces {
		t.Errorf("%d, %v", strings.Count(string(out), "<url>"), err)
	}
	out, err = Sitemap([]Place{{"https://a.example/?x=1&y=2", april}})
	if err != nil || !strings.Contains(string(out), "?x=1&amp;y=2</loc>") || !strings.Contains(string(out), "<lastmod>2026-04-18</lastmod>") {
		t.Errorf("%s, %v", out, err)
	}
}
