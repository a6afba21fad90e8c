//go:build browser

package browser

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/accessibility"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// A page of each kind, light and dark, narrow and wide: all text is 7:1 against what lies behind it, and whatever is pressed
// and stands in no line of text is 24 px wide and high.
func TestReadingAndPressing(t *testing.T) {
	b := start(t, made.demo, plainFonts)
	var jobs []job
	for _, p := range some(demoPages(t), 1) {
		for _, l := range []look{{width: 360}, {width: 1280}, {width: 360, dark: true}} {
			jobs = append(jobs, job{p + " (" + l.String() + ")", func(ctx context.Context) ([]string, error) {
				if err := chromedp.Do(ctx, l.set(), chromedp.Navigate(b.base+p)); err != nil {
					return nil, err
				}
				return askAll(ctx, "targets", "legible")
			}})
		}
	}
	b.all(t, jobs)
}

// An address that names no field, what every object has, a field twice or nothing fills in nothing and asks nothing; one
// that somebody kept does.
func TestSuitAddresses(t *testing.T) {
	b := start(t, made.demo, plainFonts)
	var jobs []job
	for address, answers := range map[string]bool{
		"": false, "#": false, "#=": false, "#gh": false, "#gh=": false, "#constructor=1": false, "#__proto__=1": false, "#toString=8&gh=8%20dGH": false, "#gh=8%20dGH&__proto__=x": false,
		"#gh=8%20dGH&gh=9%20dGH": false, "#gh=8%20dGH&&kh=%": false, "#co2=constructor": false, "#gh=%3Cimg%20src%3Dx%20onerror%3Dalert(1)%3E": false,
		"#gh=8%20dGH": true, "#light=PAR%2040&co2=no": true,
	} {
		jobs = append(jobs, job{"suit/" + address, func(ctx context.Context) ([]string, error) {
			heard, err := b.listen(ctx)
			if err != nil {
				return nil, err
			}
			// By way of an empty page: from one address of the page to another would only be a step within it.
			if err := chromedp.Do(ctx, look{width: 360}.set(), chromedp.Navigate("about:blank"), chromedp.Navigate(b.base+"/suit/"+address)); err != nil {
				return nil, err
			}
			listed, err := chromedp.Run(ctx, chromedp.Evaluate[int](`document.querySelectorAll("#suit-list li").length`))
			faults := heard.heard()
			if (listed > 0) != answers {
				faults = append(faults, fmt.Sprintf("%d plants are listed", listed))
			}
			return faults, err
		}})
	}
	b.all(t, jobs)
}

// seriesSite is the demonstration with two photos of one place: the first red, the last blue.
func seriesSite(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
	journal := filepath.Join(dir, "content")
	if err := os.CopyFS(journal, os.DirFS("content")); err != nil {
		t.Fatal(err)
	}
	entry := filepath.Join(journal, "tanks", "trough", "2026-11-22.md")
	text, err := os.ReadFile(entry)
	if err != nil {
		t.Fatal(err)
	}
	photos := ""
	for name, paint := range map[string]color.RGBA{"corner-2026-03-01.jpg": {200, 30, 30, 255}, "corner-2026-11-22.jpg": {30, 30, 200, 255}} {
		file, err := os.Create(filepath.Join(journal, "photos", name))
		if err != nil {
			t.Fatal(err)
		}
		m := image.NewRGBA(image.Rect(0, 0, 800, 600))
		for i := 0; i < len(m.Pix); i += 4 {
			m.Pix[i], m.Pix[i+1], m.Pix[i+2], m.Pix[i+3] = paint.R, paint.G, paint.B, 255
		}
		if err := jpeg.Encode(file, m, nil); err != nil {
			t.Fatal(err)
		}
		if err := file.Close(); err != nil {
			t.Fatal(err)
		}
		photos += "\n  - {file: " + name + ", alt: The corner}"
	}
	if err := os.WriteFile(entry, []byte(strings.Replace(string(text), "\ntrims:", "\nphotos:"+photos+"\ntrims:", 1)), 0o600); err != nil {
		t.Fatal(err)
	}
	publish(t, journal, filepath.Join(dir, "www"))
	return filepath.Join(dir, "www")
}

// The handle between the first and the last photo of a place works by the keys, shows its focus, and says its name and its
// value; what it uncovers is what is painted. Without a script all photos stand side by side.
func TestHandleBetweenPhotos(t *testing.T) {
	b := start(t, seriesSite(t), plainFonts)
	b.all(t, []job{{"by the keys", b.handle}, {"without a script", b.stills}})
}

// handleSays is what the handle's value is and what it says of it.
const handleSays = `(() => { const i = document.querySelector(".pair input"); return [i.value, i.getAttribute("aria-valuetext") || ""]; })()`

