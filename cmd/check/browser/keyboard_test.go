//go:build browser

package browser

import (
	"context"
	"fmt"
	"strconv"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// By the keyboard alone each control of a page is reached once, in the order of the page, with a focus that shows; then
// filter and form are used as somebody without a mouse does.
func TestKeyboard(t *testing.T) {
	b := start(t, made.demo, plainFonts)
	var jobs []job
	label := having(demoPages(t), func(kind string) bool { return kind == "sheets/*/label" })[0]
	for _, p := range []string{"/", "/offers/", "/suit/", "/search/", label} {
		for _, width := range []int64{360, 1280} {
			jobs = append(jobs, job{fmt.Sprintf("%s by Tab at %d px", p, width), func(ctx context.Context) ([]string, error) { return b.walk(ctx, p, width) }})
		}
	}
	b.all(t, append(jobs, job{"the filter of /offers/", b.useFilter}, job{"the form of /suit/", b.useForm}))
}

// walk presses Tab until the focus leaves the page.
func (b *chromium) walk(ctx context.Context, path string, width int64) ([]string, error) {
	if err := chromedp.Do(ctx, look{width: width}.set(), chromedp.Navigate(b.base+path)); err != nil {
		return nil, err
	}
	stops, err := ask(ctx, "stops")
	if err != nil {
		return nil, err
	}
	var faults []string
	seen, last := map[int]bool{}, -1
	for range 2*len(stops) + 5 {
		if err := chromedp.Do(ctx, chromedp.KeyEvent(kb.Tab)); err != nil {
			return faults, err
		}
		at, err := ask(ctx, "focus")
		if err != nil {
			return faults, err
		}
		n, err := strconv.Atoi(at[0])
		if n == last && n >= 0 { // a field of a date has stops of its own: day, month, year
			continue
		}
		if err != nil || n == -1 || seen[n] {
			break
		}
		faults = append(faults, at[1:]...)
		if n < last {
			faults = append(faults, "the focus goes back in the page to "+stops[max(n, 0)])
		}
		seen[n], last = true, n
	}
	for i, s := range stops {
		if !seen[i] {
			faults = append(faults, "Tab does not reach "+s)
		}
	}
	return faults, nil
}

// useFilter picks a choice with the keys: the list must shrink, and a live region must say so.
func (b *chromium) useFilter(ctx context.Context) ([]string, error) {
	const count = `[...document.querySelectorAll("[data-fit]")].filter(e => e.getClientRects().length).length`
	err := chromedp.Do(ctx, look{width: 1280}.set(), chromedp.Navigate(b.base+"/offers/"))
	if err != nil {
		return nil, err
	}
	all, err := chromedp.Run(ctx, chromedp.Evaluate[int](count))
	if err != nil {
		return nil, err
	}
	filters, err := chromedp.Run(ctx, chromedp.Evaluate[[]string](`[...document.querySelectorAll("form.filter select")].map(s => s.id)`))
	if err != nil || all == 0 || len(filters) == 0 {
		return []string{fmt.Sprintf("%d lots and %d filters on the page", all, len(filters))}, err
	}
	var faults []string
	shrank := false
	for _, id := range filters {
		if err := chromedp.Do(ctx, chromedp.Focus(chromedp.ID(id)), chromedp.KeyEvent(kb.ArrowDown)); err != nil {
			return faults, err
		}
		left, err := chromedp.Run(ctx, chromedp.Evaluate[int](count))
		if err != nil {
			return faults, err
		}
		said, err := chromedp.Run(ctx, chromedp.Evaluate[string](`document.querySelector("form.filter output").textContent`))
		if err != nil {
			return faults, err
		}
		if left > all || said == "" {
			faults = append(faults, fmt.Sprintf("%s: %d of %d lots left, and %q is said", id, left, all, said))
		}
		shrank = shrank || left < all
		if err := chromedp.Do(ctx, chromedp.KeyEvent(kb.ArrowUp)); err != nil {
			return faults, err
		}
		if back, err := chromedp.Run(ctx, chromedp.Evaluate[int](count)); err != nil || back != all {
			faults = append(faults, fmt.Sprintf("%s: %d of %d lots after the choice is taken back", id, back, all))
		}
	}
	if !shrank {
		faults = append(faults, "no filter makes the list shorter")
	}
	return faults, nil
}

// useForm types a tank's water and sends the form with Enter: an answer must appear in a live region, and clearing
// must take it away.
func (b *chromium) useForm(ctx context.Context) ([]string, error) {
	err := chromedp.Do(ctx, look{width: 360}.set(), chromedp.Navigate(b.base+"/suit/"),
		chromedp.Focus(chromedp.CSS("#suit input")), chromedp.KeyEvent("24 C"), chromedp.KeyEvent(kb.Enter))
	if err != nil {
		return nil, err
	}
	const state = `(() => {
  const said = document.getElementById("suit-said"), live = said && said.closest("[aria-live], output, [role=status]");
  if (!said || !live) return ["the answer is in no live region"];
  if (!said.textContent.trim() || !said.getClientRects().length) return ["Enter gives no answer"];
  return document.querySelectorAll("#suit-list li").length ? [] : ["the answer lists no plant"];
})()`
	faults, err := chromedp.Run(ctx, chromedp.Evaluate[[]string](state))
	if err != nil {
		return faults, err
	}
	bad, err := chromedp.Run(ctx, chromedp.Evaluate[[]string](`(() => {
  const f = document.querySelector("#suit input"); f.value = "warm"; f.form.requestSubmit();
  const note = document.getElementById(f.getAttribute("aria-describedby"));
  return f.getAttribute("aria-invalid") === "true" && note && note.textContent.trim() ? [] : ["a wrong figure is not marked on its field, with words"];
})()`))
	return append(faults, bad...), err
}
