package site

import (
	"context"
	"html"
	"net/url"
	"os"
	"regexp"
	"strings"
	"testing"

	"slipleaf/build/block"
	"slipleaf/build/ledger"
	"slipleaf/build/page"
	"slipleaf/build/quantity"
)

// demonstration is the book of the demonstration journal on its day.
func demonstration(t *testing.T) *page.Site {
	t.Helper()
	b, complaints, err := Load(context.Background(), os.DirFS("../../content"), Options{On: quantity.Date{Year: 2026, Month: 11, Day: 25}})
	if err != nil || b == nil {
		t.Fatal(err, complaints)
	}
	return b
}

func made(t *testing.T, f func() ([]byte, error)) string {
	t.Helper()
	data, err := f()
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

func TestEveryLotHasItsPlaceOnTheAvailabilityPage(t *testing.T) {
	b := demonstration(t)
	text := made(t, b.Offers)
	for _, l := range b.All.Ledger.Lots {
		n := strings.Count(text, ` id="`+page.LotAnchor(l.ID)+`"`)
		if want := map[bool]int{true: 0, false: 1}[l.Withheld]; n != want {
			t.Errorf("lot %s stands %d times on the page, not %d", l.ID, n, want)
		}
	}
	ids := map[string]bool{}
	for _, m := range regexp.MustCompile(` id="([^"]+)"`).FindAllStringSubmatch(text, -1) {
		if ids[m[1]] {
			t.Errorf("the id %s stands twice", m[1])
		}
		ids[m[1]] = true
	}
}

func TestNoWordIsMissing(t *testing.T) {
	b := demonstration(t)
	missing := regexp.MustCompile(`\[[a-z-]+\.[a-z0-9.-]+\]|\{[a-z]+\}`)
	for name, f := range map[string]func() ([]byte, error){"offers": b.Offers, "home": b.Home, "pass-along": b.PassAlong, "plant": func() ([]byte, error) { return b.Plant("heteranthera-zosterifolia") }} {
		if m := missing.FindString(made(t, f)); m != "" {
			t.Errorf("%s: %s", name, m)
		}
	}
}

func TestTheMailOfAClaimHoldsABlockThatReadsBack(t *testing.T) {
	b := demonstration(t)
	hrefs := regexp.MustCompile(`href="(mailto:[^"]*body=[^"]*)"`).FindAllStringSubmatch(made(t, b.Offers), -1)
	if len(hrefs) < len(b.All.Ledger.In(ledger.Ready)) {
		t.Fatalf("%d mails for %d ready lots", len(hrefs), len(b.All.Ledger.In(ledger.Ready)))
	}
	for _, m := range hrefs {
		u, err := url.Parse(html.UnescapeString(m[1]))
		if err != nil {
			t.Fatal(err)
		}
		body := u.Query().Get("body")
		got, notes, err := block.Parse(body)
		if err != nil || len(notes) > 0 {
			t.Fatalf("%v %v in\n%s", err, notes, body)
		}
		if _, ok := b.All.Ledger.Lot(got.Lot); !ok || !strings.Contains(u.Query().Get("subject"), got.Lot) {
			t.Errorf("the mail asks for lot %q, subject %q", got.Lot, u.Query().Get("subject"))
		}
	}
}

func TestEveryFilterHasItsRule(t *testing.T) {
	b := demonstration(t)
	text, css := made(t, b.Offers), string(b.Theme.Styles.Data)
	options := regexp.MustCompile(`<option value="([^"]+)"`).FindAllStringSubmatch(text, -1)
	if len(options) < 10 {
		t.Fatalf("%d options", len(options))
	}
	for _, m := range options {
		if !strings.Contains(css, "[data-fit~="+m[1]+"]") || !strings.Contains(css, "[value="+m[1]+"]:checked") {
			t.Errorf("the style sheet has no rule for %s", m[1])
		}
	}
	known := map[string]bool{}
	for _, m := range options {
		known[m[1]] = true
	}
	for _, m := range regexp.MustCompile(`data-fit="([^"]*)"`).FindAllStringSubmatch(text, -1) {
		for _, w := range strings.Fields(m[1]) {
			if !known[w] {
				t.Errorf("a lot fits %q, which no filter asks for", w)
			}
		}
	}
}
