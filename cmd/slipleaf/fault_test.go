package main

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
)

// program builds the command once.
var program = sync.OnceValues(func() (string, error) {
	dir, err := os.MkdirTemp("", "slipleaf-fault-")
	if err != nil {
		return "", err
	}
	bin := filepath.Join(dir, "slipleaf")
	out, err := exec.Command("go", "build", "-o", bin, ".").CombinedOutput()
	if err != nil {
		return "", fmt.Errorf("%w\n%s", err, out)
	}
	return bin, nil
})

func built(t *testing.T) string {
	t.Helper()
	bin, err := program()
	if err != nil {
		t.Fatal(err)
	}
	return bin
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

// whole checks a published site against its own list and returns the journal's title that its first page shows.
func whole(t *testing.T, site string) string {
	t.Helper()
	list, err := os.ReadFile(filepath.Join(site, ".slipleaf-site"))
	if err != nil {
		t.Fatal(err)
	}
	named := map[string]string{}
	for _, line := range strings.Split(strings.TrimSpace(string(list)), "\n")[1:] {
		sum, path, _ := strings.Cut(line, " ")
		named[path] = sum
	}
	found := 0
	err = filepath.WalkDir(site, func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || d.Name() == ".slipleaf-site" {
			return err
		}
		b, err := os.ReadFile(p)
		if err != nil {
			return err
		}
		rel, err := filepath.Rel(site, p)
		sum := sha256.Sum256(b)
		if named[filepath.ToSlash(rel)] != hex.EncodeToString(sum[:12]) {
			t.Errorf("%s is not what the site's list says", rel)
		}
		found++
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	if found != len(named) {
		t.Errorf("%d files of %d are there", found, len(named))
	}
	first, err := os.ReadFile(filepath.Join(site, "index.html"))
	if err != nil {
		t.Fatal(err)
	}
	_, after, _ := bytes.Cut(first, []byte("<title>"))
	title, _, _ := bytes.Cut(after, []byte("</title>"))
	return string(title)
}

// assertAlone checks that nothing of ours is left beside a site, a cache and the spare of a large site excepted.
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
