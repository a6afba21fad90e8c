//go:build browser

package browser

import (
	"context"
	"fmt"
	"math"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
)

// papers are the leaves that a sheet must fit, in inches: ISO 216 A4 and ANSI A.
var papers = []struct {
	name string
	size chromedp.PaperSize
}{{"A4", chromedp.PaperSize{Width: 210 / 25.4, Height: 297 / 25.4}}, {"Letter", chromedp.PaperLetter}}

// picks are what can be printed of a label's page: the fragment that picks it, and the size of its paper in mm.
var picks = []struct {
	fragment      string
	width, height float64
	code          bool
}{{"", 62, 100, true}, {"#main", 62, 100, true}, {"#label", 62, 100, true}, {"#strip", 148, 210, false}, {"#card", 148, 105, true}}

// printedLabels is how many labels, strips and cards are put on paper, and their codes read back by a scanner; all are measured.
const printedLabels = 12

// Every sheet of the demonstration prints on one leaf, both sides if need be, at 9 pt or more; every label measures
// exactly 62 × 100 mm, strip and card have their own paper, and the code of label and card, scanned at 300 dpi, is the sheet's
// address.
func TestPrinting(t *testing.T) {
	for _, tool := range []string{"pdfinfo", "pdftoppm", "zbarimg"} {
		need(t, tool)
	}
	all := demoPages(t)
	address, err := siteAddress()
	if err != nil {
		t.Fatal(err)
	}
	b := &printer{start(t, made.demo, plainFonts), t.TempDir()}
	var jobs []job
	for _, p := range having(all, func(kind string) bool { return kind == "sheets/*" }) {
		jobs = append(jobs, job{p, func(ctx context.Context) ([]string, error) { return b.sheet(ctx, p) }})
	}
	for i, p := range having(all, func(kind string) bool { return kind == "sheets/*/label" }) {
		want := ""
		if i < printedLabels {
			want = address + strings.TrimSuffix(p, "label/")
		}
		strip := hasStrip(t, p)
		jobs = append(jobs, job{p, func(ctx context.Context) ([]string, error) { return b.papers(ctx, p, strip, want) }})
	}
	leaves := having(all, func(kind string) bool {
		return kind == "offers" || kind == "pass-along" || strings.HasPrefix(kind, "review")
	})
	if len(leaves) < 3 {
		t.Fatalf("only %v are to fit a leaf", leaves)
	}
	for _, p := range leaves {
		jobs = append(jobs, job{p, func(ctx context.Context) ([]string, error) { return b.leaf(ctx, p) }})
	}
	b.all(t, jobs)
}

// leaf reports whether a page takes more than one side, as what goes to a meeting or into a bulletin must not.
func (b *printer) leaf(ctx context.Context, path string) (faults []string, err error) {
	if err := chromedp.Do(ctx, look{width: 718, print: true}.set(), chromedp.Navigate(b.base+path)); err != nil {
		return nil, err
	}
	for _, p := range papers {
		info, err := b.pdf(ctx, path+p.name, p.size)
		if err != nil {
			return faults, err
		}
		if info.sides != 1 {
			faults = append(faults, fmt.Sprintf("takes %d sides of %s", info.sides, p.name))
		}
	}
	return faults, nil
}

