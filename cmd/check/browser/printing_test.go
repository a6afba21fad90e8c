//go:build browser

package browser

import (
	"context"
	"fmt"
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

// qrLabels is how many labels are put on paper and read back by a scanner; all are measured.
const qrLabels = 12

// Every sheet of the demonstration prints on one leaf, both sides if need be, at 9 pt or more; every label measures
// exactly 62 × 100 mm, and its code, scanned at 300 dpi, is the sheet's address.
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
		if i < qrLabels {
			want = address + strings.TrimSuffix(p, "label/")
		}
		jobs = append(jobs, job{p, func(ctx context.Context) ([]string, error) { return b.label(ctx, p, want) }})
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

func (b *printer) label(ctx context.Context, path, want string) ([]string, error) {
	if err := chromedp.Do(ctx, look{width: 718, print: true}.set(), chromedp.Navigate(b.base+path)); err != nil {
		return nil, err
	}
	faults, err := ask(ctx, "bag")
	if err != nil || want == "" {
		return faults, err
	}
	info, err := b.pdf(ctx, path, papers[0].size)
	if err != nil {
		return faults, err
	}
	const mm = 72 / 25.4 // points; the browser rounds paper to whole CSS px of 0.75 points
	if d := max(info.width-62*mm, 62*mm-info.width, info.height-100*mm, 100*mm-info.height); info.sides != 1 || d > 0.75 {
		faults = append(faults, fmt.Sprintf("prints %d pages of %.1f × %.1f mm", info.sides, info.width/mm, info.height/mm))
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
