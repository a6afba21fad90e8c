package main

import (
	"bytes"
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"runtime"
	"slices"
	"strings"
	"testing"
)

// mounted gives a folder that is a small disk of its own, and a way to make it read-only and back.
func mounted(t *testing.T) (disk string, remount func(how string)) {
	t.Helper()
	if runtime.GOOS != "linux" || os.Geteuid() != 0 {
		t.Skip("mounting a small disk needs root on Linux")
	}
	disk = t.TempDir()
	if out, err := exec.Command("mount", "-t", "tmpfs", "-o", "size=6m", "tmpfs", disk).CombinedOutput(); err != nil {
		t.Skipf("mount is not allowed here: %v %s", err, out)
	}
	t.Cleanup(func() { _ = exec.Command("umount", disk).Run() })
	return disk, func(how string) {
		t.Helper()
		finish(t, exec.Command("mount", "-o", "remount,"+how, disk))
	}
}

// refused runs a command that must fail as a failing disk makes it, and returns what it complained of.
func refused(t *testing.T, cmd *exec.Cmd) string {
	t.Helper()
	var complaints bytes.Buffer
	cmd.Stderr = &complaints
	err := cmd.Run()
	out := complaints.String()
	var exit *exec.ExitError
	if !errors.As(err, &exit) || exit.ExitCode() != cannot {
		t.Fatalf("%v: %v\n%s", cmd.Args, err, out)
	}
	if !strings.HasPrefix(out, "slipleaf: ") || strings.Contains(out, "goroutine ") {
		t.Errorf("the complaint is %q", out)
	}
	return out
}

// A disk that fills up while a site is written fails the publish and leaves the old site.
func TestFullDiskLeavesTheOldSite(t *testing.T) {
	t.Parallel()
	bin := built(t)
	dir := smallJournal(t, bin)
	small, _ := mounted(t)
	site := filepath.Join(small, "www")
	publish := func() *exec.Cmd { return exec.Command(bin, "publish", dir, "--to", site, "--on", "2026-06-01") }
	entitle(t, dir, "Before")
	finish(t, publish())
	if err := os.WriteFile(filepath.Join(small, "ballast"), make([]byte, 8<<20), 0o644); err == nil {
		t.Fatal("the disk did not fill up")
	}
	entitle(t, dir, "After")
	refused(t, publish())
	if got := whole(t, site); got != "Before" {
		t.Errorf("the site says %q", got)
	}
	if err := os.Remove(filepath.Join(small, "ballast")); err != nil {
		t.Fatal(err)
	}
	finish(t, publish())
	if got := whole(t, site); got != "After" {
		t.Errorf("with room again the site says %q", got)
	}
}

// same checks that two trees are one.
func same(t *testing.T, before, after map[string]string) {
	t.Helper()
	for name := range after {
		if _, ok := before[name]; !ok {
			t.Errorf("%s came", name)
		}
	}
	for name, text := range before {
		if after[name] != text {
			t.Errorf("%s was changed, or is gone", name)
		}
	}
}

// A disk that cannot be written to is named, and the site stays; once it can, all goes on.
func TestReadOnlyDiskLeavesTheOldSite(t *testing.T) {
	t.Parallel()
	bin := built(t)
	disk, remount := mounted(t)
	dir, site := filepath.Join(disk, "journal"), filepath.Join(disk, "www")
	finish(t, exec.Command(bin, "start", dir, "--on", "2026-06-01"))
	publish := func() *exec.Cmd { return exec.Command(bin, "publish", dir, "--to", site, "--on", "2026-06-03") }
	finish(t, publish())
	entitle(t, dir, "After")
	before := tree(t, disk)
	remount("ro")
	if said := refused(t, publish()); !strings.Contains(said, "read-only file system") || !strings.Contains(said, disk) {
		t.Error(said)
	}
	finish(t, exec.Command(bin, "proof", dir, "--on", "2026-06-03")) // which only reads
	same(t, before, tree(t, disk))
	remount("rw")
	finish(t, publish())
	if got := whole(t, site); got != "After" {
		t.Errorf("the site says %q", got)
	}
}

