// Package desk is the forms of the grower's own pages: what a tank holds to be looked at, what was typed, and the diary entry
// that it makes. It writes through whoever opens the journal for it.
package desk

import (
	"bytes"
	"context"
	"crypto/rand"
	"crypto/subtle"
	"embed"
	"errors"
	"html/template"
	"io"
	"io/fs"
	"net/http"
	"slices"
	"strings"
	"sync"
	"time"

	"slipleaf/build/change"
	"slipleaf/build/journal"
	"slipleaf/build/page"
	"slipleaf/build/words"
)

// Addr is where the grower's own pages are.
const Addr = "/desk/"

// Writer opens the journal for a form.
type Writer interface {
	// Write makes a change of the files that choose gives, which sees the journal as it is now. What is wrong with the
	// journal as it would be is given back, and nothing is written then.
	Write(ctx context.Context, what string, choose func(now fs.FS) ([]change.File, error)) (journal.Complaints, error)
	// Judge is what Write would find wrong. It writes nothing.
	Judge(ctx context.Context, choose func(now fs.FS) ([]change.File, error)) (journal.Complaints, error)
	// Last is the change that Undo would take back; [change.ErrNothing] for none.
	Last(ctx context.Context) (change.Past, error)
	// Undo takes the last change back, if it is the one that is meant.
	Undo(ctx context.Context, meant func(change.Past) bool) error
	// Command runs a command on the journal as a command line would, with in as its input, and gives what it prints and,
	// in parts, what it says. The error says what it complains of, as [Refusal] where it can.
	Command(ctx context.Context, args []string, in string) (printed string, said []words.Said, err error)
	// Published is the site as it was published; an empty folder where it was not.
	Published() fs.FS
	// Publish writes the site and says what was done; printed is what a command of the grower's own printed after it.
	Publish(ctx context.Context) (said []words.Said, printed string, err error)
}

// Refusal is why something was not done, and what is wrong with the journal as it is or would be.
type Refusal struct {
	Said  words.Said
	Wrong journal.Complaints
}

func (r *Refusal) Error() string { return r.Said.String() }

// why is an error in the words of a locale, a line each. What nobody put into words is English.
func why(v words.Locale, err error) (lines []template.HTML) {
	var r *Refusal
	if !errors.As(err, &r) {
		for line := range strings.Lines(strings.TrimSpace(err.Error())) {
			lines = append(lines, v.English(strings.TrimSpace(line)))
		}
		return lines
	}
	lines = append(lines, v.Answer(r.Said))
	for _, c := range r.Wrong {
		lines = append(lines, v.Complaint(c))
	}
	return lines
}

// answers are what a command says in the words of a locale.
func answers(v words.Locale, all []words.Said) (lines []template.HTML) {
	for _, s := range all {
		lines = append(lines, v.Answer(s))
	}
	return lines
}

// Desk serves the forms. It is safe for concurrent use.
type Desk struct {
	Site    func() *page.Site      // as it was last whole; nil before the first
	Rebuilt func() <-chan struct{} // closed when the site is newer than now
	Writer  Writer
	Ahead   func(ctx context.Context, photo []byte) // makes a photo ready that is about to be kept; nil: nothing does

	Pairing Pairing // of other devices; nil: there is none

	token string
	tray  tray
	mu    sync.Mutex
	used  []string // the forms that were saved: one that comes twice is saved once
	pages pages
}

// New draws the token that the forms of a run carry.
func New(site func() *page.Site, rebuilt func() <-chan struct{}, w Writer) *Desk {
	return &Desk{Site: site, Rebuilt: rebuilt, Writer: w, token: rand.Text()}
}

// Token is what every form carries, so that no other page can send one.
func (d *Desk) Token() string { return d.token }

//go:embed files
var files embed.FS

// limits of what a form may send: a photo of 48 megapixels is some 20 MB. All of it is held in memory: as it comes a photo
// tells where it was taken, and nothing of that is to lie in a folder of passing files.
const (
	maxForm = 64 << 20
	sending = 2 * time.Minute
)

