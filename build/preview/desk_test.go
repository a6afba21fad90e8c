package preview

import (
	"bufio"
	"context"
	"fmt"
	"io"
	"maps"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"slipleaf/build/journal"

	"slipleaf/build/quantity"
	"slipleaf/build/site"
)

// small is a journal with one of everything that a test changes.
func small() map[string]string {
	return map[string]string{
		"journal.yaml":          "title: A small bench\ngrower: K.\nlanguage: en\nunits: metric\n",
		"tanks/shelf/tank.md":   "---\nname: The shelf\nbegan: 2026-01-05\ninside: {length: 60 cm, width: 30 cm, height: 30 cm}\nwater-depth: 22 cm\n---\nA tank.\n",
		"pages/about.md":        "---\ntitle: About\n---\nWords about it.\n",
		"sent/2026-02-10-ab.md": "---\nlot: AB-0201\ncount: 1\nsent: 2026-02-10\ncode: abcdefghjkmnpqrstvwxyz0123\nprivate:\n  name: CANARY-name\n---\n",
		"tanks/shelf/2026-02-01.md": "---\ntitle: Counted\ncounts:\n  - {plant: anubias-barteri, leaves: 9}\n" +
			"lots:\n  - {lot: AB-0201, plant: anubias-barteri, count: 3, form: divisions, ready: 2026-02-01}\n---\nAll well.\n",
	}
}

// onDisk writes a journal into a folder of its own.
func onDisk(t testing.TB, files map[string]string) string {
	dir := t.TempDir()
	for name, text := range files {
		save(t, dir, name, text)
	}
	return dir
}

// save writes a file as editors do: beside it first, then in one step over it.
func save(t testing.TB, dir, name, text string) {
	t.Helper()
	to := filepath.Join(dir, filepath.FromSlash(name))
	if err := os.MkdirAll(filepath.Dir(to), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(to+"~", []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := os.Rename(to+"~", to); err != nil {
		t.Fatal(err)
	}
}

// hasty is a clock on which quiet periods are over at once and nothing else ever comes.
func hasty(d time.Duration) <-chan time.Time {
	if d != quiet {
		return nil
	}
	c := make(chan time.Time, 1)
	c <- time.Time{}
	return c
}

// showing is a preview under test.
type showing struct {
	t       testing.TB
	dir     string
	addr    string // http://127.0.0.1:PORT
	port    int
	desk    string // where the desk opens, with the run's token
	reports chan Report
	said    chan string
	stop    func() error // ends it and gives what Run returned
}

// show starts a preview of the journal in dir and waits for its first edition.
func show(t testing.TB, dir string, change ...func(*Options)) *showing {
	t.Helper()
	s := &showing{t: t, dir: dir, reports: make(chan Report, 1000), said: make(chan string, 10)}
	root, err := os.OpenRoot(dir)
	if err != nil {
		t.Fatal(err)
	}
	ready := make(chan struct{}, 1)
	o := Options{
		Dir: dir, FS: root.FS(), Site: site.Options{On: quantity.Date{Year: 2026, Month: 3, Day: 1}},

		Shown: func(c journal.Complaint) string { return c.String() + "\n" },
		Ready: func(port int, desk string) { s.port, s.desk = port, desk; ready <- struct{}{} }, Tell: func(r Report) { s.reports <- r }, Say: func(m string) { s.said <- m },
		After: hasty,
	}
	for _, f := range change {
		f(&o)
	}
	ctx, cancel := context.WithCancel(context.Background())
	ended := make(chan error, 1)
	go func() { ended <- Run(ctx, o) }()
	var outcome error
	stopped := false
	s.stop = func() error {
		if !stopped {
			stopped = true
			cancel()
			outcome = <-ended
			root.Close()
		}
		return outcome
	}
	t.Cleanup(func() {
		if err := s.stop(); err != nil {
			t.Error(err)
		}
	})
	select {
	case <-ready:
	case err := <-ended:
		t.Fatal("it ended at once: ", err)
	}
	s.addr = fmt.Sprintf("http://127.0.0.1:%d", s.port)
	return s
}

// get fetches an address and gives status and body.
func (s *showing) get(addr string) (int, string) {
	s.t.Helper()
	q, err := http.NewRequest(http.MethodGet, s.addr+addr, nil)
	if err != nil {
		s.t.Fatal(err)
	}
	q.Header.Set("Cookie", s.cookie())
	r, err := http.DefaultClient.Do(q)
	if err != nil {
		s.t.Fatal(err)
	}
	defer r.Body.Close()
	b, err := io.ReadAll(r.Body)
	if err != nil {
		s.t.Fatal(err)
	}
	return r.StatusCode, string(b)
}

// cookie is what a browser sends that has opened the desk.
func (s *showing) cookie() string {
	_, token, _ := strings.Cut(s.desk, "token=")
	return fmt.Sprintf("slipleaf-desk-%d=%s", s.port, token)
}

// until waits for a report that holds, and fails the test when none comes for long.
func (s *showing) until(what string, holds func(Report) bool) Report {
	s.t.Helper()
	late := time.After(10 * time.Second)
	for {
		select {
		case r := <-s.reports:
			if holds(r) {
				return r
			}
		case <-late:
			s.t.Fatal("it never came: ", what)
		}
	}
}

// untilPage waits for a report after which a page reads as wanted.
func (s *showing) untilPage(addr string, status int, text string) {
	s.t.Helper()
	s.until(fmt.Sprintf("%s with %d and %q", addr, status, text), func(Report) bool {
		got, body := s.get(addr)
		return got == status && strings.Contains(body, text)
	})
}

// told is an event as a browser gets it.
type told struct{ id, name, data string }

// stream opens the events for a page and waits for what it is told first.
func (s *showing) stream(at, edition string) (next func() told, first told) {
	s.t.Helper()
	ctx, cancel := context.WithTimeout(context.Background(), 60*time.Second)
	s.t.Cleanup(cancel)
	q, err := http.NewRequestWithContext(ctx, http.MethodGet, s.addr+"/-/events?at="+at+"&seen="+edition, nil)
	if err != nil {
		s.t.Fatal(err)
	}
	r, err := http.DefaultClient.Do(q)
	if err != nil {
		s.t.Fatal(err)
	}
	s.t.Cleanup(func() { r.Body.Close() })
	lines := bufio.NewScanner(r.Body)
	next = func() told {
		s.t.Helper()
		m := told{}
		for lines.Scan() {
			key, value, _ := strings.Cut(lines.Text(), ": ")
			switch key {
			case "id":
				m.id = value
			case "event":
				m.name = value
			case "data":
				m.data = value
			case "":
				if m != (told{}) {
					return m
				}
			}
		}
		return told{name: "end"}
	}
	return next, next()
}

// editionOf is the number that a page carries.
func editionOf(t testing.TB, body string) string {
	t.Helper()
	_, rest, ok := strings.Cut(body, `data-edition="`)
	n, _, ok2 := strings.Cut(rest, `"`)
	if !ok || !ok2 {
		t.Fatalf("the page carries no edition:\n%.600s", body)
	}
	return n
}

// with is a copy of a journal with a file changed.
func with(files map[string]string, name, text string) map[string]string {
	files = maps.Clone(files)
	files[name] = text
	return files
}