// uncovered is the share of the picture, in hundredths, that is painted with the first photo: the red one.
func uncovered(ctx context.Context) (float64, error) {
	at, err := chromedp.Run(ctx, chromedp.Evaluate[[]float64](`(() => { const r = document.querySelector(".pair > div").getBoundingClientRect(); return [r.x + scrollX + 1, r.y + scrollY + r.height / 2, r.width - 2]; })()`))
	if err != nil {
		return 0, err
	}
	beyond := true
	shot, err := chromedp.Call(ctx, page.CaptureScreenshot, page.CaptureScreenshotParams{Format: page.CaptureScreenshotFormatPng, CaptureBeyondViewport: &beyond,
		Clip: &page.Viewport{X: at[0], Y: at[1], Width: at[2], Height: 1, Scale: 1}})
	if err != nil {
		return 0, err
	}
	m, err := png.Decode(bytes.NewReader(shot.Data))
	if err != nil {
		return 0, err
	}
	red, all := 0.0, 0.0
	for x := m.Bounds().Min.X; x < m.Bounds().Max.X; x++ {
		r, _, bl, _ := m.At(x, m.Bounds().Min.Y).RGBA()
		all++
		if r > 2*bl {
			red++
		}
	}
	return 100 * red / all, nil
}

func (b *chromium) handle(ctx context.Context) ([]string, error) {
	err := chromedp.Do(ctx, look{width: 360}.set(), chromedp.Navigate(b.base+"/tanks/trough/"), chromedp.Focus(chromedp.CSS(".pair input")),
		chromedp.Evaluate[chromedp.Void](`Promise.all([...document.querySelectorAll(".pair img")].map(i => i.decode()))`, chromedp.EvalAwaitPromise))
	if err != nil {
		return nil, err
	}
	faults, err := chromedp.Run(ctx, chromedp.Evaluate[[]string](`(() => {
  const e = document.activeElement, s = getComputedStyle(e);
  return e.matches(".pair input:focus-visible") && s.outlineStyle !== "none" && parseFloat(s.outlineWidth) >= 2 ? [] : ["no focus to be seen on the handle"];
})()`))
	if err != nil {
		return faults, err
	}
	value := "50"
	for _, press := range []struct{ key, name string }{{kb.ArrowRight, "right"}, {kb.ArrowLeft, "left"}, {kb.ArrowUp, "up"}, {kb.ArrowDown, "down"}, {kb.PageUp, "page up"}, {kb.PageDown, "page down"}, {kb.End, "end"}, {kb.Home, "home"}} {
		if err := chromedp.Do(ctx, chromedp.KeyEvent(press.key)); err != nil {
			return faults, err
		}
		now, err := chromedp.Run(ctx, chromedp.Evaluate[[]string](handleSays))
		if err != nil {
			return faults, err
		}
		red, err := uncovered(ctx)
		if err != nil {
			return faults, err
		}
		place, err := strconv.ParseFloat(now[0], 64)
		if err != nil {
			return faults, err
		}
		want := map[string]string{"right": "52", "left": "50", "up": "52", "down": "50", "page down": "50", "end": "100", "home": "0"}[press.name]
		switch {
		case now[0] == value, want != "" && now[0] != want:
			faults = append(faults, fmt.Sprintf("%s moves the handle from %s to %s", press.name, value, now[0]))
		case math.Abs(red-place) > 9: // half of the handle's own width at either end
			faults = append(faults, fmt.Sprintf("at %s the first photo is %.0f %% of the picture", now[0], red))
		case !strings.HasPrefix(now[1], now[0]+" % 1 March 2026") || !strings.Contains(now[1], "22 November 2026"):
			faults = append(faults, fmt.Sprintf("at %s it says %q", now[0], now[1]))
		}
		value = now[0]
	}
	tree, err := chromedp.Call(ctx, accessibility.GetFullAXTree, accessibility.GetFullAXTreeParams{})
	if err != nil {
		return faults, err
	}
	named := false
	for _, n := range tree.Nodes {
		if n.Role != nil && strings.Contains(string(n.Role.Value), "slider") && n.Name != nil && strings.Contains(string(n.Name.Value), "Before and after: corner") {
			named = true
		}
	}
	if !named {
		faults = append(faults, "a screen reader gets no slider with a name")
	}
	return faults, nil
}

func (b *chromium) stills(ctx context.Context) ([]string, error) {
	scripts := func(off bool) chromedp.Action[chromedp.Void] {
		return send(emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: off})
	}
	if err := chromedp.Do(ctx, look{width: 360}.set(), scripts(true), chromedp.Navigate(b.base+"/tanks/trough/")); err != nil {
		return nil, err
	}
	faults, err := chromedp.Run(ctx, chromedp.Evaluate[[]string](`(() => {
  const out = [], seen = e => e && e.getClientRects().length && getComputedStyle(e).visibility !== "hidden";
  if (seen(document.querySelector(".pair"))) out.push("a handle that nothing moves");
  const shots = [...document.querySelectorAll(".views img")];
  if (shots.length !== 2 || !shots.every(seen)) out.push(shots.length + " photos side by side");
  if (seen(document.querySelector(".slide"))) out.push("a slider of months that nothing moves");
  const stills = [...document.querySelectorAll(".stills figure")];
  if (stills.length !== 4 || !stills.every(seen)) out.push(stills.length + " stills of the tank");
  return out;
})()`))
	return faults, errors.Join(err, chromedp.Do(ctx, scripts(false)))
}
