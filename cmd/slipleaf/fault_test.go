package main

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
)

// built is the program as the scripts have it: this test, which is the command where it goes by that name. So the race
// detector, where it is asked for, sees what programs do that run side by side.
func built(t *testing.T) string {
	t.Helper()
	bin, err := exec.LookPath("slipleaf")
	if err != nil {
		t.Fatal(err)
	}
	return bin
}

// patient is for tests that kill, starve or cheat the program. They start it hundreds of times or publish thousands of files, so
// they wait for the whole check.
func patient(t *testing.T) {
	t.Helper()
	if testing.Short() {
		t.Skip("not with -short")
	}
}

// smallJournal begins a journal in a folder and returns it.
func smallJournal(t *testing.T, bin string) string {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "journal")
	if out, err := exec.Command(bin, "start", dir, "--on", "2026-06-01").CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	return dir
}

// entitle gives a journal another title, so that every page changes.
func entitle(t *testing.T, dir, title string) {
	t.Helper()
	text := fmt.Sprintf("title: %s\ngrower: Test\n", title)
	if err := os.WriteFile(filepath.Join(dir, "journal.yaml"), []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
}

// whole checks that a published site is all of one publish, by the lists that lie in its cache: of the site that was put
// there, and of the one that was being put there. It returns the journal's title that its first page shows.
func whole(t *testing.T, site string) string {
	t.Helper()
	is := map[string]string{}
	for name, text := range tree(t, site) {
		sum := sha256.Sum256([]byte(text))
		is[name] = hex.EncodeToString(sum[:12])
	}
	delete(is, ".slipleaf-beside") // a publish was killed just before or after the exchange
	fits := false
	for _, list := range []string{"files", "files.next"} {
		data, err := os.ReadFile(filepath.Join(filepath.Dir(site), "."+filepath.Base(site)+".build.cache", list))
		fits = fits || err == nil && maps.Equal(is, listed(string(data)))
	}
	if !fits {
		t.Errorf("the %d files at %s are not those of one publish", len(is), site)
	}
	first := read(t, filepath.Join(site, "index.html"))
	_, after, _ := strings.Cut(first, "<title>")
	title, _, _ := strings.Cut(after, "</title>")
	return title
}

// listed reads a list of the cache.
func listed(list string) map[string]string {
	out := map[string]string{}
	for line := range strings.Lines(list) {
		if sum, name, ok := strings.Cut(strings.TrimSuffix(line, "\n"), " "); ok && len(sum) == 24 {
			out[name] = sum
		}
	}
	return out
}

// assertAlone checks that nothing of ours is left beside a site, a cache, the spare of a large site and the name of its journal
// excepted.
func assertAlone(t *testing.T, site string) {
	t.Helper()
	left, err := os.ReadDir(filepath.Dir(site))
	if err != nil {
		t.Fatal(err)
	}
	for _, l := range left {
		if l.Name() != filepath.Base(site) && !strings.HasSuffix(l.Name(), ".cache") && !strings.HasSuffix(l.Name(), ".spare") {
			t.Errorf("%s was left beside the site", l.Name())
		}
	}
}

// Publishes at the same time to one target all succeed, and the site is whole.
func TestPublishesAtOnce(t *testing.T) {
	t.Parallel()
	bin := built(t)
	dir := smallJournal(t, bin)
	site := filepath.Join(t.TempDir(), "www")
	var wg sync.WaitGroup
	for i := range 6 {
		wg.Go(func() {
			on := fmt.Sprintf("2026-06-%02d", i+1)
			if out, err := exec.Command(bin, "publish", dir, "--to", site, "--on", on).CombinedOutput(); err != nil {
				t.Errorf("%v\n%s", err, out)
			}
		})
	}
	wg.Wait()
	whole(t, site)
	assertAlone(t, site)
}
