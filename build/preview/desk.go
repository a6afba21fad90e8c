package preview

import (
	"bytes"
	"net/http"
	"strings"

	"slipleaf/build/desk"
	"slipleaf/build/page"
)

// site is the journal as it was last whole; nil before the first.
func (s *server) site() *page.Site {
	if e := s.shelf.now.Load().edition; e != nil {
		return e.site
	}
	return nil
}

// newer is closed when something newer is served.
func (s *server) newer() <-chan struct{} { return s.shelf.now.Load().next }

// desk serves the grower's own pages: the first with what is wrong and what is due, and the forms below it.
func (s *server) desk(w http.ResponseWriter, r *http.Request) {
	w.Header().Set("Referrer-Policy", "same-origin")
	if r.URL.Path != deskAddr {
		if s.forms.Writer == nil {
			http.NotFound(w, r)
			return
		}
		s.forms.ServeHTTP(w, r)
		return
	}
	if r.Method == http.MethodPost {
		http.Error(w, "nothing is sent here", http.StatusMethodNotAllowed)
		return
	}
	st := s.shelf.now.Load()
	var out bytes.Buffer
	var err error
	if st.edition == nil {
		err = templates.ExecuteTemplate(&out, "desk.html", map[string]any{"Failure": st.failure, "Troubles": st.trouble})
	} else {
		m := s.forms.Today(r.Context(), r, func(addr string) bool { return st.edition.at(addr) != nil })
		m.Failure = st.failure + m.Failure
		v := st.edition.site.Locale()
		for _, t := range st.trouble {
			place, _, _ := strings.Cut(t.Head(), ": ")
			m.Troubles = append(m.Troubles, desk.Trouble{Place: place, Line: t.Line(), Severity: v.Text("desk." + t.Severity.String()), Said: v.Complaint(t.Complaint)})
		}
		err = s.forms.Render(&out, st.edition.site, "today.html", m)
	}
	if err != nil {
		http.Error(w, err.Error(), http.StatusInternalServerError)
		return
	}
	s.page(w, st, http.StatusOK, out.Bytes(), nil)
}
