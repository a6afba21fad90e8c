package preview

import (
	"net"
	"net/http"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"slipleaf/build/quantity"
)

func TestTheSiteAndTheDeskAreShown(t *testing.T) {
	s := show(t, onDisk(t, small()))
	if r := s.until("an edition", func(r Report) bool { return true }); !r.Whole {
		t.Fatal(r.Complaints, r.Err)
	}
	for addr, want := range map[string]string{
		"/": "A small bench", "/index.html": "A small bench", "/tanks/shelf/": "The shelf", "/about/": "Words about it", "/about": "Words about it",
		"/desk/": "Count again", "/sheets/abcdefghjkmnpqrstvwxyz0123/": "Anubias",
	} {
		status, body := s.get(addr)
		if status != http.StatusOK || !strings.Contains(body, want) {
			t.Errorf("%s: %d, without %q\n%.900s", addr, status, want, body)
		}
		if n := strings.Count(body, `<script src="/-/preview.js"`); n != 1 {
			t.Errorf("%s: the script stands there %d times", addr, n)
		}
		if strings.Contains(body, "CANARY") && addr != deskAddr || strings.Contains(body, "preview-complaints") {
			t.Errorf("%s: shows what it must not", addr)
		}
	}
	_, desk := s.get("/desk/")
	for _, link := range []string{`href="/sheets/abcdefghjkmnpqrstvwxyz0123/"`, `href="/sheets/abcdefghjkmnpqrstvwxyz0123/label/"`, "sent/2026-02-10-ab.md", "<bdi>CANARY-name</bdi>"} {
		if !strings.Contains(desk, link) {
			t.Errorf("the desk is without %s", link)
		}
	}
}

// The policies in the page and in the header let the preview's own files in, on sheets too, and nothing else.
func TestThePolicyHolds(t *testing.T) {
	s := show(t, onDisk(t, small()))
	for _, addr := range []string{"/", "/sheets/abcdefghjkmnpqrstvwxyz0123/", "/desk/", "/no/such/"} {
		r := s.raw("GET", addr, "localhost:PORT", "Cookie: "+s.cookie())
		policy := r.Header.Get("Content-Security-Policy")
		for _, d := range []string{"default-src 'none'", "script-src 'self'", "style-src 'self'", "connect-src 'self'", "frame-ancestors 'none'"} {
			if strings.Count(policy, d) != 1 {
				t.Errorf("%s: %q in %s", addr, d, policy)
			}
		}
		if strings.Contains(policy, "unsafe") || strings.Contains(policy, "*") {
			t.Errorf("%s: %s", addr, policy)
		}
	}
}

func TestABrokenSaveKeepsTheLastPagesAndLaysTheComplaintOverThem(t *testing.T) {
	s := show(t, onDisk(t, small()))
	tank := small()["tanks/shelf/tank.md"]
	save(t, s.dir, "tanks/shelf/tank.md", strings.Replace(tank, "22 cm", "22 furlongs", 1))
	s.until("a broken save", func(r Report) bool { return !r.Whole && r.Complaints.Errors() == 1 })
	status, body := s.get("/tanks/shelf/")
	for _, want := range []string{"The shelf", "preview-complaints", "tanks/shelf/tank.md:5:", "furlongs"} {
		if status != 200 || !strings.Contains(body, want) {
			t.Errorf("%d, without %q", status, want)
		}
	}
	if _, part := s.get("/-/complaints"); !strings.Contains(part, "furlongs") {
		t.Errorf("the complaint alone: %s", part)
	}
	save(t, s.dir, "tanks/shelf/tank.md", strings.Replace(tank, "The shelf", "The mended shelf", 1))
	s.untilPage("/tanks/shelf/", 200, "The mended shelf")
	if _, body := s.get("/tanks/shelf/"); strings.Contains(body, "preview-complaints") {
		t.Error("the complaint stays")
	}
}

func TestAJournalThatIsBrokenFromTheStart(t *testing.T) {
	s := show(t, onDisk(t, with(small(), "journal.yaml", "title: [\n")))
	status, body := s.get("/")
	if status != http.StatusServiceUnavailable || !strings.Contains(body, "journal.yaml:") {
		t.Errorf("%d %s", status, body)
	}
	next, first := s.stream("/", editionOf(t, body))
	if first.name != "complaints" || first.data != "true" {
		t.Errorf("first %+v", first)
	}
	save(t, s.dir, "journal.yaml", small()["journal.yaml"])
	if m := next(); m.name != "reload" {
		t.Errorf("then %+v", m)
	}
	if status, _ := s.get("/"); status != 200 {
		t.Error(status)
	}
}

