package page_test

import (
	"bytes"
	"context"
	"encoding/json"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"testing"

	ics "github.com/arran4/golang-ical"
	"golang.org/x/net/html"

	"slipleaf/build/almanac"
	"slipleaf/build/journal"
	"slipleaf/build/page"
	"slipleaf/build/quantity"
	"slipleaf/build/theme"
	"slipleaf/themes"
)

var update = flag.Bool("update", false, "rewrite the golden files")

// bench is a small journal whose recipients could hardly differ more.
var bench = sync.OnceValues(func() (*page.Site, error) {
	a, err := almanac.Open()
	if err != nil {
		return nil, err
	}
	day := quantity.Date{Year: 2026, Month: 4, Day: 25}
	j, complaints, err := journal.Read(context.Background(), os.DirFS("testdata/bench"), a, journal.Options{On: day})
	if err != nil {
		return nil, err
	}
	if n := complaints.Errors(); n > 0 {
		return nil, fmt.Errorf("the bench has %d errors: %v", n, complaints)
	}
	theme, err := theme.Load(themes.Bench(), "en", "")
	if err != nil {
		return nil, err
	}
	return page.NewSite(j, a, theme, day, page.Options{}), nil
})

func benchBook(t *testing.T) *page.Site {
	t.Helper()
	b, err := bench()
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// withSheet lists the parcels of the bench that have a sheet, by the name of their file.
func withSheet(b *page.Site) map[string]*journal.Parcel {
	out := map[string]*journal.Parcel{}
	for _, p := range b.All.Journal.Parcels {
		if p.Code != "" && p.Cancelled.IsZero() {
			out[p.Name] = p
		}
	}
	return out
}

// Each golden sheet was read as the person whom it is for.
func TestSheetsOfContrastingRecipients(t *testing.T) {
	b := benchBook(t)
	parcels := withSheet(b)
	if len(parcels) != 12 {
		t.Fatalf("%d sheets, want 12", len(parcels))
	}
	for name, p := range parcels {
		t.Run(name, func(t *testing.T) {
			data, err := b.Papers(p).Sheet()
			if err != nil {
				t.Fatal(err)
			}
			if bytes.Contains(data, []byte("[sheet.")) || bytes.Contains(data, []byte("[day.")) {
				t.Error("a sentence is missing from the words")
			}
			golden(t, filepath.Join("testdata", "sheets", name+".txt"), pageText(t, data))
		})
	}
}

func golden(t *testing.T, file, got string) {
	t.Helper()
	if *update {
		if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if got != string(want) {
		gl, wl := strings.Split(got, "\n"), strings.Split(string(want), "\n")
		for i := range min(len(gl), len(wl)) {
			if gl[i] != wl[i] {
				t.Fatalf("line %d of %s is\n%s\nwant\n%s\n(rewrite with -update and read the diff)", i+1, file, gl[i], wl[i])
			}
		}
		t.Fatalf("%s has %d lines, want %d", file, len(gl), len(wl))
	}
}

// pageText is the main part of a page as plain text: a line for each block, cells kept apart by bars.
func pageText(t *testing.T, data []byte) string {
	t.Helper()
	root, err := html.Parse(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	var b strings.Builder
	for n := range root.Descendants() {
		if n.Type == html.ElementNode && n.Data == "main" {
			writeText(&b, n)
		}
	}
	var lines []string
	for l := range strings.SplitSeq(b.String(), "\n") {
		if l = strings.Join(strings.Fields(strings.ReplaceAll(l, "\u00a0", " ")), " "); l != "" {
			lines = append(lines, l)
		}
	}
	return strings.Join(lines, "\n") + "\n"
}

func writeText(b *strings.Builder, n *html.Node) {
	switch {
	case n.Type == html.TextNode:
		b.WriteString(n.Data)
		return
	case n.Data == "svg":
		return
	case n.Data == "h1" || n.Data == "h2" || n.Data == "h3":
		b.WriteString("\n" + strings.Repeat("#", int(n.Data[1]-'0')) + " ")
	case n.Data == "li" || n.Data == "dt":
		b.WriteString("\n- ")
	}
	for c := range n.ChildNodes() {
		writeText(b, c)
	}
	switch n.Data {
	case "p", "div", "tr", "dd", "h1", "h2", "h3", "li", "summary", "br":
		b.WriteString("\n")
	case "td", "th", "dt":
		b.WriteString(" | ")
	case "span":
		b.WriteString(" ")
	}
}

func TestSheetIsLightPrivateAndWithoutScript(t *testing.T) {
	b := benchBook(t)
	files := map[string][]byte{}
	for _, o := range b.Outputs() {
		if !strings.HasPrefix(o.Addr, "/sheets/") && !strings.HasPrefix(o.Addr, "/look/") {
			continue
		}
		data, err := o.Make()
		if err != nil {
			t.Fatal(err)
		}
		files[o.Addr] = data
	}
	sheets := 0
	for addr, data := range files {
		if !strings.HasPrefix(addr, "/sheets/") || !strings.HasSuffix(addr, "/") || addr == page.SheetsAddr {
			continue
		}
		sheets++
		if strings.Contains(string(data), "<script") || strings.Contains(string(data), "style=") {
			t.Errorf("%s holds a script or a style attribute", addr)
		}
		for _, want := range []string{`content="noindex, nofollow"`, `content="no-referrer"`, "default-src &#39;none&#39;; style-src &#39;self&#39;; img-src &#39;self&#39;; form-action"} {
			if !strings.Contains(string(data), want) {
				t.Errorf("%s lacks %s", addr, want)
			}
		}
		css := 0
		for a, d := range files {
			if (strings.HasPrefix(a, "/look/sheet-") || strings.HasPrefix(a, "/look/label-")) && strings.Contains(string(data), strings.TrimPrefix(a, "/")) {
				css = len(d)
			}
		}
		if size := len(data) + css; css == 0 || size > 50_000 {
			t.Errorf("%s weighs %d bytes with its style (%d of it), want at most 50 000", addr, size, css)
		}
	}
	if sheets != 12*2 {
		t.Errorf("%d pages of sheets, want 24", sheets)
	}
}

func TestSheetsAreOnlyFoundByTheirLink(t *testing.T) {
	b := benchBook(t)
	for _, o := range b.Outputs() {
		if strings.HasPrefix(o.Addr, "/sheets/") {
			if strings.Contains(o.Addr, "w1thdrwn") || o.Addr == "/sheets//" {
				t.Errorf("%s is made", o.Addr)
			}
			if data, err := o.Make(); o.Addr == page.SheetsAddr && (err != nil || bytes.Contains(data, []byte("href")) || !bytes.Contains(data, []byte("noindex"))) {
				t.Errorf("the folder of sheets is not blank: %v\n%s", err, data)
			}
			continue
		}
		data, err := o.Make()
		if err != nil {
			t.Fatal(err)
		}
		for name, p := range withSheet(b) {
			if bytes.Contains(data, []byte(p.Code)) {
				t.Errorf("%s gives away the link of %s", o.Addr, name)
			}
		}
	}
}

func TestSheetDates(t *testing.T) {
	b := benchBook(t)
	p := withSheet(b)["12-perfect"]
	data, err := b.Papers(p).Calendar()
	if err != nil {
		t.Fatal(err)
	}
	for line := range strings.SplitSeq(strings.TrimSuffix(string(data), "\r\n"), "\r\n") {
		if strings.ContainsAny(line, "\r\n") {
			t.Errorf("a line ends otherwise than by CRLF: %q", line)
		}
		if len(line) > 75 {
			t.Errorf("a line of %d octets is not folded: %q", len(line), line)
		}
	}
	cal, err := ics.ParseCalendar(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, e := range cal.Events() {
		got = append(got, e.GetProperty(ics.ComponentPropertyDtStart).Value)
		if stamp := e.GetProperty(ics.ComponentPropertyDtstamp).Value; stamp != "20260423T000000Z" {
			t.Errorf("stamped %s, want the day of the newest report", stamp)
		}
	}
	if want := "20260423 20260424 20260426 20260430 20260507 20260523 20260622"; strings.Join(got, " ") != want {
		t.Errorf("days %v, want %s", got, want)
	}
}

// A sheet that has been promised has no dates yet, and no calendar.
func TestPromisedSheetHasNoCalendar(t *testing.T) {
	b := benchBook(t)
	p := withSheet(b)["10-moss-promised"]
	for _, o := range b.Outputs() {
		if o.Addr == page.SheetAddr(p.Code)+"dates.ics" {
			t.Error("there is a calendar without a day")
		}
	}
}

func TestCodeOnLabelLeadsToTheSheet(t *testing.T) {
	rsvg, errR := exec.LookPath("rsvg-convert")
	zbar, errZ := exec.LookPath("zbarimg")
	chromium, errC := exec.LookPath("chromium")
	if errZ != nil || errR != nil && errC != nil {
		t.Skip("needs zbarimg, and rsvg-convert or chromium, to read the code as a phone does")
	}
	b := benchBook(t)
	p := withSheet(b)["02-hard"]
	data, err := b.Papers(p).Label()
	if err != nil {
		t.Fatal(err)
	}
	i := bytes.Index(data, []byte(`<svg class="qr"`))
	j := bytes.Index(data[i:], []byte("</svg>"))
	svg := bytes.Replace(data[i:i+j+6], []byte(`<svg class="qr"`), []byte(`<svg xmlns="http://www.w3.org/2000/svg"`), 1)
	svg = bytes.Replace(svg, []byte(`width="91" height="91"`), []byte(`width="410" height="410"`), 1)
	dir := t.TempDir()
	in, out := filepath.Join(dir, "q.svg"), filepath.Join(dir, "q.png")
	if err := os.WriteFile(in, svg, 0o644); err != nil {
		t.Fatal(err)
	}
	draw := exec.Command(rsvg, "-w", "410", "-o", out, in)
	if errR != nil {
		draw = exec.Command(chromium, "--headless", "--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage", "--user-data-dir="+filepath.Join(dir, "profile"),
			"--screenshot="+out, "--window-size=410,410", "file://"+in)
	}
	if msg, err := draw.CombinedOutput(); err != nil {
		t.Skipf("the code cannot be drawn here: %v %s", err, msg)
	}
	read, err := exec.Command(zbar, "--nodbus", "-q", "--raw", "-Sdisable", "-Sqrcode.enable", out).Output()
	if err != nil {
		t.Fatalf("the code cannot be read: %v", err)
	}
	if got, want := strings.TrimSpace(string(read)), "https://bench.example"+page.SheetAddr(p.Code); got != want {
		t.Errorf("the code says %q, want %q", got, want)
	}
}

// sheetFigures are the figures of sheet.json that tests look at.
type sheetFigures struct {
	Fit struct {
		Summary  string
		Change   string
		Verdicts []struct {
			Parameter, Verdict, Step string
			Working                  []string
		}
	}
	Doses []struct {
		Salt string
		Mass struct{ Value float64 }
		Days int
	}
	Dates   []struct{ Date, What, Normal, Alarm string }
	Notices []struct{ Kind, Text string }
	Unknown []string
}

func TestSheetJSON(t *testing.T) {
	b := benchBook(t)
	for name, want := range map[string]string{
		"01-soft": "one-change", "02-hard": "poor-match", "03-brackish": "poor-match", "04-hot": "one-change", "05-dark": "one-change", "06-nothing": "cannot-say",
		"07-us": "one-change", "08-gas": "good-match", "09-emersed": "one-change", "10-moss-promised": "good-match", "12-perfect": "good-match",
	} {
		data, err := b.Papers(withSheet(b)[name]).JSON()
		if err != nil {
			t.Fatal(err)
		}
		var f sheetFigures
		if err := json.Unmarshal(data, &f); err != nil {
			t.Fatal(err)
		}
		if f.Fit.Summary != want {
			t.Errorf("%s is a %s, want %s", name, f.Fit.Summary, want)
		}
		days := 7
		if want == "poor-match" {
			days = 0 // what would not live there is not planted
		}
		if len(f.Fit.Verdicts) != 6 || len(f.Dates) != days || len(f.Notices) < 4 || days > 0 && f.Dates[0].What == "" {
			t.Errorf("%s: %d verdicts, %d dates, %d notices", name, len(f.Fit.Verdicts), len(f.Dates), len(f.Notices))
		}
		again, err := b.Papers(withSheet(b)[name]).JSON()
		if err != nil || !bytes.Equal(data, again) {
			t.Errorf("%s is not the same twice (%v)", name, err)
		}
	}
}

// Label, strip and card are one page: drawing and code are drawn once and used again, every id stands once, and the sheet leads to
// what there is. The labels of other plants of a parcel are alone on theirs.
func TestPapersAreOnePage(t *testing.T) {
	b := benchBook(t)
	ids, uses := regexp.MustCompile(` id="([^"]+)"`), regexp.MustCompile(`<use href="#([^"]+)"`)
	strips := map[bool]int{}
	for name, p := range withSheet(b) {
		w := b.Papers(p)
		label, err := w.Label()
		if err != nil {
			t.Fatal(err)
		}
		sheet, err := w.Sheet()
		if err != nil {
			t.Fatal(err)
		}
		seen := map[string]int{}
		for _, m := range ids.FindAllSubmatch(label, -1) {
			seen[string(m[1])]++
		}
		for id, n := range seen {
			if n > 1 {
				t.Errorf("%s: %d times the id %s", name, n, id)
			}
		}
		used := uses.FindAllSubmatch(label, -1)
		for _, m := range used {
			if seen[string(m[1])] == 0 {
				t.Errorf("%s: uses %s, which is not there", name, m[1])
			}
		}
		if want := bytes.Count(label, []byte(`<svg class="qr"`)) + bytes.Count(label, []byte(`<svg class="d-sprig"`)); len(used) != want/2 || seen["label"] != 1 || seen["card"] != 1 {
			t.Errorf("%s: %d of %d pictures are used again; %d labels, %d cards", name, len(used), want, seen["label"], seen["card"])
		}
		for _, paper := range []string{"strip", "card"} {
			if led := bytes.Contains(sheet, []byte(`label/#`+paper+`"`)); led != (seen[paper] == 1) {
				t.Errorf("%s: %d times a %s, and a link to it: %v", name, seen[paper], paper, led)
			}
		}
		strips[seen["strip"] == 1]++
		if seen["strip"] == 1 && !bytes.Contains(label, []byte(`<div class="cut"><p class="strip"><span><i lang="la"`)) {
			t.Errorf("%s: the strip does not say of which plants it is", name)
		}
	}
	if strips[true] == 0 || strips[false] == 0 {
		t.Errorf("parcels with and without a strip: %v", strips)
	}
}
