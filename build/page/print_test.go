package page_test

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"testing"

	"slipleaf/build/page"
)

// One leaf: two sides at the most. The sheet with the most on it stands for all.
func TestSheetPrintsOnOneLeaf(t *testing.T) {
	if testing.Short() {
		t.Skip("printing takes ten seconds")
	}
	chromium, err := exec.LookPath("chromium")
	info, errInfo := exec.LookPath("pdfinfo")
	if err != nil || errInfo != nil {
		t.Skip("needs chromium and pdfinfo to print")
	}
	b := benchBook(t)
	dir := t.TempDir()
	longest, size := "", 0
	for _, o := range b.Outputs() {
		data, err := o.Make()
		if err != nil {
			t.Fatal(err)
		}
		file := filepath.Join(dir, filepath.FromSlash(page.PathOf(o.Addr)))
		if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(file, data, 0o644); err != nil {
			t.Fatal(err)
		}
		if sheetPage.MatchString(o.Addr) && len(data) > size {
			longest, size = file, len(data)
		}
	}
	if sides := printed(t, chromium, info, longest); sides < 1 || sides > 2 {
		t.Errorf("%s prints on %d sides", longest, sides)
	}
	label := filepath.Join(filepath.Dir(longest), "label", "index.html")
	if sides := printed(t, chromium, info, label); sides != 1 {
		t.Errorf("its label prints on %d sides", sides)
	}
}

var (
	sheetPage = regexp.MustCompile(`^/sheets/[^/]+/$`)
	pdfPages  = regexp.MustCompile(`(?m)^Pages:\s+(\d+)$`)
)

// printed counts the sides of a page on paper.
func printed(t *testing.T, chromium, info, file string) int {
	t.Helper()
	pdf := filepath.Join(t.TempDir(), "out.pdf")
	said, err := exec.Command(chromium, "--headless", "--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage", "--user-data-dir="+filepath.Join(t.TempDir(), "profile"),
		"--no-pdf-header-footer", "--print-to-pdf="+pdf, "file://"+file).CombinedOutput()
	if err != nil {
		t.Skipf("chromium does not print here: %v %s", err, said)
	}
	out, err := exec.Command(info, pdf).Output()
	m := pdfPages.FindSubmatch(bytes.ReplaceAll(out, []byte("\r"), nil))
	if err != nil || m == nil {
		t.Fatalf("pdfinfo: %v %s", err, out)
	}
	n, _ := strconv.Atoi(string(m[1])) // digits by the pattern
	return n
}
