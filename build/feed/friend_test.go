package feed

import (
	"encoding/json"
	"fmt"
	"pgregory.net/rapid"
	"strings"
	"testing"
	"unicode"

	"slipleaf/build/journal"
)

const goodOffer = `{"lot":"HD-1","plant":"hygrophila-difformis","taxon":"Hygrophila difformis","form":"cuttings","count":8,"reserved":2,"left":6,"state":"ready","ready":"2026-11-07","page":"https://marsh.example/"}`

func offersWith(offer string) string {
	return `{"journal":{"title":"Marsh Lane"},"as-of":"2026-11-20","offers":[` + offer + `]}`
}

// with replaces one value of the good offer.
func with(key, value string) string {
	var m map[string]json.RawMessage
	if err := json.Unmarshal([]byte(goodOffer), &m); err != nil {
		panic(err)
	}
	m[key] = json.RawMessage(value)
	out, err := json.Marshal(m)
	if err != nil {
		panic(err)
	}
	return offersWith(string(out))
}

// hostile are files of friends that must be refused whole.
var hostile = map[string]string{
	"nothing":                      "",
	"no JSON":                      "<html>not found</html>",
	"a list":                       "[]",
	"null":                         "null",
	"two values":                   offersWith(goodOffer) + offersWith(goodOffer),
	"cut short":                    offersWith(goodOffer)[:100],
	"no UTF-8":                     strings.Replace(offersWith(goodOffer), "Marsh", "Mar\xffsh", 1),
	"a million brackets":           strings.Repeat("[", 1_000_000),
	"deep objects":                 `{"journal":` + strings.Repeat(`{"a":`, 5000) + `1` + strings.Repeat("}", 5001),
	"deep in an unknown key":       `{"x":` + strings.Repeat("[", 40) + strings.Repeat("]", 40) + `,"journal":{"title":"a"},"as-of":"2026-01-01","offers":[]}`,
	"too large":                    `{"journal":{"title":"` + strings.Repeat("a", MaxFriendBytes) + `"},"as-of":"2026-01-01","offers":[]}`,
	"too many offers":              offersWith(strings.TrimSuffix(strings.Repeat(goodOffer+",", 1001), ",")),
	"no title":                     `{"journal":{},"as-of":"2026-01-01","offers":[]}`,
	"a title too long":             `{"journal":{"title":"` + strings.Repeat("a", 300) + `"},"as-of":"2026-01-01","offers":[]}`,
	"no such day":                  `{"journal":{"title":"a"},"as-of":"2026-02-30","offers":[]}`,
	"a script as the site":         `{"journal":{"title":"a","address":"javascript:alert(1)"},"as-of":"2026-01-01","offers":[]}`,
	"a script as the page":         with("page", `"javascript:alert(1)"`),
	"a script in capitals":         with("page", `"JaVaScRiPt:alert(1)"`),
	"data as the page":             with("page", `"data:text/html,<script>alert(1)</script>"`),
	"a file as the claim":          with("request", `"file:///etc/passwd"`),
	"a page that leaves its quote": with("page", `"https://a.example/\" onmouseover=\"x"`),
	"a page with markup":           with("page", `"https://a.example/<script>"`),
	"a huge address":               with("page", `"https://a.example/`+strings.Repeat("a", 3000)+`"`),
	"a plant with markup":          with("plant", `"<b>x</b>"`),
	"a plant that climbs":          with("plant", `"../../sheets"`),
	"a lot with markup":            with("lot", `"<script>"`),
	"a lot too long":               with("lot", `"`+strings.Repeat("A", 41)+`"`),
	"a taxon too long":             with("taxon", `"`+strings.Repeat("Aa ", 100)+`"`),
	"a taxon of nothing":           with("taxon", `" "`),
	"a title that cannot be seen":  `{"journal":{"title":"\u202e\u200b"},"as-of":"2026-01-01","offers":[]}`,
	"a taxon that is none":         with("taxon", `{"a":1}`),
	"less than nothing":            with("left", `-4`),
	"more than there can be":       with("count", `1e300`),
	"half a plant":                 with("left", `2.5`),
	"a made-up state":              with("state", `"stolen"`),
	"a made-up form":               with("form", `"<i>"`),
	"no such ready day":            with("ready", `"soon"`),
	"a share of words":             with("elsewhere", `{"sent":"many"}`),
	"a script under another case":  offersWith(strings.TrimSuffix(goodOffer, "}") + `,"PAGE":"javascript:alert(1)"}`),
	"a key given twice":            offersWith(strings.Replace(goodOffer, `"page":"https://marsh.example/"`, `"page":"https://marsh.example/","page":"javascript:alert(1)"`, 1)),
	"a state under another case":   offersWith(strings.TrimSuffix(goodOffer, "}") + `,"State":"<b>"}`),
	"no offers":                    `{"journal":{"title":"a"},"as-of":"2026-01-01"}`,
	"offers that are a mapping":    `{"journal":{"title":"a"},"as-of":"2026-01-01","offers":{}}`,
}

