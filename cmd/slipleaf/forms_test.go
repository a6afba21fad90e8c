package main

import (
	"bufio"
	"bytes"
	"context"
	"encoding/binary"
	"errors"
	"fmt"
	"hash/crc32"
	"html"
	"io"
	"io/fs"
	"net/http"
	"net/http/cookiejar"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"runtime"
	"strings"
	"sync"
	"testing"
	"time"

	"slipleaf/build/change"
	"slipleaf/build/quantity"
)

// browser is a client with the desk's cookie, that fills in forms as they are served.
type browser struct {
	t    testing.TB
	base string
	dir  string
	http.Client
}

// atTheDesk starts the desk of a new journal and opens it.
func atTheDesk(t *testing.T) (b *browser, dir string) {
	t.Helper()
	return deskIn(t, filepath.Join(t.TempDir(), "bench"))
}

// deskIn is atTheDesk of a journal in a folder.
func deskIn(t *testing.T, dir string) (*browser, string) {
	t.Helper()
	if err := writeFirst(t.Context(), world{Now: time.Now}, dir, mustDay(t, "2026-03-01")); err != nil {
		t.Fatal(err)
	}
	dir = journalIn(dir)
	t.Chdir(t.TempDir())
	addr, desk, stop := previewing(t, dir, time.Date(2026, 3, 8, 12, 0, 0, 0, time.UTC))
	t.Cleanup(func() { stop() })
	jar, err := cookiejar.New(nil)
	if err != nil {
		t.Fatal(err)
	}
	b := &browser{t, strings.TrimSuffix(addr, "/"), dir, http.Client{Jar: jar}}
	if status, body := b.get(strings.TrimPrefix(desk, b.base)); status != http.StatusOK {
		t.Fatal(status, body)
	}
	return b, dir
}

func (b *browser) get(path string) (int, string) {
	b.t.Helper()
	r, err := b.Get(b.base + path)
	return b.answer(r, err)
}

func (b *browser) answer(r *http.Response, err error) (int, string) {
	b.t.Helper()
	if err != nil {
		b.t.Fatal(err)
	}
	defer r.Body.Close()
	body, err := io.ReadAll(r.Body)
	if err != nil {
		b.t.Fatal(err)
	}
	return r.StatusCode, string(body)
}

// post sends a form; change may spoil the request.
func (b *browser) post(path string, form url.Values, change ...func(*http.Request)) (int, string) {
	b.t.Helper()
	q, err := http.NewRequest(http.MethodPost, b.base+path, strings.NewReader(form.Encode()))
	if err != nil {
		b.t.Fatal(err)
	}
	q.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	q.Header.Set("Origin", b.base)
	for _, f := range change {
		f(q)
	}
	r, err := b.Do(q)
	return b.answer(r, err)
}

var (
	inputTag = regexp.MustCompile(`<input ([^>]*)>`)
	attr     = regexp.MustCompile(`([a-z-]+)="([^"]*)"`)
)

// form is what a browser without scripts would send of an untouched form.
func (b *browser) form(path string) url.Values {
	b.t.Helper()
	status, body := b.get(path)
	if status != http.StatusOK {
		b.t.Fatal(status, body)
	}
	return filled(body)
}

// filled is what the form of a page holds.
func filled(body string) url.Values {
	out := url.Values{}
	for _, m := range inputTag.FindAllStringSubmatch(body, -1) {
		at := map[string]string{}
		for _, a := range attr.FindAllStringSubmatch(m[1], -1) {
			at[a[1]] = html.UnescapeString(a[2])
		}
		if at["type"] != "checkbox" && at["type"] != "file" && at["name"] != "" {
			out.Set(at["name"], at["value"])
		}
	}
	return out
}

// entries are the files of a tank by name.
func entries(t *testing.T, dir, tank string) map[string]string {
	t.Helper()
	out := map[string]string{}
	files, err := filepath.Glob(filepath.Join(dir, "tanks", tank, "*.md"))
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range files {
		text, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		out[filepath.Base(f)] = string(text)
	}
	return out
}

