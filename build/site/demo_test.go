package site

import (
	"bytes"
	"context"
	"net/url"
	"os"
	"path"
	"slices"
	"strings"
	"sync"
	"testing"
	"testing/fstest"

	"golang.org/x/net/html"

	"slipleaf/build/listing"
	"slipleaf/build/page"
	"slipleaf/build/quantity"
	"slipleaf/build/theme"
)

// demoDay is a day on which every state of a lot is to be seen.
var demoDay = quantity.Date{Year: 2026, Month: 11, Day: 25}

// demo makes the demonstration once for all tests.
var demo = sync.OnceValues(func() ([]theme.File, error) {
	return makeDemo(Options{On: demoDay, MaxFiles: 10_000, MaxBytes: 100 << 20})
})

// demoPhotos keeps the demonstration's photos for tests that are about something else.
var demoPhotos = sync.OnceValue(NewPhotoCache)

// withoutCards leaves out the pictures for link previews, which take long and of which little can come.
func withoutCards(o page.Output) bool { return !cards(o) }

func makeDemo(o Options) ([]theme.File, error) {
	o.Photos = demoPhotos()
	b, cs, err := Load(context.Background(), os.DirFS("../../content"), o)
	if err != nil {
		return nil, err
	}
	if b == nil {
		return nil, errorsIn(cs.Errors())
	}
	return Make(context.Background(), b, o)
}

type errorsIn int

func (n errorsIn) Error() string { return "the demonstration journal has errors: run slipleaf proof" }

func demoFiles(t *testing.T) []theme.File {
	t.Helper()
	files, err := demo()
	if err != nil {
		t.Fatal(err)
	}
	return files
}

func TestDemoIsTheSameWithOneWorker(t *testing.T) {
	t.Parallel()
	many, o := demoFiles(t), Options{On: demoDay, Workers: 1}
	if testing.Short() {
		many = slices.DeleteFunc(slices.Clone(many), func(f theme.File) bool { return strings.HasSuffix(f.Path, "card.png") })
		o.only = withoutCards
	}
	one, err := makeDemo(o)
	if err != nil {
		t.Fatal(err)
	}
	if len(many) != len(one) {
		t.Fatalf("%d files, then %d", len(many), len(one))
	}
	for i := range many {
		if many[i].Path != one[i].Path || !bytes.Equal(many[i].Data, one[i].Data) {
			t.Errorf("%s differs", many[i].Path)
		}
	}
}

// reference is a link or a source that a page names.
type reference struct{ page, to string }

// blankIndex keeps a server from listing the care sheets: a page with nothing on it.
const blankIndex = "sheets/index.html"

func TestDemoHasNoDeadLink(t *testing.T) {
	pages := map[string]map[string]bool{} // path → ids
	var refs []reference
	for _, f := range demoFiles(t) {
		pages[f.Path] = nil
		if strings.HasSuffix(f.Path, ".html") && f.Path != blankIndex {
			ids, links := walkPage(t, f)
			pages[f.Path] = ids
			refs = append(refs, links...)
		}
	}
	for _, r := range refs {
		checkReference(t, pages, r)
	}
	if len(refs) < 1000 {
		t.Errorf("only %d links were found: the crawl is broken", len(refs))
	}
}

func checkReference(t *testing.T, pages map[string]map[string]bool, r reference) {
	t.Helper()
	u, err := url.Parse(r.to)
	switch {
	case err != nil:
		t.Errorf("%s: %q is no address: %v", r.page, r.to, err)
		return
	case u.Scheme != "" || u.Host != "":
		if u.Scheme != "https" && u.Scheme != "http" && u.Scheme != "mailto" {
			t.Errorf("%s: %q has a scheme that no page should have", r.page, r.to)
		}
		return
	case strings.HasPrefix(u.Path, "/"):
		t.Errorf("%s: %q begins at the root, which fails in a sub-folder", r.page, r.to)
		return
	}
	target := r.page
	if u.Path != "" {
		target = path.Join(path.Dir(r.page), u.Path)
		if strings.HasSuffix(u.Path, "/") || target == "." {
			target = path.Join(target, "index.html")
		}
	}
	ids, ok := pages[target]
	if !ok {
		t.Errorf("%s: %q leads nowhere (%s)", r.page, r.to, target)
	} else if u.Fragment != "" && !ids[u.Fragment] {
		t.Errorf("%s: %q leads to no element of %s", r.page, r.to, target)
	}
}

// walkPage collects a page's ids and what it names, and checks what every page must have.
func walkPage(t *testing.T, f theme.File) (map[string]bool, []reference) {
	t.Helper()
	root, err := html.Parse(bytes.NewReader(f.Data))
	if err != nil {
		t.Fatalf("%s: %v", f.Path, err)
	}
	ids := map[string]bool{}
	var refs []reference
	h1 := 0
	for n := range root.Descendants() {
		if n.Type != html.ElementNode {
			continue
		}
		if n.Data == "h1" {
			h1++
		}
		for _, a := range n.Attr {
			switch {
			case a.Key == "id":
				if ids[a.Val] {
					t.Errorf("%s: two elements have the id %q", f.Path, a.Val)
				}
				ids[a.Val] = true
			case a.Key == "href" && n.Data != "base" && attribute(n, "rel") != "canonical", a.Key == "src":
				refs = append(refs, reference{f.Path, a.Val})
			case a.Key == "style", strings.HasPrefix(a.Key, "on"):
				t.Errorf("%s: <%s> has the attribute %s, which the policy forbids", f.Path, n.Data, a.Key)
			}
		}
	}
	if h1 != 1 {
		t.Errorf("%s has %d h1", f.Path, h1)
	}
	return ids, refs
}

func attribute(n *html.Node, key string) string {
	for _, a := range n.Attr {
		if a.Key == key {
			return a.Val
		}
	}
	return ""
}

// Every first folder of the site is an address that a page of the grower's own must not take.
func TestNoOwnPageTakesAnAddress(t *testing.T) {
	own := map[string]bool{}
	pages, err := os.ReadDir("../../content/pages")
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range pages {
		own[strings.TrimSuffix(p.Name(), ".md")] = true
	}
	for _, f := range demoFiles(t) {
		first, _, folder := strings.Cut(f.Path, "/")
		if !folder || own[first] {
			continue
		}
		l, err := listing.Of(t.Context(), fstest.MapFS{"journal.yaml": {Data: []byte("title: A\n")}, "pages/" + first + ".md": {Data: []byte("---\ntitle: A\n---\n")}}, 100)
		if err != nil {
			t.Fatal(err)
		}
		if !slices.ContainsFunc(l.Problems, func(p listing.Problem) bool { return p.File == "pages/"+first+".md" }) {
			t.Errorf("a page named %s.md would collide with %s, and the reader would not say so", first, f.Path)
		}
	}
}
