package preview

import (
	"bytes"
	"embed"
	"fmt"
	"html/template"
	"io"
	"io/fs"
	"log"
	"net/http"
	"path"
	"time"

	"slipleaf/build/desk"
	"slipleaf/themes"
)

// ownAddr is where the preview's own files live. No journal can have a page there.
const ownAddr = "/-/"

// deskAddr is the grower's own page.
const deskAddr = desk.Addr

//go:embed files
var files embed.FS

var templates = template.Must(template.New("").ParseFS(files, "files/*.html"))

// server answers requests from the shelf.
type server struct {
	shelf *shelf
	ready <-chan struct{} // closed when the first state is there
	stop  <-chan struct{} // closed when the preview ends, so that streams do
	after func(time.Duration) <-chan time.Time
	forms *desk.Desk
	open  lookers
	pass  pass
}

// handler is for this machine: the desk is for who has the run's token.
func (s *server) handler(port int) http.Handler {
	return guard(port, s.forms.Writer != nil, s.wait(s.mux(s.pass.guard(s.desk, s.forms.Refuse))))
}

// handlerFor is for other devices, at one address: everything is for those that are paired.
func (s *server) handlerFor(host string, port int, p *pairing) http.Handler {
	return guardAs([]string{host}, port, s.forms.Writer != nil, s.wait(p.guard(s, s.mux(s.desk))))
}

func (s *server) mux(desks http.HandlerFunc) http.Handler {
	mux := http.NewServeMux()
	mux.HandleFunc(ownAddr+"preview.js", fixed("preview.js", "text/javascript; charset=utf-8"))
	mux.HandleFunc(ownAddr+"preview.css", fixed("preview.css", "text/css; charset=utf-8"))
	mux.HandleFunc(ownAddr+"events", s.events)
	mux.HandleFunc(ownAddr+"complaints", s.complaints)
	mux.HandleFunc(ownAddr+"desk.css", serving(deskStyle(), mimes[".css"]))
	mux.HandleFunc(ownAddr+"desk.js", serving(desk.Script(), mimes[".js"]))
	mux.HandleFunc(deskAddr, desks)
	mux.HandleFunc(ownAddr, http.NotFound)
	mux.HandleFunc("/", s.pages)
	return mux
}

// wait holds requests back until there is something to show.
func (s *server) wait(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		select {
		case <-s.ready:
			next.ServeHTTP(w, r)
		case <-s.stop:
			http.Error(w, "the preview is ending", http.StatusServiceUnavailable)
		case <-r.Context().Done():
		}
	})
}

func fixed(name, mime string) http.HandlerFunc {
	data, err := files.ReadFile("files/" + name)
	if err != nil {
		panic(err) // embedded
	}
	return serving(data, mime)
}

func serving(data []byte, mime string) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set("Content-Type", mime)
		_, _ = w.Write(data)
	}
}

// deskStyle is the style of the desk's pages, in the colours of the default look.
func deskStyle() []byte {
	var out []byte
	for _, name := range []string{"styles/00-tokens.css", "styles/61-draw.css", "desk/desk.css"} {
		data, err := fs.ReadFile(themes.Bench(), name)
		if err != nil {
			panic(err) // embedded
		}
		out = append(out, data...)
	}
	return out
}

// pages serves the pages of the journal, each answer wholly from one edition.
func (s *server) pages(w http.ResponseWriter, r *http.Request) {
	st := s.shelf.now.Load()
	if st.edition == nil {
		s.nothingYet(w, st)
		return
	}
	data, ok, to, err := st.edition.find(r.URL.Path)
	switch {
	case err != nil:
		why := err.Error()
		if ofRecords(why) {
			why = "see the terminal"
		}
		s.html(w, st, http.StatusInternalServerError, message("This page could not be built", why))
	case to != "":
		http.Redirect(w, r, to, http.StatusFound)
	case ok:
		s.send(w, st, r.URL.Path, data)
	default:
		if f, kept := st.keepsake[r.URL.Path]; kept {
			s.send(w, st, r.URL.Path, f.Data)
			return
		}
		missing, _, _, err := st.edition.find("/404.html")
		if err != nil || len(missing) == 0 {
			missing = message("There is nothing at this address", r.URL.Path)
		}
		s.html(w, st, http.StatusNotFound, missing)
	}
}

