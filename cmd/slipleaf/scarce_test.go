//go:build unix

package main

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"net/http"
	"net/http/cookiejar"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"
)

// withFiles is a command that may have so many files open.
func withFiles(t *testing.T, limit int, bin string, args ...string) *exec.Cmd {
	t.Helper()
	if runtime.GOOS != "linux" {
		t.Skip("the limit is set by a shell of Linux")
	}
	return exec.Command("sh", append([]string{"-c", fmt.Sprintf("ulimit -n %d && exec \"$0\" \"$@\"", limit), bin}, args...)...)
}

// With too few open files, though more than the Go runtime takes for itself (11), a command succeeds or says so; what it works on is whole either way.
func TestTooManyOpenFiles(t *testing.T) {
	patient(t)
	t.Parallel()
	bin := built(t)
	dir, site := filepath.Join(t.TempDir(), "journal"), filepath.Join(t.TempDir(), "www")
	benchOfWriters(t, bin, dir)
	title, failed, limits := "Before", 0, []int{12, 14, 18, 24}
	entitle(t, dir, title)
	finish(t, exec.Command(bin, "publish", dir, "--to", site, "--on", "2026-06-03"))
	// try runs a command and reports whether it succeeded; else the journal is as it was.
	next := title
	try := func(limit int, args []string) bool {
		t.Helper()
		before := journalTree(t, dir)
		out, err := withFiles(t, limit, bin, args...).CombinedOutput()
		var exit *exec.ExitError
		if err != nil && (!errors.As(err, &exit) || exit.ExitCode() < 1 || exit.ExitCode() > cannot || strings.Contains(string(out), "goroutine ")) {
			t.Errorf("%d files, %s: %v\n%s", limit, args[0], err, out)
		}
		if err != nil {
			if strings.Contains(string(out), "the new site is in place") {
				title = next
			}
			failed++
			same(t, before, journalTree(t, dir))
		}
		return err == nil
	}
	for _, limit := range limits {
		next = fmt.Sprintf("With %d", limit)
		entitle(t, dir, next)
		if try(limit, []string{"publish", dir, "--to", site, "--on", "2026-06-03"}) {
			title = next
		}
		for _, w := range writers(t) {
			try(limit, w.command(bin, dir, limit).Args[1:])
			holds(t, bin, dir, "2026-06-30")
		}
		other := filepath.Join(t.TempDir(), "other")
		if !try(limit, []string{"start", other, "--on", "2026-06-01"}) {
			finish(t, exec.Command(bin, "start", other, "--on", "2026-06-01"))
		}
		holds(t, bin, other, "2026-06-01")
		for _, args := range [][]string{{"proof", dir, "--on", "2026-06-30"}, {"gather", dir}} {
			try(limit, args)
		}
		if got := whole(t, site); got != title {
			t.Errorf("%d files: the site says %q, not %q", limit, got, title)
		}
	}
	if failed == 0 {
		t.Error("every command had files enough: the test shows little")
	}
	finish(t, exec.Command(bin, "publish", dir, "--to", site, "--on", "2026-06-03"))
	assertAlone(t, site)
}

// A desk with too few open files saves a form, or says that it did not; the entry is whole either way.
func TestADeskWithTooManyOpenFiles(t *testing.T) {
	t.Parallel()
	bin := built(t)
	dir := filepath.Join(t.TempDir(), "journal")
	benchOfWriters(t, bin, dir)
	saves, limits := 0, []int{16, 20, 24, 28, 32, 64}
	if testing.Short() {
		limits = []int{24, 64}
	}
	for _, limit := range limits {
		before := journalTree(t, dir)
		desk := withFiles(t, limit, bin, "desk", dir, "--no-open", "--port", "0", "--on", "2026-06-30")
		out, err := desk.StdoutPipe()
		if err != nil {
			t.Fatal(err)
		}
		if err := desk.Start(); err != nil {
			t.Fatal(err)
		}
		typed := fmt.Sprintf("Saved with %d files.", limit)
		saved := trySave(out, typed)
		_ = desk.Process.Signal(os.Interrupt)
		_ = desk.Wait()
		entry, _ := os.ReadFile(filepath.Join(dir, "tanks", "shelf", "2026-06-30.md"))
		switch {
		case saved && !strings.Contains(string(entry), typed):
			t.Errorf("%d files: it was said to be saved, and holds %q", limit, entry)
		case !saved && !strings.Contains(string(entry), typed): // else the answer alone was lost
			same(t, before, journalTree(t, dir))
		}
		if saved {
			saves++
		}
		holds(t, bin, dir, "2026-06-30")
	}
	if saves == 0 {
		t.Error("no desk had files enough: the test shows little")
	}
	nothingHidden(t, dir)
}

// trySave saves words at a desk that prints its address, which may fail at any step.
func trySave(out io.Reader, typed string) bool {
	lines := bufio.NewScanner(out)
	if !lines.Scan() {
		return false
	}
	addr, _, _ := strings.Cut(lines.Text(), ";")
	addr = strings.TrimSuffix(addr, "/")
	_, desk, _ := strings.Cut(lines.Text(), "private page: ")
	desk, _, _ = strings.Cut(desk, ";")
	jar, _ := cookiejar.New(nil)
	c := http.Client{Jar: jar, Timeout: time.Minute, CheckRedirect: func(q *http.Request, _ []*http.Request) error {
		if q.Response.Request.Method == http.MethodPost {
			return http.ErrUseLastResponse
		}
		return nil
	}}
	page := func(r *http.Response, err error) (string, int) {
		if err != nil {
			return "", 0
		}
		defer r.Body.Close()
		body, _ := io.ReadAll(r.Body)
		return string(body), r.StatusCode
	}
	page(c.Get(desk))
	body, status := page(c.Get(addr + shelf))
	if status != http.StatusOK {
		return false
	}
	form := filled(body)
	form.Set("words", typed)
	_, status = page(posted(&c, addr, shelf, form))
	return status == http.StatusSeeOther
}

// posted sends a form as a browser does from a page of the same address.
func posted(c *http.Client, addr, path string, form url.Values) (*http.Response, error) {
	q, err := http.NewRequest(http.MethodPost, addr+path, strings.NewReader(form.Encode()))
	if err != nil {
		return nil, err
	}
	q.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	q.Header.Set("Origin", addr)
	return c.Do(q)
}
