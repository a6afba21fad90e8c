//go:build browser

package browser

import (
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
)

// The journal with hostile words in every field is published, and every page of it opened: nothing runs, nothing leaves.
func TestHostileJournal(t *testing.T) {
	opened := 0
	for round, words := range hostileRounds() {
		dir := t.TempDir()
		if err := writeHostile(filepath.Join(dir, "journal"), words); err != nil {
			t.Fatal(err)
		}
		site := filepath.Join(dir, "site")
		publish(t, filepath.Join(dir, "journal"), site)
		all, err := pages(site)
		if err != nil {
			t.Fatal(err)
		}
		opened += len(all)
		t.Run(fmt.Sprintf("round %d", round+1), func(t *testing.T) { openHostile(t, site, all) })
	}
	t.Attr("figure", fmt.Sprintf("pages of hostile journals opened in a browser: %d", opened))
}

// openHostile opens the pages of a hostile site and looks for harm.
func openHostile(t *testing.T, site string, all []string) {
	b := start(t, site, plainFonts)
	var jobs []job
	for _, p := range all {
		jobs = append(jobs, job{p, func(ctx context.Context) ([]string, error) {
			e, err := b.listen(ctx)
			if err != nil {
				return nil, err
			}
			if err := chromedp.Do(ctx, look{width: 800}.set(), chromedp.Navigate(b.base+p)); err != nil {
				return e.heard(), err
			}
			harm, err := ask(ctx, "harm")
			return append(e.heard(), harm...), err
		}})
	}
	b.all(t, jobs)
}

// hostileLinks are what the program must refuse to publish, one by one.
var hostileLinks = []string{
	"[a](javascript:alert(10))", "[b](JaVaScRiPt:alert(11))", "[c](data:text/html,<script>alert(12)</script>)", "<javascript:alert(13)>",
	"[d](vbscript:x)", "![f](https://elsewhere.example/e.png)", "![g](javascript:alert(16))", "![h](//elsewhere.example/f.png)",
	"[j]\n\n[j]: javascript:alert(24) \"x\"", "[l](java&#115;cript:alert(27))", "[m](\x01javascript:alert(28))",
}

// Each hostile link on a page by itself: none is published.
func TestHostileLinksAreRefused(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	if err := writeHostile(filepath.Join(dir, "journal"), hostileWords[0]); err != nil {
		t.Fatal(err)
	}
	for _, link := range hostileLinks {
		text := "---\ntitle: A link\norder: 1\n---\n" + link + "\n"
		if err := os.WriteFile(filepath.Join(dir, "journal", "pages", "words.md"), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
		args := publishing(filepath.Join(dir, "journal"), filepath.Join(dir, "site"))
		out, err := exec.CommandContext(t.Context(), args[0], args[1:]...).CombinedOutput()
		if err == nil || !strings.Contains(string(out), filepath.Join("pages", "words.md")+":") {
			t.Errorf("%q was published", link)
		}
	}
	t.Attr("figure", fmt.Sprintf("hostile links refused: %d", len(hostileLinks)))
}