const shelf = "/desk/tank/shelf/"

// The whole way without a script: a form is filled in and saved, added to, and taken back; what is wrong is beside its
// field with what was typed, and nothing is written.
func TestAFormIsSavedAddedToAndTakenBack(t *testing.T) {
	b, dir := atTheDesk(t)
	before := entries(t, dir, "shelf")
	f := b.form(shelf)
	f.Set("p.temperature", "24,50")
	f.Set("words", "All well.\r\n\r\n\"Quoted\": yes.")
	if status, body := b.post(shelf, f); status != http.StatusOK || !strings.Contains(body, `data-saved="shelf"`) {
		t.Fatal(status, body)
	}
	first := entries(t, dir, "shelf")["2026-03-08.md"]
	if !strings.Contains(first, "parameters: {temperature: 24.5 C}\n") || !strings.HasSuffix(first, "---\n\nAll well.\n\n\"Quoted\": yes.\n") {
		t.Fatalf("the entry is\n%s", first)
	}
	if _, body := b.post(shelf, f); !strings.Contains(body, `data-saved="shelf"`) || len(entries(t, dir, "shelf")) != len(before)+1 || entries(t, dir, "shelf")["2026-03-08.md"] != first {
		t.Error("a form that was sent twice is written twice")
	}

	f = b.form(shelf)
	f.Set("p.ph", "71")
	f.Set("words", "Kept <b>words</b>")
	status, body := b.post(shelf, f)
	if status != http.StatusUnprocessableEntity || !strings.Contains(body, `value="71" aria-invalid="true"`) || !strings.Contains(body, "Kept &lt;b&gt;words&lt;/b&gt;") {
		t.Errorf("%d: a wrong reading is not shown beside its field with all that was typed", status)
	}
	if got := entries(t, dir, "shelf")["2026-03-08.md"]; got != first {
		t.Errorf("a wrong form was written:\n%s", got)
	}

	f = b.form(shelf)
	f.Set("p.ph", "7.1")
	b.post(shelf, f)
	if got := entries(t, dir, "shelf"); len(got) != len(before)+1 || !strings.Contains(got["2026-03-08.md"], "{temperature: 24.5 C, ph: 7.1}") {
		t.Errorf("it was not added to the entry of the day: %v", got)
	}
	f = b.form(shelf)
	f.Set("p.ph", "7.3")
	b.post(shelf, f)
	if got := entries(t, dir, "shelf")["2026-03-08-2.md"]; !strings.Contains(got, "{ph: 7.3}") {
		t.Errorf("a second reading of the day has no entry of its own: %q", got)
	}

	for range 3 {
		undo := b.form("/desk/")
		if status, body := b.post("/desk/undo/", undo); status != http.StatusOK {
			t.Fatal(status, body)
		}
		if status, _ := b.post("/desk/undo/", undo); status != http.StatusConflict {
			t.Errorf("an undo that is sent twice: %d", status)
		}
	}
	if got := entries(t, dir, "shelf"); len(got) != len(before) {
		t.Errorf("not all was taken back: %v", got)
	}

	// That the journal began is no save: a tap would take away all that the desk stands on.
	root, err := os.OpenRoot(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer root.Close()
	w := &formWriter{w: world{Now: time.Now}, dir: dir, fsys: root.FS()}
	if err := w.Undo(t.Context(), func(change.Past) bool { return true }); err == nil || !strings.Contains(err.Error(), change.ErrNothing.Error()) {
		t.Error(err)
	}
	if _, err := os.Stat(filepath.Join(dir, "journal.yaml")); err != nil || len(entries(t, dir, "shelf")) != len(before) {
		t.Error("the beginning of the journal was taken back", err)
	}
	if _, body := b.get("/desk/"); strings.Contains(body, `name="at"`) {
		t.Error("the desk offers to take back the beginning of its journal")
	}
}

// A form that was opened before midnight and saved after it is an entry of the day that it shows; any other day is today.
func TestAFormOverMidnight(t *testing.T) {
	b, dir := atTheDesk(t)
	for day, want := range map[string]string{"2026-03-07": "2026-03-07.md", "2026-03-06": "2026-03-08.md", "2026-03-09": "2026-03-08.md", "../x": "2026-03-08.md", "": "2026-03-08.md"} {
		before := entries(t, dir, "shelf")
		f := b.form(shelf)
		f.Set("words", "Seen, as the form of "+day+" says.")
		f.Set("day", day)
		if status, body := b.post(shelf, f); status != http.StatusOK {
			t.Fatal(status, body)
		}
		if got := entries(t, dir, "shelf")[want]; got == before[want] || !strings.Contains(got, "the form of "+day+" says") {
			t.Errorf("a form of %s: %s holds %q", day, want, got)
		}
	}
}

// A plant is added by any of its names; where it may be two, nothing is written and the page says what tells them apart.
func TestAPlantIsAddedByAnyName(t *testing.T) {
	b, dir := atTheDesk(t)
	f := b.form(shelf)
	f.Set("add", "nana")
	f.Set("add-count", "3")
	status, body := b.post(shelf, f)
	if status != http.StatusUnprocessableEntity || !strings.Contains(body, "anubias-barteri (broad or spoon-shaped") || !strings.Contains(body, "vallisneria-nana (") {
		t.Errorf("%d: nana is not asked about", status)
	}
	f.Set("add", "HC Kuba?")
	if status, _ := b.post(shelf, f); status != http.StatusUnprocessableEntity {
		t.Errorf("%d: a doubt is not asked about", status)
	}
	f.Set("add", "Javafarn")
	if status, body := b.post(shelf, f); status != http.StatusOK {
		t.Fatal(status, body)
	}
	all := strings.Builder{}
	for _, text := range entries(t, dir, "shelf") {
		all.WriteString(text)
	}
	if !strings.Contains(all.String(), "plant: leptochilus-pteropus") || strings.Contains(all.String(), "nana") {
		t.Errorf("the diary holds\n%s", all.String())
	}
}

// What somebody wrote by hand is never changed by a form.
func TestAFormLeavesHandwritingAlone(t *testing.T) {
	b, dir := atTheDesk(t)
	byHand := "---\ntitle: By hand # with a comment\nparameters: {temperature: 24 C}\n---\n\nWords.\n"
	file := filepath.Join(dir, "tanks", "shelf", "2026-03-08.md")
	if err := os.WriteFile(file, []byte(byHand), 0o644); err != nil {
		t.Fatal(err)
	}
	f := b.form(shelf)
	f.Set("p.ph", "7")
	if status, body := b.post(shelf, f); status != http.StatusOK {
		t.Fatal(status, body)
	}
	got := entries(t, dir, "shelf")
	if got["2026-03-08.md"] != byHand || !strings.Contains(got["2026-03-08-2.md"], "{ph: 7}") {
		t.Errorf("%q", got)
	}
}

// A form that is sent from anywhere else, without the run's cookie or token, or under another name, writes nothing.
func TestNobodyElseCanSendAForm(t *testing.T) {
	b, dir := atTheDesk(t)
	before := entries(t, dir, "shelf")
	good := func() url.Values { f := b.form(shelf); f.Set("words", "Written."); return f }
	set := func(key, value string) func(*http.Request) { return func(q *http.Request) { q.Header.Set(key, value) } }
	without := &browser{t, b.base, b.dir, http.Client{}}
	for _, c := range []struct {
		what   string
		who    *browser
		spoil  func(url.Values)
		change func(*http.Request)
	}{
		{"another origin", b, nil, set("Origin", "http://evil.example")},
		{"another port of this machine", b, nil, set("Origin", "http://localhost:1")},
		{"an origin that is hidden", b, nil, set("Origin", "null")},
		{"no origin", b, nil, func(q *http.Request) { q.Header.Del("Origin") }},
		{"another site's page", b, nil, set("Sec-Fetch-Site", "cross-site")},
		{"a page of the same site", b, nil, set("Sec-Fetch-Site", "same-site")},
		{"another name for this machine", b, nil, func(q *http.Request) { q.Host = "evil.example" }},
		{"no token in the form", b, func(f url.Values) { f.Del("form") }, nil},
		{"a guessed token", b, func(f url.Values) { f.Set("form", "ABCDEFGHIJKLMNOPQRSTUVWXYZ") }, nil},
		{"no cookie", without, nil, nil},
		{"a guessed cookie", without, nil, set("Cookie", "slipleaf-desk-1=x")},
	} {
		f := good()
		if c.spoil != nil {
			c.spoil(f)
		}
		change := c.change
		if change == nil {
			change = func(*http.Request) {}
		}
		if status, _ := c.who.post(shelf, f, change); status != http.StatusForbidden {
			t.Errorf("%s: %d", c.what, status)
		}
		if status, _ := c.who.post("/desk/undo/", f, change); status != http.StatusForbidden {
			t.Errorf("undo with %s: %d", c.what, status)
		}
		if status, _ := c.who.post("/desk/publish/", f, change); status != http.StatusForbidden {
			t.Errorf("publish with %s: %d", c.what, status)
		}
	}
	for _, path := range []string{"/desk/tank/../../sent/", "/desk/tank/..%2f..%2fsent/", "/desk/tank/none/", "/desk/tank/", "/desk/tank/shelf/2026/"} {
		if status, _ := b.post(path, good()); status < 400 {
			t.Errorf("%s: %d", path, status)
		}
	}
	if status, _ := b.post("/", good()); status != http.StatusMethodNotAllowed {
		t.Errorf("a form to a page of the site: %d", status)
	}
	if got := entries(t, dir, "shelf"); len(got) != len(before) {
		t.Errorf("something was written: %v", got)
	}
	if status, _ := b.post(shelf, good()); status != http.StatusOK || len(entries(t, dir, "shelf")) != len(before)+1 {
		t.Error("the good form is refused too: the test shows nothing")
	}
}

// Forms that are saved at once are all there afterwards, each whole.
func TestFormsSavedAtOnceAreAllKept(t *testing.T) {
	patient(t)
	b, dir := atTheDesk(t)
	var wg sync.WaitGroup
	notes := []string{"one", "two", "three", "four", "five", "six"}
	for _, n := range notes {
		f := b.form(shelf)
		f.Set("words", "Note "+n+".")
		wg.Go(func() { b.post(shelf, f) })
	}
	wg.Wait()
	all := ""
	for _, text := range entries(t, dir, "shelf") {
		all += text
	}
	for _, n := range notes {
		if strings.Count(all, "Note "+n+".") != 1 {
			t.Errorf("note %s stands there %d times", n, strings.Count(all, "Note "+n+"."))
		}
	}
}

// A disk that cannot be written to loses nothing: the form comes back as it was filled in.
func TestAFailingDiskKeepsWhatWasTyped(t *testing.T) {
	b, dir := atTheDesk(t)
	if err := os.RemoveAll(filepath.Join(dir, ".undo")); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, ".undo"), []byte("in the way"), 0o644); err != nil { // no folder can be made
		t.Fatal(err)
	}
	f := b.form(shelf)
	f.Set("words", "Not to be lost.")
	before := entries(t, dir, "shelf")
	status, body := b.post(shelf, f)
	if status != http.StatusInternalServerError || !strings.Contains(body, "Not to be lost.</textarea>") {
		t.Errorf("%d\n%.2000s", status, body)
	}
	if got := entries(t, dir, "shelf"); len(got) != len(before) {
		t.Errorf("something was written: %v", got)
	}
	if err := os.Remove(filepath.Join(dir, ".undo")); err != nil {
		t.Fatal(err)
	}
	if status, body := b.post(shelf, f); status != http.StatusOK || !strings.Contains(body, "data-saved") {
		t.Errorf("the same form cannot be saved afterwards: %d", status)
	}
}