// A template that parses and cannot be executed is a broken save as well.
func TestABrokenTemplateKeepsTheLastPages(t *testing.T) {
	theme := t.TempDir()
	save(t, theme, "styles/90-own.css", ".mine { color: #123456 }")
	s := show(t, onDisk(t, small()), func(o *Options) { o.Theme, o.Site.Theme = theme, os.DirFS(theme) })
	save(t, theme, "templates/home.html", `{{.NoSuchThing}}`)
	r := s.until("a broken template", func(r Report) bool { return r.Err != nil })
	if _, body := s.get("/"); !strings.Contains(body, "A small bench") || !strings.Contains(body, "NoSuchThing") {
		t.Errorf("after %v: %.300s", r.Err, body)
	}
	if err := os.Remove(filepath.Join(theme, "templates/home.html")); err != nil {
		t.Fatal(err)
	}
	s.until("the old template", func(r Report) bool { return r.Whole })
}

func TestNewFoldersAndRenamedFilesAreSeen(t *testing.T) {
	s := show(t, onDisk(t, small()))
	save(t, s.dir, "tanks/sill/tank.md", strings.Replace(small()["tanks/shelf/tank.md"], "The shelf", "The sill", 1))
	s.untilPage("/tanks/sill/", 200, "The sill")
	save(t, s.dir, "tanks/sill/2026-02-02.md", "---\ntitle: In the new folder\n---\nWords.\n") // the new folder is watched too
	s.untilPage("/tanks/sill/2026-02-02/", 200, "In the new folder")
	if err := os.Rename(filepath.Join(s.dir, "pages/about.md"), filepath.Join(s.dir, "pages/whence.md")); err != nil {
		t.Fatal(err)
	}
	s.untilPage("/about/", 404, "")
	s.untilOrNow("/whence/", 200, "Words about it")
	if err := os.Rename(filepath.Join(s.dir, "tanks/sill"), filepath.Join(s.dir, "tanks/ledge")); err != nil {
		t.Fatal(err)
	}
	s.untilPage("/tanks/ledge/", 200, "The sill")
	save(t, s.dir, "tanks/ledge/2026-02-02.md", "---\ntitle: In the renamed folder\n---\nWords.\n")
	s.untilPage("/tanks/ledge/2026-02-02/", 200, "In the renamed folder")
}

// untilOrNow is untilPage for what an earlier report may have brought already.
func (s *showing) untilOrNow(addr string, status int, text string) {
	s.t.Helper()
	if got, body := s.get(addr); got != status || !strings.Contains(body, text) {
		s.untilPage(addr, status, text)
	}
}

func TestATakenPortIsPassedBy(t *testing.T) {
	l, err := net.Listen("tcp4", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	defer l.Close()
	port := l.Addr().(*net.TCPAddr).Port
	s := show(t, onDisk(t, small()), func(o *Options) { o.Port = port })
	if s.port <= port {
		t.Errorf("port %d, where %d is taken", s.port, port)
	}
}

// Nobody but this machine can reach it: it listens on the loopback addresses alone.
func TestItListensOnThisMachineOnly(t *testing.T) {
	ls, port, err := listen(0)
	if err != nil {
		t.Fatal(err)
	}
	for _, l := range ls {
		defer l.Close()
		a := l.Addr().(*net.TCPAddr)
		if !a.IP.IsLoopback() || a.Port != port {
			t.Errorf("it listens on %v, port %d", a, port)
		}
	}
	if len(ls) == 2 {
		if c, err := net.Dial("tcp6", "[::1]:"+strconv.Itoa(port)); err != nil {
			t.Error(err)
		} else {
			c.Close()
		}
	}
}

func TestItEndsCleanlyWithAPageOpen(t *testing.T) {
	s := show(t, onDisk(t, small()))
	_, body := s.get("/")
	next, first := s.stream("/", editionOf(t, body))
	if first.name != "complaints" || first.data != "false" {
		t.Errorf("first %+v", first)
	}
	if err := s.stop(); err != nil {
		t.Error(err)
	}
	if m := next(); m.name != "end" {
		t.Errorf("after the end: %+v", m)
	}
	if _, err := net.Dial("tcp4", strings.TrimPrefix(s.addr, "http://")); err == nil {
		t.Error("somebody still listens")
	}
}

// A desk that is left open overnight shows the new day, though nothing was saved: else the first entry of each day would be
// dated the day before.
func TestANewDayIsShown(t *testing.T) {
	var days atomic.Int64
	tick := make(chan time.Time)
	s := show(t, onDisk(t, small()), func(o *Options) {
		o.Site.On = quantity.Date{}
		o.Day = func() quantity.Date { return quantity.Date{Year: 2026, Month: 3, Day: 1}.Add(int(days.Load())) }
		o.After = func(d time.Duration) <-chan time.Time {
			if d == lookAtClock {
				return tick
			}
			return hasty(d)
		}
	})
	s.until("an edition", func(r Report) bool { return r.Whole })
	tick <- time.Time{}
	days.Store(1)
	tick <- time.Time{}
	s.until("an edition of the next day", func(r Report) bool { return r.Whole })
	if _, body := s.get("/desk/"); !strings.Contains(body, "Today, 2 March") {
		t.Errorf("%.2000s", body)
	}
}
