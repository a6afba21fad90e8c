//go:build browser

package browser

import (
	"context"
	"net/url"
	"slices"
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

// job is something to look at in a tab of its own; it lists what is wrong.
type job struct {
	name string
	do   func(ctx context.Context) ([]string, error)
}

// all does each job in a tab of its own, as many at once as there are processors.
func (b *chromium) all(t *testing.T, jobs []job) {
	t.Helper()
	if len(jobs) == 0 {
		t.Fatal("there is nothing to look at")
	}
	for _, j := range jobs {
		t.Run(j.name, func(t *testing.T) {
			t.Parallel()
			var faults []string
			err := b.tab(func(ctx context.Context) (err error) {
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