// Thirty labels for a meeting are one side of A4 or of Letter, each with a code that can be read; the thirty-first begins
// another.
func TestLabelsForAMeetingPrint(t *testing.T) {
	t.Parallel()
	need(t, "pdfinfo")
	need(t, "zbarimg")
	d, _ := deskOf(t, start(t, made.demo, plainFonts), "en")
	b := &printer{d, t.TempDir()}
	for i, paper := range []string{"a4", "letter"} {
		if err := d.tab(func(ctx context.Context) error { // one of each: the longest names fit too
			if err := chromedp.Do(ctx, look{width: 1000, print: true}.set(), chromedp.Navigate(d.base+"/desk/labels/")); err != nil {
				return err
			}
			all, err := chromedp.Run(ctx, chromedp.Evaluate[string](`[...document.querySelectorAll("[name^='lot.']")].map((f) => f.name + "=1").join("&")`))
			if err == nil {
				err = chromedp.Do(ctx, chromedp.Navigate(d.base+"/desk/labels/?paper="+paper+"&"+all))
			}
			if err != nil {
				return err
			}
			d.shoot(t, ctx, "meeting-all-"+paper)
			lost, err := chromedp.Run(ctx, chromedp.Evaluate[string](`[...document.querySelectorAll(".tag")].filter((t) => t.scrollHeight > t.clientHeight + 2 || t.scrollWidth > t.clientWidth + 2).map((t) => t.textContent).join("\n") || [...document.querySelectorAll(".tag > *")].filter((e) => {
				const [own, sheet] = [e, e.closest(".sheet30")].map((x) => x.getBoundingClientRect());
				return own.left - sheet.left < 16 || sheet.right - own.right < 16; // 4.2 mm, which printers leave out (common practice)
			}).map((e) => "at the edge: " + e.textContent).join("\n") || (document.querySelector(".tag") ? "" : "all of them")`))
			if err == nil && lost != "" {
				err = fmt.Errorf("cut off: %s", lost)
			}
			return err
		}); err != nil {
			t.Error(paper, err)
		}
		for n, sides := range map[string]int{"lot.HZ-1101=30": 1, "lot.HZ-1101=29&lot.CW-1122=2": 2} {
			err := d.tab(func(ctx context.Context) error {
				if err := chromedp.Do(ctx, look{width: 1000}.set(), chromedp.Navigate(d.base+"/desk/labels/?paper="+paper+"&"+n)); err != nil {
					return err
				}
				d.shoot(t, ctx, "meeting-"+paper+n)
				info, err := b.pdf(ctx, paper+n, papers[1-i].size) // the page names its own paper
				if err != nil {
					return err
				}
				want := map[string][2]float64{"a4": {595, 842}, "letter": {612, 792}}[paper]
				if info.sides != sides || math.Abs(info.width-want[0]) > 1 || math.Abs(info.height-want[1]) > 1 {
					t.Errorf("%s of %s: %d sides of %.0f × %.0f points", n, paper, info.sides, info.width, info.height)
				}
				read, err := scan(ctx, info.file)
				if got := strings.Count(read, "/plants/"); got != 30 {
					t.Errorf("%s of %s: %d codes can be read", n, paper, got)
				}
				return err
			})
			if err != nil {
				t.Error(paper, n, err)
			}
		}
	}
}

// printer is a browser that prints into a folder.
type printer struct {
	*chromium
	dir string
}

// siteAddress reads where the demonstration will live, without a slash at its end.
func siteAddress() (string, error) {
	text, err := os.ReadFile(filepath.Join("content", "journal.yaml"))
	if err != nil {
		return "", err
	}
	m := regexp.MustCompile(`(?m)^address:\s*(\S+)`).FindSubmatch(text)
	if m == nil {
		return "", fmt.Errorf("content/journal.yaml has no address")
	}
	return strings.TrimSuffix(string(m[1]), "/"), nil
}

func (b *printer) sheet(ctx context.Context, path string) ([]string, error) {
	if err := chromedp.Do(ctx, look{width: 718, print: true}.set(), chromedp.Navigate(b.base+path)); err != nil {
		return nil, err
	}
	faults, err := ask(ctx, "papersize")
	if err != nil {
		return faults, err
	}
	const most = 2 // one leaf
	for _, p := range papers {
		info, err := b.pdf(ctx, path+p.name, p.size)
		if err != nil {
			return faults, err
		}
		if info.sides > most {
			faults = append(faults, fmt.Sprintf("takes %d sides of %s", info.sides, p.name))
		}
		if w, h := info.width/72, info.height/72; w-p.size.Width > 0.01 || p.size.Width-w > 0.01 || h-p.size.Height > 0.01 || p.size.Height-h > 0.01 {
			faults = append(faults, fmt.Sprintf("asks for paper of its own instead of %s", p.name))
		}
	}
	return faults, nil
}

// hasStrip reports whether a parcel has check days: where nothing may be planted there are none.
func hasStrip(t *testing.T, label string) bool {
	html, err := os.ReadFile(filepath.Join(made.demo, filepath.FromSlash(label), "index.html"))
	if err != nil {
		t.Fatal(err)
	}
	return strings.Contains(string(html), `id="strip"`)
}

