//go:build browser

package browser

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"testing"

	cdppage "github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
)

// The page at the tank in every look that the desk has.
func TestTanksideLooks(t *testing.T) {
	rules, err := os.ReadFile(needNode(t, "axe-core", "axe.min.js"))
	if err != nil {
		t.Fatal(err)
	}
	for _, language := range []string{"en", "de"} {
		b := start(t, tanksideIn(t, language), plainFonts)
		var jobs []job
		for _, l := range deskLooks {
			jobs = append(jobs, job{l.String(), func(ctx context.Context) ([]string, error) {
				faults, err := b.visit(ctx, "/tankside/", l, string(rules))
				b.shoot(t, ctx, language+"-tankside"+l.String())
				return faults, err
			}})
		}
		jobs = append(jobs, job{"by Tab", func(ctx context.Context) ([]string, error) { return b.walk(ctx, "/tankside/", 360) }})
		t.Run(language, func(t *testing.T) { b.all(t, jobs) })
	}
}

// tanksideIn is the demonstration in a language, whose repository takes new files.
func tanksideIn(t *testing.T, language string) (site string) {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "journal")
	if err := os.CopyFS(dir, os.DirFS("content")); err != nil {
		t.Fatal(err)
	}
	replaceIn(t, filepath.Join(dir, "journal.yaml"), "language: en", "language: "+language)
	replaceIn(t, filepath.Join(dir, "journal.yaml"), "tankside: {}", `tankside: {new-file: "https://git.example/new?filename={path}&value={text}"}`)
	site = filepath.Join(t.TempDir(), "www")
	publish(t, dir, site)
	return site
}

// An entry is written at the tank after the network is gone: the page opens, keeps a draft over a reload, and hands over the
// text that the desk would have written.
func TestTanksideWithoutNetwork(t *testing.T) {
	t.Parallel()
	rules, err := readHeaderRules("netlify.toml")
	if err != nil {
		t.Fatal(err)
	}
	server := httptest.NewServer(host{os.DirFS(tanksideIn(t, "en")), rules})
	defer server.Close()
	b := browse(t, server.URL, plainFonts)
	want := deskEntry(t)
	var got, path, link string
	err = b.tab(func(ctx context.Context) error {
		open := chromedp.Steps(chromedp.Navigate(b.base+"/tankside/#trough"), chromedp.WaitVisible(chromedp.CSS("form.stepped")))
		if err := chromedp.Do(ctx, look{width: 390}.set(), open, chromedp.WaitVisible(chromedp.CSS("#offline[data-ready]"))); err != nil {
			return fmt.Errorf("it does not get ready: %w", err)
		}
		server.CloseClientConnections()
		server.Close()
		if err := chromedp.Do(ctx, open); err != nil {
			return fmt.Errorf("it does not open without a network: %w", err)
		}
		if err := errors.Join(fillTrough(ctx), chromedp.Do(ctx, chromedp.Reload(), chromedp.WaitVisible(chromedp.CSS("form.stepped")))); err != nil {
			return fmt.Errorf("filled in and loaded again: %w", err)
		}
		if err := chromedp.Do(ctx, chromedp.Click(chromedp.CSS("#tankside .main")), chromedp.WaitVisible(chromedp.ID("out"))); err != nil {
			return fmt.Errorf("no entry is composed: %w", err)
		}
		said, err := chromedp.Run(ctx, chromedp.Evaluate[[]string](`[document.getElementById("text").value, document.getElementById("path").textContent, document.getElementById("new-file").href]`))
		if err != nil {
			return err
		}
		got, path, link = said[0], said[1], said[2]
		b.shoot(t, ctx, "tankside-handed")
		return handsOver(ctx)
	})
	if err != nil {
		t.Fatal(err)
	}
	if got != want {
		t.Errorf("the page composes\n%s\nthe desk\n%s", got, want)
	}
	if path != "tanks/trough/"+demoDay+".md" || len(link) < len(want) {
		t.Errorf("it goes to %s, by %s", path, link)
	}
}