// nothingYet shows the complaints where no edition has been whole yet.
func (s *server) nothingYet(w http.ResponseWriter, st *state) {
	s.html(w, st, http.StatusServiceUnavailable, message("The journal cannot be shown yet", "It will show as soon as the problems below are fixed."))
}

func message(head, text string) []byte {
	var b bytes.Buffer
	if err := templates.ExecuteTemplate(&b, "message.html", map[string]string{"Head": head, "Text": text}); err != nil {
		return []byte(template.HTMLEscapeString(head + ": " + text))
	}
	return b.Bytes()
}

// mimes are the kinds of file that a site holds.
var mimes = map[string]string{
	".html": "text/html; charset=utf-8", ".css": "text/css; charset=utf-8", ".js": "text/javascript; charset=utf-8",
	".json": "application/json", ".csv": "text/csv; charset=utf-8", ".txt": "text/plain; charset=utf-8", ".ics": "text/calendar; charset=utf-8",
	".atom": "application/atom+xml", ".xml": "application/xml", ".svg": "image/svg+xml", ".png": "image/png", ".jpg": "image/jpeg",
	".jpeg": "image/jpeg", ".webp": "image/webp", ".gif": "image/gif", ".avif": "image/avif", "": "text/html; charset=utf-8",
}

func (s *server) send(w http.ResponseWriter, st *state, addr string, data []byte) {
	mime, ok := mimes[path.Ext(addr)]
	if !ok {
		mime = "application/octet-stream"
	}
	if path.Ext(addr) == "" || path.Ext(addr) == ".html" {
		s.html(w, st, http.StatusOK, data)
		return
	}
	w.Header().Set("Content-Type", mime)
	_, _ = w.Write(data)
}

// html sends a page with the preview's script in it and, where the newest save is broken, the complaints over it.
func (s *server) html(w http.ResponseWriter, st *state, status int, data []byte) {
	s.page(w, st, status, data, overlay(st))
}

// page sends a page with the preview's script in it and something laid over it.
func (s *server) page(w http.ResponseWriter, st *state, status int, data, over []byte) {
	number := st.number
	if st.edition != nil {
		number = st.edition.number
	}
	data, policy := inject(data, number, over)
	w.Header().Set("Content-Type", mimes[".html"])
	w.Header().Set("Content-Security-Policy", policy)
	w.WriteHeader(status)
	_, _ = w.Write(data)
}

// overlay is what lies over a page while the newest save is broken; empty otherwise. Pages open to whoever can reach the port:
// it tells nothing of records.
func overlay(st *state) []byte {
	if !st.broken() {
		return nil
	}
	var b bytes.Buffer
	public, records := st.shown()
	failure := st.failure
	if ofRecords(failure) {
		failure = "a record could not be read: see the private page or the terminal"
	}
	if err := templates.ExecuteTemplate(&b, "complaints.html", map[string]any{"Failure": failure, "Troubles": public, "Records": records, "Desk": deskAddr, "Older": st.edition != nil}); err != nil {
		return fmt.Appendf(nil, "<pre>%s</pre>", template.HTMLEscapeString(err.Error()))
	}
	return b.Bytes()
}

// complaints is the overlay alone, for pages that are open.
func (s *server) complaints(w http.ResponseWriter, r *http.Request) {
	w.Header().Set("Content-Type", mimes[".html"])
	_, _ = w.Write(overlay(s.shelf.now.Load()))
}

// newHTTP is the server with its limits: a stuck client costs little. Streams lengthen their own time.
func newHTTP(h http.Handler) *http.Server {
	return &http.Server{
		Handler: h, ReadHeaderTimeout: 5 * time.Second, ReadTimeout: 10 * time.Second, WriteTimeout: 30 * time.Second, IdleTimeout: time.Minute,
		MaxHeaderBytes: 16 << 10, DisableGeneralOptionsHandler: true, ErrorLog: log.New(io.Discard, "", 0), // a terminal is for complaints
	}
}
