package main

import (
	"bufio"
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"runtime"
	"slices"
	"strings"
	"sync"

	"golang.org/x/sync/errgroup"
)

// staticcheckVersion pins the linter; it is run from its module and is no dependency of the program.
const staticcheckVersion = "v0.8.2"

func gofmt(ctx context.Context, c *checker) (int, int, error) {
	out, err := exec.CommandContext(ctx, "gofmt", "-l", "build", "cmd", "themes").Output()
	if err != nil {
		return 0, 0, err
	}
	if names := strings.Fields(string(out)); len(names) > 0 {
		return 0, 0, fmt.Errorf("not formatted: %s", strings.Join(names, " "))
	}
	return 1, 0, nil
}

// vet looks at all that is compiled here, so that no later step needs to.
func vet(ctx context.Context, c *checker) (int, int, error) {
	if _, _, err := c.plain(ctx, "go", "vet", "-tags", "browser", "./cmd/check/browser"); err != nil {
		return 0, 0, err
	}
	return c.plain(ctx, "go", "vet", "./...")
}

func staticcheck(ctx context.Context, c *checker) (int, int, error) {
	return c.plain(ctx, "go", "run", "honnef.co/go/tools/cmd/staticcheck@"+staticcheckVersion, "./...")
}

func modules(ctx context.Context, c *checker) (int, int, error) {
	return c.plain(ctx, "go", "mod", "verify")
}

// plain runs a command that is silent when all is well.
func (c *checker) plain(ctx context.Context, name string, args ...string) (int, int, error) {
	out, err := exec.CommandContext(ctx, name, args...).CombinedOutput()
	if err != nil {
		return 0, 0, fmt.Errorf("%s %s: %w\n%s", name, strings.Join(args, " "), err, tail(out, 8000))
	}
	return 1, 0, nil
}

// event is a line of go test -json.
type event struct{ Action, Package, Test, Output, Key, Value string }

// raced are the packages in which several goroutines work on the same things, each with the tests that set them to work;
// all others are one goroutine's from end to end, and the detector would only make them slow.
var raced = []struct{ pkg, tests string }{
	{"./build/preview", "."},
	{"./build/journal", "Workers|Reader"},
	{"./build/site", "TestDemoIsTheSameWithOneWorker|TestPhotosReachTheirPages"},
	{"./cmd/slipleaf", "TestPublishesAtOnce"},
}

// tests runs every test once, but for those in a browser.
func tests(ctx context.Context, c *checker) (passed, failed int, err error) {
	args := []string{"./..."}
	if c.long {
		args = []string{"-tags", "long", "-timeout", "8h", "./..."}
	}
	return c.goTest(ctx, args)
}

// race runs those with the race detector.
func race(ctx context.Context, c *checker) (passed, failed int, err error) {
	var mu sync.Mutex
	var g errgroup.Group
	g.SetLimit(runtime.GOMAXPROCS(0)) // linking, which takes most of the time, keeps one processor busy
	for _, r := range raced {
		g.Go(func() error {
			p, f, err := c.goTest(ctx, []string{"-race", "-short", "-run", r.tests, r.pkg})
			if err == nil && p+f == 0 {
				err = fmt.Errorf("%s has no test like %s", r.pkg, r.tests)
			}
			mu.Lock()
			defer mu.Unlock()
			passed, failed = passed+p, failed+f
			return err
		})
	}
	err = g.Wait()
	return passed, failed, err
}

// browser looks at the published demonstration from outside.
func browser(ctx context.Context, c *checker) (passed, failed int, err error) {
	return c.goTest(ctx, []string{"-tags", "browser", "./cmd/check/browser"})
}

// goTest runs the go tool's test once and counts.
func (c *checker) goTest(ctx context.Context, args []string) (passed, failed int, err error) {
	cmd := exec.CommandContext(ctx, "go", append([]string{"test", "-json", "-vet=off", "-timeout", "20m"}, args...)...)
	cmd.Env = append(os.Environ(), "SLIPLEAF_CHECK=1")
	if slices.Contains(args, "-race") { // the detector is C
		cmd.Env = append(cmd.Env, "CGO_ENABLED=1")
	}
	var stderr bytes.Buffer
	cmd.Stderr = &stderr
	pipe, err := cmd.StdoutPipe()
	if err != nil {
		return 0, 0, err
	}
	if err := cmd.Start(); err != nil {
		return 0, 0, err
	}
	passed, failed = c.count(bufio.NewScanner(pipe))
	if err := cmd.Wait(); err != nil && failed == 0 {
		return passed, failed, fmt.Errorf("go test: %w\n%s", err, tail(stderr.Bytes(), 8000))
	}
	return passed, failed, nil
}

// count reads test events, repeats what failing tests said and what others counted, and names the skipped, which CI does not allow.
func (c *checker) count(lines *bufio.Scanner) (passed, failed int) {
	said := map[string][]string{}
	lines.Buffer(nil, 16<<20)
	for lines.Scan() {
		var e event
		if json.Unmarshal(lines.Bytes(), &e) != nil {
			fmt.Fprintln(c.out, "  ", lines.Text())
			continue
		}
		key := e.Package + " " + e.Test
		switch e.Action {
		case "output":
			if len(said[key]) < 200 {
				said[key] = append(said[key], e.Output)
			}
		case "attr":
			if e.Key == "figure" {
				fmt.Fprintf(c.out, "   %s\n", e.Value)
			}
		case "pass":
			if e.Test != "" {
				passed++
			}
			delete(said, key)
		case "fail", "build-fail":
			failed++
			fmt.Fprintf(c.out, "   FAIL %s\n%s", key, strings.Join(said[key], ""))
		case "skip":
			if e.Test != "" {
				fmt.Fprintf(c.out, "   skipped %s: %s", key, strings.Join(said[key], " "))
				if c.ci && !strings.Contains(strings.Join(said[key], " "), "-long") && !strings.Contains(strings.Join(said[key], " "), "-short") { // a long test waits to be asked for
					failed++
				}
			}
			delete(said, key)
		}
	}
	return passed, failed
}
