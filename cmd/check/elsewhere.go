package main

import (
	"context"
	"fmt"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"strings"

	"github.com/chromedp/chromedp"
)

// stands looks at a page wherever it lies: its style has come, its pictures too, its script has run where it has one,
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

// elsewhere looks at the demonstration where growers put a site besides the host of netlify.toml: on a disk or stick,
// opened by the browser without any server, and in a sub-folder of a server with other pages.
func elsewhere(ctx context.Context, c *checker) (passed, failed int, err error) {
	disk, server := filepath.Join(c.tmp, "stick"), filepath.Join(c.tmp, "server")
	for _, args := range [][]string{{"--to", disk, "--disk"}, {"--to", filepath.Join(server, "club", "plants")}} {
		args = append([]string{"run", "./cmd/slipleaf", "publish", "content", "--on", demoDay}, args...)
		if out, err := exec.CommandContext(ctx, "go", args...).CombinedOutput(); err != nil {
			return 0, 0, fmt.Errorf("publish: %w\n%s", err, out)
		}
	}
	b, err := c.start(ctx, server, plainFonts)
	if err != nil {
		return 0, 0, err
	}
	defer b.stop()
	pages := []string{"", "offers/", "plants/", "tanks/trough/", "tanks/trough/2026-07-18/", "plants/heteranthera-zosterifolia/", "bench/", "suit/", "search/"}
	var jobs []job
	for _, p := range pages {
		jobs = append(jobs,
			job{"/" + p + " on a disk", func(ctx context.Context) ([]string, error) {
				return lookAt(ctx, (&url.URL{Scheme: "file", Path: filepath.Join(disk, p, "index.html")}).String(), disk, "file://"+disk)
			}},
			job{"/" + p + " in a sub-folder", func(ctx context.Context) ([]string, error) {
				return lookAt(ctx, b.base+"/club/plants/"+p, filepath.Join(server, "club", "plants"), b.base+"/club/plants")
			}})
	}
	passed, failed = c.all(b, jobs)
	return passed, failed, nil
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
