package main

import (
	"fmt"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"slipleaf/build/change"
)

// A publish that is killed at any moment leaves a whole site: the old one or the new one. The next run succeeds.
func TestKilledPublishLeavesAWholeSite(t *testing.T) {
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

// Whichever command that writes to a journal is killed, the journal is valid, and at most one file of it is another than
// before: the command's own.
func TestKilledCommandsLeaveAValidJournal(t *testing.T) {
	bin := built(t)
	dir := smallJournal(t, bin)
	withLot(t, dir, 5000)
	finish(t, exec.Command(bin, "send", "Example Person", "HZ-1:1", "--in", dir, "--on", "2026-06-03"))
	code, _ := onlyRecord(t, dir)
	next := func(i int) *exec.Cmd {
		args := [][]string{
			{"reserve", fmt.Sprintf("Person %d", i), "HZ-1:2"}, {"jot", "shelf", "--slug", fmt.Sprintf("n%d", i)}, {"report", code, "rooted", "--water", fmt.Sprintf("temperature: %d.%d C", 20+i%10, i%7)},
			{"undo", "--yes"}, {"send", fmt.Sprintf("Other %d", i), "HZ-1:1"},
		}[i%5]
		if args[0] != "undo" {
			args = append(args, "--on", "2026-06-30")
		}
		return exec.Command(bin, append(args, "--in", dir)...)
	}
	before := journalTree(t, dir)
	kills := killing{func() []string { return []string{filepath.Join(dir, "sent"), filepath.Join(dir, "tanks", "shelf")} }, next, func(i int, finished bool, _ string) {
		files, err := change.Open(dir) // as the next command does
		if err != nil {
			t.Fatal(err)
		}
		files.Close()
		now := journalTree(t, dir)
		changed := 0
		for name := range now {
			if before[name] != now[name] {
				changed++
			}
		}
		for name := range before {
			if _, there := now[name]; !there {
				changed++
			}
		}
		if changed > 1 || finished && changed == 0 {
			t.Errorf("%v: %d files are other than before (finished: %t)", next(i).Args[1:], changed, finished)
		}
		before = now
		holds(t, bin, dir, "2026-06-30")
	}}.run(t)
	t.Attr("figure", fmt.Sprintf("kills survived, of commands in turn: %d", kills))
	nothingHidden(t, dir)
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
