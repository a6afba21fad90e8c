package page_test

import (
	"encoding/json"
	"html"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

var (
	tags     = regexp.MustCompile(`<[^>]*>`)
	figures  = regexp.MustCompile(`[0-9]+(?:\.[0-9]+)?`)
	fitRows  = regexp.MustCompile(`(?s)<ul class="fits".*?</ul>`)
	fitLines = regexp.MustCompile(`(?s)<details id="figures">.*?</details>`)
	doses    = regexp.MustCompile(`(?s)<dl class="dose">.*?</dl>`)
	daysRow  = regexp.MustCompile(`<time datetime="([0-9-]+)"`)
)

// Every figure of a sheet's rows, lines, doses and days is in its sheet.json too: as it is, or in the units of
// the page (°F, in, gal from the definitions), rounded to the digits that the page shows.
func TestEveryFigureOfASheetIsInItsJSON(t *testing.T) {
	b := benchBook(t)
	seen := 0
	for name, p := range withSheet(b) {
		sheet, err := b.Papers(p).Sheet()
		if err != nil {
			t.Fatal(err)
		}
		data, err := b.Papers(p).JSON()
		if err != nil {
			t.Fatal(err)
		}
		var tree any
		if err := json.Unmarshal(data, &tree); err != nil {
			t.Fatal(err)
		}
		known := numbersOf(tree, nil)
		if holds(known, "43210.9") {
			t.Fatalf("%s: a figure that nobody wrote is found: the search is too wide", name)
		}
		for _, part := range []*regexp.Regexp{fitRows, fitLines, doses} {
			text := strings.Join(part.FindAllString(string(sheet), -1), " ")
			text = html.UnescapeString(tags.ReplaceAllString(strings.ReplaceAll(text, "CO<sub>2</sub>", "CO"), " "))
			text = strings.ReplaceAll(strings.ReplaceAll(text, "CO₂", "CO"), "m²", "m")
			for _, f := range figures.FindAllString(text, -1) {
				seen++
				if !holds(known, f) {
					t.Errorf("%s: the sheet says %s, which its JSON does not: …%s…", name, f, strings.Join(strings.Fields(text), " "))
				}
			}
		}
		for _, d := range daysRow.FindAllStringSubmatch(string(sheet), -1) {
			seen++
			if !strings.Contains(string(data), `"`+d[1]) {
				t.Errorf("%s: the day %s is not in its JSON", name, d[1])
			}
		}
	}
	if seen < 200 {
		t.Errorf("only %d figures were looked for", seen)
	}
}

// numbersOf collects every number of a JSON tree, those in its words too.
func numbersOf(tree any, out []float64) []float64 {
	switch v := tree.(type) {
	case float64:
		out = append(out, v)
	case string:
		for _, f := range figures.FindAllString(v, -1) {
			if x, err := strconv.ParseFloat(f, 64); err == nil {
				out = append(out, x)
			}
		}
	case []any:
		for _, x := range v {
			out = numbersOf(x, out)
		}
	case map[string]any:
		for _, x := range v {
			out = numbersOf(x, out)
		}
	}
	return out
}

// holds reports whether a figure as printed is one of the known numbers, in some unit, within its last digit.
func holds(known []float64, printed string) bool {
	want, err := strconv.ParseFloat(printed, 64)
	if err != nil {
		return false
	}
	slack := 0.51
	if _, decimals, ok := strings.Cut(printed, "."); ok {
		slack = 0.51 * math.Pow10(-len(decimals))
	}
	for _, k := range known {
		for _, x := range []float64{k, k*9/5 + 32, (k - 32) * 5 / 9, k / 2.54, k * 2.54, k / 3.785411784, k * 1000, k * 100} {
			if math.Abs(x-want) <= slack+1e-9 {
				return true
			}
		}
	}
	return false
}
