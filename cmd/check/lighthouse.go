package main

import (
	"context"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
)

// leastScores are what Lighthouse must give, of 100. A sheet is hidden from search engines on purpose.
var leastScores = map[string]int{"performance": 98, "accessibility": 100, "best-practices": 100, "seo": 100}

// lighthouse measures five kinds of page one after the other, since two at once would slow each other down.
func lighthouse(ctx context.Context, c *checker) (passed, failed int, err error) {
	program, err := filepath.Abs(filepath.Join(nodeDir, "node_modules", "lighthouse", "cli", "index.js"))
	if err != nil {
		return 0, 0, err
	}
	chrome, err := exec.LookPath("chromium")
	if _, missing := os.Stat(program); missing != nil || err != nil {
		return 0, 0, fmt.Errorf("lighthouse or chromium: %w", errMissing)
	}
	if err := c.ensureSite(ctx); err != nil {
		return 0, 0, err
	}
	all, err := pages(c.site())
	if err != nil {
		return 0, 0, err
	}
	base, stop, err := serve(c.site())
	if err != nil {
		return 0, 0, err
	}
	defer stop()
	measured := some(having(all, func(kind string) bool {
		return slices.Contains([]string{"", "offers", "plants/*", "tanks/*/*", "sheets/*"}, kind)
	}), 1)
	for _, p := range measured {
		got, err := c.bestOf(ctx, program, chrome, base+p)
		if err != nil {
			return passed, failed, err
		}
		for category, least := range leastScores {
			if category == "seo" && strings.HasPrefix(p, "/sheets/") {
				continue
			}
			if got.scores[category] >= least {
				passed++
				continue
			}
			failed++
			fmt.Fprintf(c.out, "   %s: %s %d of %d\n", p, category, got.scores[category], least)
			for _, why := range got.reasons {
				fmt.Fprintf(c.out, "      %s\n", why)
			}
		}
	}
	return passed, failed, nil
}

// tries is how often a page may be measured: performance depends on what else the machine does, and now and then a
// browser does not come up in time on a busy one. A page that is too slow is too slow three times.
const tries = 3

// bestOf measures a page until it is fast enough or the tries are used up, and gives the last report; a run that broke
// off is told, and is an error only if the last one did too.
func (c *checker) bestOf(ctx context.Context, program, chrome, address string) (got report, err error) {
	for n := range tries {
		got, err = c.measure(ctx, program, chrome, address)
		switch {
		case ctx.Err() != nil:
			return report{}, ctx.Err()
		case err != nil:
			fmt.Fprintf(c.out, "   %s: run %d of %d broke off: %v\n", address, n+1, tries, err)
		case got.scores["performance"] >= leastScores["performance"]:
			return got, nil
		}
	}
	return got, err
}

// report is what Lighthouse says of a page: a score of 100 for each category, and which audits fell short.
type report struct {
	scores  map[string]int
	reasons []string
}

// quietChrome starts a browser that has no screen and calls nobody, so that nothing but the page is measured.
const quietChrome = "--headless=new --no-sandbox --disable-gpu --disable-dev-shm-usage --no-first-run --disable-quic" +
	" --disable-background-networking --disable-component-update --disable-sync"

// measure runs Lighthouse once, as on a middling phone, and reads its report.
func (c *checker) measure(ctx context.Context, program, chrome, address string) (report, error) {
	file := filepath.Join(c.tmp, "lighthouse.json")
	cmd := exec.CommandContext(ctx, "node", program, address, "--quiet", "--output=json", "--output-path="+file,
		"--chrome-flags="+quietChrome, "--max-wait-for-load=30000")
	cmd.Env = append(os.Environ(), "CHROME_PATH="+chrome)
	if out, err := cmd.CombinedOutput(); err != nil {
		return report{}, fmt.Errorf("lighthouse: %w\n%s", err, tail(out, 2000))
	}
	data, err := os.ReadFile(file)
	if err != nil {
		return report{}, err
	}
	return readReport(data)
}

// readReport takes the scores and the audits that cost points out of a report.
func readReport(data []byte) (report, error) {
	var in struct {
		Categories map[string]struct {
			Score     *float64
			AuditRefs []struct {
				ID     string
				Weight float64
			}
		}
		Audits map[string]struct {
			Title, DisplayValue string
			Score               *float64
		}
	}
	if err := json.Unmarshal(data, &in); err != nil {
		return report{}, fmt.Errorf("lighthouse: %w", err)
	}
	out := report{scores: map[string]int{}}
	for name, category := range in.Categories {
		if category.Score != nil {
			out.scores[name] = int(*category.Score*100 + 0.5)
		}
		for _, ref := range category.AuditRefs {
			if a := in.Audits[ref.ID]; ref.Weight > 0 && a.Score != nil && *a.Score < 0.9 {
				out.reasons = append(out.reasons, strings.TrimSpace(a.Title+" "+a.DisplayValue))
			}
		}
	}
	slices.Sort(out.reasons)
	return out, nil
}
