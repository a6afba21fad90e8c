package site

import (
	"bytes"
	"context"
	"io/fs"
	"os"
	"regexp"
	"strings"
	"testing"
	"testing/fstest"

	"golang.org/x/net/html"

	"slipleaf/build/page"
	"slipleaf/build/theme"
	"slipleaf/build/words"
)

// demoIn is the demonstration in a language, with nothing else changed.
func demoIn(t *testing.T, lang string) fstest.MapFS {
	t.Helper()
	const root = "../../content"
	m := fstest.MapFS{}
	err := fs.WalkDir(os.DirFS(root), ".", func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		text, err := os.ReadFile(root + "/" + p)
		m[p] = &fstest.MapFile{Data: text}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	config := m["journal.yaml"]
	config.Data = regexp.MustCompile(`(?m)^language:.*\n`).ReplaceAll(config.Data, nil)
	config.Data = append(config.Data, "\nlanguage: "+lang+"\n"...)
	return m
}

// english are words that the theme's own English says often and that neither German nor a plant's name has.
var english = regexp.MustCompile(`(?i)(?:^|\PL)(ready|promised|coming|given|parcels?|lots?|lost|water|light|plants?|tanks?|days?|weeks?|hours?|measured|sheet|reckoned|nobody|known|between|about|from|with|outside|inside|needs?|counts?|cuts?|floor|grows|search|this|that|the|its?|here)(?:\PL|$)`)

// notOurs are the classes of elements that hold the grower's own words or another source's, in their language.
var notOurs = map[string]bool{"prose": true, "p-name": true, "p-summary": true, "e-content": true, "law": true, "name": true, "taxon": true, "common": true, "strip": true, "la": true}

// The theme speaks German throughout: where it places words of its own (headings, table heads, labels of forms,
// buttons, summaries, navigation), none are English, and no key is missing. Numbers have a decimal comma.
func TestDemoInGerman(t *testing.T) {
	if testing.Short() {
		t.Skip("it makes every page once more: the words and the desk are compared in the short loop")
	}
	t.Parallel()
	b, complaints, err := Load(context.Background(), demoIn(t, "de"), Options{On: demoDay, Photos: demoPhotos()})
	if err != nil || b == nil {
		t.Fatalf("%v %v", err, complaints)
	}
	files, err := Make(context.Background(), b, Options{only: func(o page.Output) bool { return strings.HasSuffix(page.PathOf(o.Addr), ".html") }})
	if err != nil {
		t.Fatal(err)
	}
	missing := regexp.MustCompile(`\[[a-z-]+\.[a-z0-9.-]+\]`)
	looked, marked, told := 0, 0, map[string]bool{}
	for _, f := range files {
		if !strings.HasSuffix(f.Path, ".html") || f.Path == blankIndex {
			continue
		}
		if m := missing.Find(f.Data); m != nil {
			t.Errorf("%s lacks the words for %s", f.Path, m)
		}
		marked += bytes.Count(f.Data, []byte(`<span lang="en">`))
		for _, bad := range []string{"Kupfer in jenem Becken: none", "Kupfer: none", "Tauchbäder: none", "gesehen: none"} {
			if bytes.Contains(f.Data, []byte(bad)) {
				t.Errorf("%s says %q", f.Path, bad)
			}
		}
		if !bytes.Contains(f.Data, []byte(`<html lang="de"`)) {
			t.Errorf("%s does not say that it is German", f.Path)
		}
		root, err := html.Parse(bytes.NewReader(f.Data))
		if err != nil {
			t.Fatal(err)
		}
		for n := range root.Descendants() {
			if !themeSpeaks(n) {
				continue
			}
			looked++
			text := wordsOf(n)
			for _, p := range b.Journal.Plants {
				name := strings.ReplaceAll(p.Common, "'", "’")
				text = strings.ReplaceAll(strings.ReplaceAll(text, words.Capital(name), ""), name, "")
			}
			for _, tank := range b.Journal.Tanks {
				text = strings.ReplaceAll(text, tank.Name, "")
			}
			if english.MatchString(text) && !told[text] {
				told[text] = true
				t.Errorf("%s: <%s> says %q", f.Path, n.Data, text)
			}
		}
	}
	noEnglishSentence(t, b, files)
	if looked < 3000 {
		t.Errorf("only %d places were looked at: the search is broken", looked)
	}
	if marked < 100 { // the almanac's common names and notes
		t.Errorf("only %d outputs of English are marked as such", marked)
	}
}

// themeSpeaks reports whether an element holds words of the theme alone.
func themeSpeaks(n *html.Node) bool {
	if n.Type != html.ElementNode {
		return false
	}
	switch n.Data {
	case "h2", "h3", "th", "label", "button", "summary", "dt", "option":
	default:
		return false
	}
	for at := n; at != nil; at = at.Parent {
		for _, class := range strings.Fields(attribute(at, "class")) {
			if notOurs[class] {
				return false
			}
		}
	}
	return attribute(n, "scope") != "row"
}

// wordsOf is the text of n without names: links, Latin, dates.
func wordsOf(n *html.Node) string {
	var b strings.Builder
	var walk func(*html.Node)
	walk = func(n *html.Node) {
		if n.Data == "a" || n.Data == "i" || n.Data == "bdi" || n.Data == "svg" || attribute(n, "lang") != "" {
			return
		}
		if n.Type == html.TextNode {
			b.WriteString(n.Data)
		}
		for c := range n.ChildNodes() {
			walk(c)
		}
	}
	walk(n)
	return strings.TrimSpace(b.String())
}

// noEnglishSentence holds every text of the German pages, in whatever element or attribute, against those of the English
// site: what both have in common is the grower's own or a name, and never a sentence of the program.
func noEnglishSentence(t *testing.T, b *page.Site, files []theme.File) {
	t.Helper()
	ours, looked, asked := map[string]bool{}, 0, 0
	var english []theme.File
	for _, f := range demoFiles(t) {
		if bytes.Contains(f.Data, []byte(`<html lang="de"`)) { // of who asked for it in German
			files, asked = append(files, f), asked+1
		} else {
			english = append(english, f)
		}
	}
	if asked < 2 {
		t.Errorf("%d German pages of a parcel on the English site, want a sheet and what is printed with it", asked)
	}
	for s := range sentencesOf(t, english) {
		ours[withoutFigures(s)] = true
	}
	own := plainText(t)
	for _, s := range b.Almanac.All() {
		own += "\n" + plain(s.Common)
	}
	own = strings.ToLower(own)
	for text, path := range sentencesOf(t, files) {
		looked++
		if ours[withoutFigures(text)] && !strings.Contains(own, strings.ToLower(text)) {
			t.Errorf("%s: %q stands on the English site as well", path, text)
		}
	}
	if looked < 3000 {
		t.Errorf("only %d sentences were looked at", looked)
	}
}

// withoutFigures is a sentence whatever its figures are and however they are written.
func withoutFigures(s string) string {
	return strings.ReplaceAll(anyFigure.ReplaceAllString(s, "0"), "0 %", "0%")
}

var (
	sentenceEnd = regexp.MustCompile(`[.!?:;,]\s+|\s·\s`)
	lowerWords  = regexp.MustCompile(`(?:^|\PL)\p{Ll}{2,}(?:\PL.*|\s.*)?\PL\p{Ll}{2,}`)
	markup      = regexp.MustCompile("\\]\\([^)]*\\)|[*_`\\[\\]←→]")
	figureFirst = regexp.MustCompile(`^[~≈]?[\d.,–]+(?: \S{1,4})? `)
	typed       = strings.NewReplacer("’", "'", "‘", "'", "“", `"`, "”", `"`, "„", `"`, "\u00a0", " ", "\u2068", "", "\u2069", "")
	anyFigure   = regexp.MustCompile(`[\d.,]*\d`)
)

// sentencesOf are the sentences of two words and more on the pages of a site, each with a page that has it.
func sentencesOf(t *testing.T, files []theme.File) map[string]string {
	t.Helper()
	out := map[string]string{}
	for _, f := range files {
		if !strings.HasSuffix(f.Path, ".html") {
			continue
		}
		root, err := html.Parse(bytes.NewReader(f.Data))
		if err != nil {
			t.Fatal(err)
		}
		textsOf(root, func(text string) {
			for _, s := range sentenceEnd.Split(plain(text), -1) {
				if s = figureFirst.ReplaceAllString(strings.Trim(s, " .!?:;,…"), ""); lowerWords.MatchString(s) && strings.Contains(s, " ") && !strings.Contains(s, "://") {
					out[s] = f.Path
				}
			}
		})
	}
	return out
}

// textsOf visits the texts of a page and of its attributes, but not what says itself that it is of another language, nor
// blocks of the format.
func textsOf(n *html.Node, visit func(string)) {
	if n.Type == html.TextNode {
		visit(n.Data)
	}
	if n.Data == "script" || n.Data == "style" || n.Data == "pre" || attribute(n, "name") == "viewport" || n.Data != "html" && attribute(n, "lang") != "" {
		return
	}
	for _, key := range []string{"title", "aria-label", "alt", "placeholder", "content"} {
		if n.Type == html.ElementNode && attribute(n, "http-equiv") == "" {
			visit(attribute(n, key))
		}
	}
	for c := range n.ChildNodes() {
		textsOf(c, visit)
	}
}

// plain is text as it is typed: straight marks, single spaces, no markup.
func plain(s string) string {
	return strings.Join(strings.Fields(markup.ReplaceAllString(typed.Replace(s), "")), " ")
}

// plainText is all that the grower of the demonstration and the growers' friends wrote.
func plainText(t *testing.T) string {
	t.Helper()
	var all strings.Builder
	err := fs.WalkDir(os.DirFS("../../content"), ".", func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		b, err := os.ReadFile("../../content/" + p)
		all.WriteString(plain(string(b)) + "\n")
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return all.String()
}
