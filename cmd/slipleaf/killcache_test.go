package main

import (
	"bytes"
	"encoding/json"
	"encoding/pem"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"io"
	"log"
	"net/http"
	"net/http/httptest"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"sync/atomic"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// offersOf is an offers file of some length, with a number in its title.
func offersOf(i int) string {
	var offers []string
	for n := range 400 {
		offers = append(offers, fmt.Sprintf(`{"lot":"HD-%d","plant":"hygrophila-difformis","taxon":"Hygrophila difformis","form":"cuttings","count":8,"left":6,"state":"ready","page":"https://mill.example/"}`, n))
	}
	return fmt.Sprintf(`{"journal":{"title":"Mill %d"},"as-of":"2026-05-01","offers":[%s]}`, i, strings.Join(offers, ","))
}

// A gather that is killed leaves the last good copy or the new one; what it remembers of it never hides a newer file.
func TestKilledGatherLeavesAWholeCopy(t *testing.T) {
	if runtime.GOOS != "linux" {
		t.Skip("the certificate of the test's server can be trusted by its file on Linux alone")
	}
	bin := built(t)
	var served atomic.Int64
	s := httptest.NewUnstartedServer(http.HandlerFunc(func(w http.ResponseWriter, q *http.Request) {
		text := offersOf(int(served.Load()))
		tag := fmt.Sprintf("%q", fmt.Sprint(served.Load()))
		w.Header().Set("ETag", tag)
		if q.Header.Get("If-None-Match") == tag {
			w.WriteHeader(http.StatusNotModified)
			return
		}
		fmt.Fprint(w, text)
	}))
	s.Config.ErrorLog = log.New(io.Discard, "", 0) // of callers that died
	s.StartTLS()
	t.Cleanup(s.Close)
	root := filepath.Join(t.TempDir(), "root.pem")
	if err := os.WriteFile(root, pem.EncodeToMemory(&pem.Block{Type: "CERTIFICATE", Bytes: s.Certificate().Raw}), 0o644); err != nil {
		t.Fatal(err)
	}
	dir := bench(t, "Marsh", "hygrophila-difformis", "HD-0418", "Mill", s.URL)
	folder := filepath.Join(dir, "friends")
	if err := os.Mkdir(folder, 0o755); err != nil {
		t.Fatal(err)
	}
	gather := func(i int) *exec.Cmd {
		served.Store(int64(i / 2)) // every other run finds nothing new
		cmd := exec.Command(bin, "gather", dir, "--private")
		cmd.Env = append(os.Environ(), "SSL_CERT_FILE="+root)
		return cmd
	}
	g, last := guard(t, dir, "friends"), ""
	kills := killing{only(folder), gather, func(i int, finished bool, _ string) {
		g.changed(t)
		now, want := g.at["friends/mill.json"], offersOf(i/2)
		if now != want && (finished || now != last) {
			t.Errorf("the copy is neither the old file nor the new one: %.80q", now)
		}
		if m, ok := g.at["friends/.gathered.json"]; ok && !json.Valid([]byte(m)) {
			t.Errorf("the memory is cut: %q", m)
		}
		last = now
	}}.run(t)
	t.Attr("figure", fmt.Sprintf("kills survived, of gather: %d", kills))
	finish(t, gather(100_000))
	g.changed(t)
	if g.at["friends/mill.json"] != offersOf(50_000) {
		t.Error("the run after the kills did not fetch the newest file")
	}
	holds(t, bin, dir, "2026-06-01")
	nothingHidden(t, dir, ".gathered.json")
}

// snap writes a photo that differs from every other: a slow wave of colours, turned by a number.
func snap(t *testing.T, name string, turn int) {
	t.Helper()
	m := image.NewRGBA(image.Rect(0, 0, 640, 400))
	for y := range 400 {
		for x := range 640 {
			m.SetRGBA(x, y, color.RGBA{uint8(x/5 + turn*7), uint8(y/3 + turn*13), uint8((x+y)/7 + turn), 255})
		}
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, m, nil); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(name, b.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
}

// withPhotos gives a small journal an entry of some photos, and returns their names.
func withPhotos(t *testing.T, dir string, n int) []string {
	t.Helper()
	if err := os.MkdirAll(filepath.Join(dir, "photos"), 0o755); err != nil {
		t.Fatal(err)
	}
	var list, names []string
	for i := range n {
		names = append(names, filepath.Join(dir, "photos", fmt.Sprintf("p%d.jpg", i)))
		list = append(list, fmt.Sprintf("{file: p%d.jpg, alt: Leaves}", i))
		snap(t, names[i], i)
	}
	entry := "---\ntitle: Seen\nphotos: [" + strings.Join(list, ", ") + "]\n---\nWords.\n"
	if err := os.WriteFile(filepath.Join(dir, "tanks", "shelf", "2026-06-01-seen.md"), []byte(entry), 0o644); err != nil {
		t.Fatal(err)
	}
	return names
}

// caches lists what publish keeps beside a site for the next time.
func caches(t *testing.T, site string) []string {
	t.Helper()
	found, err := filepath.Glob(filepath.Join(filepath.Dir(site), ".*.cache"))
	if err != nil {
		t.Fatal(err)
	}
	return found
}

// asFromNothing checks that a site, made with whatever caches lie beside it, is the one that is made without any, and
// that the caches hold no more files than new ones.
func asFromNothing(t *testing.T, bin, dir, site, on string) {
	t.Helper()
	fresh := filepath.Join(t.TempDir(), filepath.Base(site))
	finish(t, exec.Command(bin, "publish", dir, "--to", fresh, "--on", on))
	if diff := cmp.Diff(tree(t, fresh), tree(t, site)); diff != "" {
		t.Errorf("the caches changed the site:\n%s", diff)
	}
	for _, c := range caches(t, site) {
		got, want := tree(t, c), tree(t, filepath.Join(filepath.Dir(fresh), filepath.Base(c)))
		for name := range got {
			if _, ok := want[name]; !ok {
				t.Errorf("%s was left lying in %s", name, filepath.Base(c))
			}
		}
	}
}

// A publish that is killed while it keeps photos, or whatever else, for the next time leaves a cache that spoils no later
// site: what is cut is noticed and made anew.
func TestKilledWhileKeepingLeavesNoBadCache(t *testing.T) {
	patient(t)
	t.Parallel()
	bin := built(t)
	dir := smallJournal(t, bin)
	photos := withPhotos(t, dir, 4)
	site := filepath.Join(t.TempDir(), "www")
	publish := func() *exec.Cmd { return exec.Command(bin, "publish", dir, "--to", site, "--on", "2026-06-01") }
	finish(t, publish())
	if len(caches(t, site)) == 0 {
		t.Fatal("no cache was kept")
	}
	last, compared := "", 0
	kills := killing{func() []string { return append(caches(t, site), filepath.Dir(site)) }, func(i int) *exec.Cmd {
		entitle(t, dir, fmt.Sprintf("Bench %d", i))
		for k, name := range photos {
			snap(t, name, i*10+k)
		}
		return publish()
	}, func(i int, finished bool, _ string) {
		got := whole(t, site)
		if want := fmt.Sprintf("Bench %d", i); got != want && (finished || i > 1 && got != last) {
			t.Errorf("the site says %q, not %q or %q", got, last, want)
		}
		last = got
		if finished && i > 1 && compared < 10 {
			compared++
			asFromNothing(t, bin, dir, site, "2026-06-01")
		}
	}}.run(t)
	t.Attr("figure", fmt.Sprintf("kills survived, of publish while it keeps photos: %d", kills))
	finish(t, publish()) // from what the last kill left
	asFromNothing(t, bin, dir, site, "2026-06-01")
	assertAlone(t, site)
}

// enlarge gives a small journal so many parcels that its site has more than 2,000 files, from where on publish keeps a
// spare of it.
func enlarge(t *testing.T, dir string) {
	t.Helper()
	withLot(t, dir, 5000)
	for i := range 650 {
		text := fmt.Sprintf("---\nlot: HZ-1\ncount: 1\nsent: 2026-06-03\ncode: 7f3k9m2p4t6w8x0z1b5c%05d\n---\n", i)
		if err := os.WriteFile(filepath.Join(dir, "sent", fmt.Sprintf("p%d.md", i)), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// pageOf writes a page of a number's own, and one that every third number has; returns what the first then says.
func pageOf(t *testing.T, dir string, i int) string {
	t.Helper()
	says := fmt.Sprintf("Edition %d of this page.", i)
	if err := os.WriteFile(filepath.Join(dir, "pages", "edition.md"), []byte("---\ntitle: Edition\n---\n"+says+"\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	extra := filepath.Join(dir, "pages", "extra.md")
	if i%3 == 0 {
		if err := os.WriteFile(extra, []byte("---\ntitle: Extra\n---\nWords.\n"), 0o644); err != nil {
			t.Fatal(err)
		}
	} else if err := os.Remove(extra); err != nil && !os.IsNotExist(err) {
		t.Fatal(err)
	}
	return says
}

// A publish of a large site, which brings the folder of the site before last up to date and exchanges the two, leaves a
// whole site when it is killed: the old one or the new one; and no later site is mixed of several.
func TestKilledPublishOfALargeSite(t *testing.T) {
	patient(t)
	t.Parallel()
	bin := built(t)
	dir := smallJournal(t, bin)
	enlarge(t, dir)
	site := filepath.Join(t.TempDir(), "www")
	publish := func() *exec.Cmd { return exec.Command(bin, "publish", dir, "--to", site, "--on", "2026-06-10") }
	for i := range 3 {
		pageOf(t, dir, i)
		finish(t, publish())
	}
	if _, err := os.Stat(filepath.Join(filepath.Dir(site), ".www.spare")); err != nil {
		t.Fatal("no spare is kept: ", err)
	}
	last, want, compare := pageOf(t, dir, 2), "", 1
	if long {
		compare = 10
	}
	kills := killing{func() []string { return append(caches(t, site), filepath.Dir(site)) }, func(i int) *exec.Cmd {
		want = pageOf(t, dir, i+2)
		return publish()
	}, func(i int, finished bool, _ string) {
		whole(t, site)
		got := read(t, filepath.Join(site, "edition", "index.html"))
		switch {
		case strings.Contains(got, want):
			last = want
		case finished || !strings.Contains(got, last):
			t.Errorf("the site shows neither %q nor %q", last, want)
		}
		if finished && compare > 0 {
			compare--
			asFromNothing(t, bin, dir, site, "2026-06-10")
		}
	}}.run(t)
	t.Attr("figure", fmt.Sprintf("kills survived, of publish of a large site: %d", kills))
	finish(t, publish())
	asFromNothing(t, bin, dir, site, "2026-06-10")
	assertAlone(t, site)
}
