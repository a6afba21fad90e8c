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
)

// inGerman is the demonstration with another language and nothing else changed.
func inGerman(t *testing.T) fs.FS {
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
	config.Data = append(config.Data, "\nlanguage: de\n"...)
	return m
}

// english are words that the theme's own English says often and that neither German nor a plant's name has.
var english = regexp.MustCompile(`(?i)(?:^|\PL)(ready|promised|coming|given|parcels?|lots?|lost|water|light|plants?|tanks?|days?|weeks?|hours?|measured|sheet|reckoned|nobody|known|between|about|from|with|outside|inside|needs?|counts?|cuts?|floor|grows|search|this|that|the|its?|here)(?:\PL|$)`)

// notOurs are the classes of elements that hold the grower's own words or another source's, in their language.
var notOurs = map[string]bool{"prose": true, "p-name": true, "p-summary": true, "e-content": true, "law": true, "name": true, "taxon": true, "common": true, "strip": true, "la": true}

// The theme speaks German throughout: where it places words of its own (headings, table heads, labels of forms,
// buttons, summaries, navigation), none are English, and no key is missing. Numbers have a decimal comma.
func TestDemoInGerman(t *testing.T) {
	b, complaints, err := Load(context.Background(), inGerman(t), Options{On: demoDay})
	if err != nil || b == nil {
		t.Fatalf("%v %v", err, complaints)
	}
	files, err := Make(context.Background(), b, Options{})
	if err != nil {
		t.Fatal(err)
	}
	missing := regexp.MustCompile(`\[[a-z-]+\.[a-z0-9.-]+\]`)
	looked, marked, told := 0, 0, map[string]bool{}
	for _, f := range files {
		if !strings.HasSuffix(f.Path, ".html") {
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
			for _, tank := range b.Journal.Tanks {
				text = strings.ReplaceAll(text, tank.Name, "")
			}
			if english.MatchString(text) && !told[text] {
				told[text] = true
				t.Errorf("%s: <%s> says %q", f.Path, n.Data, text)
			}
		}
	}
	if looked < 3000 {
		t.Errorf("only %d places were looked at: the search is broken", looked)
	}
	if marked < 100 { // the almanac's common names and notes
		t.Errorf("only %d outputs of English are marked as such", marked)
	}
}

// themeSpeaks tells whether an element holds words of the theme alone.
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
		if n.Data == "a" || n.Data == "i" || n.Data == "bdi" || n.Data == "svg" {
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