// Whatever lies in the way of an entry is neither read, followed nor written over: the form goes into a file of its own. A
// tank that is a link leads nowhere.
func TestWhatIsInTheWayOfAnEntry(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("it has no such pipes and links")
	}
	b, dir := atTheDesk(t)
	tank := filepath.Join(dir, "tanks", "shelf")
	outside := filepath.Join(t.TempDir(), "outside.md")
	for i, put := range []func(name string) error{
		func(name string) error { return exec.Command("mkfifo", name).Run() }, func(name string) error { return os.Symlink(outside, name) },
		func(name string) error { return os.Symlink(filepath.Join(dir, "journal.yaml"), name) }, func(name string) error { return os.Mkdir(name, 0o755) },
	} {
		name := filepath.Join(tank, "2026-03-08.md")
		if err := put(name); err != nil {
			t.Fatal(err)
		}
		before, err := os.Lstat(name)
		if err != nil {
			t.Fatal(err)
		}
		f := b.form(shelf)
		f.Set("words", fmt.Sprintf("Beside it %d.", i))
		status, body := b.post(shelf, f)
		after, err := os.Lstat(name)
		text, err2 := os.ReadFile(filepath.Join(tank, "2026-03-08-2.md"))
		if status != http.StatusOK || err != nil || err2 != nil || !os.SameFile(before, after) || !strings.Contains(string(text), f.Get("words")) {
			t.Errorf("%s: %d, %v, %v\n%s\n%.3000s", before.Mode(), status, err, err2, text, body)
		}
		if err := errors.Join(os.Remove(name), os.Remove(filepath.Join(tank, "2026-03-08-2.md"))); err != nil {
			t.Fatal(err)
		}
	}
	moved := t.TempDir()
	if err := errors.Join(os.Remove(moved), os.Rename(tank, moved), os.Symlink(moved, tank)); err != nil {
		t.Fatal(err)
	}
	f := b.form(shelf)
	f.Set("words", "Through a link.")
	if status, body := b.post(shelf, f); status != http.StatusInternalServerError || !strings.Contains(body, "Through a link.</textarea>") {
		t.Errorf("%d\n%.3000s", status, body)
	}
	names, err := os.ReadDir(moved)
	if _, outsideErr := os.Stat(outside); err != nil || len(names) != 2 || outsideErr == nil {
		t.Errorf("something was written through a link: %v %v", names, err)
	}
}

