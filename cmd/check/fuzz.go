package main

import (
	"bytes"
	"context"
	"fmt"
	"hash/crc32"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
	"time"

	"golang.org/x/sync/errgroup"
)

// target is a fuzz target of a package.
type target struct{ pkg, name string }

// String is the folder of the package and the name.
func (t target) String() string { return strings.TrimPrefix(t.pkg, "./") + " " + t.name }

var fuzzName = regexp.MustCompile(`(?m)^func (Fuzz\w+)\(`)

// fuzzTargets finds every fuzz target of the module, in order.
func fuzzTargets() ([]target, error) {
	var out []target
	names, err := files(".")
	if err != nil {
		return nil, err
	}
	for _, n := range names {
		if !strings.HasSuffix(n, "_test.go") || strings.Contains(n, "node_modules") {
			continue
		}
		b, err := os.ReadFile(n)
		if err != nil {
			return nil, err
		}
		for _, m := range fuzzName.FindAllSubmatch(b, -1) {
			out = append(out, target{"./" + filepath.ToSlash(filepath.Dir(n)), string(m[1])})
		}
	}
	slices.SortFunc(out, func(a, b target) int { return strings.Compare(a.pkg+a.name, b.pkg+b.name) })
	return out, nil
}

// Without a span of its own, each commit fuzzes for fuzzAll in turns of fuzzTurn: the targets take turns by the commit's
// name, and all of them try their seeds in every run of the tests. With -long each has longFuzzSpan.
const fuzzAll, fuzzTurn, longFuzzSpan = 30 * time.Second, 5 * time.Second, 10 * time.Minute

// fuzzAtOnce is how many targets run side by side.
const fuzzAtOnce = 2

// turn picks the targets of this commit, and how long each runs.
func (c *checker) turn(ctx context.Context, all []target) ([]target, time.Duration) {
	switch {
	case c.fuzz >= 0:
		return all, c.fuzz
	case c.long:
		return all, longFuzzSpan
	}
	head, err := exec.CommandContext(ctx, "git", "rev-parse", "HEAD").Output()
	if err != nil {
		head = nil // no repository: the first ones
	}
	first := int(crc32.ChecksumIEEE(head) % uint32(len(all)))
	var out []target
	for i := range min(int(fuzzAll/fuzzTurn), len(all)) {
		out = append(out, all[(first+i)%len(all)])
	}
	return out, fuzzTurn
}

// fuzz runs the targets whose turn it is.
func fuzz(ctx context.Context, c *checker) (passed, failed int, err error) {
	targets, err := fuzzTargets()
	if err != nil {
		return 0, 0, err
	}
	targets = slices.DeleteFunc(targets, func(t target) bool { return c.fuzz == 0 || !strings.Contains(t.String(), c.target) })
	if len(targets) == 0 {
		return 0, 0, nil
	}
	targets, span := c.turn(ctx, targets)
	var mu sync.Mutex
	var g errgroup.Group
	g.SetLimit(fuzzAtOnce)
	for _, t := range targets {
		g.Go(func() error {
			out, err := t.run(ctx, span)
			mu.Lock()
			defer mu.Unlock()
			if err != nil {
				failed++
				fmt.Fprintf(c.out, "   %s in %s: %v\n%s\n", t.name, t.pkg, err, tail(out, 3000))
				return nil
			}
			passed++
			tried := inputsTried(string(out))
			fmt.Fprintf(c.out, "   %-28s %-18s %d inputs\n", t.name, t.pkg, tried)
			if c.tried != nil {
				return c.tried(t.String(), tried)
			}
			return nil
		})
	}
	return passed, failed, g.Wait()
}

// tidySpan is how long the go tool may spend on making one interesting input smaller. Left to itself it takes up to a
// minute, in which it tries nothing new: more than the whole run.
const tidySpan = 2 * time.Second

// run fuzzes a target once, and again where the tool tripped over its own end of time: it then says "context deadline
// exceeded" and names no input. A third stumble counts as a failure.
func (t target) run(ctx context.Context, span time.Duration) (out []byte, err error) {
	for range 3 {
		cmd := exec.CommandContext(ctx, "go", "test", t.pkg, "-run", "^$", "-fuzz", "^"+t.name+"$", "-fuzztime", span.String(),
			"-fuzzminimizetime", tidySpan.String(), "-parallel", "1")
		out, err = cmd.CombinedOutput()
		if err == nil || !bytes.Contains(out, []byte("context deadline exceeded")) || bytes.Contains(out, []byte("Failing input written")) {
			break
		}
	}
	return out, err
}

// inputsTried is what go test last said of its progress: how many inputs it has tried.
func inputsTried(out string) int {
	lines := strings.Split(strings.TrimSpace(out), "\n")
	for _, l := range slices.Backward(lines) {
		if _, after, ok := strings.Cut(l, "execs: "); ok {
			execs, _, _ := strings.Cut(after, " ")
			n, _ := strconv.Atoi(execs)
			return n
		}
	}
	return 0
}
