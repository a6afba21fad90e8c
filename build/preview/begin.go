package preview

import (
	"bytes"
	"context"
	"crypto/subtle"
	"errors"
	"html/template"
	"net/http"
	"strings"
	"sync"

	"slipleaf/build/desk"
	"slipleaf/build/words"
	"slipleaf/themes"
)

// Begun is a desk that goes on where the page that began its journal ended: on the same port, for the same browser.
type Begun struct {
	Port  int
	token string
}

// Begin shows the page that begins a journal in a folder, until begin has made one of what was typed, or opened the
// demonstration; what it says is wrong is shown on the page. then is the first page below the desk's. ready gets the port and
// the address to open on it.
func Begin(ctx context.Context, port int, folder string, begin func(desk.Begin) (then string, faults []template.HTML), ready func(port int, desk string)) (Begun, error) {
	listeners, port, err := listen(port)
	if err != nil {
		return Begun{}, err
	}
	p := newPass(port)
	b := &beginner{folder: folder, begin: begin, token: newPass(port).token, made: make(chan struct{})}
	mux := http.NewServeMux()
	mux.HandleFunc(ownAddr+"desk.css", serving(deskStyle(), mimes[".css"]))
	mux.HandleFunc(ownAddr+"desk.js", serving(desk.Script(), mimes[".js"]))
	mux.HandleFunc(deskAddr, p.guard(b.serve, func(w http.ResponseWriter, status int, why words.Said) { http.Error(w, why.String(), status) }))
	mux.Handle("/", http.RedirectHandler(deskAddr, http.StatusFound))
	web := newHTTP(guard(port, true, mux))
	var wg sync.WaitGroup
	failed := make(chan error, len(listeners))
	for _, l := range listeners {
		wg.Go(func() {
			if err := web.Serve(l); !errors.Is(err, http.ErrServerClosed) {
				failed <- err
			}
		})
	}
	ready(port, p.address())
	select {
	case <-b.made:
	case <-ctx.Done():
		err = ctx.Err()
	case err = <-failed:
	}
	err = errors.Join(err, shutDown(web))
	wg.Wait()
	return Begun{port, p.token}, err
}

// beginner serves the page that begins a journal, once.
type beginner struct {
	folder string
	begin  func(desk.Begin) (then string, faults []template.HTML)
	token  string
	mu     sync.Mutex
	begun  bool
	then   string
	made   chan struct{}
}

func (b *beginner) serve(w http.ResponseWriter, r *http.Request) {
	lang := "en"
	if strings.HasPrefix(strings.ToLower(r.Header.Get("Accept-Language")), "de") {
		lang = "de"
	}
	v, err := words.Load(themes.Bench(), lang)
	if err != nil {
		http.Error(w, err.Error(), http.StatusInternalServerError)
		return
	}
	var faults []template.HTML
	status := http.StatusOK
	if r.Method == http.MethodPost {
		r.Body = http.MaxBytesReader(w, r.Body, 64<<10)
		if r.Header.Get("Origin") != "http://"+r.Host || subtle.ConstantTimeCompare([]byte(r.PostFormValue("form")), []byte(b.token)) != 1 {
			http.Error(w, desk.Foreign.String(), http.StatusForbidden)
			return
		}
		asked := desk.NewBegin(v, b.token, b.folder, r.PostForm, nil)
		if faults = b.once(asked); len(faults) == 0 {
			w.Header().Set("Connection", "close") // the next answer is that of the desk
			w.Header().Set("Refresh", "2; url="+deskAddr+b.then)
			w.Header().Set("Content-Type", mimes[".html"])
			title := "desk.begun"
			if asked.Demonstration {
				title = "desk.begin-demo-opens"
			}
			_, _ = w.Write(message(v.Text(title), v.Text("desk.begun-wait")))
			return
		}
		status = http.StatusUnprocessableEntity
	}
	var out bytes.Buffer
	if err := desk.NewBegin(v, b.token, b.folder, r.PostForm, faults).Render(&out); err != nil {
		http.Error(w, err.Error(), http.StatusInternalServerError)
		return
	}
	w.Header().Set("Content-Type", mimes[".html"])
	w.Header().Set("Content-Security-Policy", desk.Policy)
	w.Header().Set("Referrer-Policy", "same-origin")
	w.WriteHeader(status)
	_, _ = w.Write(out.Bytes())
}

// once begins the journal, if that has not been done.
func (b *beginner) once(asked desk.Begin) (faults []template.HTML) {
	b.mu.Lock()
	defer b.mu.Unlock()
	if b.begun {
		return nil
	}
	if b.then, faults = b.begin(asked); len(faults) == 0 {
		b.begun = true
		close(b.made)
	}
	return faults
}
