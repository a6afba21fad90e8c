package site

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"golang.org/x/net/html"

	"slipleaf/build/almanac"
	"slipleaf/build/page"
	"slipleaf/build/theme"
)

// moreLots are plants of every kind, beyond those that the demonstration has on the day.
const moreLots = `---
title: More lots
lots:
  - {lot: LM-1, plant: hydrocharis-laevigata, form: plantlets, count: 30, ready: 2026-11-23, pests: "none seen", grown: submersed}
  - {lot: TB-1, plant: taxiphyllum-barbieri, form: portions, count: 9, ready: 2026-11-23, pests: "bladder snails", grown: submersed}
  - {lot: HC-1, plant: hemianthus-callitrichoides, form: portions, count: 12, ready: 2026-11-23, grown: culture}
  - {lot: HZ-2, plant: heteranthera-zosterifolia, form: cuttings, count: 20, ready: 2026-11-23, identity: unsure, grown: emersed}
  - {lot: EG-1, plant: egeria-densa, form: cuttings, count: 12, ready: 2026-11-23, grown: submersed}
  - {lot: CU-1, plant: cryptocoryne-x-willisii, form: plantlets, count: 12, ready: 2026-11-23, grown: emersed, copper: 2026-10}
  - {lot: VS-2, plant: vallisneria-spiralis, form: plantlets, count: 12, ready: 2026-11-23, grown: submersed}
---

More.
`

// moreParcels go to people and tanks as unlike as they come: one plant and five, two lots of one plant, a plant that won't live, one
// that is forbidden, one that is listed elsewhere, nothing known, afloat, seeds, fish that eat it.
var moreParcels = []string{
	"lot: VS-2\ncount: 1\nregion: DE\nwater: {temperature: 24 C, ph: 7.4, gh: 12 dGH, kh: 8 dKH}\ntank: {inside: {length: 60 cm, width: 30 cm, height: 35 cm}, co2: {injected: false}}",
	"items: [{lot: BC-1122, count: 1}, {lot: TB-1, count: 2}, {lot: AB-1115, count: 1}, {lot: SR-1122, count: 5}, {lot: CW-1122, count: 1}]\nregion: GB\nwater: {temperature: 24 C, gh: 12 dGH, kh: 8 dKH}",
	"items: [{lot: HZ-1101, count: 2}, {lot: HZ-2, count: 6}]\nwater: {temperature: 24 C, gh: 12 dGH, kh: 8 dKH}",
	"lot: HC-1\ncount: 3\nregion: US-FL\nunits: us\nwater: {temperature: 30 C, ph: 8.4, gh: 30 dGH, kh: 22 dKH}",
	"items: [{lot: LM-1, count: 3}, {lot: VS-2, count: 3}, {lot: HC-1, count: 1}]\nunits: us\nregion: US-OH\nwater: {temperature: 72 F, gh: 2 dGH, kh: 1 dKH}\ntank: {co2: {injected: true}, livestock: [{kind: goldfish, count: 5}]}",
	"lot: BM-1019\ncount: 1",
	"lot: LM-1\ncount: 1\nregion: FR\nwater: {gh: 8 dGH}",
	"lot: EG-1\ncount: 3\nregion: US-WA",
	"lot: EG-1\ncount: 3",
	"lot: CU-1\ncount: 6\nwater: {temperature: 22 C, gh: 2 dGH, kh: 1 dKH}\ntank: {livestock: [{kind: dwarf shrimp, count: 30}]}",
	"lot: LC-1004\ncount: 10\nwater: {temperature: 24 C, gh: 12 dGH, kh: 8 dKH}",
}

// spoken makes the pages of the demonstration in a language, with parcels as unlike as they come.
func spoken(t *testing.T, lang string) (*page.Site, []theme.File) {
	t.Helper()
	journal := demoIn(t, lang)
	journal["tanks/trough/2026-11-23.md"] = &fstest.MapFile{Data: []byte(moreLots)}
	for i, p := range moreParcels {
		head := fmt.Sprintf("---\n%s\nsent: 2026-11-25\nhow: by-hand\ncode: %02dkq5w8vx2m7c9r4t6y3pz1hd\n---\n", p, i)
		journal[fmt.Sprintf("sent/more-%02d.md", i)] = &fstest.MapFile{Data: []byte(head)}
	}
	b, complaints, err := Load(context.Background(), journal, Options{On: demoDay, Photos: demoPhotos()})
	if err != nil || b == nil {
		t.Fatalf("%v %v", err, complaints)
	}
	files, err := Make(context.Background(), b, Options{only: func(o page.Output) bool { return strings.HasSuffix(page.PathOf(o.Addr), ".html") }})
	if err != nil {
		t.Fatal(err)
	}
	return b, slices.DeleteFunc(files, func(f theme.File) bool { return !strings.HasSuffix(f.Path, ".html") || f.Path == blankIndex })
}

