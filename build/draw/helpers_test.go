package draw

import (
	"encoding/xml"
	"errors"
	"flag"
	"io"
	"regexp"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "rewrite the golden files")

// wellFormed fails unless svg is one XML element with unique ids, and with neither style attributes nor script.
func wellFormed(t testing.TB, svg string) {
	t.Helper()
	d := xml.NewDecoder(strings.NewReader(svg))
	ids := map[string]bool{}
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			t.Fatalf("not well-formed: %v", err)
		}
		start, ok := token.(xml.StartElement)
		if !ok {
			continue
		}
		if start.Name.Local == "script" || start.Name.Local == "style" {
			t.Errorf("element <%s>", start.Name.Local)
		}
		for _, a := range start.Attr {
			if a.Name.Local == "style" || strings.HasPrefix(a.Name.Local, "on") {
				t.Errorf("attribute %s on <%s>", a.Name.Local, start.Name.Local)
			}
			if a.Name.Local == "id" {
				if ids[a.Value] {
					t.Errorf("id %q twice", a.Value)
				}
				ids[a.Value] = true
			}
		}
	}
	for _, m := range regexp.MustCompile(`(?:href="#|url\(#|(?:labelled|described)by=")([^")]+)`).FindAllStringSubmatch(svg, -1) {
		if !ids[m[1]] {
			t.Errorf("nothing has the id %q", m[1])
		}
	}
}

// finite fails if a number in the drawing is none.
func finite(t testing.TB, svg string) {
	t.Helper()
	if m := regexp.MustCompile(`NaN|Inf|e\+|\d{7}`).FindString(regexp.MustCompile(`<(title|desc)[^>]*>[^<]*<`).ReplaceAllString(svg, "")); m != "" {
		i := strings.Index(svg, m)
		t.Errorf("the drawing has %q in it: …%s", m, svg[max(0, i-160):min(len(svg), i+20)])
	}
}

// mostElements is how many elements of a drawing a browser lays out at most, those that <use> repeats counted each time.
const mostElements = 3000

var opensOrCloses = regexp.MustCompile(`<(/?)(\w+)([^>]*?)(/?)>`)
var idOf = regexp.MustCompile(` id="([^"]*)"`)
var used = regexp.MustCompile(`<use href="#([^"]*)"`)

// elements counts what a browser lays out.
func elements(svg string) int {
	all := 0
	within, weigh := map[string]int{}, map[string]int{}
	var open []string
	for _, m := range opensOrCloses.FindAllStringSubmatch(svg, -1) {
		if m[1] != "" {
			open = open[:len(open)-1]
			continue
		}
		all++
		for _, id := range open {
			within[id]++
		}
		id := ""
		if i := idOf.FindStringSubmatch(m[3]); i != nil {
			id = i[1]
		}
		if m[4] == "" {
			open = append(open, id)
		}
	}
	for _, u := range used.FindAllStringSubmatch(svg, -1) {
		weigh[u[1]]++
	}
	for id, n := range weigh {
		all += n * (within[id] + 1)
	}
	return all
}