// A file where a folder should be, or a folder where a file should be, is told of and left alone, by whoever runs the
// command.
func TestAFileInTheWay(t *testing.T) {
	t.Parallel()
	bin := built(t)
	dir := smallJournal(t, bin)
	withLot(t, dir, 50)
	top := t.TempDir()
	letter := filepath.Join(top, "letter")
	if err := os.WriteFile(letter, []byte("dear"), 0o644); err != nil {
		t.Fatal(err)
	}
	for _, to := range []string{letter, filepath.Join(letter, "www")} {
		refused(t, exec.Command(bin, "publish", dir, "--to", to, "--on", "2026-06-03"))
	}
	if read(t, letter) != "dear" {
		t.Error("the letter was touched")
	}
	if err := os.Remove(filepath.Join(dir, "sent")); err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"sent", "friends"} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte("dear"), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	before := tree(t, dir)
	refused(t, exec.Command(bin, "send", "Example Person", "HZ-1:1", "--more", "--in", dir, "--on", "2026-06-03"))
	refused(t, exec.Command(bin, "gather", dir))
	same(t, before, tree(t, dir))
	// What is in the place of our own folders beside the site is not ours to remove.
	withPhotos(t, dir, 1)
	site := filepath.Join(top, "www")
	finish(t, exec.Command(bin, "publish", dir, "--to", site, "--on", "2026-06-03"))
	for _, c := range caches(t, site) {
		if err := os.RemoveAll(c); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(c, []byte("in the way"), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	entitle(t, dir, "After")
	if said := refused(t, exec.Command(bin, "publish", dir, "--to", site, "--on", "2026-06-03")); !strings.Contains(said, "is a file, where") {
		t.Errorf("it said %q", said)
	}
	for _, c := range caches(t, site) {
		if read(t, c) != "in the way" {
			t.Errorf("%s was changed", c)
		}
		if err := os.Remove(c); err != nil {
			t.Fatal(err)
		}
	}
	finish(t, exec.Command(bin, "publish", dir, "--to", site, "--on", "2026-06-03"))
	if got := whole(t, site); got != "After" {
		t.Errorf("the site says %q", got)
	}
}

// calls runs a command and lists what it asked of the disk in order, as "sync PATH" and "name PATH": a file or folder was
// written through, a name was put in place.
func calls(t *testing.T, args ...string) []string {
	t.Helper()
	if _, err := exec.LookPath("strace"); err != nil {
		if os.Getenv("SLIPLEAF_CHECK") != "" && runtime.GOOS == "linux" {
			t.Fatal("strace is not installed: run go run ./cmd/check")
		}
		t.Skip("strace is not installed; go run ./cmd/check installs it")
	}
	log := filepath.Join(t.TempDir(), "log")
	strace := append([]string{"-f", "-y", "-o", log, "-e", "trace=fsync,fdatasync,syncfs,link,linkat,rename,renameat,renameat2"}, args...)
	if out, err := exec.Command("strace", strace...).CombinedOutput(); err != nil {
		if exec.Command("strace", "true").Run() != nil {
			t.Skip("strace is not allowed here")
		}
		t.Fatalf("%v\n%s", err, out)
	}
	var out []string
	for line := range strings.SplitSeq(read(t, log), "\n") {
		if m := synced.FindStringSubmatch(line); m != nil {
			out = append(out, "sync "+m[1])
		} else if m := placed.FindStringSubmatch(line); m != nil {
			out = append(out, "name "+filepath.Join(m[1], m[2]))
		}
	}
	return out
}

var (
	synced = regexp.MustCompile(`(?:fsync|fdatasync|syncfs)\(\d+<([^>]+)>`)
	placed = regexp.MustCompile(`(?:link|rename)\w*\(.*"[^"]+", \d+<([^>]+)>, "([^"]+)"`)
)

// Whatever a command says that it has written is on the disk before it has its name, and the name before the command ends.
func TestWhatIsSaidIsOnTheDisk(t *testing.T) {
	t.Parallel()
	bin := built(t)
	dir := smallJournal(t, bin)
	withLot(t, dir, 50)
	if err := os.Remove(filepath.Join(dir, "sent")); err != nil {
		t.Fatal(err)
	}
	top := t.TempDir()
	publish := []string{bin, "publish", dir, "--to", filepath.Join(top, "www"), "--on", "2026-06-03"}
	sent := filepath.Join(dir, "sent")
	code := ""
	for _, row := range []struct {
		name    string
		command func() []string
		want    []string // in this order; a path may go on
	}{
		{"send", func() []string {
			return []string{bin, "send", "Example Person", "HZ-1:1", "--in", dir, "--on", "2026-06-03"}
		},
			[]string{"sync " + dir, "sync " + filepath.Join(sent, ".slipleaf-new-"), "name " + filepath.Join(sent, "2026-06-03-"), "sync " + sent}},
		{"report", func() []string {
			code, _ = onlyRecord(t, dir)
			return []string{bin, "report", code, "rooted", "--in", dir, "--on", "2026-06-30"}
		}, []string{"sync " + filepath.Join(sent, ".slipleaf-new-"), "name " + filepath.Join(sent, "2026-06-03-"), "sync " + sent}},
		{"a first publish", func() []string { return publish }, []string{"sync " + filepath.Join(top, ".www.new"), "name " + filepath.Join(top, "www"), "sync " + top}},
		{"a second publish", func() []string { entitle(t, dir, "After"); return publish },
			[]string{"sync " + filepath.Join(top, ".www.new"), "name " + filepath.Join(top, "www"), "sync " + top}},
	} {
		got := calls(t, row.command()...)
		rest := got
		for i, want := range row.want {
			exact := i == len(row.want)-1
			at := slices.IndexFunc(rest, func(c string) bool { return c == want || !exact && strings.HasPrefix(c, want) })
			if at < 0 {
				t.Errorf("%s: no %q, in this order, among\n%s", row.name, want, strings.Join(got, "\n"))
				break
			}
			rest = rest[at+1:]
		}
	}
}
