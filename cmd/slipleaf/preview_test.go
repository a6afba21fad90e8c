package main

import (
	"bufio"
	"bytes"
	"context"
	"crypto/rand"
	"io"
	"maps"
	"net/http"
	"net/http/cookiejar"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"slipleaf/build/quantity"
	"slipleaf/build/site"
)

// previewing runs the command on a journal and gives its address. stop interrupts it, checks that it ends well and said no
// second line, and returns what it complained of.
func previewing(t testing.TB, dir string, now time.Time) (addr, desk string, stop func() string) {
	t.Helper()
	ctx, interrupt := context.WithCancel(t.Context())
	read, write := io.Pipe()
	var complaints bytes.Buffer
	code := make(chan int, 1)
	go func() {
		code <- run(ctx, []string{"preview", dir, "--port", "0"}, world{Out: write, Err: &complaints, Random: rand.Reader, Now: func() time.Time { return now }, Env: func(string) string { return "" }})
		write.Close()
	}()
	lines := bufio.NewScanner(read)
	if !lines.Scan() {
		t.Fatal("no line: ", <-code, complaints.String())
	}
	addr, _, _ = strings.Cut(lines.Text(), ";")
	_, desk, _ = strings.Cut(lines.Text(), "private page: ")
	desk, _, _ = strings.Cut(desk, ";")
	return addr, desk, func() string {
		t.Helper()
		interrupt()
		if lines.Scan() {
			t.Errorf("a second line: %s", lines.Text())
		}
		if got := <-code; got != done {
			t.Errorf("exit status %d: %s", got, complaints.String())
		}
		return complaints.String()
	}
}

// fetched is the body of an answer, whatever its status.
func fetched(t *testing.T, addr string) string {
	t.Helper()
	jar, err := cookiejar.New(nil)
	if err != nil {
		t.Fatal(err)
	}
	r, err := (&http.Client{Jar: jar}).Get(addr)
	if err != nil {
		t.Fatal(err)
	}
	defer r.Body.Close()
	body, err := io.ReadAll(r.Body)
	if err != nil {
		t.Fatal(err)
	}
	return string(body)
}

// The command prints one line with the address, serves what is saved, and ends with 0 when it is interrupted.
func TestPreviewFromStartToEnd(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "bench")
	day := time.Date(2026, 3, 1, 12, 0, 0, 0, time.UTC)
	if code := run(t.Context(), []string{"start", dir}, world{Out: io.Discard, Err: os.Stderr, Now: func() time.Time { return day }, Env: func(string) string { return "" }}); code != done {
		t.Fatal("start: ", code)
	}
	t.Chdir(t.TempDir()) // where photos would be kept
	addr, desk, stop := previewing(t, journalIn(dir), day)
	defer stop()
	for page, want := range map[string]string{addr: "My water bench", desk: "Nothing is due", addr + "desk/": "the address that the terminal shows"} {
		if body := fetched(t, page); !strings.Contains(body, want) {
			t.Errorf("%s is without %q", page, want)
		}
	}
}

// No page of the preview but the grower's own tells what is private, be the journal sound or damaged.
func TestThePreviewTellsNothingPrivate(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "journal")
	if err := os.CopyFS(dir, os.DirFS("../../content")); err != nil {
		t.Fatal(err)
	}
	_, private := secrets(t, dir)
	book, _, err := site.Load(t.Context(), os.DirFS(dir), site.Options{On: quantity.Date{Year: 2026, Month: 11, Day: 25}, Zone: knownZone})
	if err != nil || book == nil {
		t.Fatal(err)
	}
	records, err := filepath.Glob(filepath.Join(dir, "sent", "*.md"))
	if err != nil {
		t.Fatal(err)
	}
	t.Chdir(t.TempDir())
	day := time.Date(2026, 11, 25, 12, 0, 0, 0, time.UTC)
	told := map[string]string{}
	addr, desk, stop := previewing(t, dir, day)
	for _, o := range book.Outputs() {
		told[o.Addr] = fetched(t, addr+strings.TrimPrefix(o.Addr, "/"))
	}
	told["no such page"] = fetched(t, addr+"no/such/page/")
	told["the desk without its token"] = fetched(t, addr+"desk/")
	own := fetched(t, desk)
	if !slices.ContainsFunc(slices.Collect(maps.Keys(private)), func(secret string) bool { return strings.Contains(own, secret) }) {
		t.Error("the grower's own page names no recipient: the test shows little")
	}
	told["what it says"] = stop()
	damage(t, records)
	addr, _, stop = previewing(t, dir, day)
	told["a damaged journal"], told["its complaints"] = fetched(t, addr), fetched(t, addr+"-/complaints")
	told["what it says of that"] = stop()
	delete(private, "canary-file-name") // which complaints point to
	tellNothing(t, told, private)
	if len(told) < 500 || !strings.Contains(told["its complaints"], "problems are in records of parcels") {
		t.Errorf("%d answers: the test shows little", len(told))
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
	t.Parallel()
	var said bytes.Buffer
	if code := run(t.Context(), []string{"preview", "first", "--port", "70000"}, world{Out: io.Discard, Err: &said, Now: time.Now, Env: os.Getenv}); code != cannot || !strings.Contains(said.String(), "--port") {
		t.Errorf("%d: %s", code, said.String())
	}
}
