//go:build browser

package browser

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
)

// A page with every fault that the scripts look for: each must be found, or the checks would pass by blindness.
const faultyPage = `<!doctype html><html lang="en"><meta name="viewport" content="width=device-width, initial-scale=1"><title>x</title><style>.cut{width:40px;overflow:hidden;white-space:nowrap}.move{transition:opacity 2s}</style>
<p style="width:900px">wide</p><p class="cut">much more than forty pixels of words</p><p class="move">moves</p>
<a href="javascript:alert(1)">x</a><iframe srcdoc="x"></iframe><img src="//elsewhere.example/a.png" alt="">
<img src="none.png" alt="" onerror="window.harmed=1;alert(2)"><script>console.log("said"); throw new Error("thrown")</script>
<svg class="chart" viewBox="0 0 100 20" width="100" height="20"><title>c</title><text x="1" y="15" font-size="12">one</text><text x="4" y="15" font-size="12">two</text><text x="90" y="15" font-size="12">three</text></svg>
<svg class="chart" viewBox="0 0 100 20" width="100" height="20" style="background:#fff"><rect class="pt" fill="#ddd" x="5" y="5" width="20" height="10"/><rect class="well" fill="#060" x="35" y="5" width="20" height="10"/><text class="tick" fill="#999" x="60" y="15" font-size="12">x</text></svg>
<button style="outline:none">b</button><div class="bag" style="width:10px;height:5px;font-size:8px"><p>words</p></div>`

func TestScriptsSeeFaults(t *testing.T) {
	dir := t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, "index.html"), []byte(faultyPage), 0o644); err != nil {
		t.Fatal(err)
	}
	b := browse(t, serveBare(t, dir), plainFonts)
	var said []string
	err := b.tab(func(ctx context.Context) error {
		e, err := b.listen(ctx)
		if err != nil {
			return err
		}
		if err := chromedp.Do(ctx, look{width: 320}.set(), chromedp.Navigate(b.base+"/")); err != nil {
			return err
		}
		said, err = askAll(ctx, "fits", "motion", "charts", "harm", "bag", "papersize", "marks")
		if err != nil {
			return err
		}
		err = chromedp.Do(ctx, chromedp.Evaluate[chromedp.Void](`document.querySelector("button").focus({focusVisible: true})`))
		if err != nil {
			return err
		}
		focus, err := ask(ctx, "focus")
		said = append(append(said, focus...), e.heard()...)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	all := strings.Join(said, "\n")
	for _, want := range []string{
		"scrolls sideways", "cuts its content off: p.cut", "moves for 2000 ms", `"one" crosses "two"`, `"three" leaves the picture`,
		"a script of the journal ran", "leads to javascript:", "made a iframe", "has onerror", "fetches //elsewhere.example",
		"chart rect .pt: 1.", "chart text .tick: 2.", "the label is", "the label cuts off", "pt: p", "no focus to be seen",
		"a dialog opened: 2", "script error", "writes to the console", "a request leaves the site",
	} {
		if !strings.Contains(all, want) {
			t.Errorf("nothing says %q", want)
		}
	}
	if strings.Contains(all, "rect .well:") {
		t.Error("a mark that stands out is found fault with")
	}
	if t.Failed() {
		t.Log(all)
	}
}
