//go:build linux

package main

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"
)

// heap is a way in which somebody may put far too many files into a journal.
type heap struct {
	name string
	file func(i int) string
	text string
}

// A journal of a million files, wherever they lie, ends every command in an error, within 300 MB and ten seconds of processor
// (our choice). By itself the test makes 5,000 files, of which 500 are complained of; with the tag long a million.
func TestAJournalOfAMillionFiles(t *testing.T) {
	patient(t)
	t.Parallel()
	bin := built(t)
	files := 5_000
	if long {
		files = 1_000_000
	}
	most, longest := 0, time.Duration(0)
	disk := "/dev/shm" // files in memory: a million on a disk take minutes to make
	if _, err := os.Stat(disk); err != nil {
		disk = t.TempDir()
	}
	for _, h := range []heap{
		{"entries of one tank", func(i int) string { return fmt.Sprintf("tanks/shelf/entry %d.md", i) }, ""},
		{"records", func(i int) string { return fmt.Sprintf("sent/%d.md", i) }, "---\nlot: HZ-1\n---\n"},
		{"photos in a thousand folders", func(i int) string { return fmt.Sprintf("photos/%d/con.%d", i%1000, i) }, ""},
		{"tanks", func(i int) string { return fmt.Sprintf("tanks/t%d/tank.md", i) }, "name: x\n"},
		{"the top", func(i int) string { return fmt.Sprintf("tank%d", i) }, ""},
	} {
		t.Run(h.name, func(t *testing.T) {
			dir, err := os.MkdirTemp(disk, "slipleaf-test-")
			if err != nil {
				t.Fatal(err)
			}
			t.Cleanup(func() { _ = os.RemoveAll(dir) })
			n := files
			if strings.Contains(h.name, "tanks") && long {
				n /= 2 // each is a folder and a file
			}
			h.fill(t, dir, n)
			for _, args := range [][]string{{"proof", dir}, {"publish", dir, "--to", filepath.Join(t.TempDir(), "www")}, {"send", "Example Person", "HZ-1:1", "--in", dir}, {"undo", "--yes", "--in", dir}} {
				mb, processor := ends(t, h.name, exec.Command(bin, args...))
				most, longest = max(most, mb), max(longest, processor)
			}
		})
	}
	if long {
		t.Attr("figure", fmt.Sprintf("a million files in a journal, MB at most: %d", most))
		t.Attr("figure", fmt.Sprintf("a million files in a journal, tenths of a second of processor at most: %d", longest.Milliseconds()/100))
	}
}

// fill makes a small journal and puts so many files beside its own.
func (h heap) fill(t *testing.T, dir string, n int) {
	t.Helper()
	put := func(name, text string) {
		at := filepath.Join(dir, filepath.FromSlash(name))
		err := os.WriteFile(at, []byte(text), 0o644)
		if errors.Is(err, os.ErrNotExist) {
			err = errors.Join(os.MkdirAll(filepath.Dir(at), 0o755), os.WriteFile(at, []byte(text), 0o644))
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	put("journal.yaml", "title: Bench\ngrower: Wren\n")
	put("tanks/shelf/tank.md", "---\nname: Shelf\nbegan: 2026-01-01\n---\n")
	for i := range n {
		put(h.file(i), h.text)
	}
}

// ends runs a command on such a journal, which must fail soon, with little memory and a short complaint.
func ends(t *testing.T, where string, cmd *exec.Cmd) (megabytes int, processor time.Duration) {
	t.Helper()
	var out bytes.Buffer
	cmd.Stdout, cmd.Stderr = &out, &out
	cmd.Env = append(os.Environ(), "GOGC=100") // its memory is measured
	began := time.Now()
	err := cmd.Run()
	took := time.Since(began)
	var exit *exec.ExitError
	if err == nil && !long && (where == "the top" || strings.HasPrefix(where, "photos")) {
		return 0, 0 // so few are no fault there
	}
	if !errors.As(err, &exit) || exit.ExitCode() < 1 || exit.ExitCode() > cannot || strings.Contains(out.String(), "goroutine ") {
		t.Fatalf("%s of %s: %v\n%.1000s", cmd.Args[1], where, err, out.String())
	}
	usage, ok := cmd.ProcessState.SysUsage().(*syscall.Rusage)
	if !ok {
		t.Fatal("no usage is known")
	}
	processor = cmd.ProcessState.UserTime() + cmd.ProcessState.SystemTime()
	if usage.Maxrss > 300<<10 || processor > 10*time.Second || out.Len() > 300<<10 {
		t.Errorf("%s of %s: %d MB, %.1f s of processor, %d bytes said", cmd.Args[1], where, usage.Maxrss>>10, processor.Seconds(), out.Len())
	}
	t.Logf("%s of %s: %d MB, %.1f s of processor in %.1f s, %d bytes said", cmd.Args[1], where, usage.Maxrss>>10, processor.Seconds(), took.Seconds(), out.Len())
	return int(usage.Maxrss >> 10), processor
}