// Each way out hands over the text that stands on the page, byte for byte; a device that cannot share shows no button for it; where
// the clipboard is refused the text is marked and that is said; and what is too long for an address goes to the repository
// by hand.
func TestTanksideHandsOverTheSameText(t *testing.T) {
	t.Parallel()
	b := start(t, tanksideIn(t, "en"), plainFonts)
	const caught = `window.out = {}; const url = URL.createObjectURL; URL.createObjectURL = (f) => { f.text().then((s) => { out.saved = s; }); return url.call(URL, f); };`
	const shares = caught + `navigator.share = async (d) => { out.shared = d.text; }; navigator.clipboard.writeText = async (s) => { out.copied = s; };`
	const refuses = caught + `delete Navigator.prototype.share; navigator.clipboard.writeText = async () => { throw new DOMException("refused", "NotAllowedError"); }; document.execCommand = () => false;`
	const fails = refuses + `navigator.share = async () => { throw new DOMException("broken", "DataError"); };`
	const state = `({ Text: text.value, Path: path.textContent, Handed: handed.textContent, Share: share.offsetParent !== null, Marked: text.selectionEnd - text.selectionStart === text.value.length && document.activeElement === text,
  Opens: new URL(document.getElementById("new-file").href).searchParams.get("value"), OpensAt: new URL(document.getElementById("new-file").href).searchParams.get("filename"), Out: out })`
	type page struct {
		Text, Path, Handed, Opens, OpensAt string
		Share, Marked                      bool
		Out                                struct{ Shared, Copied, Saved string }
	}
	open := func(stubs, words string, do ...string) (p page) {
		t.Helper()
		err := b.tab(func(ctx context.Context) error {
			err := chromedp.Do(ctx, look{width: 360}.set(), send(cdppage.AddScriptToEvaluateOnNewDocument, cdppage.AddScriptToEvaluateOnNewDocumentParams{Source: stubs}),
				chromedp.Navigate(b.base+"/tankside/#trough"), chromedp.WaitVisible(chromedp.CSS("form.stepped")))
			if err = errors.Join(err, fillTrough(ctx)); err != nil {
				return err
			}
			if _, err = chromedp.Run(ctx, chromedp.Evaluate[bool](fmt.Sprintf(`(() => { const w = document.getElementById("w"); w.value += %s; w.dispatchEvent(new Event("input", { bubbles: true })); return true; })()`, words))); err != nil {
				return err
			}
			if err := chromedp.Do(ctx, chromedp.Click(chromedp.CSS("#tankside .main")), chromedp.WaitVisible(chromedp.ID("out"))); err != nil {
				return err
			}
			for _, id := range do {
				if err := chromedp.Do(ctx, chromedp.Click(chromedp.ID(id)), chromedp.WaitVisible(chromedp.ID("anew"))); err != nil {
					return fmt.Errorf("%s: %w", id, err)
				}
			}
			if p, err = chromedp.Run(ctx, chromedp.Evaluate[page](`new Promise((r) => setTimeout(r)).then(() => (`+state+`))`, chromedp.EvalAwaitPromise)); err == nil {
				b.shoot(t, ctx, "tankside-"+strings.Join(do, "-"))
			}
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
		return p
	}
	p := open(shares, `"Ünd 日本 🌱 & more? 100% #1 +\n"`, "share", "copy", "keep")
	if !p.Share || !strings.Contains(p.Text, "Ünd 日本 🌱 & more? 100% #1 +\n") || p.Out.Shared != p.Text || p.Out.Copied != p.Text || p.Out.Saved != p.Text || p.Opens != p.Text || p.OpensAt != p.Path {
		t.Errorf("not the same text: %+v", p)
	}
	if p := open(refuses, `""`, "copy"); p.Share || !p.Marked || !strings.Contains(p.Handed, "copy it with your device") {
		t.Errorf("without a clipboard and sharing: %+v", p)
	}
	if p := open(fails, `""`, "share"); !p.Share || !p.Marked || !strings.Contains(p.Handed, "copy it with your device") {
		t.Errorf("sharing fails: %+v", p)
	}
	if p := open(shares, `"Long. ".repeat(2000)`); p.Opens != "" || p.OpensAt != p.Path || !strings.Contains(p.Handed, "too long") {
		t.Errorf("a long text: %+v", p)
	}
}

// fillTrough fills the form in, the same on both pages.
func fillTrough(ctx context.Context) error {
	_, err := chromedp.Run(ctx, chromedp.Evaluate[bool](`(() => {
  const form = document.querySelector("form.stepped"), set = (name, value) => {
    const f = form.elements[name];
    if (f.type === "checkbox") f.checked = value; else f.value = value;
    f.dispatchEvent(new Event("input", { bubbles: true }));
  };
  const rows = [...form.querySelectorAll("fieldset.pl")].map((r) => r.id.slice(6)), stems = rows.filter((id) => form.elements[id + ".length"]), others = rows.filter((id) => !stems.includes(id));
  const day = document.getElementById("day");
  if (day) { day.value = "`+demoDay+`"; day.dispatchEvent(new Event("input", { bubbles: true })); }
  set(stems[0] + ".count", "25"); set(stems[0] + ".trim", "5"); set(stems[0] + ".trim-length", "12,50"); set(stems[0] + ".offer", true); set(stems[0] + ".lot", "ZZ-1125"); set(stems[0] + ".ready", "`+demoDay+`"); set(stems[0] + ".identity", "likely");
  set(stems[1] + ".same", true);
  set(others[0] + ".count", "7"); set(others[0] + ".trim", "2"); set(others[1] + ".gone", true);
  set("p.temperature", "24,5"); set("p.nitrate", "<5"); set("p.gh", "6.0"); set("share", "30");
  set("add", "anubias-barteri"); set("add-count", "3"); set("add-measure", "leaves");
  set("words", "All \"well\".\n\n\tTips: off\u2028 .  \n");
  return true;
})()`))
	return err
}

// deskEntry is what the desk writes of that form.
func deskEntry(t *testing.T) string {
	t.Helper()
	d, dir := deskOf(t, start(t, made.demo, plainFonts), "en")
	err := d.tab(func(ctx context.Context) error {
		err := chromedp.Do(ctx, look{width: 390}.set(), chromedp.Navigate(d.base+"/desk/tank/trough/"), chromedp.WaitVisible(chromedp.CSS("form.stepped")))
		return errors.Join(err, fillTrough(ctx), chromedp.Do(ctx, chromedp.Click(chromedp.CSS(".save .main")), chromedp.WaitVisible(chromedp.CSS("[data-saved], #faults"))), d.said(ctx, t))
	})
	if err != nil {
		t.Fatal(err)
	}
	text, err := os.ReadFile(filepath.Join(dir, "tanks", "trough", demoDay+".md"))
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// handsOver tries the ways out: each says that the entry was handed over and keeps it until a new one is begun.
func handsOver(ctx context.Context) error {
	for _, id := range []string{"copy", "keep"} {
		if err := chromedp.Do(ctx, chromedp.Click(chromedp.ID(id)), chromedp.WaitVisible(chromedp.ID("anew"))); err != nil {
			return fmt.Errorf("%s: %w", id, err)
		}
	}
	kept := func() (int, error) {
		return chromedp.Run(ctx, chromedp.Evaluate[int](`Object.keys(JSON.parse(localStorage.getItem("tankside:trough")) || {}).length`))
	}
	if n, err := kept(); err != nil || n == 0 {
		return fmt.Errorf("the draft is gone before a new entry was begun: %w", err)
	}
	if err := chromedp.Do(ctx, chromedp.Click(chromedp.ID("anew"))); err != nil {
		return err
	}
	if n, err := kept(); err != nil || n != 0 {
		return fmt.Errorf("the draft stays: %w", err)
	}
	again, err := chromedp.Run(ctx, chromedp.Evaluate[string](`(() => {
  const f = document.getElementById("w"); f.value = "More."; f.dispatchEvent(new Event("input", { bubbles: true }));
  document.getElementById("day").value = "`+demoDay+`"; document.querySelector("#tankside .main").click(); return document.getElementById("path").textContent; })()`))
	if err == nil && again != "tanks/trough/"+demoDay+"-2.md" {
		err = fmt.Errorf("a second entry of the day goes to %s", again)
	}
	return err
}

// said are the faults on a page, as an error.
func (b *chromium) said(ctx context.Context, t *testing.T) error {
	b.shoot(t, ctx, "said")
	text, err := chromedp.Run(ctx, chromedp.Evaluate[string](`[...document.querySelectorAll("#faults, .why")].map(e => e.textContent).join("\n")`))
	if err == nil && text != "" {
		err = errors.New(text)
	}
	return err
}

func replaceIn(t *testing.T, file, old, new string) {
	t.Helper()
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	changed := bytes.Replace(text, []byte(old), []byte(new), 1)
	if bytes.Equal(changed, text) && old != new {
		t.Fatalf("%s has no %q", file, old)
	}
	if err := os.WriteFile(file, changed, 0o644); err != nil {
		t.Fatal(err)
	}
}
