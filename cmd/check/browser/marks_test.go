//go:build browser

package browser

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
)

// unmarked are the classes that need no contrast of their own, with the reason. Leaves overlap in four tones, so that one is
// told from the next by light and not by contrast: that the plant is out from water and paper is a test of build/draw.
var unmarked = map[string]string{
	"grid": "a help to the eye; the axis has the figures", "good-band": "its edges are drawn", "gap": "the free ground behind the mark of an outcome", "hatch": "the pattern of a window, whose frame is drawn",
	"d-water": "its surface is drawn", "d-soil-rich": "told in words", "d-soil-some": "told in words", "d-sand": "told in words", "d-grain": "ornament", "d-grit": "ornament",
	"d-lead": "a halo of paper lies under it, and the name stands at its end", "d-wet": "the water's line in a jar, whose glass is drawn", "d-jar": "the plant in it is what is shown",
	"d-thread": "told in words beside the drawing", "d-black": "told in words beside the drawing", "d-midrib": "ornament of a mark", "d-inner": "the light middle of a dot, whose ring is drawn", "d-hill": "the lie of the substrate behind, whose edge at the glass is drawn",
}

// worded are classes that set how something looks rather than say what it is: layouts, kinds of text, colours handed down.
var worded = strings.Fields("chart inset broad narrow compact range tally tick lab la strong inband leaf clay slate " +
	"d-tank d-dry d-plate d-sprig d-blade d-green d-fresh d-deep d-brown d-red d-hair d-under d-thin d-thick d-w680 d-upright d-foot")

var (
	comments    = regexp.MustCompile(`(?s)/\*.*?\*/`)
	styledClass = regexp.MustCompile(`\.([a-z][a-z0-9-]*)`)
)

// drawnPages are the pages whose pictures are looked at, beside the gallery of every picture that the tests keep.
var drawnPages = []string{"/", "/plants/", "/offers/", "/space/", "/tanks/trough/", "/plants/heteranthera-zosterifolia/"}

// Every class of chart and drawing is looked at in light, dark and print, and each class that the style sheets name at
// least once.
func TestMarks(t *testing.T) {
	site := t.TempDir()
	if err := os.CopyFS(site, os.DirFS(made.demo)); err != nil {
		t.Fatal(err)
	}
	if err := gallery(site); err != nil {
		t.Fatal(err)
	}
	styled, err := styledClasses()
	if err != nil {
		t.Fatal(err)
	}
	b := start(t, site, fineFonts)
	sheets := having(demoPages(t), func(kind string) bool { return kind == "sheets/*" })
	var jobs []job
	var mu sync.Mutex
	var seen []string
	for _, path := range append(append([]string{"/" + galleryName + "/"}, drawnPages...), some(sheets, 12)...) {
		for _, l := range []look{{width: 1280}, {width: 1280, dark: true}, {width: 1280, print: true}} {
			jobs = append(jobs, job{path + " (" + l.String() + ")", func(ctx context.Context) ([]string, error) {
				faults, here, err := b.marksOf(ctx, path, l)
				mu.Lock()
				seen = append(seen, here...)
				mu.Unlock()
				return faults, err
			}})
		}
	}
	t.Cleanup(func() { // when all pages were looked at
		for _, fault := range neverDrawn(styled, seen) {
			t.Error(fault)
		}
	})
	b.all(t, jobs)
}

// marksOf looks at the pictures of one page; seen are their classes.
func (b *chromium) marksOf(ctx context.Context, path string, l look) (faults, seen []string, err error) {
	if err := chromedp.Do(ctx, l.set(), chromedp.Navigate(b.base+path)); err != nil {
		return nil, nil, err
	}
	tall, err := chromedp.Run(ctx, chromedp.Evaluate[int64](`document.documentElement.scrollHeight`))
	if err != nil {
		return nil, nil, err
	}
	// What lies beneath a point can be asked for only in the window.
	err = chromedp.Do(ctx, send(emulation.SetDeviceMetricsOverride, emulation.SetDeviceMetricsOverrideParams{Width: l.width, Height: tall, DeviceScaleFactor: 1}))
	if err != nil {
		return nil, nil, err
	}
	said, err := ask(ctx, "marks")
	if err != nil || len(said) == 0 {
		return nil, nil, err
	}
	return said[:len(said)-1], strings.Fields(said[len(said)-1]), nil
}

// styledClasses lists the classes that the styles of charts and drawings name.
func styledClasses() ([]string, error) {
	var out []string
	for _, name := range []string{"60-chart.css", "61-draw.css", "62-tank.css"} {
		css, err := os.ReadFile(filepath.Join("themes", "bench", "styles", name))
		if err != nil {
			return nil, err
		}
		for _, m := range styledClass.FindAllStringSubmatch(comments.ReplaceAllString(string(css), ""), -1) {
			out = append(out, m[1])
		}
	}
	slices.Sort(out)
	return slices.Compact(out), nil
}

// neverDrawn names the classes that no picture bears, and so nobody looked at.
func neverDrawn(styled, seen []string) []string {
	var out []string
	for _, class := range styled {
		if !slices.Contains(seen, class) && !slices.Contains(worded, class) && unmarked[class] == "" {
			out = append(out, "no picture bears ."+class)
		}
	}
	return out
}

// galleryName is the folder of the gallery in the copy of the site that the checks look at.
const galleryName = "gallery-of-marks"

// gallery sets the pictures that the tests of chart and draw keep on one page, each on what it is on in the site.
func gallery(site string) error {
	home, err := os.ReadFile(filepath.Join(site, "index.html"))
	if err != nil {
		return err
	}
	style := regexp.MustCompile(`href="(look/[^"]+\.css)"`).FindSubmatch(home)
	if style == nil {
		return fmt.Errorf("the first page names no style sheet")
	}
	var page strings.Builder
	fmt.Fprintf(&page, "<!doctype html><html lang=en><meta charset=utf-8><title>Gallery</title><link rel=stylesheet href=\"../%s\"><body class=page><main>", style[1])
	for _, set := range []struct{ pattern, class string }{
		{"build/chart/testdata/*.svg.html", "charted"}, {"build/draw/testdata/golden/plate-*.svg", "plate"}, {"build/draw/testdata/golden/sprig-*.svg", "label"}, {"build/draw/testdata/golden/[^ps]*.svg", "tank"},
	} {
		names, err := filepath.Glob(set.pattern)
		if err != nil || len(names) == 0 {
			return fmt.Errorf("%s: no picture (%w)", set.pattern, err)
		}
		for _, name := range names {
			svg, err := os.ReadFile(name)
			if err != nil {
				return err
			}
			fmt.Fprintf(&page, "<figure class=%s>%s</figure>\n", set.class, svg)
		}
	}
	dir := filepath.Join(site, galleryName)
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return err
	}
	return os.WriteFile(filepath.Join(dir, "index.html"), []byte(page.String()), 0o644)
}
