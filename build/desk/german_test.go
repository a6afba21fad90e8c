package desk

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"io/fs"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"path"
	"regexp"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"golang.org/x/net/html"

	"slipleaf/build/change"
	"slipleaf/build/journal"
	"slipleaf/build/message"
	"slipleaf/build/page"
	"slipleaf/build/quantity"
	"slipleaf/build/words"
	"slipleaf/themes"
)

// mute is a journal that nothing is written to.
type mute struct{}

func (mute) Write(context.Context, string, func(fs.FS) ([]change.File, error)) (journal.Complaints, error) {
	return nil, &change.MeanwhileError{Path: "x"}
}
func (mute) Judge(context.Context, func(fs.FS) ([]change.File, error)) (journal.Complaints, error) {
	return nil, nil
}
func (mute) Last(context.Context) (change.Past, error)          { return change.Past{}, change.ErrNothing }
func (mute) Undo(context.Context, func(change.Past) bool) error { return change.ErrNothing }
func (mute) Command(context.Context, []string, string) (string, []words.Said, error) {
	return "", nil, nil
}
func (mute) Published() fs.FS                                      { return fstest.MapFS{} }
func (mute) Publish(context.Context) ([]words.Said, string, error) { return nil, "", nil }
func (mute) Fresh() (string, time.Time)                            { return "http://10.0.0.1/desk/pair/?code=X", time.Time{} }
func (mute) Devices() []Device                                     { return []Device{{ID: "1", Name: "X", From: "10.0.0.2"}} }
func (mute) Forget(string)                                         {}

// endless is a form that has no end.
type endless struct{}

func (endless) Read(p []byte) (int, error) {
	for i := range p {
		p[i] = 'x'
	}
	return len(p), nil
}

// asking is what somebody writes who wants plants.
const asking = "hi, star grass please. 60 l, 24 C, GH 8 or so. Ada"

// pagesIn are the desk's pages in a language, as they are and with what can go wrong in their forms.
func pagesIn(t *testing.T, language string) map[string]string {
	t.Helper()
	b := site(t, language, quantity.Date{Year: 2026, Month: 11, Day: 25})
	never := make(chan struct{})
	close(never)
	d := New(func() *page.Site { return b }, func() <-chan struct{} { return never }, mute{})
	d.Pairing = mute{}
	out := map[string]string{}
	ask := func(path string, form url.Values) {
		r := httptest.NewRequest(http.MethodGet, Addr+path, nil)
		if form != nil {
			form.Set("form", d.Token())
			r = httptest.NewRequest(http.MethodPost, Addr+path, strings.NewReader(form.Encode()))
			r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
			r.Header.Set("Origin", "http://"+r.Host)
		}
		w := httptest.NewRecorder()
		d.ServeHTTP(w, r)
		out[r.Method+" "+path+" "+form.Get("words")+form.Get("do")] = w.Body.String()
	}
	for _, path := range []string{"tank/trough/", "tank/nano/", "tank/tray/", "people/", "labels/", "publish/", "phone/"} {
		ask(path, nil)
	}
	ask("labels/?paper=a4", nil)
	ask("labels/?paper=letter&lot.HZ-1101=2", nil)
	ask("tank/trough/", url.Values{})
	ask("tank/trough/", url.Values{"words": {"Kept."}, "add": {"nana"}, "photo-kept": {"gone"}})
	ask("tank/trough/", url.Values{"words": {"Disk."}})
	ask("tank/trough/", url.Values{"words": {"Plant."}, "add": {"xyzzy"}})
	ask("people/", url.Values{"do": {"reserve"}})
	ask("people/", url.Values{"do": {"forget"}, "record": {"sent/x.md"}})
	ask("people/", url.Values{"do": {"read"}, "message": {asking}})
	ask("phone/", url.Values{})
	ask("publish/", url.Values{"do": {"look"}})
	var text bytes.Buffer
	if err := d.Render(&text, b, "today.html", d.Today(t.Context(), httptest.NewRequest(http.MethodGet, Addr+"?saved=nano", nil), func(string) bool { return true })); err != nil {
		t.Fatal(err)
	}
	out["today"] = text.String()
	for i, spoil := range []func(*http.Request){
		func(r *http.Request) { r.Header.Set("Origin", "http://elsewhere.example") },
		func(r *http.Request) { r.Body = io.NopCloser(io.LimitReader(endless{}, maxForm+1)) },
		func(r *http.Request) { r.Header.Set("Content-Type", "multipart/form-data; boundary=x") },
		func(r *http.Request) {},
	} {
		r := httptest.NewRequest(http.MethodPost, Addr+"people/", strings.NewReader("form=of-yesterday"))
		r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
		r.Header.Set("Origin", "http://"+r.Host)
		spoil(r)
		w := httptest.NewRecorder()
		d.ServeHTTP(w, r)
		if out[fmt.Sprint("refused ", i)] = w.Body.String(); w.Code < 400 || strings.Contains(w.Body.String(), d.Token()) {
			t.Errorf("form %d: %d, or the token is on the page", i, w.Code)
		}
	}
	for _, why := range []words.Said{NotYet, NotOpen, Unknown} {
		w := httptest.NewRecorder()
		d.Refuse(w, http.StatusForbidden, why)
		if out[why.Key] = w.Body.String(); strings.Contains(w.Body.String(), d.Token()) {
			t.Errorf("%s: the token is on the page", why.Key)
		}
	}
	w := httptest.NewRecorder()
	d.ShowPair(w, b, http.StatusForbidden, "")
	out["pair, refused"] = w.Body.String()
	w = httptest.NewRecorder()
	d.ShowPair(w, b, http.StatusOK, "X")
	out["pair"] = w.Body.String()
	text.Reset()
	if err := NewBegin(b.Theme.Words, "", "", nil, nil).Render(&text); err != nil {
		t.Fatal(err)
	}
	out["begin"] = text.String()
	return out
}