// More than an entry holds is refused beside what was typed, and a photo that is none, or too large, before it is decoded.
func TestTooMuchIsRefused(t *testing.T) {
	b, dir := atTheDesk(t)
	before := entries(t, dir, "shelf")
	for _, name := range []string{"words", "p.ph", "add", "share"} {
		f := b.form(shelf)
		f.Set(name, strings.Repeat("much,", 400_000))
		if status, body := b.post(shelf, f); status != http.StatusUnprocessableEntity || !strings.Contains(body, `id="faults"`) || strings.Count(body, "much,") < 400_000 {
			t.Errorf("2 MB of %s: %d, %d bytes come back", name, status, len(body))
		}
	}
	for want, data := range map[string][]byte{"not a JPEG": []byte("words"), "100 megapixels": ofSize(10000, 10000), "dimension": ofSize(1<<31-1, 1<<31-1), "is empty": {}, "cut off": twelveMegapixels(t, 1)[:5000]} {
		f := b.form(shelf)
		f.Set("words", "Kept words.")
		f.Set("alt", "A photo")
		if status, body := b.upload(shelf, f, data); status != http.StatusUnprocessableEntity || !strings.Contains(body, want) || !strings.Contains(body, "Kept words.") {
			t.Errorf("%s: %d\n%.3000s", want, status, body)
		}
		if _, body := b.upload("/desk/photo/", url.Values{"form": {f.Get("form")}}, data); !strings.Contains(body, want) || !strings.Contains(body, `"fault":true`) {
			t.Errorf("%s, taken in ahead: %s", want, body)
		}
	}
	if got := entries(t, dir, "shelf"); len(got) != len(before) {
		t.Errorf("something was written: %d entries", len(got))
	}
}

