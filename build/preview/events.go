package preview

import (
	"encoding/json"
	"fmt"
	"net/http"
	"strconv"
	"time"
)

// beat is how often a quiet stream is written to, so that a browser that went away is noticed.
const beat = 15 * time.Second

// event is one message of the stream.
type event struct {
	name string // reload, styles or complaints
	id   int64
	data any
}

// swap tells a page which style sheet to load in place of which.
type swap struct {
	Old string `json:"old"`
	New string `json:"new"`
}

// events is the stream (server-sent events of the HTML standard) for one open page. It tells of each state that is the
// newest when the page can take it, so that a slow page skips some and never gets them out of order.
func (s *server) events(w http.ResponseWriter, r *http.Request) {
	at := r.URL.Query().Get("at")
	seen, err := strconv.ParseInt(r.URL.Query().Get("seen"), 10, 64)
	if err != nil {
		http.Error(w, "seen must be the number of an edition", http.StatusBadRequest)
		return
	}
	w.Header().Set("Content-Type", "text/event-stream")
	rc := http.NewResponseController(w)
	if err := rc.SetReadDeadline(time.Time{}); err != nil { // the server's limit would end the stream
		http.Error(w, err.Error(), http.StatusInternalServerError)
		return
	}
	defer s.open.look(at)()
	last := s.shelf.now.Load()
	if s.tell(w, rc, opening(last, seen, at)...) != nil {
		return
	}
	pulse := s.after(beat)
	for {
		select {
		case <-last.next:
			now := s.shelf.now.Load()
			if s.tell(w, rc, between(last, now, at)...) != nil {
				return
			}
			last = now
		case <-pulse:
			pulse = s.after(beat)
			if s.tell(w, rc) != nil {
				return
			}
		case <-r.Context().Done():
			return
		case <-s.stop:
			return
		}
	}
}

// opening tells a page that has just opened its stream what it has missed.
func opening(now *state, seen int64, at string) []event {
	if now.edition != nil && now.edition.number != seen {
		return []event{{"reload", now.number, nil}}
	}
	return []event{{"complaints", now.number, now.broken() && at != deskAddr}} // the desk shows them all
}

// between tells the page at an address what a newer state means for it.
func between(old, now *state, at string) []event {
	var out []event
	if at == deskAddr || old.edition == nil && now.edition != nil {
		return []event{{"reload", now.number, nil}}
	}
	if old.edition != now.edition {
		if !sameBut(old.edition, now.edition, at) {
			return []event{{"reload", now.number, nil}}
		}
		for i, was := range old.edition.styles {
			if is := now.edition.styles[i]; is != was {
				out = append(out, event{"styles", now.number, swap{was, is}})
			}
		}
	}
	if old.broken() || now.broken() {
		out = append(out, event{"complaints", now.number, now.broken()})
	}
	return out
}

// tell writes events, or a comment where there are none, and gives the browser a few seconds to take them.
func (s *server) tell(w http.ResponseWriter, rc *http.ResponseController, events ...event) error {
	if err := rc.SetWriteDeadline(time.Now().Add(10 * time.Second)); err != nil {
		return err
	}
	if len(events) == 0 {
		if _, err := fmt.Fprint(w, ": still here\n\n"); err != nil {
			return err
		}
	}
	for _, e := range events {
		data, err := json.Marshal(e.data)
		if err != nil {
			return err
		}
		if _, err := fmt.Fprintf(w, "id: %d\nevent: %s\ndata: %s\n\n", e.id, e.name, data); err != nil {
			return err
		}
	}
	return rc.Flush()
}
