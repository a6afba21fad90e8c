package main

import (
	"context"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"

	"github.com/chromedp/chromedp"
)

// hostileWords are what somebody may write into a text field to run a script, to fetch from elsewhere or to break the
// page open: for HTML, attributes, styles, SVG, templates and structured data.
var hostileWords = []string{
	`"><script>window.harmed=1;alert(1)</script>`,
	`'><img src=x onerror="window.harmed=1;alert(2)">`,
	`</title></script></style></textarea></template><svg/onload=window.harmed=1>`,
	`javascript:alert(3)`,
	`{{.}} {{template "head" .}} {{printf "%s" .}} ${alert(4)} #{7*7} <%= 7*7 %>`,
	`</p><style>body{background:url(//elsewhere.example/a.png)}</style>`,
	`" onmouseover="alert(5)" autofocus onfocus="alert(6)" x="`,
	`<svg><a xlink:href="javascript:alert(7)"><text>x</text></a><foreignObject><iframe src="//elsewhere.example/b"></iframe></foreignObject></svg>`,
	`<!--#exec cmd="id"--><base href="//elsewhere.example/"><meta http-equiv="refresh" content="0;url=//elsewhere.example/c">`,
	`*/}@import url(//elsewhere.example/d.css);/*`,
	"]]> &lt;script&gt;alert(8)&lt;/script&gt; \u202e\u2028\u00ad {lot} %s %n ../../",
}

// hostileBody is Markdown that tries the same.
const hostileBody = `<script>window.harmed=1;alert(9)</script>

[e](https://elsewhere.example/" onclick="alert(14)) **{{.}}** ` + "`</code><script>alert(15)</script>`" + `
[k](https://elsewhere.example/?x=<script>alert(25)</script> "a\" onmouseover=\"alert(26)")

<img src=x onerror=alert(17)> <iframe srcdoc="<script>alert(18)</script>"></iframe> &#60;script&#62;alert(19)&#60;/script&#62;

| <script>alert(20)</script> | b |
|---|---|
| <b onclick=alert(21)>x</b> | [i]: |

` + "```html\"><script>alert(22)</script>\n</code></pre><script>alert(23)</script>\n```\n"

// hostileLinks are what the program must refuse to publish, one by one.
var hostileLinks = []string{
	"[a](javascript:alert(10))", "[b](JaVaScRiPt:alert(11))", "[c](data:text/html,<script>alert(12)</script>)", "<javascript:alert(13)>",
	"[d](vbscript:x)", "![f](https://elsewhere.example/e.png)", "![g](javascript:alert(16))", "![h](//elsewhere.example/f.png)",
	"[j]\n\n[j]: javascript:alert(24) \"x\"", "[l](java&#115;cript:alert(27))", "[m](\x01javascript:alert(28))",
}

// hostileJournal is the smallest journal with every text field that the program takes. %s stands for a hostile word
// as a quoted string.
var hostileJournal = map[string]string{
	"journal.yaml": `title: %s
grower: %s
address: https://bench.example/
language: en
units: metric
region: GB
timezone: Europe/London
claims: "mailto:a@bench.example?subject={lot}"
`,
	"tanks/one/tank.md": `---
name: %s
began: 2026-01-10
inside: {length: 60 cm, width: 30 cm, height: 35 cm}
water-depth: 28 cm
substrate: [{material: %s, depth: 4 cm, nutrients: rich}]
light: [{name: %s, output: 1400 lm, kind: white led, length: 50 cm, above-water: 6 cm, hours: 8}]
co2: {injected: false}
flow: {rate: 200 L/h, device: %s}
livestock: [{kind: %s, count: 6}]
tap: {gh: 13 dGH, kh: 6 dKH, ph: 7.4}
grown: submersed
private: {note: %s}
---
`,
	"tanks/one/2026-04-18.md": `---
title: %s
parameters: {temperature: 24.6 C, ph: 6.7, gh: 6 dGH, kh: 4 dKH}
counts: [{plant: heteranthera-zosterifolia, stems: 24, length: 31 cm, area: 6 dm2}]
trims: [{plant: heteranthera-zosterifolia, cuttings: 12, length: 12 cm}]
losses: [{plant: heteranthera-zosterifolia, stems: 1, cause: %s}]
lots:
  - {lot: HZ-0418, plant: heteranthera-zosterifolia, form: cuttings, count: 12, ready: 2026-04-20, received-as: %s, pests: %s, dips: %s, sure: likely}
photos: [{file: one.png, alt: %s}]
private: {note: %s}
---
`,
	"plants/my-stargrass.md": `---
taxon: Heteranthera zosterifolia
common: %s
---
`,
	"sent/first.md": `---
lot: HZ-0418
count: 2
asked: 2026-04-18
sent: 2026-04-22
how: post
code: 7f3k9m2p4t6w8x0z1b5c7d9qe
region: GB
water: {temperature: 24 C, ph: 7.6, gh: 14 dGH, kh: 10 dKH}
tank: {inside: {length: 50 cm, width: 25 cm, height: 30 cm}, water-depth: 22 cm, substrate: [{material: %s, depth: 4 cm, nutrients: none}]}
reports: [{date: 2026-05-20, outcome: lost, cause: %s}]
private: {name: %s, address: %s, note: %s}
---
`,
	"pages/words.md": `---
title: %s
order: 1
---
`,
}

