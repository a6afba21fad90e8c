//go:build browser

package browser

import (
	"context"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// question is what somebody asks who opens the first page of a site for the first time, and the way to its answer: at most
// three clicks on what can be seen.
type question struct {
	asks     string
	clicks   []string // selectors, one click each; three at most
	types    string   // typed after the last click but one
	ends     string   // selects what is waited for when all clicks are done
	answered string   // a script that lists what is missing there
}

const inView = `const seen = e => { if (!e) return false; const r = e.getBoundingClientRect(); return r.width > 0 && r.bottom > 0 && r.top < innerHeight; };`

// questions are the three of a first visit.
var questions = []question{
	{"what can I have?", []string{".ready h3 a"}, "", ".lot:target", `(() => { ` + inView + `
  const lot = document.querySelector(":target"), out = [];
  if (!seen(lot) || !lot.matches(".lot")) return ["the label leads to no lot that can be seen"];
  if (!/\d/.test((lot.querySelector(".count") || lot).textContent)) out.push("the lot does not say how many");
  if (!lot.querySelector(".needs li")) out.push("the lot does not say what it needs");
  return out; })()`},
	{"how do I ask?", []string{".ready h3 a", ".jump a[href='#asking']"}, "", "#asking:target", `(() => { ` + inView + `
  const out = [];
  if (!seen(document.querySelector("#asking h2"))) out.push("the link does not lead to how asking works");
  const asks = [...document.querySelectorAll(".lot a.button")];
  if (!asks.length || asks.some(a => !a.href.startsWith("mailto:") || !a.textContent.includes(a.closest(".lot").querySelector(".no").textContent))) out.push("a lot has no link that asks for it by its number");
  return out; })()`},
	{"would it live in my water?", []string{"nav a[href$='suit/']", "#suit input", "#suit [type=submit]"}, "24 C", "#suit-list", `(() => { ` + inView + `
  const out = [];
  if (!seen(document.getElementById("h-answer"))) out.push("the answer is not in view");
  if (!document.querySelector("#suit-list li")) out.push("the answer names no plant");
  return out; })()`},
}

// answers asks a question on a phone's screen.
func (b *chromium) answers(ctx context.Context, q question) ([]string, error) {
	if len(q.clicks) > 3 {
		return []string{"more than three clicks"}, nil
	}
	if err := chromedp.Do(ctx, look{width: 360}.set(), chromedp.Navigate(b.base+"/")); err != nil {
		return nil, err
	}
	for i, at := range q.clicks {
		if err := chromedp.Do(ctx, chromedp.Click(chromedp.CSS(at))); err != nil {
			return nil, err
		}
		if q.types != "" && i == len(q.clicks)-2 {
			if err := chromedp.Do(ctx, chromedp.KeyEvent(q.types), chromedp.KeyEvent(kb.Tab)); err != nil {
				return nil, err
			}
		}
	}
	if err := chromedp.Do(ctx, chromedp.WaitReady(chromedp.CSS(q.ends))); err != nil {
		return nil, err
	}
	return chromedp.Run(ctx, chromedp.Evaluate[[]string](q.answered))
}
