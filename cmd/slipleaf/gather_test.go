package main

import (
	"bytes"
	"fmt"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"sync/atomic"
	"testing"
	"time"
)

// bench is a small journal with one lot, that has other as its friend.
func bench(t *testing.T, title, plant, lot, friend, offers string) string {
	t.Helper()
	dir := t.TempDir()
	for name, text := range map[string]string{
		"journal.yaml":               fmt.Sprintf("title: %s\naddress: https://%s.example/\nfriends:\n  - {name: %s, offers: %q}\n", title, strings.ToLower(title), friend, offers),
		"tanks/trough/tank.md":       "---\nname: The trough\nbegan: 2026-01-10\n---\n",
		"tanks/trough/2026-04-18.md": fmt.Sprintf("---\ntitle: A cut\nlots:\n  - {lot: %s, plant: %s, form: cuttings, count: 9}\n---\nWords.\n", lot, plant),
	} {
		to := filepath.Join(dir, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(to), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(to, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

// slipleaf runs one command line on a fixed day.
func slipleaf(t *testing.T, args ...string) (status int, out, complaints string) {
	t.Helper()
	var o, e bytes.Buffer
	day := func() time.Time { return time.Date(2026, 5, 1, 12, 0, 0, 0, time.UTC) }
	status = run(t.Context(), args, world{In: strings.NewReader(""), Out: &o, Err: &e, Now: day, Random: strings.NewReader(""), Env: func(string) string { return "" }})
	return status, o.String(), e.String()
}

func read(t *testing.T, name string) string {
	t.Helper()
	text, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// Two journals publish, are served, gather each other's offers and publish again: each shows the other's plant.
func TestTwoJournalsGatherEachOther(t *testing.T) {
	sites := [2]string{filepath.Join(t.TempDir(), "www"), filepath.Join(t.TempDir(), "www")}
	var urls [2]string
	for i, site := range sites {
		s := httptest.NewServer(http.FileServer(http.Dir(site)))
		t.Cleanup(s.Close)
		urls[i] = s.URL + "/offers.json"
	}
	journals := [2]string{
		bench(t, "Marsh", "hygrophila-difformis", "HD-0418", "Mill", urls[1]),
		bench(t, "Mill", "vallisneria-spiralis", "VS-0418", "Marsh", urls[0]),
	}
	publish := func(i int) {
		t.Helper()
		if status, _, complaints := slipleaf(t, "publish", journals[i], "--to", sites[i], "--on", "2026-05-01"); status != done {
			t.Fatalf("publish: %d\n%s", status, complaints)
		}
	}
	publish(0)
	publish(1)
	for i := range journals {
		if status, out, complaints := slipleaf(t, "gather", journals[i], "--plain", "--private"); status != done || !strings.Contains(out, "fetched, 1 offer") {
			t.Fatalf("gather: %d\n%s%s", status, out, complaints)
		}
		publish(i)
	}
	for i, want := range []string{"Vallisneria spiralis", "Hygrophila difformis"} {
		if text := read(t, filepath.Join(sites[i], "friends", "index.html")); !strings.Contains(text, want) || !strings.Contains(text, "9 cuttings, ready") {
			t.Errorf("the friends' page lacks %s:\n%s", want, text)
		}
	}
	before := read(t, filepath.Join(journals[0], "friends", "mill.json"))
	if status, _, complaints := slipleaf(t, "gather", journals[0]); status != cannot || !strings.Contains(complaints, "not https") || !strings.Contains(complaints, "keeping the last good copy") {
		t.Errorf("plain http: %d\n%s", status, complaints)
	}
	if status, _, complaints := slipleaf(t, "gather", journals[0], "--plain"); status != cannot || !strings.Contains(complaints, "private network") {
		t.Errorf("a private network: %d\n%s", status, complaints)
	}
	if read(t, filepath.Join(journals[0], "friends", "mill.json")) != before {
		t.Error("a failed fetch touched the last good copy")
	}
}

// What a friend sends after a good file leaves that file, whatever it is; and an unchanged one is not sent again.
func TestLastGoodCopyIsKept(t *testing.T) {
	good := `{"journal":{"title":"Mill"},"as-of":"2026-04-30","offers":[]}`
	var answer atomic.Value
	answer.Store(good)
	sent := 0
	s := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, q *http.Request) {
		text := answer.Load().(string)
		tag := fmt.Sprintf("%q", fmt.Sprint(len(text)))
		w.Header().Set("ETag", tag)
		if q.Header.Get("If-None-Match") == tag {
			w.WriteHeader(http.StatusNotModified)
			return
		}
		sent++
		fmt.Fprint(w, text)
	}))
	t.Cleanup(s.Close)
	dir := bench(t, "Marsh", "hygrophila-difformis", "HD-0418", "Mill", s.URL)
	copyAt := filepath.Join(dir, "friends", "mill.json")
	gatherIt := func() (int, string, string) { return slipleaf(t, "gather", dir, "--plain", "--private", "--json") }

	answer.Store("<html>sorry</html>")
	if status, out, _ := gatherIt(); status != cannot || !strings.Contains(out, `"missing"`) {
		t.Errorf("%d %s", status, out)
	}
	if _, err := os.Stat(copyAt); err == nil {
		t.Error("a page that says sorry was kept as offers")
	}
	answer.Store(good)
	if status, out, _ := gatherIt(); status != done || !strings.Contains(out, `"fetched"`) {
		t.Errorf("%d %s", status, out)
	}
	before := sent
	if status, out, _ := gatherIt(); status != done || !strings.Contains(out, `"unchanged"`) || sent != before {
		t.Errorf("%d %s, sent %d times", status, out, sent-before)
	}
	for _, bad := range []string{"", "{", `{"journal":{"title":"Mill"},"as-of":"x","offers":[]}`, strings.Repeat("[", 100_000), strings.Repeat("x", 2<<20),
		`{"journal":{"title":"Mill"},"as-of":"2026-05-01","offers":[{"lot":"A","plant":"b","taxon":"c","state":"ready","page":"javascript:alert(1)"}]}`} {
		answer.Store(bad)
		if status, out, complaints := gatherIt(); status != cannot || !strings.Contains(out, `"kept"`) || !strings.Contains(complaints, "keeping") {
			t.Errorf("%.40q: %d %s%s", bad, status, out, complaints)
		}
		if read(t, copyAt) != good {
			t.Fatalf("%.40q replaced the good copy", bad)
		}
	}
	if err := os.WriteFile(copyAt, []byte("spoilt"), 0o644); err != nil {
		t.Fatal(err)
	}
	answer.Store(good)
	if status, _, _ := gatherIt(); status != done || read(t, copyAt) != good {
		t.Error("a spoilt copy was believed because of its ETag")
	}
}

func TestSchemaIsPrinted(t *testing.T) {
	t.Parallel()
	if status, out, _ := slipleaf(t, "schema", "tank"); status != done || !strings.Contains(out, `"water-depth"`) || !strings.Contains(out, "2020-12/schema") {
		t.Errorf("%d\n%s", status, out)
	}
	if status, _, complaints := slipleaf(t, "schema", "tonk"); status != cannot || !strings.Contains(complaints, "there is journal, tank") {
		t.Errorf("%d\n%s", status, complaints)
	}
}