// In both languages all pages, heard or read: headings nest and tell what they head, links say where they lead, one is no plural, dates
// are written out, names in Latin say that they are, one thing has one word, figures keep to their units.
func TestPagesReadAloud(t *testing.T) {
	for _, lang := range []string{"en", "de"} {
		t.Run(lang, func(t *testing.T) {
			t.Parallel()
			b, files := spoken(t, lang)
			rules := speechOf(t, b.Almanac, lang)
			told, texts := map[string]int{}, 0
			for _, f := range files {
				root, err := html.Parse(bytes.NewReader(f.Data))
				if err != nil {
					t.Fatal(err)
				}
				faults := append(outlineFaults(root), linkFaults(root)...)
				spokenTexts(root, func(n *html.Node) {
					texts++
					faults = append(faults, rules.faults(n)...)
				})
				for _, fault := range faults {
					if told[fault]++; told[fault] == 1 {
						t.Errorf("%s: %s", f.Path, fault)
					}
				}
			}
			if texts < 20_000 {
				t.Errorf("only %d texts were read", texts)
			}
		})
	}
}

// outlineFaults says where the headings of a page skip a level, or two under one heading say the same (WCAG 2.2, 1.3.1 and 2.4.6).
func outlineFaults(root *html.Node) (faults []string) {
	var open []string // the headings that the next one may stand under, by level
	said := map[string]bool{}
	for n := range root.Descendants() {
		if n.Type != html.ElementNode || len(n.Data) != 2 || n.Data[0] != 'h' || n.Data[1] < '1' || n.Data[1] > '6' {
			continue
		}
		level, text := int(n.Data[1]-'0'), accessibleName(n)
		switch {
		case level > len(open)+1:
			faults = append(faults, fmt.Sprintf("<%s> %q stands under a heading of level %d", n.Data, text, len(open)))
		case level == 1 && len(open) > 0:
			faults = append(faults, fmt.Sprintf("a second <h1>: %q", text))
		case text == "":
			faults = append(faults, "an empty <"+n.Data+">")
		}
		open = append(open[:min(level-1, len(open))], text)
		if way := strings.Join(open, " > "); said[way] {
			faults = append(faults, fmt.Sprintf("two headings %q", way))
		} else {
			said[way] = true
		}
	}
	if len(open) == 0 {
		faults = append(faults, "no heading")
	}
	return faults
}

// linkFaults says which links of a page have one name and lead to different places (WCAG 2.2, 2.4.9): those to other pages, and those
// within the page.
func linkFaults(root *html.Node) (faults []string) {
	leads := map[string]string{}
	for n := range root.Descendants() {
		if n.Type != html.ElementNode || n.Data != "a" || attribute(n, "href") == "" {
			continue
		}
		to, name := attribute(n, "href"), accessibleName(n)
		key := name
		if strings.HasPrefix(to, "#") {
			key = "#" + name
		}
		switch was, ok := leads[key]; {
		case name == "":
			faults = append(faults, "a link without a name to "+to)
		case ok && was != to:
			faults = append(faults, fmt.Sprintf("%q leads to %s and to %s", name, was, to))
		default:
			leads[key] = to
		}
	}
	return faults
}

// accessibleName is what is read of an element, pictures by their names.
func accessibleName(n *html.Node) string {
	var b strings.Builder
	var walk func(*html.Node)
	walk = func(n *html.Node) {
		switch {
		case n.Type == html.TextNode:
			b.WriteString(n.Data)
		case attribute(n, "aria-hidden") == "true" || n.Data == "desc":
			return
		case attribute(n, "aria-label") != "":
			b.WriteString(attribute(n, "aria-label"))
			return
		case n.Data == "img":
			b.WriteString(attribute(n, "alt"))
		}
		for c := range n.ChildNodes() {
			walk(c)
		}
	}
	walk(n)
	return strings.Join(strings.Fields(b.String()), " ")
}

