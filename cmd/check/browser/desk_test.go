//go:build browser

package browser

import (
	"bufio"
	"bytes"
	"context"
	"errors"
	"fmt"
	"image"
	"image/jpeg"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"

	"slipleaf/build/preview"
)

// deskOf serves the desk of a copy of the demonstration, in a language, and opens it in the browser. more are further
// files of the journal, by path.
func deskOf(t *testing.T, b *chromium, language string, more ...map[string]string) (desk *chromium, journal string) {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "journal")
	if err := os.CopyFS(dir, os.DirFS("content")); err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(dir, "journal.yaml")
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(file, []byte(strings.Replace(string(text), "language: en", "language: "+language, 1)), 0o644); err != nil {
		t.Fatal(err)
	}
	for _, files := range more {
		for name, text := range files {
			if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
				t.Fatal(err)
			}
		}
	}
	return deskAt(t, b, dir), dir
}

// deskAt serves the desk of a folder, where there need not be a journal yet, and opens it in the browser.
func deskAt(t *testing.T, b *chromium, dir string) *chromium {
	t.Helper()
	args := []string{"desk", dir, "--port", "0", "--no-open", "--on", demoDay, "--to", filepath.Join(t.TempDir(), "www")}
	if addrs, err := preview.PrivateAddrs(); err == nil && len(addrs) > 0 {
		args = append(args, "--phone")
	}
	program := exec.Command(made.program, args...)
	program.Dir = t.TempDir()
	if !filepath.IsAbs(made.program) {
		t.Fatal("the program has no whole path")
	}
	out, err := program.StdoutPipe()
	if err == nil {
		err = program.Start()
	}
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = program.Process.Signal(os.Interrupt); _ = program.Wait() })
	lines := bufio.NewScanner(out)
	if !lines.Scan() {
		t.Fatal("the desk does not start")
	}
	address := regexp.MustCompile(`http://\S*token=[^;\s]*`).FindString(lines.Text())
	u, err := url.Parse(address)
	if err != nil || address == "" {
		t.Fatal(lines.Text(), err)
	}
	d := &chromium{b.root, "http://" + u.Host, u.Host}
	if err := d.tab(func(ctx context.Context) error { return chromedp.Do(ctx, chromedp.Navigate(address)) }); err != nil {
		t.Fatal(err)
	}
	return d
}

// deskLooks are those of a phone and a screen, light and dark.
var deskLooks = []look{{width: 320}, {width: 360}, {width: 360, dark: true}, {width: 1280}, {width: 1280, dark: true}, {width: 360, forced: true, reducedMotion: true}}

