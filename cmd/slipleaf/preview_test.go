package main

import (
	"bufio"
	"bytes"
	"context"
	"io"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// The command prints one line with the address, serves what is saved, and ends with 0 when it is interrupted.
func TestPreviewFromStartToEnd(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "bench")
	now := func() time.Time { return time.Date(2026, 3, 1, 12, 0, 0, 0, time.UTC) }
	env := func(string) string { return "" }
	if code := run(t.Context(), []string{"start", dir}, world{Out: io.Discard, Err: os.Stderr, Now: now, Env: env}); code != done {
		t.Fatal("start: ", code)
	}
	t.Chdir(t.TempDir()) // where photos would be kept
	ctx, interrupt := context.WithCancel(t.Context())
	defer interrupt()
	read, write := io.Pipe()
	var complaints bytes.Buffer
	code := make(chan int, 1)
	go func() {
		code <- run(ctx, []string{"preview", journalIn(dir), "--port", "0"}, world{Out: write, Err: &complaints, Now: now, Env: env})
		write.Close()
	}()
	lines := bufio.NewScanner(read)
	if !lines.Scan() {
		t.Fatal("no line: ", <-code, complaints.String())
	}
	addr, _, _ := strings.Cut(lines.Text(), ";")
	for page, want := range map[string]string{"": "My water bench", "-/bench/": "Complaints"} {
		r, err := http.Get(addr + page)
		if err != nil {
			t.Fatal(err)
		}
		body, err := io.ReadAll(r.Body)
		r.Body.Close()
		if err != nil || !strings.Contains(string(body), want) {
			t.Errorf("%s%s is without %q: %v", addr, page, want, err)
		}
	}
	interrupt()
	if lines.Scan() {
		t.Errorf("a second line: %s", lines.Text())
	}
	if got := <-code; got != done {
		t.Errorf("exit status %d: %s", got, complaints.String())
	}
}

// journalIn is the folder of the journal that start made.
func journalIn(dir string) string {
	if _, err := os.Stat(filepath.Join(dir, "journal.yaml")); err == nil {
		return dir
	}
	return filepath.Join(dir, "content")
}

func TestPreviewRefusesWhatIsNoPort(t *testing.T) {
	var said bytes.Buffer
	if code := run(t.Context(), []string{"preview", "first", "--port", "70000"}, world{Out: io.Discard, Err: &said, Now: time.Now, Env: os.Getenv}); code != cannot || !strings.Contains(said.String(), "--port") {
		t.Errorf("%d: %s", code, said.String())
	}
}
