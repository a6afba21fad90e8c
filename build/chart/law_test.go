package chart

import (
	"encoding/xml"
	"fmt"
	"html/template"
	"io"
	"os"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// failer is a test, a benchmark or one draw of a random test.
type failer interface {
	Helper()
	Fatalf(format string, args ...any)
}

// drawn is what a test reads back from a picture.
type drawn struct {
	width, height float64
	texts         []text
	ids, classes  []string
	title         string
}

var (
	aNumber = regexp.MustCompile(`-?[0-9]*\.?[0-9]+`)
	notSane = regexp.MustCompile(`NaN|Inf|[0-9]e[+-]?[0-9]`)
)

// read parses a picture as strict XML and checks what every picture must hold. Labels are compared with what the width
// estimate says of the text that arrived.
func read(t failer, svg template.HTML) drawn {
	t.Helper()
	d, err := parse(string(svg))
	if err != nil {
		t.Fatalf("%v in %s", err, svg)
	}
	boxes := make([]box, len(d.texts))
	for i, x := range d.texts {
		b := x.box()
		if b.x0 < -0.11 || b.y0 < -0.11 || b.x1 > d.width+0.11 || b.y1 > d.height+0.11 {
			t.Fatalf("%q leaves the picture: %v in %s", x.s, b, svg)
		}
		boxes[i] = box{b.x0 + 0.11, b.y0 + 0.11, b.x1 - 0.11, b.y1 - 0.11} // coordinates are rounded to 0.1
		for j, o := range boxes[:i] {
			if boxes[i].meets(o) {
				t.Fatalf("%q lies on %q in %s", x.s, d.texts[j].s, svg)
			}
		}
	}
	return d
}

func parse(svg string) (d drawn, err error) {
	dec := xml.NewDecoder(strings.NewReader(svg))
	var named []string
	var inside string
	for {
		tok, err := dec.Token()
		if err == io.EOF {
			break
		}
		if err != nil {
			return d, err
		}
		switch e := tok.(type) {
		case xml.StartElement:
			inside = e.Name.Local
			refs, err := d.element(e)
			if err != nil {
				return d, err
			}
			named = append(named, refs...)
		case xml.CharData:
			switch inside {
			case "title":
				d.title += string(e)
			case "text", "tspan":
				d.texts[len(d.texts)-1].s += string(e)
			}
		case xml.EndElement:
			if inside = ""; e.Name.Local == "tspan" {
				inside = "text"
			}
		}
	}
	for _, id := range named {
		if !slices.Contains(d.ids, id) {
			return d, fmt.Errorf("nothing has the id %q", id)
		}
	}
	return d, nil
}

// element checks one element and notes it; it returns the ids that it refers to.
func (d *drawn) element(e xml.StartElement) (refs []string, err error) {
	if !slices.Contains([]string{"svg", "title", "defs", "pattern", "path", "circle", "rect", "text", "tspan"}, e.Name.Local) {
		return nil, fmt.Errorf("element %s", e.Name.Local)
	}
	at := map[string]string{}
	for _, a := range e.Attr {
		if !slices.Contains([]string{"class", "viewBox", "role", "aria-labelledby", "aria-label", "aria-hidden", "id", "d", "x", "y", "cx", "cy", "r", "width",
			"height", "fill", "text-anchor", "patternUnits", "patternTransform", "preserveAspectRatio"}, a.Name.Local) {
			return nil, fmt.Errorf("attribute %s", a.Name.Local)
		}
		at[a.Name.Local] = a.Value
	}
	for _, name := range []string{"d", "x", "y", "cx", "cy", "r", "width", "height", "viewBox"} {
		if notSane.MatchString(at[name]) {
			return nil, fmt.Errorf("%s is %q", name, at[name])
		}
		for _, s := range aNumber.FindAllString(at[name], -1) {
			if v, err := strconv.ParseFloat(s, 64); err != nil || v < -20 || v > 1e6 {
				return nil, fmt.Errorf("%s holds %q", name, s)
			}
		}
	}
	d.classes = append(d.classes, strings.Fields(at["class"])...)
	if id := at["id"]; id != "" {
		if slices.Contains(d.ids, id) {
			return nil, fmt.Errorf("id %q twice", id)
		}
		d.ids = append(d.ids, id)
	}
	num := func(name string) float64 { v, _ := strconv.ParseFloat(at[name], 64); return v }
	switch e.Name.Local {
	case "svg":
		f := strings.Fields(at["viewBox"])
		if len(f) != 4 || at["aria-hidden"] != "true" && (at["role"] != "img" || (at["aria-labelledby"] == "") == (at["aria-label"] == "")) {
			return nil, fmt.Errorf("svg with %v", at)
		}
		d.width, _ = strconv.ParseFloat(f[2], 64)
		d.height, _ = strconv.ParseFloat(f[3], 64)
	case "text":
		a := slices.Index([]string{"", "middle", "end"}, at["text-anchor"])
		d.texts = append(d.texts, text{x: num("x"), y: num("y"), anchor: anchor(a), bold: strings.Contains(at["class"], "strong")})
	}
	refs = strings.Fields(at["aria-labelledby"])
	if f := at["fill"]; f != "" {
		refs = append(refs, strings.TrimSuffix(strings.TrimPrefix(f, "url(#"), ")"))
	}
	return refs, nil
}

func TestEveryPictureIsSound(t *testing.T) {
	var ids []string
	for name, svg := range pictures(t) {
		d := read(t, svg)
		for _, id := range d.ids {
			if slices.Contains(ids, id) {
				t.Errorf("%s: id %q stands in another picture of the page too", name, id)
			}
			ids = append(ids, id)
		}
		if strings.HasSuffix(name, "-broad") && d.width != 576 || strings.HasSuffix(name, "-narrow") && d.width != 328 {
			t.Errorf("%s is %v wide", name, d.width)
		}
	}
}

// Every class that a picture bears is explained in the package's comment and has a rule in the default theme.
func TestClassesAreToldAndStyled(t *testing.T) {
	doc, err := os.ReadFile("doc.go")
	if err != nil {
		t.Fatal(err)
	}
	css, err := os.ReadFile("../../themes/bench/styles/60-chart.css")
	if err != nil {
		t.Fatal(err)
	}
	var seen []string
	for _, svg := range pictures(t) {
		seen = append(seen, read(t, svg).classes...)
	}
	slices.Sort(seen)
	for _, class := range slices.Compact(seen) {
		whole := regexp.MustCompile(`\b` + class + `\b`)
		if !whole.Match(doc) {
			t.Errorf("class %s is not in the package's comment", class)
		}
		styled := regexp.MustCompile(`\.` + class + `[ ,:.)]`)
		if !styled.Match(css) && class != "lab" {
			t.Errorf("class %s has no rule in 60-chart.css", class)
		}
	}
}

func TestSampleShowsItsLabels(t *testing.T) {
	p := sampleGrowth("g").Draw()
	for layout, want := range map[template.HTML][]string{
		p.Broad:  {"each dot a count", "fit and its 95 % band", "trim at 720 cm", "next trim", "2–12 July", "today, 30 June", "cuttings", "22", "36", "38", "40", "+6", "−4", "800 cm", "each line ×2", "March", "July"},
		p.Narrow: {"trim at 720 cm", "next trim", "2–12 July", "today, 30 June", "cuttings", "22", "36", "38", "40", "+6", "−4", "800 cm", "each line ×2", "Mar", "Jul"},
	} {
		var got []string
		for _, x := range read(t, layout).texts {
			got = append(got, x.s)
		}
		for _, s := range want {
			if !slices.Contains(got, s) {
				t.Errorf("%q is not shown among %q", s, got)
			}
		}
	}
}
