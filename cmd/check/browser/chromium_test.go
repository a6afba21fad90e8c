//go:build browser

package browser

import (
	"context"
	"net/url"
	"slices"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
)

// tabTime is the longest that one job may take.
const tabTime = 60 * time.Second

// chromium is a running browser with a server of the site beside it.
type chromium struct {
	root context.Context
	base string // the address of the site, without a slash at its end
	host string
}

// start serves dir as the site's host would and starts a browser for it.
func start(t *testing.T, dir string, fonts fontSet) *chromium {
	t.Helper()
	return browse(t, serve(t, dir), fonts)
}

// browse starts a browser that knows only the fonts of the set, on a new profile, until the test ends.
func browse(t *testing.T, base string, fonts fontSet) *chromium {
	t.Helper()
	path := need(t, "chromium")
	config, err := fonts.config(t.TempDir())
	if err != nil {
		lacking(t, err)
	}
	options := append(slices.Clone(chromedp.DefaultExecAllocatorOptions[:]),
		chromedp.ExecPath(path), chromedp.NoSandbox, chromedp.DisableGPU, chromedp.Env("FONTCONFIG_FILE="+config),
		chromedp.Flag("disable-quic", true), chromedp.Flag("disable-component-update", true),
		chromedp.Flag("font-render-hinting", "none"), chromedp.Flag("disable-lcd-text", true))
	alloc, cancel := chromedp.NewExecAllocator(context.Background(), options...)
	t.Cleanup(cancel)
	root, cancelRoot := chromedp.NewContext(alloc)
	t.Cleanup(cancelRoot)
	if err := chromedp.Do(root); err != nil {
		t.Fatal("chromium: ", err)
	}
	u, err := url.Parse(base)
	if err != nil {
		t.Fatal(err)
	}
	return &chromium{root, base, u.Host}
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

// job is something to look at in a tab; it lists what is wrong. It sets the look that it wants and opens a page.
type job struct {
	name string
	do   func(ctx context.Context) ([]string, error)
}

// tabs are open ones that no job is in just now. To open one takes longer than to open most pages in it.
type tabs struct {
	b    *chromium
	mu   sync.Mutex
	idle []openTab
}

type openTab struct {
	ctx   context.Context
	close func()
}

// lend does a job in a tab that another job was in before, if there is one. A tab in which one fails is closed.
func (s *tabs) lend(do func(ctx context.Context) error) error {
	tab, err := s.take()
	if err != nil {
		return err
	}
	timed, cancel := context.WithTimeout(tab.ctx, tabTime)
	err = do(timed)
	cancel() // and nobody listens to the tab any more
	if err != nil {
		tab.close()
		return err
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	s.idle = append(s.idle, tab)
	return nil
}

// take gives the tab that was used last, or opens one.
func (s *tabs) take() (openTab, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if n := len(s.idle); n > 0 {
		tab := s.idle[n-1]
		s.idle = s.idle[:n-1]
		return tab, nil
	}
	ctx, cancel := chromedp.NewContext(s.b.root)
	if err := chromedp.Do(ctx); err != nil {
		cancel()
		return openTab{}, err
	}
	return openTab{ctx, cancel}, nil
}

// close closes the tabs that no job is in.
func (s *tabs) close() {
	s.mu.Lock()
	defer s.mu.Unlock()
	for _, tab := range s.idle {
		tab.close()
	}
	s.idle = nil
}

// all does the jobs, as many at once as there are processors, in tabs that go from one to the next.
func (b *chromium) all(t *testing.T, jobs []job) {
	t.Helper()
	if len(jobs) == 0 {
		t.Fatal("there is nothing to look at")
	}
	s := &tabs{b: b}
	t.Cleanup(s.close)
	for _, j := range jobs {
		t.Run(j.name, func(t *testing.T) {
			t.Parallel()
			var faults []string
			err := s.lend(func(ctx context.Context) (err error) {
				faults, err = j.do(ctx)
				return err
			})
			for _, f := range faults {
				t.Error(f)
			}
			if err != nil {
				t.Error(err)
			}
		})
	}
}