// ServeHTTP answers below [Addr]. Who may ask was judged before.
func (d *Desk) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	if r.Method == http.MethodPost && !d.ours(w, r) {
		return
	}
	b := d.Site()
	rest := strings.TrimPrefix(r.URL.Path, Addr)
	tank, isTank := strings.CutPrefix(rest, "tank/")
	tank, whole := strings.CutSuffix(tank, "/")
	switch {
	case b == nil:
		d.Refuse(w, http.StatusServiceUnavailable, NotYet)
	case isTank && whole:
		d.tank(w, r, b, tank)
	case rest == "undo/" && r.Method == http.MethodPost:
		d.undo(w, r, b)
	case rest == "photo/" && r.Method == http.MethodPost:
		d.photo(w, r, b)
	case rest == "phone/" && d.Pairing != nil:
		d.phone(w, r, b)
	case rest == "people/":
		d.people(w, r, b)
	case rest == "lot/" && r.Method == http.MethodPost:
		d.lot(w, r, b)
	case rest == "labels/":
		d.labels(w, r, b)
	case rest == "publish/":
		d.publish(w, r, b)
	default:
		http.NotFound(w, r)
	}
}

// What whoever comes without being let in is told, and whoever sends a form from elsewhere.
var (
	Foreign = words.Said{Key: "desk.form-foreign", English: "this form was not sent from this desk"}
	NotYet  = words.Said{Key: "desk.not-yet", English: "the journal cannot be shown yet"}
	NotOpen = words.Said{Key: "desk.not-open", English: "this page opens with the address that the terminal shows"}
	Unknown = words.Said{Key: "desk.not-paired", English: "pair this device first: scan the code that the desk shows"}
)

// Refuse says why nothing is shown or done, in the journal's language once there is one. It tells nothing else of the journal.
func (d *Desk) Refuse(w http.ResponseWriter, status int, why words.Said) {
	b := d.Site()
	if b == nil {
		http.Error(w, why.String(), status)
		return
	}
	h := d.head(b, b.Locale().Text("desk.desk"))
	h.Form, h.Icon = "", ""
	d.show(w, b, status, "said.html", said{h, b.Locale().Text("desk.desk"), []template.HTML{b.Locale().Answer(why)}})
}

// ours reports whether a form was filled in on a page of this run: it carries the run's token, and the browser says that it
// comes from here. It reads the form.
func (d *Desk) ours(w http.ResponseWriter, r *http.Request) bool {
	rc := http.NewResponseController(w) // a photo on a slow network
	_, _ = rc.SetReadDeadline(time.Now().Add(sending)), rc.SetWriteDeadline(time.Now().Add(2*sending))
	r.Body = http.MaxBytesReader(w, r.Body, maxForm)
	if r.Header.Get("Origin") != "http://"+r.Host {
		d.Refuse(w, http.StatusForbidden, Foreign)
		return false
	}
	err := r.ParseMultipartForm(maxForm)
	var big *http.MaxBytesError
	switch {
	case errors.As(err, &big):
		d.Refuse(w, http.StatusRequestEntityTooLarge, words.Said{Key: "desk.form-large", English: "that is more than a form may hold: {n} MB", Of: []any{"n", maxForm >> 20}})
		return false
	case err != nil && !errors.Is(err, http.ErrNotMultipart):
		d.Refuse(w, http.StatusBadRequest, words.Said{Key: "desk.form-unread", English: "this form cannot be read"})
		return false
	case subtle.ConstantTimeCompare([]byte(r.PostForm.Get("form")), []byte(d.token)) != 1:
		d.Refuse(w, http.StatusForbidden, words.Said{Key: "desk.form-old", English: "this form is of an earlier run: go back, and load the page again"})
		return false
	}
	return true
}

// once reports whether a form has not been saved before, and remembers it. [Desk.again] lets it be saved all the same.
func (d *Desk) once(nonce string) bool {
	d.mu.Lock()
	defer d.mu.Unlock()
	if slices.Contains(d.used, nonce) {
		return false
	}
	d.used = append(d.used, nonce)
	if len(d.used) > 200 {
		d.used = d.used[1:]
	}
	return true
}

