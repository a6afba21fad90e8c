package main

import (
	"bytes"
	"html"
	"io/fs"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"slipleaf/build/almanac"
	"slipleaf/build/journal"
	"slipleaf/build/page"
	"slipleaf/build/quantity"
	"slipleaf/build/site"
)

// secrets are what no page may tell: every code, which only sheets may, and everything private, by the file that holds it.
func secrets(t *testing.T, root string) (codes []string, private map[string]string) {
	t.Helper()
	private = map[string]string{}
	canary := regexp.MustCompile(`CANARY-[A-Za-z0-9-]*|canary-file-name`)
	value := regexp.MustCompile(`(?:name|address|note|phone|email): *(?:"([^"]+)"|([^,}"\n]+))`)
	err := filepath.WalkDir(root, func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := os.ReadFile(name)
		if err != nil {
			return err
		}
		for _, c := range canary.FindAllString(name+"\n"+string(data), -1) {
			private[c] = name
		}
		for line := range strings.SplitSeq(string(data), "\n") {
			if code, ok := strings.CutPrefix(line, "code: "); ok {
				codes = append(codes, strings.TrimSpace(code))
			}
			if rest, ok := strings.CutPrefix(line, "private: "); ok {
				for _, m := range value.FindAllStringSubmatch(rest, -1) {
					private[m[1]+m[2]] = name
				}
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return codes, private
}

// A search of the whole site of the demonstration journal for every code, name, address and private note finds codes
// under /sheets/ alone, and the rest nowhere: neither as it is, nor as HTML, JSON or an address would write it.
func TestNothingPrivateIsPublished(t *testing.T) {
	t.Parallel()
	const root = "../../content"
	codes, private := secrets(t, root)
	if len(codes) < 50 || len(private) < 50 {
		t.Fatalf("the demonstration has only %d codes and %d private texts: the test would show little", len(codes), len(private))
	}
	o := site.Options{On: quantity.Date{Year: 2026, Month: 11, Day: 25}, Zone: knownZone}
	book, complaints, err := site.Load(t.Context(), os.DirFS(root), o)
	if err != nil || book == nil {
		t.Fatal(err, complaints)
	}
	told := map[string]string{}
	ofCodes := searchFor(codes...)
	for _, out := range book.Outputs() {
		data, err := out.Make()
		if err != nil {
			t.Fatal(err)
		}
		path := page.PathOf(out.Addr)
		told[path] = path + "\n" + string(data)
		if code, at := ofCodes.in(strings.ToLower(told[path])); at >= 0 && !strings.HasPrefix(path, "sheets/") {
			t.Errorf("%s tells the code %s", path, code)
		}
	}
	tellNothing(t, told, private)
}

// forms are the ways in which a text may be written in a file of the site.
func forms(s string) []string {
	s = strings.ToLower(s)
	return []string{s, strings.ReplaceAll(s, " ", "%20"), strings.ReplaceAll(s, " ", "+"), strings.ReplaceAll(s, " ", "-")}
}

// What commands print, and what they keep beside the site for the next time, tells nothing private either, be the journal
// sound or damaged. Codes and the names of records' files, which complaints point to, may stand in what lies on the
// grower's own disk or screen.
func TestNothingPrivateIsToldOrKept(t *testing.T) {
	t.Parallel()
	bin := built(t)
	dir := filepath.Join(t.TempDir(), "journal")
	if err := os.CopyFS(dir, os.DirFS("../../content")); err != nil {
		t.Fatal(err)
	}
	codes, private := secrets(t, dir)
	delete(private, "canary-file-name")
	top := t.TempDir()
	publish := []string{"publish", dir, "--to", filepath.Join(top, "www"), "--on", "2026-11-25"}
	var said bytes.Buffer
	run := func(args ...string) {
		t.Helper()
		out, _ := exec.Command(bin, args...).CombinedOutput() // whether it succeeds is for other tests to say
		said.WriteString("$ " + strings.Join(args, " ") + "\n" + string(out) + "\n")
	}
	both := func() {
		t.Helper()
		run(publish...)
		run(append(publish, "--json")...)
		run("proof", dir, "--on", "2026-11-25")
		run("proof", dir, "--on", "2029-11-25", "--json")
		run("gather", dir)
	}
	both()
	records, err := filepath.Glob(filepath.Join(dir, "sent", "*.md"))
	if err != nil || len(records) < 50 {
		t.Fatal(len(records), err)
	}
	run("report", codes[0], "rooted", "--in", dir, "--on", "2026-11-25")
	run("report", codes[0], "rooted", "--in", dir, "--on", "2020-01-01")
	damage(t, records)
	both()
	run("report", codes[0], "rooted", "--in", dir, "--on", "2026-11-25")
	told := map[string]string{"what commands print": said.String()}
	for name, text := range tree(t, top) {
		told[name] = name + "\n" + text
	}
	if len(told) < 100 || said.Len() < 10_000 || len(caches(t, filepath.Join(top, "www"))) == 0 {
		t.Fatalf("%d files and %d bytes of output, no caches: the test would show little", len(told), said.Len())
	}
	tellNothing(t, told, private)
}

// damage spoils records in or after their private part, each in another way.
func damage(t *testing.T, records []string) {
	t.Helper()
	for i, name := range records {
		text := read(t, name)
		at := strings.Index(text, "private")
		if at < 0 {
			continue
		}
		at += i * 7 % (len(text) - at)
		if err := os.WriteFile(name, []byte(text[:at]+[]string{"\"", "{", "}", "\n", "- ", "x", ": ", "[", "|", "'"}[i%10]+text[at:]), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// tellNothing looks for private texts in others, by their names.
func tellNothing(t *testing.T, told, private map[string]string) {
	t.Helper()
	from, needles := map[string]string{}, []string(nil)
	for secret, file := range private {
		for _, form := range forms(secret) {
			from[form], needles = file, append(needles, form)
		}
	}
	s := searchFor(needles...)
	for name, text := range told {
		text = strings.ToLower(text)
		if form, at := s.in(text); at >= 0 {
			t.Errorf("%s tells what %s keeps private: %q", name, from[form], text[max(0, at-100):min(len(text), at+50)])
		}
	}
}

// search looks for many words at once: they are found by their first two bytes.
type search [1 << 16][]string

func searchFor(words ...string) *search {
	s := new(search)
	for _, w := range words {
		i := int(w[0])<<8 | int(w[1])
		s[i] = append(s[i], w)
	}
	return s
}

// in is the first of the words in a text and where it is; -1 for none.
func (s *search) in(text string) (word string, at int) {
	for i := 1; i < len(text); i++ {
		for _, w := range s[int(text[i-1])<<8|int(text[i])] {
			if strings.HasPrefix(text[i-1:], w) {
				return w, i - 1
			}
		}
	}
	return "", -1
}

func TestSearchFindsWhatThereIs(t *testing.T) {
	t.Parallel()
	s := searchFor("ab", "abc", "canary", "y!")
	for text, want := range map[string]string{"xxab": "ab", "ca canary": "canary", "canar": "", "y": "", "a b": "", "ay!": "y!"} {
		if got, at := s.in(text); got != want || (at < 0) != (want == "") || at >= 0 && !strings.HasPrefix(text[at:], want) {
			t.Errorf("%q in %q at %d", got, text, at)
		}
	}
}

// Each sheet tells its own code and no other.
func TestASheetTellsNoOtherCode(t *testing.T) {
	t.Parallel()
	const root = "../../content"
	codes, _ := secrets(t, root)
	o := site.Options{On: quantity.Date{Year: 2026, Month: 11, Day: 25}, Zone: knownZone}
	book, _, err := site.Load(t.Context(), os.DirFS(root), o)
	if err != nil || book == nil {
		t.Fatal(err)
	}
	for _, out := range book.Outputs() {
		own, ok := strings.CutPrefix(out.Addr, "/sheets/")
		if !ok {
			continue
		}
		own, _, _ = strings.Cut(own, "/")
		data, err := out.Make()
		if err != nil {
			t.Fatal(err)
		}
		for _, code := range codes {
			if code != own && bytes.Contains(data, []byte(code)) {
				t.Errorf("%s tells the code of another parcel", out.Addr)
			}
		}
	}
}

// A lot of a plant that the grower withholds is on no page's list of lots.
func TestWithheldPlantsAreNotOnOffer(t *testing.T) {
	t.Parallel()
	a, err := almanac.Open()
	if err != nil {
		t.Fatal(err)
	}
	on := quantity.Date{Year: 2026, Month: 11, Day: 25}
	j, _, err := journal.Read(t.Context(), os.DirFS("../../content"), a, journal.Options{On: on})
	if err != nil {
		t.Fatal(err)
	}
	o := site.Options{On: on, Zone: knownZone}
	book, _, err := site.Load(t.Context(), os.DirFS("../../content"), o)
	if err != nil || book == nil {
		t.Fatal(err)
	}
	withheld := 0
	for _, p := range j.Plants {
		if !p.Withhold {
			continue
		}
		withheld++
		for _, make := range []func() ([]byte, error){book.Offers, book.OffersJSON, book.PassAlong} {
			data, err := make()
			if err != nil {
				t.Fatal(err)
			}
			if bytes.Contains(data, []byte(p.ID)) {
				t.Errorf("%s is withheld and yet shown", p.ID)
			}
		}
	}
	if withheld == 0 {
		t.Error("the demonstration withholds no plant")
	}
}

// What lies in a published folder, files that begin with a point too, and what a plain server of files answers, listings of
// folders among it, tells no code but to whoever has the sheet's address, and nothing private. The spare beside it has
// nothing of a sheet that was withdrawn.
func TestAPublishedFolderListsNoSheet(t *testing.T) {
	t.Parallel()
	bin := built(t)
	dir := filepath.Join(t.TempDir(), "journal")
	if err := os.CopyFS(dir, os.DirFS("../../content")); err != nil {
		t.Fatal(err)
	}
	codes, private := secrets(t, dir)
	www := filepath.Join(t.TempDir(), "www")
	finish(t, exec.Command(bin, "publish", dir, "--to", www, "--on", "2026-11-25"))
	found, ofCodes := 0, searchFor(codes...)
	for name, text := range tree(t, www) {
		at := strings.TrimPrefix(name, "sheets/")
		code, told := ofCodes.in(strings.ToLower(name + "\n" + text))
		switch {
		case at != name && slices.Contains(codes, strings.Split(at, "/")[0]):
			found++
		case told >= 0 && (at == name || at == "index.html"):
			t.Errorf("%s tells the code %s", name, code)
		}
	}
	if found < 50 {
		t.Fatalf("only %d files of sheets: the test shows little", found)
	}
	tellNothing(t, tree(t, www), private)
	server := httptest.NewServer(http.FileServer(http.Dir(www)))
	defer server.Close()
	crawl(t, server.URL, codes)
}

// crawl follows whatever a server of files lists and links to from its top, and looks for codes.
func crawl(t *testing.T, address string, codes []string) {
	t.Helper()
	link := regexp.MustCompile(`href="([^"#?]*)["#?]`)
	ofCodes := searchFor(codes...)
	seen, queue, listings := map[string]bool{"/": true}, []string{"/", "/.slipleaf-site", "/sheets/", "/photos/", "/look/", "/schema/"}, 0
	for len(queue) > 0 {
		at := queue[0]
		queue = queue[1:]
		body := fetched(t, address+at)
		if strings.Contains(body, "<pre>\n") {
			listings++
		}
		if code, told := ofCodes.in(strings.ToLower(body)); told >= 0 {
			t.Errorf("%s tells the code %s", at, code)
		}
		for _, m := range link.FindAllStringSubmatch(body, -1) {
			to, err := url.Parse(html.UnescapeString(m[1]))
			if err != nil || to.Host != "" || to.Scheme != "" {
				continue
			}
			from, _ := url.Parse(at)
			if next := from.ResolveReference(to).Path; !seen[next] {
				seen[next] = true
				queue = append(queue, next)
			}
		}
	}
	if len(seen) < 150 || listings < 2 {
		t.Errorf("%d addresses, %d listings: the test shows little", len(seen), listings)
	}
}
