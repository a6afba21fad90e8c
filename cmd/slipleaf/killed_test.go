package main

import (
	"bufio"
	"fmt"
	"io"
	"maps"
	"math/rand/v2"
	"net/http"
	"net/http/cookiejar"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"slipleaf/build/change"
)

// A publish that is killed at any moment leaves a whole site: the old one or the new one. The next run succeeds.
func TestKilledPublishLeavesAWholeSite(t *testing.T) {
	patient(t)
	t.Parallel()
	bin := built(t)
	dir := smallJournal(t, bin)
	site := filepath.Join(t.TempDir(), "www")
	publish := func() *exec.Cmd { return exec.Command(bin, "publish", dir, "--to", site, "--on", "2026-06-01") }
	last, title := "", ""
	kills := killing{only(filepath.Dir(site)), func(i int) *exec.Cmd {
		title = fmt.Sprintf("Bench %d", i)
		entitle(t, dir, title)
		return publish()
	}, func(i int, finished bool, _ string) {
		got := whole(t, site)
		if got != title && (finished || got != last) {
			t.Errorf("the site says %q, not %q or %q", got, last, title)
		}
		last = got
	}}.run(t)
	t.Attr("figure", fmt.Sprintf("kills survived, of publish: %d", kills))
	finish(t, publish())
	if got := whole(t, site); got != title {
		t.Errorf("in the end the site says %q", got)
	}
	assertAlone(t, site)
}