// The desk's pages in every look: the rules of accessibility, what does not fit, and the keyboard.
func TestDeskPages(t *testing.T) {
	rules, err := os.ReadFile(needNode(t, "axe-core", "axe.min.js"))
	if err != nil {
		t.Fatal(err)
	}
	b := start(t, made.demo, plainFonts)
	for _, language := range []string{"en", "de"} {
		d, dir := deskOf(t, b, language)
		var jobs []job
		for _, p := range []string{"/desk/", "/desk/tank/trough/", "/desk/people/", "/desk/labels/", "/desk/labels/?paper=a4&lot.HZ-1101=2", "/desk/publish/"} {
			for _, l := range deskLooks {
				jobs = append(jobs, job{language + " " + p + " (" + l.String() + ")", func(ctx context.Context) ([]string, error) {
					faults, err := d.visit(ctx, p, l, string(rules))
					d.shoot(t, ctx, language+p+l.String())
					return faults, err
				}})
			}
			jobs = append(jobs, job{language + " " + p + " by Tab", func(ctx context.Context) ([]string, error) { return d.walk(ctx, p, 360) }})
		}
		t.Run(language, func(t *testing.T) { d.all(t, jobs) })
		jobs = nil
		wrong := filepath.Join(dir, "tanks", "nano", demoDay+".md") // a key, a unit, a link, and HTML
		if err := os.WriteFile(wrong, []byte("---\ntitle: Odd\nfoo: 3\nparameters: {gh: 5 km}\n---\nSee [there](tank:nowhere) and <b>bold</b>.\n"), 0o644); err != nil {
			t.Fatal(err)
		}
		err := d.tab(func(ctx context.Context) (err error) {
			for err = d.shows(ctx, "/desk/", demoDay+".md:3:1"); err != nil && ctx.Err() == nil; {
				err = d.shows(ctx, "/desk/", demoDay+".md:3:1")
			}
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
		for _, l := range append(slices.Clone(deskLooks), look{width: 800, print: true}) {
			jobs = append(jobs, job{language + " troubles (" + l.String() + ")", func(ctx context.Context) ([]string, error) {
				faults, err := d.visit(ctx, "/desk/", l, string(rules))
				d.shoot(t, ctx, language+"troubles"+l.String())
				return faults, err
			}})
		}
		t.Run(language+", with faults", func(t *testing.T) { d.all(t, jobs) })
	}
	// The page that begins a journal speaks the browser's language.
	d := deskAt(t, b, filepath.Join(t.TempDir(), "mine"))
	var jobs []job
	for _, l := range deskLooks {
		jobs = append(jobs, job{"begin (" + l.String() + ")", func(ctx context.Context) ([]string, error) {
			faults, err := d.visit(ctx, "/desk/", l, string(rules))
			d.shoot(t, ctx, "begin"+l.String())
			return faults, err
		}})
	}
	jobs = append(jobs, job{"begin by Tab", func(ctx context.Context) ([]string, error) { return d.walk(ctx, "/desk/", 360) }})
	t.Run("begin", func(t *testing.T) { d.all(t, jobs) })
}

// A phone is paired as a person does it: the code is shown on the computer, opened on the phone, and its button tapped; then the
// desk opens on the phone until it is forgotten. The pages of that fit a phone and are accessible.
func TestAPhoneIsPaired(t *testing.T) {
	t.Parallel()
	if addrs, err := preview.PrivateAddrs(); err != nil || len(addrs) == 0 {
		lacking(t, fmt.Errorf("an address in a network at home (%w)", err))
	}
	rules, err := os.ReadFile(needNode(t, "axe-core", "axe.min.js"))
	if err != nil {
		t.Fatal(err)
	}
	home, away := start(t, made.demo, plainFonts), start(t, made.demo, plainFonts)
	atHome, onThePhone := &tabs{b: home}, &tabs{b: away}
	for _, language := range []string{"en", "de"} {
		d, _ := deskOf(t, home, language)
		text := func(ctx context.Context, css string) (string, error) {
			return chromedp.Run(ctx, chromedp.Evaluate[string](`document.querySelector("`+css+`").textContent`))
		}
		looked := func(b *chromium, in *tabs, path string) {
			t.Helper()
			for _, l := range deskLooks {
				err := in.lend(func(ctx context.Context) error {
					faults, err := b.visit(ctx, path, l, string(rules))
					b.shoot(t, ctx, language+path[:min(len(path), 14)]+l.String())
					for _, f := range faults { // a device that isn't paired gets no icon, and no browser takes that header without TLS
						if !strings.Contains(f, "favicon.ico") && !strings.Contains(f, "Cross-Origin-Opener-Policy header has been ignored") {
							t.Errorf("%s %s (%s): %s", language, path, l, f)
						}
					}
					return err
				})
				if err != nil {
					t.Error(language, path, l, err)
				}
			}
		}
		show := func(ctx context.Context, css string) error {
			return chromedp.Do(ctx, look{width: 360}.set(), chromedp.Navigate(d.base+"/desk/phone/"), chromedp.Click(chromedp.CSS("main form .main")), chromedp.WaitVisible(chromedp.CSS(css)))
		}
		looked(d, atHome, "/desk/phone/")
		var address string
		if err := d.tab(func(ctx context.Context) error {
			err := show(ctx, ".qr-code svg")
			if err == nil {
				d.shoot(t, ctx, language+"-code")
				address, err = text(ctx, ".qr-code ~ p code")
			}
			return err
		}); err != nil {
			t.Fatal(err)
		}
		u, err := url.Parse(address)
		if err != nil {
			t.Fatal(address, err)
		}
		phone := &chromium{away.root, "http://" + u.Host, u.Host}
		looked(phone, onThePhone, u.RequestURI())
		if err := phone.tab(func(ctx context.Context) error {
			return chromedp.Do(ctx, look{width: 360}.set(), chromedp.Navigate(address), chromedp.Click(chromedp.CSS("button")), chromedp.WaitVisible(chromedp.CSS(`a[href="/desk/tank/trough/"]`)))
		}); err != nil {
			t.Fatal(language, ": the phone is not paired: ", err)
		}
		if err := d.tab(func(ctx context.Context) error {
			err := chromedp.Do(ctx, look{width: 360}.set(), chromedp.Navigate(d.base+"/desk/phone/"), chromedp.WaitVisible(chromedp.CSS("[name=device]")))
			d.shoot(t, ctx, language+"-paired")
			return errors.Join(err, chromedp.Do(ctx, chromedp.Click(chromedp.CSS("[name=device]")), chromedp.WaitNotPresent(chromedp.CSS("[name=device]"))))
		}); err != nil {
			t.Fatal(language, ": the phone is not forgotten: ", err)
		}
		if err := phone.tab(func(ctx context.Context) error {
			return phone.shows(ctx, "/desk/tank/trough/", map[string]string{"en": "This device is not paired", "de": "Dieses Gerät ist nicht gekoppelt"}[language])
		}); err != nil {
			t.Error(err)
		}
	}
}

// shoot keeps a picture of the page where SHOTS names a folder.
func (b *chromium) shoot(t *testing.T, ctx context.Context, name string) {
	dir := os.Getenv("SHOTS")
	if dir == "" {
		return
	}
	data, err := chromedp.Run(ctx, chromedp.FullScreenshot(100))
	if err == nil {
		err = os.WriteFile(filepath.Join(dir, strings.NewReplacer("/", "-", " ", "", ",", "-").Replace(name)+".png"), data, 0o644)
	}
	if err != nil {
		t.Error(err)
	}
}

// camera writes a picture of twelve megapixels, as a phone takes it.
func camera(file string) error {
	seen := image.NewYCbCr(image.Rect(0, 0, 4000, 3000), image.YCbCrSubsampleRatio420)
	for i := range seen.Y {
		seen.Y[i] = uint8(i % 4000 / 16)
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, seen, nil); err != nil {
		return err
	}
	return os.WriteFile(file, b.Bytes(), 0o644)
}

// hand counts what a grower does at a phone.
type hand struct {
	ctx       context.Context
	tap, keys int
	err       error
}

func (h *hand) taps(css string) {
	h.tap++
	if h.err == nil {
		if h.err = chromedp.Do(h.ctx, chromedp.Tap(chromedp.CSS(css))); h.err != nil {
			h.err = fmt.Errorf("%s: %w", css, h.err)
		}
	}
}

func (h *hand) types(css, text string) {
	h.taps(css)
	h.keys += len([]rune(text))
	if h.err == nil {
		if h.err = chromedp.Do(h.ctx, chromedp.KeyEvent(text)); h.err != nil {
			h.err = fmt.Errorf("%s: typing: %w", css, h.err)
		}
	}
}

// The work of a week at one tank: twelve plants looked at, eight of them with a new count, three cut and offered, three
// readings, a photo and a sentence. The goal of at most a hundred taps and keys is our own.
func TestAWeeksWorkInAHundredTaps(t *testing.T) {
	b := start(t, made.demo, plainFonts)
	d, dir := deskOf(t, b, "en", map[string]string{"tanks/trough/2026-11-23-more.md": "---\ntitle: Three more\nplantings:\n" +
		"  - {plant: vallisneria-spiralis, plantlets: 6}\n  - {plant: rotala-rotundifolia, stems: 8}\n  - {plant: ludwigia-repens, stems: 8}\n---\n"})
	var h *hand
	var week, photo time.Duration
	var saves []time.Duration
	err := d.tab(func(ctx context.Context) error {
		if err := chromedp.Do(ctx, chromedp.EmulateViewport(390, 844, chromedp.EmulateMobile, chromedp.EmulateTouch), chromedp.Navigate(d.base+"/desk/")); err != nil {
			return err
		}
		h = &hand{ctx: ctx}
		h.taps(`a[href="/desk/tank/trough/"]`)
		if h.err == nil {
			h.err = chromedp.Do(ctx, chromedp.WaitVisible(chromedp.CSS("form.stepped")))
		}
		if h.err != nil {
			return fmt.Errorf("the form does not open: %w", h.err)
		}
		type row struct{ ID, Last, Measure string }
		rows, err := chromedp.Run(ctx, chromedp.Evaluate[[]row](`[...document.querySelectorAll("fieldset.pl")].map(f => ({ID: f.id.slice(6), Last: f.querySelector("[name$='.last']").value, Measure: f.querySelector("[name$='.length']") ? "stems" : ""}))`))
		if err != nil {
			return err
		}
		if len(rows) != 12 {
			return fmt.Errorf("%d plants in the tank: the week's work is of twelve", len(rows))
		}
		cut := 0
		for i, r := range rows {
			if i%3 == 0 { // four of twelve
				h.taps("#plant-" + r.ID + " label.pick:has([name$='.same'])")
				continue
			}
			h.types(`[name="`+r.ID+`.count"]`, "25")
			if cut < 3 {
				cut++
				h.taps("#plant-" + r.ID + " summary")
				h.types(`[name="`+r.ID+`.trim"]`, "5")
				h.taps("#plant-" + r.ID + " .check input")
				if r.Measure == "" {
					h.types(`[name="`+r.ID+`.lot-count"]`, "5")
				}
			}
		}
		h.types(`[name="p.temperature"]`, "24.5")
		h.types(`[name="p.ph"]`, "6.8")
		h.types(`[name="p.gh"]`, "6")
		h.tap += 3 // the camera: open it, take the picture, use it
		if h.err == nil {
			photo := filepath.Join(filepath.Dir(dir), "IMG_0001.JPG")
			if err := camera(photo); err != nil {
				return err
			}
			if h.err = chromedp.Do(ctx, chromedp.SetUploadFiles(chromedp.CSS("#photo"), []string{photo})); h.err != nil {
				h.err = fmt.Errorf("the photo: %w", h.err)
			}
		}
		h.types("#alt", "Trough, front")
		h.types("#w", "Trimmed the back row.")
		if h.err == nil { // the photo is taken in while a person types; this hand types at once
			began := time.Now()
			h.err = chromedp.Do(ctx, chromedp.WaitVisible(chromedp.CSS("#photo-said[data-kept]")))
			photo = time.Since(began)
		}
		h.taps(".save .main")
		if h.err == nil {
			if h.err = chromedp.Do(ctx, chromedp.WaitVisible(chromedp.CSS("[data-saved], #faults"))); h.err != nil {
				h.err = fmt.Errorf("no answer: %w", h.err)
			}
		}
		if n, err := chromedp.Run(ctx, chromedp.Evaluate[int](`document.querySelectorAll("[data-saved]").length`)); h.err == nil && (err != nil || n == 0) {
			h.err = fmt.Errorf("it was not saved: %w", err)
		}
		if h.err != nil {
			d.shoot(t, ctx, "week")
			text, _ := chromedp.Run(ctx, chromedp.Evaluate[string](`[...document.querySelectorAll("#faults, .why")].map(e => e.textContent).join("\n")`))
			return fmt.Errorf("%w\n%s", h.err, text)
		}
		if week, err = lasted(ctx); err != nil {
			return err
		}
		for n := range 9 {
			if err := chromedp.Do(ctx, chromedp.Navigate(d.base+"/desk/tank/nano/"), chromedp.WaitVisible(chromedp.CSS("form.stepped")), chromedp.Focus(chromedp.ID("w")),
				chromedp.KeyEvent(fmt.Sprintf("Words %d.", n)), chromedp.Tap(chromedp.CSS(".save .main")), chromedp.WaitVisible(chromedp.CSS("[data-saved]"))); err != nil {
				return err
			}
			took, err := lasted(ctx)
			if err != nil {
				return err
			}
			saves = append(saves, took)
		}
		return errors.Join(d.shows(ctx, "/tanks/trough/"+demoDay+"/", "Trimmed the back row."), d.shows(ctx, "/tanks/nano/"+demoDay+"/", "Words 8."))
	})
	if err != nil {
		t.Fatal(err)
	}
	slices.Sort(saves)
	text, err := os.ReadFile(filepath.Join(dir, "tanks", "trough", demoDay+".md"))
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []struct {
		what string
		n    int
	}{{"{plant: ", 12 + 3}, {"{lot: ", 3}, {"temperature: 24.5 C, ph: 6.8, gh: 6 dGH", 1}, {"alt: \"Trough, front\"", 1}, {"Trimmed the back row.", 1}, {": 25", 8}, {"count: 5, ready: " + demoDay, 3}} {
		if got := strings.Count(string(text), want.what); got != want.n {
			t.Errorf("%q stands %d times in the entry, not %d", want.what, got, want.n)
		}
	}
	t.Attr("figure", fmt.Sprintf("a week's work at the desk, taps and keys (asked: at most 100): %d", h.tap+h.keys))
	t.Attr("figure", fmt.Sprintf("a form that is sent, to the page that shows it, ms in the middle of %d (asked: 100): %d", len(saves), saves[len(saves)/2].Milliseconds()))
	t.Attr("figure", fmt.Sprintf("a week's form with a photo, to the page that shows it, ms: %d", week.Milliseconds()))
	t.Logf("%d taps and %d keys; saves took %v; the photo was taken in %d ms after the last key", h.tap, h.keys, saves, photo.Milliseconds())
	if h.tap+h.keys > 100 {
		t.Errorf("%d taps and keys\n%s", h.tap+h.keys, text)
	}
}

// lasted is the time from the form that was sent to the page that answers, of the page that a tab shows.
func lasted(ctx context.Context) (time.Duration, error) {
	ms, err := chromedp.Run(ctx, chromedp.Evaluate[float64](`performance.getEntriesByType("navigation")[0].responseEnd`))
	return time.Duration(ms * float64(time.Millisecond)), err
}

// shows opens a page, and reports what is missing on it.
func (b *chromium) shows(ctx context.Context, path, want string) error {
	if err := chromedp.Do(ctx, chromedp.Navigate(b.base+path)); err != nil {
		return err
	}
	has, err := chromedp.Run(ctx, chromedp.Evaluate[bool](fmt.Sprintf("document.body.textContent.includes(%q)", want)))
	if err == nil && !has {
		err = fmt.Errorf("%s does not say %q", path, want)
	}
	return err
}

// What is wrong is said beside its field as soon as that is left, and goes when it is mended; nothing is written.
func TestAFaultIsSaidWhileTheFormIsFilledIn(t *testing.T) {
	t.Parallel()
	d, dir := deskOf(t, start(t, made.demo, plainFonts), "en")
	err := d.tab(func(ctx context.Context) error {
		if err := chromedp.Do(ctx, look{width: 360}.set(), chromedp.Navigate(d.base+"/desk/tank/nano/"), chromedp.WaitVisible(chromedp.CSS("form.stepped"))); err != nil {
			return err
		}
		for _, c := range []struct{ field, wrong, right string }{{"#p-ph", "71", "7.1"}, {"[name='cryptocoryne-beckettii.count']", "-5", "12"}} {
			fill := func(value string) chromedp.Action[chromedp.Void] {
				return chromedp.Steps(chromedp.Focus(chromedp.CSS(c.field)), chromedp.KeyEvent("\b"+value), chromedp.Focus(chromedp.ID("w")))
			}
			if err := chromedp.Do(ctx, fill(c.wrong), chromedp.WaitVisible(chromedp.CSS(c.field+"[aria-invalid]")), chromedp.WaitVisible(chromedp.CSS(".why"))); err != nil {
				return fmt.Errorf("%s: %s is not said: %w", c.field, c.wrong, err)
			}
			d.shoot(t, ctx, "live"+c.wrong)
			if err := chromedp.Do(ctx, fill(c.right), chromedp.WaitNotPresent(chromedp.CSS(".why"))); err != nil {
				return fmt.Errorf("%s: %s is still wrong: %w", c.field, c.right, err)
			}
		}
		return nil
	})
	if err != nil {
		t.Error(err)
	}
	if _, err := os.Stat(filepath.Join(dir, "tanks", "nano", demoDay+".md")); err == nil {
		t.Error("it was written")
	}
}

// What was typed stays in the browser until it is on the disk: over a reload, and over a save that fails; then it is gone.
func TestADraftStaysUntilItIsSaved(t *testing.T) {
	t.Parallel()
	b := start(t, made.demo, plainFonts)
	d, dir := deskOf(t, b, "en")
	holds := func(ctx context.Context, when, want string) error {
		got, err := chromedp.Run(ctx, chromedp.Evaluate[string](`document.getElementById("w").value`))
		if err == nil && got != want {
			err = fmt.Errorf("%s the field holds %q", when, got)
		}
		return err
	}
	undo := filepath.Join(dir, ".undo")
	err := d.tab(func(ctx context.Context) error {
		open := chromedp.Steps(chromedp.Navigate(d.base+"/desk/tank/nano/"), chromedp.WaitVisible(chromedp.CSS("form.stepped")))
		if err := chromedp.Do(ctx, look{width: 390}.set(), open, chromedp.Focus(chromedp.ID("w")), chromedp.KeyEvent("Not to be lost."), open); err != nil {
			return err
		}
		if err := holds(ctx, "after a reload", "Not to be lost."); err != nil {
			return err
		}
		if err := os.WriteFile(undo, []byte("in the way"), 0o644); err != nil {
			return err
		}
		if err := chromedp.Do(ctx, chromedp.Click(chromedp.CSS(".save .main")), chromedp.WaitVisible(chromedp.CSS("#faults")), open); err != nil {
			return err
		}
		if err := holds(ctx, "after a save that failed", "Not to be lost."); err != nil {
			return err
		}
		if err := os.Remove(undo); err != nil {
			return err
		}
		if err := chromedp.Do(ctx, chromedp.Click(chromedp.CSS(".save .main")), chromedp.WaitVisible(chromedp.CSS("[data-saved]")), open); err != nil {
			return err
		}
		return holds(ctx, "after it was saved", "")
	})
	if err != nil {
		t.Fatal(err)
	}
	if text, err := os.ReadFile(filepath.Join(dir, "tanks", "nano", demoDay+".md")); err != nil || strings.Count(string(text), "Not to be lost.") != 1 {
		t.Errorf("%v\n%s", err, text)
	}
}
