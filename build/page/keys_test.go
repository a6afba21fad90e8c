package page_test

import (
	"context"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"maps"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/goccy/go-yaml"

	"slipleaf/build/almanac"
	"slipleaf/build/journal"
	"slipleaf/build/page"
	"slipleaf/build/theme"
	"slipleaf/build/words"
	"slipleaf/themes"
)

// sentences reads a words file as it is, without what is taken from other languages.
func sentences(t *testing.T, name string) map[string]string {
	t.Helper()
	b, err := fs.ReadFile(themes.Bench(), name)
	if err != nil {
		t.Fatal(err)
	}
	var tree map[string]any
	if err := yaml.Unmarshal(b, &tree); err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	delete(tree, "sums") // the sums speak English themselves: TestSumsSpeakTheLanguage
	out := map[string]string{}
	gather(out, "", tree)
	if name == "words/en.yaml" { // complaints speak English themselves
		for _, rule := range complained(t) {
			out["complaint."+rule] = rule
		}
	}
	return out
}

var ruleNamed = regexp.MustCompile(`(?m)^\s*Rule\w+\s*= "([a-z-]+)"|\bRule: +"([a-z-]+)"`)

// complained are the names of all rules that a complaint shown on the desk may have: the reader's, and those that stand in
// the packages which look at texts, photos and looks.
func complained(t *testing.T) []string {
	t.Helper()
	var out []string
	for _, r := range journal.Rules() {
		out = append(out, r.Name)
	}
	for _, dir := range []string{"prose", "picture", "site"} {
		files, err := filepath.Glob("../" + dir + "/*.go")
		if err != nil {
			t.Fatal(err)
		}
		found := 0
		for _, file := range files {
			text, err := os.ReadFile(file)
			if err != nil || strings.HasSuffix(file, "_test.go") {
				continue
			}
			for _, m := range ruleNamed.FindAllStringSubmatch(string(text), -1) {
				out, found = append(out, m[1]+m[2]), found+1
			}
		}
		if found == 0 {
			t.Errorf("no rule is in build/%s", dir)
		}
	}
	return out
}

func gather(out map[string]string, prefix string, tree map[string]any) {
	for k, v := range tree {
		switch v := v.(type) {
		case map[string]any:
			gather(out, prefix+k+".", v)
		case []any:
			out[prefix+k] = fmt.Sprintf("(a list of %d)", len(v))
		default:
			out[prefix+k] = fmt.Sprint(v)
		}
	}
}

// Every language has the sentences of English, a region only some of them.
func TestLanguagesHaveTheSameKeys(t *testing.T) {
	english := sentences(t, "words/en.yaml")
	for _, lang := range words.Languages(themes.Bench()) {
		own := sentences(t, "words/"+lang+".yaml")
		for _, key := range slices.Sorted(maps.Keys(own)) {
			if _, ok := english[key]; !ok {
				t.Errorf("words/%s.yaml: %s is no key of words/en.yaml", lang, key)
			}
		}
		if strings.Contains(lang, "-") {
			continue
		}
		for _, key := range slices.Sorted(maps.Keys(english)) {
			if _, ok := own[key]; !ok {
				t.Errorf("words/%s.yaml lacks %s: %s", lang, key, english[key])
			}
		}
	}
}

var places = regexp.MustCompile(`\{([a-z0-9-]+)(\|[^|}]*\|[^|}]*)?\}|\{`)

// A place that the English sentence lacks is never filled. A language may leave one out.
func TestLanguagesFillTheSamePlaces(t *testing.T) {
	english := sentences(t, "words/en.yaml")
	for _, lang := range words.Languages(themes.Bench()) {
		for key, text := range sentences(t, "words/"+lang+".yaml") {
			known := map[string]bool{}
			for _, m := range places.FindAllStringSubmatch(english[key], -1) {
				known[m[1]] = true
			}
			for _, m := range places.FindAllStringSubmatch(text, -1) {
				if m[1] == "" {
					t.Errorf("words/%s.yaml: %s has a place that is not written {name} or {n|one|other}: %s", lang, key, text)
				} else if !known[m[1]] {
					t.Errorf("words/%s.yaml: %s has {%s}, which English has not: it may never be filled", lang, key, m[1])
				}
			}
			if strings.Count(text, "<") != strings.Count(english[key], "<") && !strings.Contains(lang, "-") {
				t.Errorf("words/%s.yaml: %s has other tags than English: %s", lang, key, text)
			}
		}
	}
}

