//go:build browser

package browser

import (
	"context"
	"fmt"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
)

// is looks at a page wherever it lies: its style has come, its pictures too, its script has run where it has one,
// and it returns its faults and then, after an empty line, where its links lead.
const stands = `(() => {
	const faults = [], root = getComputedStyle(document.documentElement);
	if (!root.getPropertyValue("--s5")) faults.push("the style sheet did not come");
	for (const i of document.images) { i.loading = "eager"; }
	return Promise.all([...document.images].map(i => i.decode().catch(() => faults.push("no picture at " + i.src)))).then(() => {
		const links = [...document.querySelectorAll("a[href], link[href]:not([rel=canonical]):not([rel=alternate])")].map(a => a.href.split("#")[0]);
		return [...new Set(faults), "", ...new Set(links)];
	});
})()`

// The demonstration works where growers put a site besides the host of netlify.toml: on a disk or stick, opened by the
// browser without any server, and in a sub-folder of a server with other pages.
func TestElsewhere(t *testing.T) {
	dir := t.TempDir()
	disk, server := filepath.Join(dir, "stick"), filepath.Join(dir, "server")
	publish(t, "content", disk, "--no-server")
	publish(t, "content", filepath.Join(server, "club", "plants"))
	b := start(t, server, plainFonts)
	var jobs []job
	for _, p := range []string{"", "offers/", "plants/", "tanks/trough/", "tanks/trough/2026-07-18/", "plants/heteranthera-zosterifolia/", "bench/", "suit/", "search/"} {
		jobs = append(jobs,
			job{"/" + p + " on a disk", func(ctx context.Context) ([]string, error) {
				return lookAt(ctx, (&url.URL{Scheme: "file", Path: filepath.Join(disk, p, "index.html")}).String(), disk, "file://"+disk)
			}},
			job{"/" + p + " in a sub-folder", func(ctx context.Context) ([]string, error) {
				return lookAt(ctx, b.base+"/club/plants/"+p, filepath.Join(server, "club", "plants"), b.base+"/club/plants")
			}})
	}
	b.all(t, jobs)
}

// lookAt opens a page and follows its links to the files of a site that lies in dir and is seen at base.
func lookAt(ctx context.Context, page, dir, base string) ([]string, error) {
	if err := chromedp.Do(ctx, look{width: 1280}.set(), chromedp.Navigate(page)); err != nil {
		return nil, err
	}
	told, err := chromedp.Run(ctx, chromedp.Evaluate[[]string](stands, chromedp.EvalAwaitPromise))
	if err != nil {
		return nil, err
	}
	var faults []string
	links := 0
	for i, line := range told {
		if line == "" {
			told = told[i+1:]
			break
		}
		faults = append(faults, line)
	}
	for _, to := range told {
		u, err := url.Parse(to)
		if err != nil || u.Scheme != "file" && !strings.HasPrefix(to, base[:strings.Index(base, ":")]+"://127.0.0.1") {
			continue // another site, or a mail
		}
		rest, inside := strings.CutPrefix(u.Scheme+"://"+u.Host+u.Path, base+"/")
		if !inside {
			faults = append(faults, "a link leaves the site's folder: "+to)
			continue
		}
		if u.Scheme != "file" && (rest == "" || strings.HasSuffix(rest, "/")) {
			rest += "index.html"
		}
		if info, err := os.Stat(filepath.Join(dir, filepath.FromSlash(rest))); err != nil || info.IsDir() {
			faults = append(faults, "a link leads to no file: "+to)
		}
		links++
	}
	if links < 5 {
		faults = append(faults, fmt.Sprintf("only %d links to the site's own files", links))
	}
	return faults, nil
}
