//go:build browser

package browser

import (
	"context"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
)

// The lengths of a care sheet on a phone 360 px wide, before anything is unfolded.
const (
	mostWords  = 600
	mostTall   = 3400 // px
	firstTall  = 560  // px, to the end of the box with the first steps and the answer that it came
	shortestPx = 14
)

// sheetLengths is what the script measures.
type sheetLengths struct {
	Words, Tall, First, Drawings int
	Small                        string // a text under 14 px
}

const measureSheet = `(() => {
	const seen = e => e.checkVisibility({checkVisibilityCSS: true}) && e.getClientRects().length > 0;
	let words = 0, small = "";
	const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
	for (let n = walk.nextNode(); n; n = walk.nextNode()) {
		const e = n.parentElement;
		if (!n.data.trim() || !seen(e) || e.closest("svg, script, style, .skip")) continue;
		if (e.closest("details:not([open])") && !e.closest("summary")) continue;
		words += n.data.trim().split(/\s+/).length;
		if (parseFloat(getComputedStyle(e).fontSize) < 13.99 && !e.closest("sub")) small = n.data.trim().slice(0, 40);
	}
	const hour = document.querySelector(".hour");
	return JSON.stringify({Words: words, Tall: document.documentElement.scrollHeight, First: Math.round(hour.getBoundingClientRect().bottom + scrollY),
		Drawings: [...document.querySelectorAll("svg[role=img]:not(.qr)")].filter(seen).length, Small: small});
})()`

// Every sheet of the demonstration is short: 600 words and 3,400 px before unfolding; verdict, first steps and the answer end
// on the first screen. SHEET_SHOTS names a folder for pictures of them.
func TestSheetsAreShort(t *testing.T) {
	b := start(t, made.demo, fineFonts)
	var jobs []job
	for _, p := range having(demoPages(t), func(kind string) bool { return kind == "sheets/*" }) {
		jobs = append(jobs, job{p, func(ctx context.Context) ([]string, error) { return b.short(ctx, t, p) }})
	}
	b.all(t, jobs)
}

func (b *chromium) short(ctx context.Context, t *testing.T, path string) ([]string, error) {
	if err := chromedp.Do(ctx, look{width: 360}.set(), chromedp.Navigate(b.base+path)); err != nil {
		return nil, err
	}
	text, err := chromedp.Run(ctx, chromedp.Evaluate[string](measureSheet))
	if err != nil {
		return nil, err
	}
	var m sheetLengths
	if err := json.Unmarshal([]byte(text), &m); err != nil {
		return nil, err
	}
	t.Logf("%s %+v", path, m)
	var faults []string
	over := func(what string, got, most int) {
		if got > most {
			faults = append(faults, fmt.Sprintf("%d %s, %d at the most", got, what, most))
		}
	}
	over("words", m.Words, mostWords)
	over("px tall", m.Tall, mostTall)
	over("px to the end of the first box", m.First, firstTall)
	if m.Small != "" {
		faults = append(faults, fmt.Sprintf("%q is smaller than %d px", m.Small, shortestPx))
	}
	if dir := os.Getenv("SHEET_SHOTS"); dir != "" {
		shot, err := chromedp.Run(ctx, chromedp.FullScreenshot(100))
		if err != nil {
			return faults, err
		}
		return faults, os.WriteFile(filepath.Join(dir, strings.Trim(strings.ReplaceAll(path, "/", "-"), "-")+".png"), shot, 0o644)
	}
	return faults, nil
}
