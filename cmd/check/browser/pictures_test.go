//go:build browser

package browser

import (
	"context"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
)

// Pictures of the pages are compared with stored ones, so that a change of the looks is seen by whoever makes it. They
// are taken with pinned fonts (fonts.go), and compared in blocks of 8 CSS px (compare.go), so that another version of
// the browser, which draws the edges of letters a little otherwise, does not count. After a change that is meant:
//
//	go test -tags browser ./cmd/check/browser -run Pictures -update
var (
	pictureDir    = filepath.Join("testdata", "pictures")
	pictureWidths = []int64{360, 768, 1280}
)

// pictureHeight is how much of a page is kept, in CSS px: its first screens.
const pictureHeight = 1600

// picturePages are the twelve pages of which pictures are kept, by the names of their files. * is the first by path.
var picturePages = []struct{ name, kind string }{
	{"home", ""}, {"offers", "offers"}, {"suit", "suit"}, {"plants", "plants"}, {"plant", "plants/*"}, {"tank", "tanks/*"},
	{"entry", "tanks/*/*"}, {"diary", "diary"}, {"space", "space"}, {"pass-along", "pass-along"}, {"sheet", "sheets/*"}, {"label", "sheets/*/label"},
}

// shot is one picture: where it is stored and how it is taken. Height is in CSS px, scale in stored px per CSS px.
type shot struct {
	file, path string
	look       look
	height     int64
	scale      float64
	colours    int
}

// update makes the stored pictures anew.
var update = flag.Bool("update", false, "make the stored pictures anew")

// Every kind of page at three widths in two schemes, at half its size.
func TestPictures(t *testing.T) {
	all := demoPages(t)
	var shots []shot
	for _, p := range picturePages {
		of := having(all, func(kind string) bool { return kind == p.kind })
		if len(of) == 0 {
			t.Fatalf("the demonstration has no page of the kind %q", p.kind)
		}
		for _, w := range pictureWidths {
			for _, scheme := range []string{"light", "dark"} {
				file := filepath.Join(pictureDir, "pages", fmt.Sprintf("%s-%d-%s.png", p.name, w, scheme))
				shots = append(shots, shot{file, of[0], look{width: w, dark: scheme == "dark"}, pictureHeight, 0.5, 16})
			}
		}
	}
	shoot(t, shots)
}

// The two pictures of the README: the first page, and the sheet of a parcel to Ohio.
func TestReadmePictures(t *testing.T) {
	code, err := parcelTo("US-OH")
	if err != nil {
		t.Fatal(err)
	}
	shoot(t, []shot{
		{filepath.Join(pictureDir, "home.png"), "/", look{width: 1280}, 1270, 1, 64},
		{filepath.Join(pictureDir, "sheet.png"), "/sheets/" + code + "/", look{width: 500}, 1270, 1, 64},
	})
}

// parcelTo is the code of the demonstration's first parcel to a region.
func parcelTo(region string) (string, error) {
	files, err := filepath.Glob(filepath.Join("content", "sent", "*.md"))
	if err != nil {
		return "", err
	}
	code := regexp.MustCompile(`(?m)^code: (\w+)$`)
	for _, f := range files {
		text, err := os.ReadFile(f)
		if err != nil {
			return "", err
		}
		if m := code.FindSubmatch(text); m != nil && strings.Contains(string(text), "\nregion: "+region+"\n") {
			return string(m[1]), nil
		}
	}
	return "", fmt.Errorf("no parcel to %s has a code", region)
}

// shoot takes pictures, and stores them or compares them with what is stored.
func shoot(t *testing.T, shots []shot) {
	b := start(t, made.demo, fineFonts)
	var jobs []job
	for _, s := range shots {
		jobs = append(jobs, job{filepath.Base(s.file), func(ctx context.Context) ([]string, error) {
			taken, err := b.take(ctx, s)
			if err != nil {
				return nil, err
			}
			if *update {
				return nil, store(s.file, taken, s.colours)
			}
			return compareStored(s.file, taken)
		}})
	}
	b.all(t, jobs)
}

// take takes one picture, as a PNG.
func (b *chromium) take(ctx context.Context, s shot) ([]byte, error) {
	if err := chromedp.Do(ctx, s.look.set(), chromedp.Navigate(b.base+s.path)); err != nil {
		return nil, err
	}
	whole, err := chromedp.Run(ctx, chromedp.Evaluate[int64](`document.documentElement.scrollHeight`))
	if err != nil {
		return nil, err
	}
	beyond := true
	shot, err := chromedp.Call(ctx, page.CaptureScreenshot, page.CaptureScreenshotParams{
		Format: page.CaptureScreenshotFormatPng, CaptureBeyondViewport: &beyond,
		Clip: &page.Viewport{Width: float64(s.look.width), Height: float64(min(whole, s.height)), Scale: s.scale},
	})
	return shot.Data, err
}
