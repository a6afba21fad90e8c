//go:build browser

package browser

import (
	"fmt"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// Budgets of a page, in bytes. The site's own, chosen for a phone on a slow line.
const (
	pageBudget  = 60 << 10 // a page with its styles and scripts, compressed, without its pictures
	sheetBudget = 50 << 10 // a care sheet with its style, as it lies on the disk
)

// partOf finds the styles and scripts that a page asks for.
var partOf = regexp.MustCompile(`<(?:link rel="stylesheet" href|script src)="([^"]+)"`)

// Every page of the demonstration is light: raw for what lies under /sheets/, compressed for the rest. A sheet has no
// script.
func TestWeights(t *testing.T) {
	t.Parallel()
	most, heaviest := 0, ""
	for _, p := range demoPages(t) {
		fault, sum, err := weigh(p)
		if err != nil {
			t.Fatal(err)
		}
		if sum > most {
			most, heaviest = sum, p
		}
		if fault != "" {
			t.Errorf("%s: %s", p, fault)
		}
	}
	t.Logf("heaviest: %s, %.1f KB", heaviest, float64(most)/1024)
}

// weigh adds up one page.
func weigh(p string) (fault string, sum int, err error) {
	file := strings.TrimPrefix(p, "/")
	if strings.HasSuffix(p, "/") {
		file += "index.html"
	}
	html, err := os.ReadFile(filepath.Join(made.demo, filepath.FromSlash(file)))
	if err != nil {
		return "", 0, err
	}
	sheet := strings.HasPrefix(p, "/sheets/")
	size, budget := func(b []byte) int { return len(gzipped(b)) }, pageBudget
	if sheet {
		size, budget = func(b []byte) int { return len(b) }, sheetBudget
	}
	sum = size(html)
	for _, m := range partOf.FindAllStringSubmatch(string(html), -1) {
		part, err := os.ReadFile(filepath.Join(made.demo, filepath.FromSlash(path.Join(path.Dir(file), m[1]))))
		if err != nil {
			return fmt.Sprintf("asks for %s, which is not there", m[1]), sum, nil
		}
		sum += size(part)
	}
	switch {
	case sum > budget:
		return fmt.Sprintf("weighs %.1f KB of %d", float64(sum)/1024, budget>>10), sum, nil
	case sheet && strings.Contains(string(html), "<script"):
		return "a page under /sheets/ has a script", sum, nil
	}
	return "", sum, nil
}