func (d *Desk) again(nonce string) {
	d.mu.Lock()
	defer d.mu.Unlock()
	d.used = slices.DeleteFunc(d.used, func(u string) bool { return u == nonce })
}

// settle waits until the site has what was written, or for a moment: a machine that is busy shows it later.
func (d *Desk) settle(ctx context.Context, newer <-chan struct{}) {
	select {
	case <-newer:
	case <-time.After(800 * time.Millisecond):
	case <-ctx.Done():
	}
}

// policy lets a page's forms go to this desk alone.
const policy = "default-src 'none'; style-src 'self'; script-src 'self'; img-src 'self'; connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'"

// show sends a page.
func (d *Desk) show(w http.ResponseWriter, b *page.Site, status int, name string, model any) {
	var out bytes.Buffer
	if err := d.Render(&out, b, name, model); err != nil {
		http.Error(w, err.Error(), http.StatusInternalServerError)
		return
	}
	h := w.Header()
	h.Set("Content-Type", "text/html; charset=utf-8")
	h.Set("Content-Security-Policy", policy)
	h.Set("Referrer-Policy", "same-origin") // a form says where it comes from
	w.WriteHeader(status)
	_, _ = w.Write(out.Bytes())
}

// Render fills a page in the words of a site.
func (d *Desk) Render(to io.Writer, b *page.Site, name string, model any) error {
	t, err := d.templates(b.Locale())
	if err != nil {
		return err
	}
	return t.ExecuteTemplate(to, name, model)
}

// templates are the pages in the words of a locale, parsed when they are first asked for.
func (d *Desk) templates(v words.Locale) (*template.Template, error) {
	d.mu.Lock()
	defer d.mu.Unlock()
	if d.pages.templates == nil || d.pages.in != v {
		t, err := parse(v)
		if err != nil {
			return nil, err
		}
		d.pages = pages{v, t}
	}
	return d.pages.templates, nil
}

// pages are the desk's templates in the words of a locale.
type pages struct {
	in        words.Locale
	templates *template.Template
}

func parse(v words.Locale) (*template.Template, error) {
	return template.New("").Option("missingkey=error").Funcs(template.FuncMap{
		"say":    func(key string, pairs ...any) template.HTML { return v.HTML("desk."+key, pairs...) },
		"with1":  func(p, row any) any { return map[string]any{"Page": p, "Row": row} },
		"help":   func(mapping string, keys ...string) []helpLine { return helpLines(v.Lang, mapping, keys) },
		"figure": v.Figure,
		"text":   func(key string, pairs ...any) string { return v.Text("desk."+key, pairs...) },
	}).ParseFS(files, "files/*.html")
}

// Script is the desk's script.
func Script() []byte {
	data, err := files.ReadFile("files/desk.js")
	if err != nil {
		panic(err) // embedded
	}
	return data
}

// Head is what every page of the desk has.
type Head struct {
	Lang, Direction, Title string
	Form, Icon             string // the token; "" for no icon
}

func (d *Desk) head(b *page.Site, title string) Head {
	h := Head{Lang: b.Theme.Words.Lang, Direction: b.Locale().Text("page.direction"), Title: title, Form: d.token}
	if b.Theme.Icon.Path != "" {
		h.Icon = "/" + b.Theme.Icon.Path
	}
	return h
}

// undo takes the last change back.
func (d *Desk) undo(w http.ResponseWriter, r *http.Request, b *page.Site) {
	newer := d.Rebuilt()
	err := d.Writer.Undo(r.Context(), func(last change.Past) bool { return identity(last) == r.PostForm.Get("at") })
	if err != nil {
		d.show(w, b, http.StatusConflict, "said.html", said{d.head(b, b.Locale().Text("desk.undo")), b.Locale().Text("desk.not-undone"), why(b.Locale(), err)})
		return
	}
	d.settle(r.Context(), newer)
	http.Redirect(w, r, Addr, http.StatusSeeOther)
}

// said is a page that says what followed.
type said struct {
	Head
	What string
	Text []template.HTML
}
