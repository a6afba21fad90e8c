package main

import (
	"bytes"
	"flag"
	"io/fs"
	"math/rand/v2"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/fsnotify/fsnotify"

	"slipleaf/build/change"
)

// killing runs a command again and again and ends it with SIGKILL, which no program can prepare for.
type killing struct {
	watch func() []string                         // the folders that the command writes to
	next  func(i int) *exec.Cmd                   // the i-th run, from 1
	after func(i int, finished bool, said string) // looks at what is left after each
}

// manyKills is how many runs of each kind are killed, where that is asked for.
var manyKills = flag.Int("kills", 0, "kill so many runs of each kind (default: 25, 4 with -short, 250 with the tag long)")

// killsOf is how many runs of a kind are killed.
func killsOf() int {
	switch {
	case *manyKills > 0:
		return *manyKills
	case long:
		return 250
	case testing.Short():
		return 4
	}
	return 25
}

// run kills as many runs as [killsOf] says. Every other one is killed at a random moment of the time that a run takes, the rest
// at a random moment of the two milliseconds after the first change in its folder, where the writing is. It returns how
// many were killed.
func (k killing) run(t *testing.T) (cut int) {
	t.Helper()
	kills := killsOf()
	if long {
		busy(t)
	}
	began := time.Now()
	said := finish(t, k.next(1))
	span := time.Since(began) * 5 / 4
	k.after(1, true, said)
	rng := rand.New(rand.NewPCG(1, 2))
	for i := 2; cut < kills; i++ {
		if i > 4*kills {
			t.Fatalf("only %d of %d runs could be killed", cut, i)
		}
		cmd := k.next(i)
		var out bytes.Buffer
		cmd.Stdout = &out
		var complaints bytes.Buffer
		cmd.Stderr = &complaints
		started := make(chan struct{}) // it may write before Start is back
		kill := func() { <-started; _ = cmd.Process.Kill() }
		var stop func()
		if i%2 == 0 {
			stop = atChange(t, k.watch(), func() { time.AfterFunc(time.Duration(rng.Int64N(int64(2*time.Millisecond))), kill) })
		}
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		close(started)
		if i%2 == 1 {
			timer := time.AfterFunc(time.Duration(rng.Int64N(int64(span))), kill)
			stop = func() { timer.Stop() }
		}
		err := cmd.Wait()
		stop()
		if err != nil && cmd.ProcessState.ExitCode() != -1 {
			t.Fatalf("run %d failed of itself: %v\n%s", i, err, complaints.String())
		}
		if err != nil {
			cut++
		}
		k.after(i, err == nil, out.String())
		if t.Failed() {
			t.Fatalf("after run %d", i)
		}
	}
	return cut
}

// busy keeps the processors at work until the test ends, so that what is killed gets its turn late: four programs, as many
// as showed a fault once that a quiet machine did not.
func busy(t *testing.T) {
	t.Helper()
	for range 4 {
		cmd := exec.Command("sh", "-c", "while :; do :; done")
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		t.Cleanup(func() { _ = cmd.Process.Kill(); _ = cmd.Wait() })
	}
}

// only watches one folder.
func only(folder string) func() []string { return func() []string { return []string{folder} } }

// atChange calls f at the first change in any of the folders. The other function ends that.
func atChange(t *testing.T, folders []string, f func()) (stop func()) {
	t.Helper()
	w, err := fsnotify.NewWatcher()
	if err != nil {
		t.Fatal(err)
	}
	for _, folder := range folders {
		if err := w.Add(folder); err != nil {
			t.Fatal(err)
		}
	}
	ended := make(chan struct{})
	go func() {
		defer close(ended)
		if _, ok := <-w.Events; ok {
			f()
		}
	}()
	return func() { w.Close(); <-ended }
}

// finish runs a command that must succeed, and returns what it said.
func finish(t *testing.T, cmd *exec.Cmd) string {
	t.Helper()
	var out, complaints bytes.Buffer
	cmd.Stdout, cmd.Stderr = &out, &complaints
	if err := cmd.Run(); err != nil {
		t.Fatalf("%v: %v\n%s%s", cmd.Args, err, out.String(), complaints.String())
	}
	return out.String()
}

// tree holds the bytes of every file below a folder, by path.
func tree(t *testing.T, dir string) map[string]string {
	t.Helper()
	out := map[string]string{}
	err := filepath.WalkDir(dir, func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		rel, err := filepath.Rel(dir, p)
		out[filepath.ToSlash(rel)] = read(t, p)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// guarded watches a journal of which a command may change files of one folder alone.
type guarded struct {
	dir, folder string
	at          map[string]string
}

func guard(t *testing.T, dir, folder string) *guarded {
	t.Helper()
	return &guarded{dir, folder, tree(t, dir)}
}

// changed gives the files that are new or other than at the last look. Hidden ones, which nothing reads, are left out; a
// change outside of the folder, or a file that went, is a fault.
func (g *guarded) changed(t *testing.T) map[string]string {
	t.Helper()
	files, err := change.Open(g.dir) // as the next command does: what was under way is taken back
	if err != nil {
		t.Fatal(err)
	}
	files.Close()
	now, out := tree(t, g.dir), map[string]string{}
	for name := range g.at {
		if _, there := now[name]; !there && !strings.HasPrefix(filepath.Base(name), ".") && !strings.HasPrefix(name, ".undo/") { // only the last changes are kept
			t.Errorf("%s is gone", name)
		}
	}
	for name, text := range now {
		switch old, there := g.at[name]; {
		case there && old == text || strings.HasPrefix(name, ".undo/"):
		case !strings.HasPrefix(name, g.folder+"/"):
			t.Errorf("%s was changed", name)
		case !strings.HasPrefix(filepath.Base(name), "."):
			out[name] = text
		}
	}
	g.at = now
	return out
}

// nothingHidden checks that no run left a file of its own lying in a journal.
func nothingHidden(t *testing.T, dir string, but ...string) {
	t.Helper()
	for name := range tree(t, dir) {
		base := filepath.Base(name)
		if strings.HasPrefix(base, ".") && base != ".gitignore" && !strings.Contains(strings.Join(but, " "), base) {
			t.Errorf("%s was left lying", name)
		}
	}
}

// holds checks that proof has no complaint of a journal, and that no record is doubled or cut.
func holds(t *testing.T, bin, dir, on string) {
	t.Helper()
	if out, err := exec.Command(bin, "proof", dir, "--on", on).CombinedOutput(); err != nil {
		t.Errorf("the journal does not hold: %v\n%s", err, out)
	}
}