var said = regexp.MustCompile(`\b(?:say|text) "([^"]+)"`)

func TestTemplatesSayWhatTheWordsHave(t *testing.T) {
	english := sentences(t, "words/en.yaml")
	names, err := fs.Glob(themes.Bench(), "templates/*.html")
	if err != nil {
		t.Fatal(err)
	}
	n := 0
	for _, name := range names {
		b, err := fs.ReadFile(themes.Bench(), name)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range said.FindAllSubmatch(b, -1) {
			n++
			if _, ok := english[string(m[1])]; !ok {
				t.Errorf("%s says %s, which words/en.yaml lacks", name, m[1])
			}
		}
	}
	if n < 100 {
		t.Errorf("only %d sentences were found in the templates: the search is broken", n)
	}
}

// spoken are the methods that take a key, by which of their arguments it is.
var spoken = map[string]int{"HTML": 0, "Text": 0, "Raw": 0, "List": 0, "Has": 0, "when": 2}

// speaking are the packages that write words of the theme.
var speaking = []string{"review", "keys", "tankform", "desk", "page", "papers", "plot", "sharing", "suit", "theme", "words"}

// sources are the files of the packages that write words, without their tests.
func sources(t *testing.T) []string {
	t.Helper()
	var out []string
	for _, pkg := range speaking {
		names, err := fs.Glob(os.DirFS(".."), pkg+"/*.go")
		if err != nil {
			t.Fatal(err)
		}
		for _, n := range names {
			if !strings.HasSuffix(n, "_test.go") {
				out = append(out, "../"+n)
			}
		}
	}
	return out
}

