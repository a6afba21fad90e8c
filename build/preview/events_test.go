package preview

import (
	"os"
	"strconv"
	"strings"
	"testing"
)

// number is an event's number, which must be larger than that of the one before.
func number(t *testing.T, m told, before int64) int64 {
	t.Helper()
	n, err := strconv.ParseInt(m.id, 10, 64)
	if err != nil || n <= before {
		t.Fatalf("%+v after %d", m, before)
	}
	return n
}

func TestEventsComeInTheOrderOfTheSaves(t *testing.T) {
	s := show(t, onDisk(t, small()))
	_, body := s.get("/tanks/shelf/")
	next, first := s.stream("/tanks/shelf/", editionOf(t, body))
	at := number(t, first, 0)
	tank := small()["tanks/shelf/tank.md"]
	for i, step := range []struct{ file, text, name, data string }{
		{"tanks/shelf/tank.md", strings.Replace(tank, "shelf", "ledge", 1), "reload", "null"},
		{"tanks/shelf/tank.md", strings.Replace(tank, "22 cm", "22 ells", 1), "complaints", "true"},
		{"tanks/shelf/tank.md", strings.Replace(tank, "shelf", "ledge", 1), "complaints", "false"}, // as before: the page need not be loaded again
		{"tanks/shelf/tank.md", tank, "reload", "null"},
	} {
		save(t, s.dir, step.file, step.text)
		m := next()
		if m.name != step.name || m.data != step.data {
			t.Errorf("step %d: %+v", i, m)
		}
		at = number(t, m, at)
	}
}

// A save that does not touch the page that is open does not load it again; the next that does is the next event.
func TestOtherPagesDoNotLoadThisOneAgain(t *testing.T) {
	s := show(t, onDisk(t, small()))
	_, body := s.get("/tanks/shelf/2026-02-01/")
	next, _ := s.stream("/tanks/shelf/2026-02-01/", editionOf(t, body))
	save(t, s.dir, "pages/about.md", "---\ntitle: About\n---\nOther words.\n")
	s.untilPage("/about/", 200, "Other words")
	save(t, s.dir, "pages/about.md", "---\ntitle: [\n---\n")
	if m := next(); m.name != "complaints" || m.data != "true" {
		t.Errorf("%+v", m)
	}
}

func TestAPageThatMissedAnEditionIsLoadedAgain(t *testing.T) {
	s := show(t, onDisk(t, small()))
	_, body := s.get("/")
	seen := editionOf(t, body)
	save(t, s.dir, "journal.yaml", strings.Replace(small()["journal.yaml"], "small", "smaller", 1))
	s.untilPage("/", 200, "A smaller bench")
	if _, first := s.stream("/", seen); first.name != "reload" {
		t.Errorf("%+v", first)
	}
}

func TestStylesAreSwappedWithoutLoadingThePageAgain(t *testing.T) {
	theme := t.TempDir()
	save(t, theme, "styles/90-own.css", ".mine { color: #123456 }")
	s := show(t, onDisk(t, small()), func(o *Options) { o.Theme, o.Site.Theme = theme, os.DirFS(theme) })
	_, body := s.get("/")
	next, _ := s.stream("/", editionOf(t, body))
	save(t, theme, "styles/90-own.css", ".mine { color: #654321 }")
	m := next()
	if m.name != "styles" {
		t.Fatalf("%+v", m)
	}
	parts := strings.Split(m.data, `"`) // {"old":"/look/…","new":"/look/…"}
	old, fresh := parts[3], parts[7]
	if !strings.Contains(body, old[1:]) {
		t.Errorf("the page has no %s", old)
	}
	if status, css := s.get(fresh); status != 200 || !strings.Contains(css, "#654321") {
		t.Errorf("%s: %d", fresh, status)
	}
	if status, css := s.get(old); status != 200 || !strings.Contains(css, "#123456") { // for a page that is just being loaded
		t.Errorf("%s: %d", old, status)
	}
}

// The grower's own page shows every save.
func TestTheDeskIsAlwaysLoadedAgain(t *testing.T) {
	s := show(t, onDisk(t, small()))
	_, body := s.get(deskAddr)
	next, _ := s.stream(deskAddr, editionOf(t, body))
	save(t, s.dir, "pages/about.md", "---\ntitle: About\n---\nOther words.\n")
	if m := next(); m.name != "reload" {
		t.Errorf("%+v", m)
	}
}

func TestEventsRefuseWhatIsNoEdition(t *testing.T) {
	s := show(t, onDisk(t, small()))
	if status, _ := s.get("/-/events?at=/&seen=x"); status != 400 {
		t.Error(status)
	}
}

// The grower's own page lists the complaints; nothing is laid over it.
func TestNothingIsLaidOverTheDesk(t *testing.T) {
	s := show(t, onDisk(t, small()))
	_, body := s.get(deskAddr)
	save(t, s.dir, "pages/about.md", "---\ntitle: [\n---\n")
	s.until("a broken save", func(r Report) bool { return !r.Whole })
	if _, first := s.stream(deskAddr, editionOf(t, body)); first.name != "complaints" || first.data != "false" {
		t.Errorf("%+v", first)
	}
	if _, body := s.get(deskAddr); !strings.Contains(body, "pages/about.md:") || strings.Contains(body, "preview-complaints") {
		t.Errorf("%s", body)
	}
}