// apart is what stands between parts of a text that may be of several languages: names of plants and lots, figures, lines.
var apart = regexp.MustCompile(`[·,:;()×.!?\n]|\b[A-Z]{2}-\d{4}\b|\d+`)

var twoWords = regexp.MustCompile(`\p{L}{2,}.*\s.*\p{L}{2,}`)

// said visits the texts of a page and of its attributes that are of two words and more, but for what says itself that it
// is of another language.
func saidOn(n *html.Node, visit func(string)) {
	if n.Type == html.ElementNode {
		if n.Data == "script" || n.Data == "style" || n.Data == "bdi" || n.Data == "code" {
			return
		}
		for _, a := range n.Attr {
			switch {
			case a.Key == "lang" && n.Data != "html":
				return
			case strings.HasPrefix(a.Key, "data-") || a.Key == "aria-label" || a.Key == "placeholder" || a.Key == "title":
				visit(a.Val)
			}
		}
	}
	if n.Type == html.TextNode {
		visit(n.Data)
	}
	for c := range n.ChildNodes() {
		saidOn(c, visit)
	}
}

// The desk speaks German: no text of two words and more stands on its English pages as well, unless the grower wrote it. No
// key is missing, and the pages of both languages have the same forms.
func TestTheDeskInGerman(t *testing.T) {
	own := asking + "\ntank length, tank width, water depth" // the lines of a block are the same in all languages
	for _, x := range site(t, "en", quantity.Date{Year: 2026, Month: 11, Day: 25}).Almanac.All() {
		own += "\n" + x.Common + "\n" + x.Taxon
	}
	err := fs.WalkDir(os.DirFS("../../content"), ".", func(p string, d fs.DirEntry, err error) error {
		if err == nil && path.Ext(p) == ".md" || path.Ext(p) == ".yaml" {
			text, err := os.ReadFile("../../content/" + p)
			own += string(text)
			return err
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	straight := strings.NewReplacer("’", "'", "“", "'", "”", "'", `"`, "'")
	own = strings.ToLower(straight.Replace(own))
	english := map[string]bool{}
	inEnglish, inGerman := pagesIn(t, "en"), pagesIn(t, "de")
	each := func(pages map[string]string, visit func(page, text string)) {
		for name, text := range pages {
			root, err := html.Parse(strings.NewReader(text))
			if err != nil {
				t.Fatal(err)
			}
			saidOn(root, func(s string) {
				for _, s := range apart.Split(s, -1) {
					if s = strings.Join(strings.Fields(s), " "); twoWords.MatchString(s) {
						visit(name, s)
					}
				}
			})
		}
	}
	each(inEnglish, func(_, s string) { english[s] = true })
	looked, fields := 0, regexp.MustCompile(` name="[^"]*"`)
	each(inGerman, func(name, s string) {
		looked++
		if english[s] && !strings.Contains(own, strings.ToLower(straight.Replace(s))) {
			t.Errorf("%s: %q stands on the English page as well", name, s)
		}
	})
	missing := regexp.MustCompile(`\[[a-z-]+\.[a-z0-9.-]+\]`)
	for name, text := range inGerman {
		if m := missing.FindString(text); m != "" || !strings.Contains(text, `lang="de"`) && name != "GET labels/" {
			t.Errorf("%s: no German, or no words for %q", name, m)
		}
		if a, b := fields.FindAllString(text, -1), fields.FindAllString(inEnglish[name], -1); len(a) != len(b) {
			t.Errorf("%s: %d fields in German, %d in English", name, len(a), len(b))
		}
	}
	if looked < 500 || len(inGerman) < 18 {
		t.Errorf("only %d texts of %d pages were looked at", looked, len(inGerman))
	}
}

// Readings on the list of what is due have the units that the grower reads on pages, not the spelling of the format.
func TestWhatIsDueIsInTheGrowersUnits(t *testing.T) {
	format := regexp.MustCompile(`\d (C|F)\b|uS/cm|umol|mg/l`)
	never := make(chan struct{})
	for _, c := range []struct{ units, degrees, not string }{{"metric", "\u00a0°C", "°F"}, {"us", "\u00a0°F", "°C"}} {
		b := site(t, "de", quantity.Date{Year: 2026, Month: 11, Day: 25}, "units: metric", "units: "+c.units)
		d := New(func() *page.Site { return b }, func() <-chan struct{} { return never }, mute{})
		m := d.Today(t.Context(), httptest.NewRequest(http.MethodGet, Addr, nil), func(string) bool { return true })
		text := ""
		for _, part := range m.Parts {
			for _, l := range part.Lines {
				text += l.Text + "\n"
			}
		}
		if !strings.Contains(text, c.degrees) || strings.Contains(text, c.not) || format.MatchString(text) {
			t.Errorf("%s: %s", c.units, text)
		}
	}
}

// Why something is not taken of a message is said in German, whatever the reason.
func TestReasonsAreSaidInGerman(t *testing.T) {
	v, err := words.Load(themes.Bench(), "de")
	if err != nil {
		t.Fatal(err)
	}
	for why := range message.Whys {
		if !v.Has(words.Sums + "not-taken-" + string(why)) {
			t.Errorf("no German for %q", why)
		}
	}
}
