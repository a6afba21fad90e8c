package main

import (
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"

	"github.com/chromedp/chromedp"
)

// hostileFigures is the source of what the step counts.
const hostileFigures = "hostile"

// hostile publishes the journal with hostile words in every field, and opens every page.
func hostile(ctx context.Context, c *checker) (passed, failed int, err error) {
	program := filepath.Join(c.tmp, "slipleaf")
	if out, err := exec.CommandContext(ctx, "go", "build", "-o", program, "./cmd/slipleaf").CombinedOutput(); err != nil {
		return 0, 0, fmt.Errorf("go build: %w\n%s", err, out)
	}
	links, failed, err := c.refused(ctx, program)
	if err != nil {
		return links, failed, err
	}
	opened := 0
	for round, words := range hostileRounds() {
		dir := filepath.Join(c.tmp, fmt.Sprintf("hostile-%d", round))
		if err := writeHostile(filepath.Join(dir, "journal"), words); err != nil {
			return links + opened, failed, err
		}
		to := filepath.Join(dir, "site")
		out, err := exec.CommandContext(ctx, program, "publish", filepath.Join(dir, "journal"), "--to", to, "--on", demoDay).CombinedOutput()
		if err != nil {
			return links + opened, failed, fmt.Errorf("publishing hostile words: %w\n%s", err, tail(out, 4000))
		}
		p, f, err := c.opened(ctx, to, round)
		if err != nil {
			return links + opened, failed, err
		}
		opened, failed = opened+p, failed+f
	}
	return links + opened, failed, c.record(hostileFigures, figures{"pages of hostile journals opened in a browser": opened, "hostile links refused": links})
}

// refused puts each hostile link on a page by itself: none may be published.
func (c *checker) refused(ctx context.Context, program string) (passed, failed int, err error) {
	dir := filepath.Join(c.tmp, "hostile-links")
	if err := writeHostile(filepath.Join(dir, "journal"), hostileWords[0]); err != nil {
		return 0, 0, err
	}
	for _, link := range hostileLinks {
		text := "---\ntitle: A link\norder: 1\n---\n" + link + "\n"
		if err := os.WriteFile(filepath.Join(dir, "journal", "pages", "words.md"), []byte(text), 0o644); err != nil {
			return passed, failed, err
		}
		out, err := exec.CommandContext(ctx, program, "publish", filepath.Join(dir, "journal"), "--to", filepath.Join(dir, "site"), "--on", demoDay).CombinedOutput()
		if err != nil && strings.Contains(string(out), filepath.Join("pages", "words.md")+":") {
			passed++
			continue
		}
		failed++
		fmt.Fprintf(c.out, "   %q was published\n", link)
	}
	return passed, failed, nil
}

// opened opens every page of a hostile site and looks for harm.
func (c *checker) opened(ctx context.Context, site string, round int) (passed, failed int, err error) {
	all, err := pages(site)
	if err != nil {
		return 0, 0, err
	}
	b, err := c.start(ctx, site, plainFonts)
	if err != nil {
		return 0, 0, err
	}
	defer b.stop()
	var jobs []job
	for _, p := range all {
		jobs = append(jobs, job{fmt.Sprintf("%s of round %d", p, round+1), func(ctx context.Context) ([]string, error) {
			e, err := b.listen(ctx)
			if err != nil {
				return nil, err
			}
			if err := chromedp.Do(ctx, look{width: 800}.set(), chromedp.Navigate(b.base+p)); err != nil {
				return e.heard(), err
			}
			harm, err := ask(ctx, "harm")
			return append(e.heard(), harm...), err
		}})
	}
	passed, failed = c.all(b, jobs)
	return passed, failed, nil
}