// ofSize is the head of a PNG of that size.
func ofSize(width, height uint32) []byte {
	head := binary.BigEndian.AppendUint32(binary.BigEndian.AppendUint32([]byte("IHDR"), width), height)
	head = append(head, 8, 2, 0, 0, 0)
	out := append(binary.BigEndian.AppendUint32([]byte("\x89PNG\r\n\x1a\n"), 13), head...)
	return binary.BigEndian.AppendUint32(out, crc32.ChecksumIEEE(head))
}

// Publish shows what it would change, writes the site, says so, and then would change nothing until something is saved.
func TestPublishFromTheDesk(t *testing.T) {
	b, _ := atTheDesk(t)
	look := func(wants, without string) {
		t.Helper()
		f := b.form("/desk/publish/")
		f.Set("do", "look")
		if status, body := b.post("/desk/publish/", f); status != http.StatusOK || !strings.Contains(body, wants) || strings.Contains(body, without) {
			t.Error(status, body)
		}
	}
	look("New pages", "Pages that go")
	status, body := b.post("/desk/publish/", b.form("/desk/publish/"))
	defer func() {
		look("Nothing would change", "New pages")
		f := b.form(shelf)
		f.Set("words", "Something new.")
		b.post(shelf, f)
		look("/tanks/shelf/2026-03-08/", "Nothing would change")
	}()
	if status != http.StatusOK || !regexp.MustCompile(`\d+ pages as of 8 March 2026: \d+ files written`).MatchString(body) {
		t.Fatal(status, body)
	}
	if _, err := os.Stat(filepath.Join("www", "index.html")); err != nil {
		t.Error(err)
	}
}

