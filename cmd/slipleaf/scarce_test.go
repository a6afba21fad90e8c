//go:build unix

package main

import (
	"errors"
	"fmt"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
)

// With too few open files, though more than the Go runtime takes for itself (11), a command succeeds or says so; what it works on is whole either way.
func TestTooManyOpenFiles(t *testing.T) {
	if runtime.GOOS != "linux" {
		t.Skip("the limit is set by a shell of Linux")
	}
	bin := built(t)
	dir := smallJournal(t, bin)
	withLot(t, dir, 500)
	site := filepath.Join(t.TempDir(), "www")
	finish(t, exec.Command(bin, "send", "Example Person", "HZ-1:1", "--in", dir, "--on", "2026-06-03"))
	code, _ := onlyRecord(t, dir)
	title, failed := "Before", 0
	entitle(t, dir, title)
	finish(t, exec.Command(bin, "publish", dir, "--to", site, "--on", "2026-06-03"))
	for _, limit := range []int{12, 14, 18, 24} {
		next := fmt.Sprintf("With %d", limit)
		entitle(t, dir, next)
		for _, args := range [][]string{
			{"publish", dir, "--to", site, "--on", "2026-06-03"}, {"send", fmt.Sprintf("Other %d", limit), "HZ-1:1", "--in", dir, "--on", "2026-06-03"},
			{"report", code, "rooted", "--in", dir, "--on", "2026-06-30"}, {"reserve", fmt.Sprintf("Person %d", limit), "HZ-1:1", "--in", dir, "--on", "2026-06-03"},
			{"jot", "shelf", "--slug", fmt.Sprintf("n%d", limit), "--in", dir, "--on", "2026-06-05"}, {"undo", "--yes", "--in", dir}, {"proof", dir, "--on", "2026-06-30"}, {"gather", dir},
		} {
			before := journalTree(t, dir)
			cmd := exec.Command("sh", append([]string{"-c", fmt.Sprintf("ulimit -n %d && exec \"$0\" \"$@\"", limit), bin}, args...)...)
			out, err := cmd.CombinedOutput()
			var exit *exec.ExitError
			if err != nil && (!errors.As(err, &exit) || exit.ExitCode() < 1 || exit.ExitCode() > cannot || strings.Contains(string(out), "goroutine ")) {
				t.Errorf("%d files, %s: %v\n%s", limit, args[0], err, out)
			}
			if got := whole(t, site); args[0] == "publish" && err == nil {
				title = next
				if got != title {
					t.Errorf("%d files: the site says %q", limit, got)
				}
			} else if got != title {
				t.Errorf("%d files, %s: the site says %q, not %q\n%s", limit, args[0], got, title, out)
			}
			if err != nil {
				failed++
				same(t, before, journalTree(t, dir))
			}
		}
		holds(t, bin, dir, "2026-06-30")
	}
	if failed == 0 {
		t.Error("every command had files enough: the test shows little")
	}
	finish(t, exec.Command(bin, "publish", dir, "--to", site, "--on", "2026-06-03"))
	assertAlone(t, site)
}