func reader(t testing.TB) *FriendReader {
	t.Helper()
	r := NewFriendReader()
	return r
}

func TestHostileFilesAreRefused(t *testing.T) {
	r := reader(t)
	for name, file := range hostile {
		o, err := r.Read([]byte(file))
		if err == nil {
			t.Errorf("%s was read as %+v", name, o)
		} else if msg := err.Error(); len(msg) > 300 || strings.ContainsFunc(msg, unicode.IsControl) {
			t.Errorf("%s: the reason is unfit for a terminal: %q", name, msg)
		}
	}
	if len(hostile) < 30 {
		t.Errorf("only %d hostile files", len(hostile))
	}
	t.Attr("figure", fmt.Sprintf("files of friends refused: %d", len(hostile)))
}

func TestGoodFilesAreRead(t *testing.T) {
	r := reader(t)
	o, err := r.Read([]byte(offersWith(goodOffer)))
	if err != nil || len(o.Offers) != 1 || *o.Offers[0].Left != 6 || o.Journal.Title != "Marsh Lane" {
		t.Errorf("%+v, %v", o, err)
	}
	for name, file := range map[string]string{
		"a key of a later version":  with("colour", `"red"`),
		"no offers at all":          offersWith(""),
		"a mail address to ask at":  with("request", `"mailto:odile@marsh.example?subject=HD-1"`),
		"not counted yet":           with("count", `0`),
		"a share with its interval": with("elsewhere", `{"sent":9,"results":6,"established":{"value":0.5,"low":0.2,"high":0.8,"level":0.95,"n":6}}`),
	} {
		if _, err := r.Read([]byte(file)); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func TestWordsOfStrangersAreCleaned(t *testing.T) {
	o, err := reader(t).Read([]byte("{\"journal\":{\"title\":\"A\\u202e\\u0000 b\\n\\tc\\u200b\\ufeff \\u2066d\"},\"as-of\":\"2026-01-01\",\"offers\":[]}"))
	if err != nil || o.Journal.Title != "A b c d" {
		t.Errorf("%q, %v", o.Journal.Title, err)
	}
}

func TestNamesOfFriendFiles(t *testing.T) {
	var friends []journal.Friend
	for _, n := range []string{"Marsh Lane", "marsh-lane", "Tidemill", "../../etc/passwd", "CON", "Größe", "植物", strings.Repeat("long ", 40), "a"} {
		friends = append(friends, journal.Friend{Name: n})
	}
	want := []string{"", "", "tidemill.json", "etc-passwd.json", "con-1.json", "groesse.json", "friend.json", "", "a.json"}
	seen := map[string]bool{}
	for i := range friends {
		got := FriendFile(friends, i)
		if want[i] != "" && got != want[i] || len(got) > 70 || seen[got] {
			t.Errorf("%q: %s, want %s", friends[i].Name, got, want[i])
		}
		seen[got] = true
	}
}

// No two friends' copies have one name, whatever the friends are called and in whatever order they come.
func TestFriendFilesNeverMeet(t *testing.T) {
	name := rapid.StringMatching(`(marsh|Marsh|tide)([ -]{1,3}[12a]){0,3}`)
	rapid.Check(t, func(t *rapid.T) {
		var friends []journal.Friend
		for _, n := range rapid.SliceOfN(name, 1, 8).Draw(t, "names") {
			friends = append(friends, journal.Friend{Name: n, Offers: rapid.SampledFrom([]string{"https://a.example/", "https://b.example/"}).Draw(t, "address")})
		}
		seen := map[string]int{}
		for i := range friends {
			file := FriendFile(friends, i)
			if k, ok := seen[file]; ok {
				t.Fatalf("%+v and %+v both have %s", friends[k], friends[i], file)
			}
			seen[file] = i
		}
	})
}

// Law: what is read can be written and read again, and says the same.
func FuzzFriendFile(f *testing.F) {
	f.Add([]byte(offersWith(goodOffer)))
	for _, s := range hostile {
		if len(s) < 5000 {
			f.Add([]byte(s))
		}
	}
	r := reader(f)
	f.Fuzz(func(t *testing.T, data []byte) {
		o, err := r.Read(data)
		if err != nil {
			return
		}
		text, err := o.JSON()
		if err != nil {
			t.Fatal(err)
		}
		again, err := r.Read(text)
		if err != nil {
			t.Fatalf("%q was read, and its own writing %q is refused: %v", data, text, err)
		}
		if fmt.Sprintf("%+v", again.Journal) != fmt.Sprintf("%+v", o.Journal) || len(again.Offers) != len(o.Offers) {
			t.Fatalf("%+v became %+v", o, again)
		}
	})
}