// withLot adds an entry with a lot of so many plants to a small journal.
func withLot(t *testing.T, dir string, count int) {
	t.Helper()
	entry := fmt.Sprintf("---\ntitle: Cut\nlots:\n  - {lot: HZ-1, plant: heteranthera-zosterifolia, form: cuttings, count: %d}\n---\n", count)
	if err := os.WriteFile(filepath.Join(dir, "tanks", "shelf", "2026-06-02.md"), []byte(entry), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := os.MkdirAll(filepath.Join(dir, "sent"), 0o755); err != nil {
		t.Fatal(err)
	}
}

// A send that is killed has written the whole record or none, and what it has told of is there.
func TestKilledSendLeavesWholeRecords(t *testing.T) {
	t.Parallel()
	bin := built(t)
	dir := smallJournal(t, bin)
	withLot(t, dir, 5000)
	g := guard(t, dir, "sent")
	send := func() *exec.Cmd {
		return exec.Command(bin, "send", "Example Person", "HZ-1:1", "--more", "--in", dir, "--on", "2026-06-03", "--water", "temperature: 24 C, gh: 8 dGH")
	}
	records := 0
	kills := killing{only(filepath.Join(dir, "sent")), func(int) *exec.Cmd { return send() }, func(i int, finished bool, said string) {
		added := g.changed(t)
		records += len(added)
		if len(added) > 1 || finished && len(added) == 0 {
			t.Errorf("%d records were written", len(added))
		}
		for name, text := range added {
			if !strings.HasPrefix(text, "---\nlot: HZ-1\n") || !strings.HasSuffix(text, "private: {name: \"Example Person\"}\n---\n") {
				t.Errorf("%s is not whole: %q", name, text)
			}
		}
		if strings.Contains(said, "record ") && len(added) == 0 {
			t.Errorf("it said %q, and wrote nothing", said)
		}
	}}.run(t)
	t.Attr("figure", fmt.Sprintf("kills survived, of send: %d", kills))
	finish(t, send())
	holds(t, bin, dir, "2026-06-03")
	if n := len(g.changed(t)); n != 1 {
		t.Errorf("the run after the kills wrote %d records", n)
	}
	nothingHidden(t, dir)
}

// A report that is killed leaves the record as it was, or with the one report more.
func TestKilledHeardLeavesAWholeRecord(t *testing.T) {
	t.Parallel()
	bin := built(t)
	dir := smallJournal(t, bin)
	withLot(t, dir, 5000)
	finish(t, exec.Command(bin, "send", "Example Person", "HZ-1:1", "--in", dir, "--on", "2026-06-03"))
	g := guard(t, dir, "sent")
	if len(g.at) == 0 {
		t.Fatal("no record")
	}
	code, file := onlyRecord(t, dir)
	report := func(i int) *exec.Cmd {
		return exec.Command(bin, "report", code, "rooted", "--in", dir, "--on", "2026-06-30", "--water", fmt.Sprintf("temperature: %d.%d C", 20+i%10, i%7))
	}
	old, reports := read(t, file), 0
	kills := killing{only(filepath.Join(dir, "sent")), report, func(i int, finished bool, _ string) {
		g.changed(t)
		now := read(t, file)
		switch n := strings.Count(now, "outcome: rooted"); {
		case now == old && !finished:
		case n != reports+1 || !strings.HasPrefix(now, strings.TrimSuffix(old, "---\n")) || !strings.HasSuffix(now, " C}}\n---\n"):
			t.Errorf("%q became %q", old, now)
		default:
			reports = n
		}
		old = now
	}}.run(t)
	t.Attr("figure", fmt.Sprintf("kills survived, of report: %d", kills))
	finish(t, report(1))
	holds(t, bin, dir, "2026-06-30")
	nothingHidden(t, dir)
}

// Whichever command that writes to a journal is killed, the journal is valid, and no more files of it are other than before
// than the command's own. What was to be forgotten is gone when the command has ended, however often it was killed before.
func TestKilledCommandsLeaveAValidJournal(t *testing.T) {
	patient(t)
	t.Parallel()
	bin := built(t)
	dir := filepath.Join(t.TempDir(), "journal")
	benchOfWriters(t, bin, dir)
	all := writers(t)
	before, at := map[string]string{}, writer{}
	kills := killing{func() []string {
		return []string{filepath.Join(dir, "sent"), filepath.Join(dir, "tanks", "shelf"), filepath.Join(dir, ".undo")}
	}, func(i int) *exec.Cmd {
		at = all[i%len(all)]
		cmd := at.command(bin, dir, i)
		before = journalTree(t, dir)
		return cmd
	}, func(i int, finished bool, _ string) {
		files, err := change.Open(dir) // as the next command does
		if err != nil {
			t.Fatal(err)
		}
		files.Close()
		changed := changes(before, journalTree(t, dir))
		if len(changed) > at.files || finished && len(changed) == 0 && at.name != "forget" {
			t.Errorf("%s: %v are other than before (finished: %t)", at.name, changed, finished)
		}
		if left, err := filepath.Glob(filepath.Join(dir, "tanks", "shelf", "*.txt")); at.name == "proof --fix" && (err != nil || len(changed) > 0 && len(left) > 0) {
			t.Errorf("some were fixed, and %v not", left)
		}
		if at.name == "forget" {
			name := fmt.Sprintf("Quark%dx", i)
			if in := holding(t, dir, name); finished && len(in) > 0 {
				t.Errorf("%s is still in %v", name, in)
			} else if len(in) > 0 { // the name leads there again
				finish(t, exec.Command(bin, "forget", "Zelda "+name, "--yes", "--in", dir, "--on", "2026-06-30"))
			}
		}
		holds(t, bin, dir, "2026-06-30")
	}}.run(t)
	t.Attr("figure", fmt.Sprintf("kills survived, of commands in turn: %d", kills))
	if in := holding(t, dir, "Quark"); len(in) > 0 {
		t.Errorf("what was to be forgotten is in %v", in)
	}
	nothingHidden(t, dir)
}

// A start that is killed leaves nothing in the way of the next, which makes the whole journal.
func TestKilledStartLeavesNothingInTheWay(t *testing.T) {
	patient(t)
	t.Parallel()
	bin := built(t)
	top := t.TempDir()
	dir := ""
	kills := killing{func() []string { return []string{dir} }, func(i int) *exec.Cmd {
		dir = filepath.Join(top, fmt.Sprint("journal", i))
		if err := os.Mkdir(dir, 0o755); err != nil {
			t.Fatal(err)
		}
		return exec.Command(bin, "start", dir, "--on", "2026-06-01")
	}, func(_ int, finished bool, _ string) {
		if !finished {
			if out, err := exec.Command(bin, "start", dir, "--on", "2026-06-01").CombinedOutput(); err != nil && !strings.Contains(string(out), "is not empty") {
				t.Errorf("%v\n%s", err, out)
			}
		}
		holds(t, bin, dir, "2026-06-01")
		if n := len(journalTree(t, dir)); n != 4 {
			t.Errorf("%d files", n)
		}
		nothingHidden(t, dir)
	}}.run(t)
	t.Attr("figure", fmt.Sprintf("kills survived, of start: %d", kills))
}

// A desk that is killed while it saves a form leaves the entry as it was, or with what was typed; the journal is valid.
func TestKilledDeskLeavesAWholeEntry(t *testing.T) {
	patient(t)
	t.Parallel()
	bin := built(t)
	dir := filepath.Join(t.TempDir(), "journal")
	benchOfWriters(t, bin, dir)
	rng := rand.New(rand.NewPCG(3, 4))
	saved, kills, span := "", 0, time.Duration(0)
	entry := filepath.Join(dir, "tanks", "shelf", "2026-06-30.md")
	for i := 1; kills < killsOf(); i++ {
		if i > 4*killsOf() {
			t.Fatalf("only %d of %d desks could be killed", kills, i)
		}
		desk := exec.Command(bin, "desk", dir, "--no-open", "--port", "0", "--on", "2026-06-30")
		out, err := desk.StdoutPipe()
		if err != nil {
			t.Fatal(err)
		}
		if err := desk.Start(); err != nil {
			t.Fatal(err)
		}
		b := opened(t, out)
		form := b.form(shelf)
		typed := fmt.Sprintf("Save %d of many.", i)
		form.Set("words", typed)
		stop := func() {}
		kill := func() { _ = desk.Process.Kill() }
		switch {
		case i%2 == 0:
			stop = atChange(t, []string{filepath.Dir(entry), filepath.Join(dir, ".undo")}, func() { time.AfterFunc(time.Duration(rng.Int64N(int64(2*time.Millisecond))), kill) })
		case i > 1:
			time.AfterFunc(time.Duration(rng.Int64N(int64(span))), kill)
		}
		began := time.Now()
		finished := b.sent(shelf, form)
		span = max(span, time.Since(began))
		if i > 1 && !finished {
			kills++
		}
		kill()
		_ = desk.Wait()
		stop()
		files, err := change.Open(dir) // as the next command does
		if err != nil {
			t.Fatal(err)
		}
		files.Close()
		now := ""
		if text, err := os.ReadFile(entry); err == nil {
			now = string(text)
		}
		switch {
		case now == saved && !finished:
		case strings.Contains(now, typed) && strings.HasPrefix(now, "---\n"):
			saved = now
		default:
			t.Fatalf("save %d (finished: %t): %q became %q", i, finished, saved, now)
		}
		holds(t, bin, dir, "2026-06-30")
	}
	t.Attr("figure", fmt.Sprintf("kills survived, of the desk's saves: %d", kills))
	nothingHidden(t, dir)
}

// opened is a browser at a desk that prints its address.
func opened(t *testing.T, out io.Reader) *browser {
	t.Helper()
	lines := bufio.NewScanner(out)
	if !lines.Scan() {
		t.Fatal("no line from the desk")
	}
	addr, _, _ := strings.Cut(lines.Text(), ";")
	_, desk, _ := strings.Cut(lines.Text(), "private page: ")
	desk, _, _ = strings.Cut(desk, ";")
	jar, err := cookiejar.New(nil)
	if err != nil {
		t.Fatal(err)
	}
	b := &browser{t, strings.TrimSuffix(addr, "/"), "", http.Client{Jar: jar}}
	if status, body := b.get(strings.TrimPrefix(desk, b.base)); status != http.StatusOK {
		t.Fatal(status, body)
	}
	return b
}

// sent posts a form to a desk that may be killed, and reports whether it said that it was saved.
func (b *browser) sent(path string, form url.Values) bool {
	q, err := http.NewRequest(http.MethodPost, b.base+path, strings.NewReader(form.Encode()))
	if err != nil {
		b.t.Fatal(err)
	}
	q.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	q.Header.Set("Origin", b.base)
	c := http.Client{Jar: b.Jar, CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }}
	r, err := c.Do(q)
	if err != nil {
		return false
	}
	defer r.Body.Close()
	if r.StatusCode != http.StatusSeeOther {
		body, _ := io.ReadAll(r.Body)
		b.t.Fatalf("%d: %.2000s", r.StatusCode, body)
	}
	return true
}

// journalTree is all of a journal that is read: no hidden files.
func journalTree(t *testing.T, dir string) map[string]string {
	t.Helper()
	all := tree(t, dir)
	maps.DeleteFunc(all, func(name, _ string) bool { return strings.HasPrefix(name, ".") || strings.Contains(name, "/.") })
	return all
}

// onlyRecord gives the code and the file of a journal's one record.
func onlyRecord(t *testing.T, dir string) (code, file string) {
	t.Helper()
	names, err := filepath.Glob(filepath.Join(dir, "sent", "*.md"))
	if err != nil || len(names) != 1 {
		t.Fatalf("%v, %v", names, err)
	}
	_, after, _ := strings.Cut(read(t, names[0]), "\ncode: ")
	code, _, _ = strings.Cut(after, "\n")
	return code, names[0]
}
