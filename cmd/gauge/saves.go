package main

import (
	"bufio"
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"net/http"
	"net/url"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"slipleaf/build/journal"
	"slipleaf/build/preview"
	"slipleaf/build/site"
)

// savesEach is how many saves are measured in each round.
const savesEach = 40

// waits is how long saves took to be served, in seconds.
type waits struct {
	N int `json:"n"`
	span
	P95 float64 `json:"p95"` // 95 % were served sooner
}

func waitsOf(x []float64) waits {
	if len(x) == 0 {
		return waits{}
	}
	x = slices.Sorted(slices.Values(x))
	n := len(x)
	return waits{n, spanOf(x), x[min(n*95/100, n-1)]}
}

// saves shows a journal in the preview with a page open in a browser's way, saves the page's file again and again, and
// takes the time from each write to the answer that holds what was written.
func saves(ctx context.Context, w work) (t took, err error) {
	root, err := os.OpenRoot(w.From)
	if err != nil {
		return t, err
	}
	defer root.Close()
	ctx, cancel := context.WithCancel(ctx)
	defer cancel()
	ready, ended := make(chan int, 1), make(chan error, 1)
	go func() {
		ended <- preview.Run(ctx, preview.Options{
			Dir: w.From, FS: root.FS(), Site: site.Options{On: lastDay},
			Shown: func(c journal.Complaint) string { return c.Message }, Ready: func(port int, _ string) { ready <- port },
			Tell: func(preview.Report) {}, Say: func(string) {},
		})
	}()
	var port int
	select {
	case port = <-ready:
	case err := <-ended:
		return t, err
	}
	at := fmt.Sprintf("http://localhost:%d", port)
	for i := range savesEach {
		took, err := save(ctx, w.From, at, i)
		if err != nil {
			return t, err
		}
		t.Saves = append(t.Saves, took)
	}
	cancel()
	return t, <-ended
}

// save writes the i-th entry of some order with its page open, and gives the seconds until the page held it.
func save(ctx context.Context, journal, at string, i int) (float64, error) {
	found, err := filepath.Glob(filepath.Join(journal, "tanks", tankID(i%3), "2*.md"))
	if err != nil || len(found) == 0 {
		return 0, errors.Join(err, errors.New("no entry to save"))
	}
	file := found[(i*37)%len(found)]
	addr := "/tanks/" + tankID(i%3) + "/" + strings.TrimSuffix(filepath.Base(file), ".md") + "/"
	events, leave, err := open(ctx, at, addr)
	if err != nil {
		return 0, err
	}
	defer leave()
	text, err := os.ReadFile(file)
	if err != nil {
		return 0, err
	}
	words := fmt.Sprintf("Saved as number %d at %d.", i, time.Now().UnixNano())
	began := time.Now()
	if err := os.WriteFile(file, fmt.Appendf(text, "\n%s\n", words), 0o644); err != nil {
		return 0, err
	}
	for {
		if err := reload(events); err != nil {
			return 0, err
		}
		body, err := get(ctx, at+addr)
		if err != nil {
			return 0, err
		}
		if bytes.Contains(body, []byte(words)) {
			return time.Since(began).Seconds(), nil
		}
	}
}

// open listens to the preview for a page, as a browser does that shows its newest edition.
func open(ctx context.Context, at, addr string) (*bufio.Reader, func(), error) {
	if _, err := get(ctx, at+addr); err != nil {
		return nil, nil, err
	}
	r, err := http.NewRequestWithContext(ctx, http.MethodGet, at+"/-/events?seen=0&at="+url.QueryEscape(addr), nil)
	if err != nil {
		return nil, nil, err
	}
	answer, err := http.DefaultClient.Do(r)
	if err != nil {
		return nil, nil, err
	}
	events := bufio.NewReader(answer.Body)
	return events, func() { answer.Body.Close() }, reload(events) // it has seen no edition yet, and is told so
}

// reload waits until the preview tells of a newer page.
func reload(events *bufio.Reader) error {
	for {
		line, err := events.ReadString('\n')
		if err != nil {
			return err
		}
		if strings.TrimSpace(line) == "event: reload" {
			return nil
		}
	}
}

func get(ctx context.Context, addr string) ([]byte, error) {
	r, err := http.NewRequestWithContext(ctx, http.MethodGet, addr, nil)
	if err != nil {
		return nil, err
	}
	answer, err := http.DefaultClient.Do(r)
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