func mustDay(t *testing.T, text string) quantity.Date {
	t.Helper()
	d, err := quantity.ParseDate(text)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// Beside no journal the desk offers to begin one: a form, judged like any other, then the first tank's page on the same
// port for the same browser. A folder that holds anything is left alone.
func TestTheDeskBeginsAJournal(t *testing.T) {
	t.Chdir(t.TempDir())
	b, lines, stop := beginIn(t, "mine")
	f := b.form("/desk/")
	f.Set("title", `My "first" bench`)
	f.Set("grower", "Wren")
	f.Set("tank", "Großes Becken")
	f.Set("region", "XX")
	f.Set("language", "de")
	f.Set("units", "metric")
	f.Set("length", "60")
	f.Set("width", "30,5")
	f.Set("height", "30")
	f.Set("n.anubias-barteri", "3")
	f.Set("n.taxiphyllum-barbieri", "5")
	f.Set("n.lemna-minor", "0")
	if status, body := b.post("/desk/begin/", f); status != http.StatusUnprocessableEntity || !strings.Contains(body, `value="Großes Becken"`) {
		t.Errorf("an impossible country: %d", status)
	}
	if _, err := os.Stat("mine"); err == nil {
		t.Error("a wrong form made a folder")
	}
	f.Set("region", "DE")
	if status, body := b.post("/desk/begin/", f); status != http.StatusOK || !strings.Contains(body, "begun") {
		t.Fatalf("%d\n%s", status, body)
	}
	if !lines.Scan() || !strings.Contains(lines.Text(), b.base) {
		t.Fatalf("the desk does not go on: %q", lines.Text())
	}
	if status, body := b.get("/desk/tank/grosses-becken/"); status != http.StatusOK || !strings.Contains(body, "Großes Becken") || !strings.Contains(body, `lang="de"`) {
		t.Errorf("the first tank's page: %d", status)
	}
	text, err := os.ReadFile(filepath.Join("mine", "tanks", "grosses-becken", "tank.md"))
	if err != nil || !strings.Contains(string(text), `inside: {length: "60 cm", width: "30.5 cm", height: "30 cm"}`) {
		t.Errorf("%v\n%s", err, text)
	}
	if entry, err := os.ReadFile(filepath.Join("mine", "tanks", "grosses-becken", "2026-03-08.md")); err != nil || string(entry) != "---\nplantings:\n  - {plant: anubias-barteri, plantlets: 3}\n  - {plant: taxiphyllum-barbieri, cover: 5 %}\n---\n" {
		t.Errorf("%v\n%s", err, entry)
	}
	stop()
}

// beginIn starts the desk of a folder without a journal and opens the page that begins one. lines are what it prints.
func beginIn(t *testing.T, dir string) (b *browser, lines *bufio.Scanner, stop func()) {
	t.Helper()
	ctx, interrupt := context.WithCancel(t.Context())
	read, write := io.Pipe()
	code := make(chan int, 1)
	go func() {
		w := world{Out: write, Err: io.Discard, Now: func() time.Time { return time.Date(2026, 3, 8, 12, 0, 0, 0, time.UTC) }, Env: func(string) string { return "" }}
		code <- run(ctx, []string{"desk", dir, "--port", "0", "--no-open"}, w)
		write.Close()
	}()
	lines = bufio.NewScanner(read)
	if !lines.Scan() {
		t.Fatal("no line: ", <-code)
	}
	addr := regexp.MustCompile(`http://localhost:\d+/`).FindString(lines.Text())
	_, token, _ := strings.Cut(lines.Text(), "token=")
	token, _, _ = strings.Cut(token, ";")
	jar, err := cookiejar.New(nil)
	if err != nil {
		t.Fatal(err)
	}
	b = &browser{t, strings.TrimSuffix(addr, "/"), "", http.Client{Jar: jar}}
	if status, _ := b.get("/desk/"); status != http.StatusForbidden {
		t.Errorf("without the token: %d", status)
	}
	if status, body := b.get("/desk/?token=" + token); status != http.StatusOK {
		t.Fatal(status, body)
	}
	return b, lines, func() {
		t.Helper()
		interrupt()
		go func() { _, _ = io.Copy(io.Discard, read) }()
		if got := <-code; got != done {
			t.Errorf("it ends with %d", got)
		}
	}
}

// The demonstration is copied whole beside the folder of a journal to be, opened again as it was left, and never put over
// anything else.
func TestTheDeskOpensTheDemonstration(t *testing.T) {
	t.Chdir(t.TempDir())
	if err := os.Mkdir("demonstration", 0o755); err != nil {
		t.Fatal(err)
	}
	b, lines, stop := beginIn(t, "mine")
	f := url.Values{"demonstration": {"copy"}, "form": {b.form("/desk/").Get("form")}}
	if status, body := b.post("/desk/begin/", f); status != http.StatusUnprocessableEntity || !strings.Contains(body, "demonstration is there already") {
		t.Errorf("a folder of that name: %d", status)
	}
	if left, err := os.ReadDir("."); err != nil || len(left) != 1 {
		t.Errorf("%v, %v are left", left, err)
	}
	if err := os.Remove("demonstration"); err != nil {
		t.Fatal(err)
	}
	if err := os.MkdirAll(filepath.Join(".slipleaf-new-demonstration", "tanks", "killed"), 0o755); err != nil {
		t.Fatal(err)
	}
	open := func() {
		t.Helper()
		if status, body := b.post("/desk/begin/", f); status != http.StatusOK {
			t.Fatal(status, body)
		}
		if !lines.Scan() {
			t.Fatal("the desk does not go on")
		}
		if status, body := b.get("/desk/tank/trough/"); status != http.StatusOK || !strings.Contains(body, "heteranthera-zosterifolia") {
			t.Errorf("its trough: %d", status)
		}
		stop()
	}
	open()
	copied := map[string]bool{}
	err := fs.WalkDir(os.DirFS(source), ".", func(p string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() || strings.HasPrefix(e.Name(), ".") || p == "embed.go" {
			return err
		}
		want, err := os.ReadFile(filepath.Join(source, p))
		if got, errGot := os.ReadFile(filepath.Join("demonstration", p)); err != nil || errGot != nil || !bytes.Equal(got, want) {
			t.Errorf("%s is not as in content: %v, %v", p, err, errGot)
		}
		copied[p] = true
		return nil
	})
	if err != nil || len(copied) < 100 {
		t.Fatal(len(copied), err)
	}
	if err := os.WriteFile(filepath.Join("demonstration", "tanks", "trough", "2026-11-24.md"), []byte("---\ntitle: Mine\n---\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	b, lines, stop = beginIn(t, "mine")
	f.Set("form", b.form("/desk/").Get("form"))
	open()
	if text, err := os.ReadFile(filepath.Join("demonstration", "tanks", "trough", "2026-11-24.md")); err != nil || !strings.Contains(string(text), "Mine") {
		t.Errorf("what was written in it is gone: %v", err)
	}
	if left, err := os.ReadDir("."); err != nil || len(left) != 1 {
		t.Errorf("%v, %v are beside it", left, err)
	}
}

// A photo that came with a form that can't be saved need not be sent again; one that was taken in ahead is saved with the
// form that names it, and one that nobody has is asked for again. As it came, with its place in it, it lies on no disk: there is
// no folder for passing files here.
func TestAPhotoIsSentOnce(t *testing.T) {
	patient(t)
	b, dir := atTheDesk(t)
	t.Setenv(map[bool]string{true: "TMP", false: "TMPDIR"}[runtime.GOOS == "windows"], filepath.Join(dir, "none"))
	f := b.form(shelf)
	status, body := b.upload(shelf, f, append(twelveMegapixels(t, 1), make([]byte, 12<<20)...)) // as large as they come from a phone
	if status != http.StatusUnprocessableEntity {
		t.Fatal(status, body)
	}
	f = filled(body)
	if f.Get("photo-kept") == "" {
		t.Fatal("the photo is lost with the form that could not be saved")
	}
	f.Set("alt", "The shelf")
	if status, body := b.post(shelf, f); status != http.StatusOK || !strings.Contains(body, "data-saved") {
		t.Fatal(status, body)
	}
	f = b.form(shelf)
	f.Set("alt", "The shelf again")
	f.Set("photo-kept", b.photo(f.Get("form"), twelveMegapixels(t, 2)))
	if status, body := b.post(shelf, f); status != http.StatusOK || !strings.Contains(body, "data-saved") {
		t.Fatal(status, body)
	}
	photos, err := filepath.Glob(filepath.Join(dir, "photos", "shelf-2026-03-08*.jpg"))
	if err != nil || len(photos) != 2 {
		t.Error("there should be two photos", photos, err)
	}
	f = b.form(shelf)
	f.Set("alt", "None")
	f.Set("photo-kept", "0123456789abcdef0123456789abcdef")
	if status, body := b.post(shelf, f); status != http.StatusUnprocessableEntity || !strings.Contains(body, "Choose it again") {
		t.Error(status, body)
	}
}

// What the command line names is run after a publish, and what it says is shown; where it fails, that is said.
func TestAfterAPublish(t *testing.T) {
	t.Parallel()
	if runtime.GOOS == "windows" {
		t.Skip("the lines are of another shell")
	}
	if said, err := runAfter(t.Context(), "echo copied; echo and more >&2"); err != nil || said != "echo copied; echo and more >&2\ncopied\nand more" {
		t.Error(said, err)
	}
	if _, err := runAfter(t.Context(), "exit 3"); err == nil || !strings.Contains(err.Error(), "the site is published, but exit 3") {
		t.Error(err)
	}
}