// keysInCode lists the keys that the code names: whole ones, and beginnings to which something is added.
func keysInCode(t *testing.T) (whole, begun map[string]string) {
	t.Helper()
	whole, begun = map[string]string{}, map[string]string{}
	fset := token.NewFileSet()
	for _, name := range sources(t) {
		file, err := parser.ParseFile(fset, name, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		ast.Inspect(file, func(n ast.Node) bool {
			call, ok := n.(*ast.CallExpr)
			if !ok {
				return true
			}
			sel, ok := call.Fun.(*ast.SelectorExpr)
			if !ok || isTemplate(sel.X) {
				return true
			}
			if at, ok := spoken[sel.Sel.Name]; ok && at < len(call.Args) {
				where := fset.Position(call.Pos()).String()
				switch arg := call.Args[at].(type) {
				case *ast.BasicLit:
					whole[literal(t, arg)] = where
				case *ast.BinaryExpr:
					if first, ok := leftmost(arg).(*ast.BasicLit); ok {
						begun[literal(t, first)] = where
					}
				}
			}
			return true
		})
	}
	return whole, begun
}

// isTemplate tells the conversion template.HTML, and what was typed into a form, from the methods.
func isTemplate(e ast.Expr) bool {
	id, ok := e.(*ast.Ident)
	return ok && (id.Name == "template" || id.Name == "typed")
}

func leftmost(e ast.Expr) ast.Expr {
	for {
		b, ok := e.(*ast.BinaryExpr)
		if !ok {
			return e
		}
		e = b.X
	}
}

func literal(t *testing.T, l *ast.BasicLit) string {
	t.Helper()
	s, err := strconv.Unquote(l.Value)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func TestCodeSaysWhatTheWordsHave(t *testing.T) {
	english := sentences(t, "words/en.yaml")
	whole, begun := keysInCode(t)
	for key, where := range whole {
		if _, ok := english[key]; !ok {
			t.Errorf("%s says %s, which words/en.yaml lacks", where, key)
		}
	}
	for start, where := range begun {
		if !slices.ContainsFunc(slices.Collect(maps.Keys(english)), func(k string) bool { return strings.HasPrefix(k, start) }) {
			t.Errorf("%s says %s…, with which no key of words/en.yaml begins", where, start)
		}
	}
	if len(whole) < 100 || len(begun) < 10 {
		t.Errorf("only %d keys and %d beginnings were found: the search is broken", len(whole), len(begun))
	}
}

var missingKey = regexp.MustCompile(`\[[a-z-]+\.[a-z0-9.-]+\]`)

// kindThemes prints no page, only which template was asked for and the type of its model.
func kindThemes(t *testing.T) fs.FS {
	t.Helper()
	m := fstest.MapFS{}
	err := fs.WalkDir(themes.Bench(), ".", func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		b, err := fs.ReadFile(themes.Bench(), p)
		kind := strings.TrimSuffix(path.Base(p), ".html")
		if path.Dir(p) == "templates" && !strings.HasPrefix(kind, "part-") {
			b = []byte("\n" + kind + ` {{printf "%T" .}}` + "\n")
		}
		m[p] = &fstest.MapFile{Data: b}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// modelsOf makes every page of the small journal and tells which type each template is given.
func modelsOf(t *testing.T) map[string]string {
	t.Helper()
	look, err := theme.Load(kindThemes(t), "en", "")
	if err != nil {
		t.Fatal(err)
	}
	models := map[string]string{}
	for _, o := range benchWith(t, look).Outputs() {
		if !strings.HasSuffix(page.PathOf(o.Addr), ".html") || o.Addr == page.SheetsAddr {
			continue
		}
		b, err := o.Make()
		if err != nil {
			t.Fatalf("%s: %v", o.Addr, err)
		}
		kind, typed, _ := strings.Cut(strings.TrimSpace(string(b)), " ")
		_, model, ok := strings.Cut(typed, ".")
		if !ok || strings.ContainsAny(model, " \n<") {
			t.Fatalf("%s is no page of a template: %.80q", o.Addr, b)
		}
		models[kind] = model
	}
	return models
}

// benchWith is the small journal under another theme.
func benchWith(t *testing.T, look *theme.Theme) *page.Site {
	t.Helper()
	a, err := almanac.Open()
	if err != nil {
		t.Fatal(err)
	}
	b := benchBook(t)
	j, _, err := journal.Read(context.Background(), os.DirFS("testdata/bench"), a, journal.Options{On: b.All.On})
	if err != nil {
		t.Fatal(err)
	}
	return page.NewSite(j, a, look, b.All.On, page.Options{})
}

func TestNoPageLacksAWord(t *testing.T) {
	for _, lang := range words.Languages(themes.Bench()) {
		look, err := theme.Load(themes.Bench(), lang, "")
		if err != nil {
			t.Fatal(err)
		}
		for _, o := range benchWith(t, look).Outputs() {
			b, err := o.Make()
			if err != nil {
				t.Fatalf("%s: %v", o.Addr, err)
			}
			if m := missingKey.Find(b); m != nil && !strings.HasSuffix(o.Addr, ".js") && !strings.HasSuffix(o.Addr, ".css") && !strings.HasSuffix(o.Addr, ".png") {
				t.Errorf("%s in %s: the words lack %s", o.Addr, lang, m)
			}
		}
	}
}

// What nobody says, translators would translate for nothing. A key that the code puts together is known by its
// beginning, or by the section whose name the code adds to.
func TestEveryWordIsSaid(t *testing.T) {
	whole, begun := keysInCode(t)
	names, err := fs.Glob(themes.Bench(), "templates/*.html")
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range names {
		b, err := fs.ReadFile(themes.Bench(), name)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range said.FindAllSubmatch(b, -1) {
			whole[string(m[1])] = name
		}
	}
	texts := literalsInCode(t)
	for text := range texts {
		if beginning.MatchString(text) {
			begun[text] = ""
		}
	}
	for _, key := range slices.Sorted(maps.Keys(sentences(t, "words/en.yaml"))) {
		section, _, _ := strings.Cut(key, ".")
		if _, ok := whole[key]; ok || texts[key] || texts[section] {
			continue
		}
		if !slices.ContainsFunc(slices.Collect(maps.Keys(begun)), func(start string) bool { return strings.HasPrefix(key, start) }) {
			t.Errorf("nobody says %s", key)
		}
	}
}

var beginning = regexp.MustCompile(`^[a-z0-9-]+\.([a-z0-9-]+-)?$`)

// literalsInCode lists every text that is in the package's code, since keys stand in tables too.
func literalsInCode(t *testing.T) map[string]bool {
	t.Helper()
	out := map[string]bool{}
	for _, name := range sources(t) {
		file, err := parser.ParseFile(token.NewFileSet(), name, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		ast.Inspect(file, func(n ast.Node) bool {
			if l, ok := n.(*ast.BasicLit); ok && l.Kind == token.STRING {
				out[literal(t, l)] = true
			}
			return true
		})
	}
	return out
}
