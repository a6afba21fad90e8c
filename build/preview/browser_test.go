package preview

import (
	"context"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"

	"slipleaf/themes"
)

// tab opens a tab of a new browser; a test on a machine without one is left out.
func tab(t *testing.T) context.Context {
	path, err := exec.LookPath("chromium")
	if err != nil || testing.Short() {
		t.Skip("no browser, or -short")
	}
	options := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath(path), chromedp.NoSandbox, chromedp.DisableGPU)
	alloc, cancel := chromedp.NewExecAllocator(t.Context(), options...)
	t.Cleanup(cancel)
	ctx, cancel := chromedp.NewContext(alloc)
	t.Cleanup(cancel)
	if err := chromedp.Do(ctx); err != nil {
		t.Fatal(err)
	}
	ctx, cancel = context.WithTimeout(ctx, 60*time.Second)
	t.Cleanup(cancel)
	return ctx
}

// holds waits until a condition holds in the page, looking once for each frame that the browser draws.
func holds(t *testing.T, ctx context.Context, condition string) {
	t.Helper()
	script := fmt.Sprintf("new Promise(done => requestAnimationFrame(() => done(Boolean(%s))))", condition)
	for ctx.Err() == nil {
		ok, err := chromedp.Run(ctx, chromedp.Evaluate[bool](script, chromedp.EvalAwaitPromise))
		if ok && err == nil { // an error: the page was just being loaded
			return
		}
	}
	t.Fatalf("it never held: %s", condition)
}

// What a reader of the page sees of saves: styles change in place; a reload leaves the scroll and what was open; a fault
// lies over the page until it is corrected; and the policy of the page is kept all the while.
func TestAnOpenPageKeepsUpWithTheSaves(t *testing.T) {
	ctx := tab(t)
	theme, files := t.TempDir(), small()
	save(t, theme, "styles/90-own.css", "h1 { color: rgb(1, 2, 3) }")
	long := strings.Repeat("Words to scroll through.\n\n", 200)
	about := "---\ntitle: Old title\n---\n" + long
	dir := onDisk(t, with(files, "pages/about.md", about))
	written, err := fs.ReadFile(themes.Bench(), "templates/written.html")
	if err != nil {
		t.Fatal(err)
	}
	save(t, theme, "templates/written.html", strings.Replace(string(written), `{{template "foot"`, `<details><summary>One</summary>x</details><details><summary>Two</summary>y</details>{{template "foot"`, 1))
	s := show(t, dir, func(o *Options) { o.Theme, o.Site.Theme = theme, os.DirFS(theme) })
	faults, streams := make(chan string, 100), make(chan string, 100)
	err = chromedp.Listen(ctx, func(e any) {
		switch e := e.(type) {
		case *log.EventEntryAdded:
			faults <- e.Entry.Text
		case *network.EventResponseReceived:
			if strings.Contains(e.Response.URL, "/-/events") {
				streams <- e.Response.URL
			}
		case *runtime.EventExceptionThrown:
			faults <- e.ExceptionDetails.Text
		}
	})
	if err != nil {
		t.Fatal(err)
	}
	if err := chromedp.Do(ctx, chromedp.Navigate(s.addr+"/about/")); err != nil {
		t.Fatal(err)
	}
	holds(t, ctx, `document.readyState === "complete" && getComputedStyle(document.querySelector("h1")).color === "rgb(1, 2, 3)"`)
	holds(t, ctx, `(() => { document.querySelectorAll("details")[1].open = true; window.here = true; scrollTo({ top: 900, behavior: "instant" }); return scrollY === 900 })()`)
	<-streams // a save before the stream is open would load the page again instead

	save(t, theme, "styles/90-own.css", "h1 { color: rgb(3, 2, 1) }")
	holds(t, ctx, `window.here && getComputedStyle(document.querySelector("h1")).color === "rgb(3, 2, 1)" && scrollY === 900`)

	save(t, dir, "pages/about.md", strings.Replace(about, "Old title", "New title", 1))
	holds(t, ctx, `!window.here && document.querySelector("h1").textContent.includes("New title") && scrollY === 900`)
	holds(t, ctx, `[...document.querySelectorAll("details")].map((d) => d.open).join() === "false,true"`)
	<-streams

	save(t, dir, "pages/about.md", "---\ntitle: [\n---\n")
	holds(t, ctx, `document.getElementById("preview-complaints")?.textContent.includes("pages/about.md:") && document.querySelector("h1").textContent.includes("New title")`)
	holds(t, ctx, `getComputedStyle(document.getElementById("preview-complaints")).position === "fixed"`)

	save(t, dir, "pages/about.md", strings.Replace(about, "Old title", "New title", 1))
	holds(t, ctx, `!document.getElementById("preview-complaints") && scrollY === 900`)
	select {
	case f := <-faults:
		t.Error("the browser complains: ", f)
	default:
	}
}
