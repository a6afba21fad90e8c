package main

import (
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// Files that vanish and come back while they are read: a publish succeeds, or fails and says which file was gone. The
// site is whole after each, and nothing that was read half is ever published.
func TestFilesThatVanish(t *testing.T) {
	patient(t)
	t.Parallel()
	bin := built(t)
	dir := smallJournal(t, bin)
	photos := withPhotos(t, dir, 2)
	withLot(t, dir, 50)
	finish(t, exec.Command(bin, "send", "Example Person", "HZ-1:1", "--in", dir, "--on", "2026-06-03"))
	_, record := onlyRecord(t, dir)
	site := filepath.Join(t.TempDir(), "www")
	publish := func() *exec.Cmd { return exec.Command(bin, "publish", dir, "--to", site, "--on", "2026-06-03") }
	finish(t, publish())
	restless := append(photos, record, filepath.Join(dir, "tanks", "shelf", "2026-06-01.md"), filepath.Join(dir, "pages", "about.md"))
	stop, stopped := make(chan struct{}), make(chan error, 1)
	go func() { stopped <- stir(restless, stop) }()
	rounds, failed := 10, 0
	if long {
		rounds = 100
	}
	for i := range rounds {
		entitle(t, dir, fmt.Sprintf("Bench %d", i))
		out, err := publish().CombinedOutput()
		got := whole(t, site)
		var exit *exec.ExitError
		switch {
		case err == nil && got != fmt.Sprintf("Bench %d", i):
			t.Errorf("publish %d succeeded, and the site says %q", i, got)
		case err != nil && (!errors.As(err, &exit) || exit.ExitCode() == -1 || strings.Contains(string(out), "goroutine ")):
			t.Errorf("publish %d: %v\n%s", i, err, out)
		case err != nil:
			failed++
			if !strings.Contains(string(out), ".md") && !strings.Contains(string(out), ".jpg") && !strings.Contains(string(out), "sent") {
				t.Errorf("publish %d does not say what it lacked:\n%s", i, out)
			}
		}
	}
	close(stop)
	if err := <-stopped; err != nil {
		t.Fatal(err)
	}
	t.Logf("%d of %d publishes found a file gone", failed, rounds)
	finish(t, publish())
	asFromNothing(t, bin, dir, site, "2026-06-03")
	assertAlone(t, site)
}

// stir moves files away and back, one after another, until it is stopped; then all are back.
func stir(files []string, stop chan struct{}) error {
	for i := 0; ; i++ {
		name := files[i%len(files)]
		away := filepath.Join(filepath.Dir(name), ".away")
		if err := os.Rename(name, away); err != nil {
			return err
		}
		if err := os.Rename(away, name); err != nil {
			return err
		}
		select {
		case <-stop:
			return nil
		default:
		}
	}
}

// A clock that was set back between two runs, and files from the future, change nothing but the day: the site is the one
// that is made from nothing, also where a file changed without its time or its size.
func TestAClockSetBack(t *testing.T) {
	patient(t)
	t.Parallel()
	bin := built(t)
	dir := smallJournal(t, bin)
	photos := withPhotos(t, dir, 2)
	withLot(t, dir, 50)
	site := filepath.Join(t.TempDir(), "www")
	check := func(on string) {
		t.Helper()
		finish(t, exec.Command(bin, "publish", dir, "--to", site, "--on", on))
		whole(t, site)
		asFromNothing(t, bin, dir, site, on)
	}
	check("2026-09-01")
	check("2026-06-05") // a day before the last
	ahead := time.Date(2099, 1, 1, 0, 0, 0, 0, time.UTC)
	entry := filepath.Join(dir, "tanks", "shelf", "2026-06-02.md")
	stamp := func() {
		t.Helper()
		for _, name := range append([]string{entry, filepath.Join(dir, "journal.yaml")}, photos...) {
			if err := os.Chtimes(name, ahead, ahead); err != nil {
				t.Fatal(err)
			}
		}
	}
	stamp()
	check("2026-06-05")
	text := strings.Replace(read(t, entry), "title: Cut", "title: Cat", 1)
	if err := os.WriteFile(entry, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	first, second := read(t, photos[0]), read(t, photos[1])
	for i, data := range []string{second, first} {
		if err := os.WriteFile(photos[i], []byte(data), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	stamp()
	check("2026-06-05")
	if !strings.Contains(read(t, filepath.Join(site, "diary", "index.html")), "Cat") {
		t.Error("the entry that changed within its size and time is shown as it was")
	}
	// Sending on an earlier day than the last record's is in order; a report before its parcel is not.
	finish(t, exec.Command(bin, "send", "Example Person", "HZ-1:1", "--more", "--in", dir, "--on", "2026-06-20"))
	code, _ := onlyRecord(t, dir)
	finish(t, exec.Command(bin, "send", "Example Person", "HZ-1:1", "--more", "--in", dir, "--on", "2026-06-10"))
	if out, err := exec.Command(bin, "report", code, "rooted", "--in", dir, "--on", "2026-06-15").CombinedOutput(); err == nil || !strings.Contains(string(out), "before the parcel was sent") {
		t.Errorf("a report of a day before the parcel: %v\n%s", err, out)
	}
	holds(t, bin, dir, "2026-06-20")
}