// hostileRounds are what stands in every text field of one journal: an address alone, then all words after one another,
// forwards and backwards, since one word may hide behind another.
func hostileRounds() []string {
	back := slices.Clone(hostileWords)
	slices.Reverse(back)
	return []string{"javascript:alert(3)", strings.Join(hostileWords, " "), strings.Join(back, " ")}
}

// writeHostile writes the journal with the words in each text field.
func writeHostile(dir, words string) error {
	quoted, err := json.Marshal(words) // a JSON string is a YAML one
	if err != nil {
		return err
	}
	for name, text := range hostileJournal {
		text = strings.ReplaceAll(text, "%s", string(quoted))
		if strings.HasSuffix(name, ".md") {
			text += hostileBody
		}
		file := filepath.Join(dir, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
			return err
		}
		if err := os.WriteFile(file, []byte(text), 0o644); err != nil {
			return err
		}
	}
	data, err := os.ReadFile(filepath.Join("content", "photos", "bench-plan.png"))
	if err != nil {
		return err
	}
	if err := os.MkdirAll(filepath.Join(dir, "photos"), 0o755); err != nil {
		return err
	}
	return os.WriteFile(filepath.Join(dir, "photos", "one.png"), data, 0o644)
}

// hostile publishes the journal with hostile words in every field, and opens a page of every kind.
func hostile(ctx context.Context, c *checker) (passed, failed int, err error) {
	program := filepath.Join(c.tmp, "slipleaf")
	if out, err := exec.CommandContext(ctx, "go", "build", "-o", program, "./cmd/slipleaf").CombinedOutput(); err != nil {
		return 0, 0, fmt.Errorf("go build: %w\n%s", err, out)
	}
	passed, failed, err = c.refused(ctx, program)
	if err != nil {
		return passed, failed, err
	}
	for round, words := range hostileRounds() {
		dir := filepath.Join(c.tmp, fmt.Sprintf("hostile-%d", round))
		if err := writeHostile(filepath.Join(dir, "journal"), words); err != nil {
			return passed, failed, err
		}
		to := filepath.Join(dir, "site")
		out, err := exec.CommandContext(ctx, program, "publish", filepath.Join(dir, "journal"), "--to", to, "--on", demoDay).CombinedOutput()
		if err != nil {
			return passed, failed, fmt.Errorf("publishing hostile words: %w\n%s", err, tail(out, 4000))
		}
		p, f, err := c.opened(ctx, to, round)
		if err != nil {
			return passed, failed, err
		}
		passed, failed = passed+p, failed+f
	}
	return passed, failed, nil
}

// refused puts each hostile link on a page by itself: none may be published.
func (c *checker) refused(ctx context.Context, program string) (passed, failed int, err error) {
	dir := filepath.Join(c.tmp, "hostile-links")
	if err := writeHostile(filepath.Join(dir, "journal"), hostileWords[0]); err != nil {
		return 0, 0, err
	}
	for _, link := range hostileLinks {
		text := "---\ntitle: A link\norder: 1\n---\n" + link + "\n"
		if err := os.WriteFile(filepath.Join(dir, "journal", "pages", "words.md"), []byte(text), 0o644); err != nil {
			return passed, failed, err
		}
		out, err := exec.CommandContext(ctx, program, "publish", filepath.Join(dir, "journal"), "--to", filepath.Join(dir, "site"), "--on", demoDay).CombinedOutput()
		if err != nil && strings.Contains(string(out), filepath.Join("pages", "words.md")+":") {
			passed++
			continue
		}
		failed++
		fmt.Fprintf(c.out, "   %q was published\n", link)
	}
	return passed, failed, nil
}

// opened opens a page of every kind of a hostile site and looks for harm.
func (c *checker) opened(ctx context.Context, site string, round int) (passed, failed int, err error) {
	all, err := pages(site)
	if err != nil {
		return 0, 0, err
	}
	b, err := c.start(ctx, site, plainFonts)
	if err != nil {
		return 0, 0, err
	}
	defer b.stop()
	var jobs []job
	for _, p := range some(all, 1) {
		jobs = append(jobs, job{fmt.Sprintf("%s of round %d", p, round+1), func(ctx context.Context) ([]string, error) {
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
	passed, failed = c.all(b, jobs)
	return passed, failed, nil
}