// papers looks at all that can be printed of a label's page; want is the address in its codes, or "" to measure only.
func (b *printer) papers(ctx context.Context, path string, strip bool, want string) (faults []string, err error) {
	for which, pick := range picks {
		if pick.fragment == "#strip" && !strip {
			continue
		}
		found, err := b.label(ctx, path, which, want)
		for _, f := range found {
			faults = append(faults, path+pick.fragment+": "+f)
		}
		if err != nil {
			return faults, err
		}
	}
	return faults, nil
}

func (b *printer) label(ctx context.Context, path string, which int, want string) ([]string, error) {
	pick := picks[which]
	if err := chromedp.Do(ctx, look{width: 718, print: true}.set(), chromedp.Navigate(b.base+path+pick.fragment)); err != nil {
		return nil, err
	}
	faults, err := ask(ctx, "bag")
	if err != nil || want == "" {
		return faults, err
	}
	info, err := b.pdf(ctx, path+pick.fragment, papers[0].size)
	if err != nil {
		return faults, err
	}
	const mm = 72 / 25.4 // points; the browser rounds paper to whole CSS px of 0.75 points
	if d := max(math.Abs(info.width-pick.width*mm), math.Abs(info.height-pick.height*mm)); info.sides != 1 || d > 0.75 {
		faults = append(faults, fmt.Sprintf("prints %d pages of %.1f × %.1f mm", info.sides, info.width/mm, info.height/mm))
	}
	if !pick.code {
		return faults, nil
	}
	got, err := scan(ctx, info.file)
	if err != nil {
		return faults, err
	}
	if got != want {
		faults = append(faults, fmt.Sprintf("its code reads %q, not %q", got, want))
	}
	return faults, nil
}

// pdfInfo is a printed file: its sides, and the size of the first in points of 1/72 inch.
type pdfInfo struct {
	file          string
	sides         int
	width, height float64
}

var (
	pdfSides = regexp.MustCompile(`(?m)^Pages:\s+(\d+)`)
	pdfSize  = regexp.MustCompile(`(?m)^Page size:\s+([\d.]+) x ([\d.]+) pts`)
)

// pdf prints the page of a tab on a paper, unless the page names its own, and measures the result.
func (b *printer) pdf(ctx context.Context, name string, size chromedp.PaperSize) (pdfInfo, error) {
	data, err := chromedp.Run(ctx, chromedp.PrintToPDF(chromedp.PDFPaper(size), func(p *page.PrintToPDFParams) { yes := true; p.PreferCSSPageSize = &yes }))
	if err != nil {
		return pdfInfo{}, err
	}
	file := filepath.Join(b.dir, url.PathEscape(name)+".pdf")
	if err := os.WriteFile(file, data, 0o600); err != nil {
		return pdfInfo{}, err
	}
	out, err := exec.CommandContext(ctx, "pdfinfo", file).Output()
	if err != nil {
		return pdfInfo{}, fmt.Errorf("pdfinfo: %w", err)
	}
	n, s := pdfSides.FindSubmatch(out), pdfSize.FindSubmatch(out)
	if n == nil || s == nil {
		return pdfInfo{}, fmt.Errorf("pdfinfo says %q", out)
	}
	info := pdfInfo{file: file}
	info.sides, _ = strconv.Atoi(string(n[1]))
	info.width, _ = strconv.ParseFloat(string(s[1]), 64)
	info.height, _ = strconv.ParseFloat(string(s[2]), 64)
	return info, nil
}

// scan draws a printed file at 300 dpi and reads its QR code.
func scan(ctx context.Context, file string) (string, error) {
	stem := strings.TrimSuffix(file, ".pdf")
	if out, err := exec.CommandContext(ctx, "pdftoppm", "-r", "300", "-png", "-singlefile", file, stem).CombinedOutput(); err != nil {
		return "", fmt.Errorf("pdftoppm: %w %s", err, out)
	}
	out, err := exec.CommandContext(ctx, "zbarimg", "--nodbus", "-q", "--raw", "-Sdisable", "-Sqrcode.enable", stem+".png").Output()
	if err != nil {
		return "", fmt.Errorf("zbarimg finds no code: %w", err)
	}
	return strings.TrimSpace(string(out)), nil
}
