//go:build linux

package main

import (
	"bytes"
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"

	"slipleaf/build/disk"
)

// A wait for somebody else's lock ends with the first signal, at once and with nothing changed, in every command that waits.
func TestASignalEndsAWaitForALock(t *testing.T) {
	patient(t)
	t.Parallel()
	bin := built(t)
	dir := filepath.Join(t.TempDir(), "journal")
	benchOfWriters(t, bin, dir)
	www := filepath.Join(t.TempDir(), "www")
	cache := filepath.Join(filepath.Dir(www), ".www.build.cache")
	finish(t, exec.Command(bin, "publish", dir, "--to", www, "--on", "2026-06-03"))
	commands := []*exec.Cmd{exec.Command(bin, "publish", dir, "--to", www, "--on", "2026-06-04"), exec.Command(bin, "gather", dir)}
	for i, w := range writers(t) {
		commands = append(commands, w.command(bin, dir, i))
	}
	for _, place := range []string{dir, cache} {
		unlock, err := disk.Lock(t.Context(), place)
		if err != nil {
			t.Fatal(err)
		}
		defer unlock()
	}
	before := journalTree(t, dir)
	for i, c := range commands {
		cmd, sig := exec.Command(c.Args[0], c.Args[1:]...), []os.Signal{syscall.SIGINT, syscall.SIGTERM}[i%2]
		var said bytes.Buffer
		cmd.Stdout, cmd.Stderr = &said, &said
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		if !rests(t, cmd.Process.Pid) {
			_ = cmd.Process.Kill()
			t.Errorf("%s does not wait for its lock: %v %s", c.Args[1], cmd.Wait(), said.String())
			continue
		}
		if err := cmd.Process.Signal(sig); err != nil {
			t.Fatal(err)
		}
		killer := time.AfterFunc(20*time.Second, func() { _ = cmd.Process.Kill() }) // a busy machine takes its time
		err := cmd.Wait()
		killer.Stop()
		if c.Args[1] == "publish" && err == nil { // the folder was open for another reason
			t.Error("publish did not wait")
		}
		var exit *exec.ExitError
		if !errors.As(err, &exit) || exit.ExitCode() != interrupted || !strings.Contains(said.String(), "nothing was changed") {
			t.Errorf("%s, %v: %v\n%s", c.Args[1], sig, err, said.String())
		}
	}
	same(t, before, journalTree(t, dir))
}

// rests waits until a program has done nothing for a while, as one does that waits for a lock; false where it ends before.
// What it waits for shows in how it ends.
func rests(t *testing.T, pid int) bool {
	t.Helper()
	now := time.NewTicker(5 * time.Millisecond)
	defer now.Stop()
	spent, same := "", 0
	for end := time.Now().Add(time.Minute); time.Now().Before(end) && same < 60; <-now.C {
		data, err := os.ReadFile(filepath.Join("/proc", strconv.Itoa(pid), "stat"))
		_, after, found := strings.Cut(string(data), ") ")
		f := strings.Fields(after)
		if err != nil || !found || len(f) < 13 || f[0] == "Z" {
			return false
		}
		if at := f[11] + " " + f[12]; at != spent || f[0] == "R" { // utime, stime
			spent, same = at, 0
		} else {
			same++
		}
	}
	return same > 0
}
