package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// writer is a command that writes to a journal, for the tests that take the disk away or kill it.
type writer struct {
	name string
	// ready puts what the command is about into the journal, as by hand, and gives its arguments. i is another each time.
	ready func(dir string, i int) []string
	files int // how many files it may change at most
}

// writers are all commands that write to a journal but gather, which needs a server, and start. Each has something to do
// however often it is run.
func writers(t *testing.T) []writer {
	put := func(dir, name, text string) {
		t.Helper()
		at := filepath.Join(dir, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(at), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(at, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	record := func(i int, who, day string) string {
		return fmt.Sprintf("---\nlot: HZ-1\ncount: 1\n%s: 2026-06-03\ncode: %s\nprivate: {name: %q}\n---\n", day, codeOf(i), who)
	}
	on := func(args ...string) []string { return append(args, "--on", "2026-06-30") }
	return []writer{
		{"reserve", func(_ string, i int) []string {
			return on("reserve", fmt.Sprintf("Person %d", i), "HZ-1:2")
		}, 1},
		{"send", func(_ string, i int) []string { return on("send", fmt.Sprintf("Other %d", i), "HZ-1:1") }, 1},
		{"report", func(dir string, i int) []string {
			put(dir, fmt.Sprintf("sent/reported%d.md", i), record(500_000+i, "Reporter", "sent")) // one of its own: undo may hold those before
			return on("report", fmt.Sprintf("reported%d.md", i), "rooted", "--water", fmt.Sprintf("temperature: %d.%d C", 20+i%10, i%7))
		}, 1},
		{"cancel", func(dir string, i int) []string {
			put(dir, fmt.Sprintf("sent/c%d.md", i), strings.Replace(record(2*i+1, fmt.Sprintf("Changed %d", i), "asked"), "code: "+codeOf(2*i+1)+"\n", "", 1))
			return on("cancel", fmt.Sprintf("Changed %d", i))
		}, 1},
		{"forget", func(dir string, i int) []string {
			for k := range 2 {
				put(dir, fmt.Sprintf("sent/f%d-%d.md", i, k), record(1000*(i+1)+k, fmt.Sprintf("Zelda Quark%dx", i), "sent"))
			}
			return on("forget", fmt.Sprintf("Zelda Quark%dx", i), "--yes")
		}, 2},
		{"wait", func(_ string, i int) []string { return on("wait", fmt.Sprintf("Waiting %d", i), "anubias-barteri:2") }, 1},
		{"jot", func(_ string, i int) []string { return on("jot", "shelf", "--slug", fmt.Sprintf("n%d", i)) }, 1},
		{"proof --fix", func(dir string, i int) []string {
			put(dir, fmt.Sprintf("tanks/shelf/2026-6-4-x%d.txt", i), fmt.Sprintf("---\ntitle:Fix %d\n---\n", i))
			return on("proof", dir, "--fix", "--yes")
		}, 1000}, // with those that earlier runs were to fix
		{"undo", func(string, int) []string { return on("undo", "--yes") }, 1000},
	}
}

// codeOf is a code that is another for every number.
func codeOf(i int) string { return fmt.Sprintf("7f3k9m2p4t6w8x0z%09d", i) }

// command is a writer's, on a journal.
func (w writer) command(bin, dir string, i int) *exec.Cmd {
	args := w.ready(dir, i)
	if args[0] != "proof" {
		args = append(args, "--in", dir)
	}
	return exec.Command(bin, args...)
}

// holding is [filesWith] for tests.
func holding(t *testing.T, dir, text string) []string {
	t.Helper()
	in, err := filesWith(dir, text)
	if err != nil {
		t.Fatal(err)
	}
	return in
}

// filesWith lists the files below a folder that hold a text, hidden ones and the kept changes of undo among them, whose
// contents are in base 64.
func filesWith(dir, text string) (in []string, err error) {
	err = filepath.WalkDir(dir, func(name string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() {
			return err
		}
		data, err := os.ReadFile(name)
		if filepath.Base(filepath.Dir(name)) == ".undo" {
			var kept struct {
				Files []struct{ Before, After []byte }
			}
			err = errors.Join(err, json.Unmarshal(data, &kept))
			for _, f := range kept.Files {
				data = append(append(data, f.Before...), f.After...)
			}
		}
		if bytes.Contains(data, []byte(text)) {
			in = append(in, name)
		}
		return err
	})
	return in, err
}

// benchOfWriters is a journal in which all writers have something to do.
func benchOfWriters(t *testing.T, bin, dir string) {
	t.Helper()
	finish(t, exec.Command(bin, "start", dir, "--on", "2026-06-01"))
	withLot(t, dir, 5000)
	finish(t, exec.Command(bin, "send", "Example Person", "HZ-1:1", "--in", dir, "--on", "2026-06-03"))
}

// A disk that is full, or cannot be written to, fails every command that writes, which says so and leaves the journal as it
// was. With room again each does what it is for.
func TestNoWriterHarmsAJournalOnABadDisk(t *testing.T) {
	patient(t)
	t.Parallel()
	bin := built(t)
	small, remount := mounted(t)
	dir, ballast := filepath.Join(small, "journal"), filepath.Join(small, "ballast")
	benchOfWriters(t, bin, dir)
	for _, bad := range []struct {
		name, says string
		on, off    func()
	}{
		{"full", "no space left", func() {
			if err := os.WriteFile(ballast, make([]byte, 8<<20), 0o644); err == nil {
				t.Fatal("the disk did not fill up")
			}
		}, func() {
			if err := os.Remove(ballast); err != nil {
				t.Fatal(err)
			}
		}},
		{"read-only", "read-only file system", func() { remount("ro") }, func() { remount("rw") }},
	} {
		for i, w := range writers(t) {
			cmd := w.command(bin, dir, 100*len(bad.name)+i)
			before := journalTree(t, dir)
			bad.on()
			if said := refused(t, cmd); !strings.Contains(said, bad.says) || !strings.Contains(said, dir) {
				t.Errorf("%s disk, %s: %s", bad.name, w.name, said)
			}
			same(t, before, journalTree(t, dir))
			bad.off()
			finish(t, exec.Command(cmd.Args[0], cmd.Args[1:]...))
			if len(changes(before, journalTree(t, dir))) == 0 && w.name != "forget" {
				t.Errorf("%s disk, %s: it does nothing with room either", bad.name, w.name)
			}
		}
		other := filepath.Join(small, "other-"+bad.name)
		for _, args := range [][]string{{"gather", dir}, {"start", other, "--on", "2026-06-01"}} {
			bad.on()
			if said := refused(t, exec.Command(bin, args...)); !strings.Contains(said, bad.says) {
				t.Errorf("%s disk, %s: %s", bad.name, args[0], said)
			}
			bad.off()
			finish(t, exec.Command(bin, args...))
		}
		for _, at := range []string{dir, other} {
			holds(t, bin, at, "2026-06-30")
			nothingHidden(t, at, ".gathered.json")
		}
	}
	if in := holding(t, dir, "Quark"); len(in) > 0 {
		t.Errorf("forgotten names are in %v", in)
	}
	remount("ro")
	finish(t, exec.Command(bin, "proof", dir, "--on", "2026-06-30")) // which only reads
	remount("rw")
}

// changes names the files that differ between two trees.
func changes(before, after map[string]string) []string {
	var out []string
	for name, text := range after {
		if old, there := before[name]; !there || old != text {
			out = append(out, name)
		}
	}
	for name := range before {
		if _, there := after[name]; !there {
			out = append(out, name)
		}
	}
	slices.Sort(out)
	return out
}

// A form that cannot be saved for want of room, or since the disk is read-only, says so with what was typed; with room again it
// is saved by sending it once more.
func TestADeskOnABadDisk(t *testing.T) {
	small, remount := mounted(t)
	b, dir := deskIn(t, filepath.Join(small, "bench"))
	ballast := filepath.Join(small, "ballast")
	for i, bad := range []struct {
		says    string
		on, off func()
	}{
		{"no space left", func() {
			if err := os.WriteFile(ballast, make([]byte, 8<<20), 0o644); err == nil {
				t.Fatal("the disk did not fill up")
			}
		}, func() { _ = os.Remove(ballast) }},
		{"read-only file system", func() { remount("ro") }, func() { remount("rw") }},
	} {
		form := b.form(shelf)
		form.Set("words", fmt.Sprintf("Typed on a bad disk, %d.", i))
		before := journalTree(t, dir)
		bad.on()
		status, body := b.post(shelf, form)
		if status != http.StatusInternalServerError || !strings.Contains(body, bad.says) || !strings.Contains(body, form.Get("words")) {
			t.Errorf("%s: %d\n%.2000s", bad.says, status, body)
		}
		same(t, before, journalTree(t, dir))
		bad.off()
		if status, body := b.post(shelf, form); status != http.StatusOK {
			t.Errorf("%s: with room again: %d\n%.2000s", bad.says, status, body)
		}
		if in := holding(t, filepath.Join(dir, "tanks"), form.Get("words")); len(in) != 1 {
			t.Errorf("%s: with room again it is in %v", bad.says, in)
		}
		b.form("/desk/")
	}
	nothingHidden(t, dir)
}
