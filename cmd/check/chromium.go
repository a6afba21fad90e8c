package main

import (
	"context"
	"fmt"
	"net/url"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"time"

	"github.com/chromedp/chromedp"
)

// tabs is how many pages are looked at at once.
const tabs = 2

// tabTime is the longest that one job may take.
const tabTime = 60 * time.Second

// chromium is a running browser with a server of the site beside it.
type chromium struct {
	root context.Context
	base string // the address of the site, without a slash at its end
	host string
	stop func()
}

// start serves dir and starts a browser that knows only the fonts of the set, on a new profile.
func (c *checker) start(ctx context.Context, dir string, fonts fontSet) (*chromium, error) {
	path, err := exec.LookPath("chromium")
	if err != nil {
		return nil, fmt.Errorf("chromium: %w", errMissing)
	}
	config, err := fonts.config(filepath.Join(c.tmp, "fonts"))
	if err != nil {
		return nil, err
	}
	base, stopServer, err := serve(dir)
	if err != nil {
		return nil, err
	}
	options := append(slices.Clone(chromedp.DefaultExecAllocatorOptions[:]),
		chromedp.ExecPath(path), chromedp.NoSandbox, chromedp.DisableGPU, chromedp.Env("FONTCONFIG_FILE="+config),
		chromedp.Flag("disable-quic", true), chromedp.Flag("disable-component-update", true),
		chromedp.Flag("font-render-hinting", "none"), chromedp.Flag("disable-lcd-text", true))
	alloc, cancel := chromedp.NewExecAllocator(ctx, options...)
	root, cancelRoot := chromedp.NewContext(alloc)
	stop := func() { cancelRoot(); cancel(); stopServer() }
	if err := chromedp.Do(root); err != nil {
		stop()
		return nil, fmt.Errorf("chromium: %w", err)
	}
	u, err := url.Parse(base)
	if err != nil {
		stop()
		return nil, err
	}
	return &chromium{root, base, u.Host, stop}, nil
}

// tab opens a tab, does the job in it and closes it.
func (b *chromium) tab(do func(ctx context.Context) error) error {
	tab, cancel := chromedp.NewContext(b.root)
	defer cancel()
	if err := chromedp.Do(tab); err != nil { // the life of a tab is that of its first use, so that has no deadline
		return err
	}
	timed, cancelTime := context.WithTimeout(tab, tabTime)
	defer cancelTime()
	return do(timed)
}

// job is something to look at in a tab of its own; it lists what is wrong.
type job struct {
	name string
	do   func(ctx context.Context) ([]string, error)
}

// all does the jobs, a few at once, reports in their order, and counts those without a fault.
func (c *checker) all(b *chromium, jobs []job) (passed, failed int) {
	faults := make([][]string, len(jobs))
	next := make(chan int)
	var wg sync.WaitGroup
	for range tabs {
		wg.Go(func() {
			for i := range next {
				err := b.tab(func(ctx context.Context) (err error) {
					faults[i], err = jobs[i].do(ctx)
					return err
				})
				if err != nil {
					faults[i] = append(faults[i], err.Error())
				}
			}
		})
	}
	for i := range jobs {
		next <- i
	}
	close(next)
	wg.Wait()
	for i := range jobs {
		if len(faults[i]) == 0 {
			passed++
		} else {
			failed++
		}
	}
	c.tell(jobs, faults)
	return passed, failed
}

// tell prints every fault once, with the first places where it was found.
func (c *checker) tell(jobs []job, faults [][]string) {
	where := map[string][]string{}
	var order []string
	for i, j := range jobs {
		for _, f := range faults[i] {
			if len(where[f]) == 0 {
				order = append(order, f)
			}
			where[f] = append(where[f], j.name)
		}
	}
	for _, f := range order {
		at := where[f]
		more := ""
		if len(at) > 3 {
			more = fmt.Sprintf(" and %d more", len(at)-3)
			at = at[:3]
		}
		fmt.Fprintf(c.out, "   %s\n      at %s%s\n", f, strings.Join(at, ", "), more)
	}
}
