package main

import (
	"bufio"
	"bytes"
	"context"
	"fmt"
	"io"
	"net/http"
	"net/url"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"slipleaf/build/journal"
	"slipleaf/build/preview"
	"slipleaf/build/site"
)

// BenchmarkSaves shows a journal in the preview with a page open in a browser's way, saves the page's file again and
// again, and takes the time from each write to the answer that holds what was written.
func BenchmarkSaves(b *testing.B) {
	dir := b.TempDir()
	if err := writeJournal(dir, asked); err != nil {
		b.Fatal(err)
	}
	at := previewed(b, dir)
	var waits []float64
	for b.Loop() {
		waits = append(waits, save(b, dir, at, len(waits)))
	}
	slices.Sort(waits)
	b.ReportMetric(1000*spanOf(waits).Median, "ms/median")
	b.ReportMetric(1000*waits[min(len(waits)*95/100, len(waits)-1)], "ms/p95")
	b.ReportMetric(float64(peak()>>20), "peak-MB")
}

func TestASaveIsServed(t *testing.T) {
	dir := t.TempDir()
	if err := writeJournal(dir, small); err != nil {
		t.Fatal(err)
	}
	at := previewed(t, dir)
	for i := range 3 {
		if waited := save(t, dir, at, i); waited <= 0 {
			t.Errorf("save %d took %g s", i, waited)
		}
	}
}

// previewed is the address of a preview of the journal, which ends with the test.
func previewed(tb testing.TB, dir string) string {
	tb.Helper()
	root, err := os.OpenRoot(dir)
	if err != nil {
		tb.Fatal(err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	ready, ended := make(chan int, 1), make(chan error, 1)
	go func() {
		ended <- preview.Run(ctx, preview.Options{
			Dir: dir, FS: root.FS(), Site: site.Options{On: lastDay},
			Shown: func(c journal.Complaint) string { return c.Message }, Ready: func(port int, _ string) { ready <- port },
			Tell: func(preview.Report) {}, Say: func(string) {},
		})
	}()
	tb.Cleanup(func() {
		cancel()
		if err := <-ended; err != nil {
			tb.Error(err)
		}
		root.Close()
	})
	select {
	case port := <-ready:
		return fmt.Sprintf("http://localhost:%d", port)
	case err := <-ended:
		ended <- err
		tb.Fatal("the preview ended")
		return ""
	}
}

// save writes the i-th entry of some order with its page open, and gives the seconds until the page held it.
func save(tb testing.TB, journal, at string, i int) float64 {
	tb.Helper()
	must := func(err error) {
		if err != nil {
			tb.Fatal(err)
		}
	}
	found, err := filepath.Glob(filepath.Join(journal, "tanks", tankID(i%3), "2*.md"))
	must(err)
	file := found[(i*37)%len(found)]
	addr := "/tanks/" + tankID(i%3) + "/" + strings.TrimSuffix(filepath.Base(file), ".md") + "/"
	_, err = get(at + addr)
	must(err)
	// A browser that shows a page listens for newer editions of it. This one has seen none yet, and is told so.
	answer, err := http.Get(at + "/-/events?seen=0&at=" + url.QueryEscape(addr))
	must(err)
	defer answer.Body.Close()
	events := bufio.NewReader(answer.Body)
	must(reload(events))
	text, err := os.ReadFile(file)
	must(err)
	words := fmt.Sprintf("Saved as number %d at %d.", i, time.Now().UnixNano())
	began := time.Now()
	must(os.WriteFile(file, fmt.Appendf(text, "\n%s\n", words), 0o644))
	for {
		must(reload(events))
		body, err := get(at + addr)
		must(err)
		if bytes.Contains(body, []byte(words)) {
			return time.Since(began).Seconds()
		}
	}
}

// reload waits until the preview tells of a newer page.
func reload(events *bufio.Reader) error {
	for {
		line, err := events.ReadString('\n')
		if err != nil || strings.TrimSpace(line) == "event: reload" {
			return err
		}
	}
}

func get(addr string) ([]byte, error) {
	answer, err := http.Get(addr)
	if err != nil {
		return nil, err
	}
	defer answer.Body.Close()
	body, err := io.ReadAll(answer.Body)
	if err == nil && answer.StatusCode != http.StatusOK {
		err = fmt.Errorf("%s: %s", addr, answer.Status)
	}
	return body, err
}