// spokenTexts visits the texts of a page in its own words: not those of the grower, of another language or of code.
func spokenTexts(n *html.Node, visit func(*html.Node)) {
	if n.Type == html.TextNode {
		visit(n)
		return
	}
	for _, class := range strings.Fields(attribute(n, "class")) {
		if class == "prose" || class == "e-content" || class == "p-summary" || class == "code" || class == "form" || class == "addr" {
			return
		}
	}
	if slices.Contains([]string{"script", "style", "pre", "code", "q"}, n.Data) || n.Data != "html" && attribute(n, "lang") != "" {
		return
	}
	for c := range n.ChildNodes() {
		spokenTexts(c, visit)
	}
}

// speech is what is listened for in one language.
type speech struct {
	plurals *regexp.Regexp
	latin   *regexp.Regexp
	second  *regexp.Regexp
}

var (
	forms     = regexp.MustCompile(`\{\w+\|([^|{}]+)\|([^|{}]+)\}`)
	machine   = regexp.MustCompile(`\b(?:19|20)\d\d-[01]\d(?:-[0-3]\d)?\b`)
	loose     = regexp.MustCompile(`\d (?:cm|mm|m|L|mL|gal|g|mg|kg|W|h|mA|mg/L|mS/cm|°C|°F|C|dGH|dKH|dm²|cm²|µmol/m²/s)(?:\PL|$)`)
	hyphened  = regexp.MustCompile(`(?:^|\p{Ll} |\()\d+-\d+(?:$|[\s.,;)])`)
	doubled   = regexp.MustCompile(`(?i)(?:^|[^\p{L}\d])(\p{L}{2,}) (\p{L}{2,})(?:[^\p{L}\d]|$)`)
	quoted    = regexp.MustCompile(`[“„][^“”]*[“”]?`) // as somebody else wrote it
	mayDouble = map[string]bool{"sie": true, "die": true, "that": true}
)

// secondWords are words for what these pages call by another one, in that language: one thing has one word.
var secondWords = map[string]string{
	"en": `\bheart\b|\bjoints?\b|\bslips\b|\breckoned\b`,
	"de": `Vegetationspunkt|Wurzelstock|\bam Herz\b|Beutel|Prüftag|Tauschtisch|Abschnitte|Nachschlagewerk|Spannen\b|Erfahrungswert|Blattfall|°dKH|°dGH|Zugabe|Warnzeichen`,
}

func speechOf(t *testing.T, a *almanac.Almanac, lang string) speech {
	t.Helper()
	text, err := os.ReadFile("../../themes/bench/words/" + lang + ".yaml")
	if err != nil {
		t.Fatal(err)
	}
	plurals := []string{}
	for _, m := range forms.FindAllSubmatch(text, -1) {
		if one, other := string(m[1]), string(m[2]); one != other && !slices.Contains(plurals, regexp.QuoteMeta(other)) {
			plurals = append(plurals, regexp.QuoteMeta(other))
		}
	}
	if len(plurals) < 20 {
		t.Fatalf("only %d plurals in the words", len(plurals))
	}
	names := []string{}
	for _, s := range a.All() {
		names = append(names, regexp.QuoteMeta(s.Taxon))
	}
	return speech{
		regexp.MustCompile(`(?:^|[^\d.,:/–-])1[ \x{a0}](?:` + strings.Join(plurals, "|") + `)(?:\PL|$)`),
		regexp.MustCompile(`(?:^|\PL)(?:` + strings.Join(names, "|") + `)(?:\PL|$)`),
		regexp.MustCompile(secondWords[lang]),
	}
}

func (s speech) faults(n *html.Node) (faults []string) {
	say := func(what, found string) {
		if found != "" {
			faults = append(faults, fmt.Sprintf("%s: %q in %q", what, found, strings.Join(strings.Fields(n.Data), " ")))
		}
	}
	say("one before a plural", s.plurals.FindString(n.Data))
	say("a date for machines", machine.FindString(n.Data))
	say("a second word for one thing", s.second.FindString(n.Data))
	if !slices.Contains([]string{"title", "desc", "text", "tspan"}, n.Parent.Data) { // which break no line
		say("a figure that may part from its unit", loose.FindString(n.Data))
	}
	say("a hyphen in a range", hyphened.FindString(n.Data))
	for _, m := range doubled.FindAllStringSubmatch(n.Data, -1) {
		if strings.EqualFold(m[1], m[2]) && !mayDouble[strings.ToLower(m[1])] {
			say("a word twice", m[0])
		}
	}
	if !slices.Contains([]string{"title", "desc", "option", "text", "tspan"}, n.Parent.Data) {
		say("Latin that does not say so", s.latin.FindString(quoted.ReplaceAllString(n.Data, "")))
	}
	return faults
}
