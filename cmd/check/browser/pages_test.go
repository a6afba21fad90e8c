//go:build browser

package browser

import (
	"context"
	"embed"
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
)

//go:embed scripts/*.js
var scripts embed.FS

// ask runs one of scripts/ in the page; each returns a list of faults, or a promise of one.
func ask(ctx context.Context, name string) ([]string, error) {
	text, err := scripts.ReadFile("scripts/" + name + ".js")
	if err != nil {
		return nil, err
	}
	return chromedp.Run(ctx, chromedp.Evaluate[[]string](string(text), chromedp.EvalAwaitPromise))
}

// askAll runs several scripts and joins their faults.
func askAll(ctx context.Context, names ...string) ([]string, error) {
	var out []string
	for _, n := range names {
		faults, err := ask(ctx, n)
		if err != nil {
			return out, fmt.Errorf("%s: %w", n, err)
		}
		out = append(out, faults...)
	}
	return out, nil
}

// do runs a script for what it changes in the page.
func do(ctx context.Context, name string) error {
	text, err := scripts.ReadFile("scripts/" + name + ".js")
	if err != nil {
		return err
	}
	return chromedp.Do(ctx, chromedp.Evaluate[chromedp.Void](string(text)))
}

// Pages of every kind in every look: the rules of accessibility, what does not fit, what moves or shifts, and what the
// browser complains of. On the narrow page the text is set wider, on the wide one larger.
func TestPages(t *testing.T) {
	rules, err := os.ReadFile(needNode(t, "axe-core", "axe.min.js"))
	if err != nil {
		t.Fatal(err)
	}
	b := start(t, made.demo, plainFonts)
	var jobs []job
	looked := some(demoPages(t), pagesPerKind)
	for _, p := range having(looked, func(kind string) bool { return kind == "sheets/*/label" }) {
		looked = append(looked, p+"#strip", p+"#card")
	}
	for _, p := range looked {
		for _, l := range looks {
			jobs = append(jobs, job{p + " (" + l.String() + ")", func(ctx context.Context) ([]string, error) { return b.visit(ctx, p, l, string(rules)) }})
		}
		jobs = append(jobs, job{p + " (text at 200 %)", func(ctx context.Context) ([]string, error) { return b.large(ctx, p) }})
	}
	for _, q := range questions {
		jobs = append(jobs, job{"a first visit: " + q.asks, func(ctx context.Context) ([]string, error) { return b.answers(ctx, q) }})
	}
	b.all(t, jobs)
}

// visit opens one page in one look and lists what is wrong with it.
func (b *chromium) visit(ctx context.Context, path string, l look, rules string) ([]string, error) {
	e, err := b.listen(ctx)
	if err != nil {
		return nil, err
	}
	if err := chromedp.Do(ctx, l.set(), chromedp.Navigate(b.base+path)); err != nil {
		return e.heard(), err
	}
	asked := []string{"fits", "motion", "charts"}
	if !strings.Contains(path, "#") { // going to a place in the page counts as a shift; the page itself is looked at without
		asked = append(asked, "shift")
	}
	faults, err := askAll(ctx, asked...)
	if err != nil {
		return append(e.heard(), faults...), err
	}
	faults = append(e.heard(), faults...)
	if l.forced { // the reader's colours, in the shape that the other looks have
		return faults, nil
	}
	if err := chromedp.Do(ctx, chromedp.Evaluate[chromedp.Void](rules)); err != nil {
		return faults, err
	}
	broken, err := ask(ctx, "axe")
	faults = append(faults, broken...)
	if err != nil || l.width != 320 {
		return faults, err
	}
	if err := do(ctx, "spacing"); err != nil {
		return faults, err
	}
	lost, err := ask(ctx, "fits")
	for _, f := range lost {
		faults = append(faults, "with wider text spacing: "+f)
	}
	return faults, err
}

// large opens a page for a reader whose browser shows text at twice the usual size (WCAG 2.2, 1.4.4).
func (b *chromium) large(ctx context.Context, path string) ([]string, error) {
	if err := chromedp.Do(ctx, look{width: 1280, large: true}.set(), chromedp.Navigate(b.base+path)); err != nil {
		return nil, err
	}
	return ask(ctx, "fits")
}
