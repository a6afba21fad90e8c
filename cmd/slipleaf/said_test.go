package main

import (
	"go/ast"
	"go/parser"
	"go/token"
	"net/http"
	"net/url"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"golang.org/x/net/html"

	"slipleaf/build/words"
	"slipleaf/themes"
)

// said are the calls that say something under a key of the words, with the names that they give values; nil names are not
// known here.
func saidInSource(t *testing.T) map[string][]string {
	t.Helper()
	out := map[string][]string{}
	files, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range files {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		f, err := parser.ParseFile(token.NewFileSet(), name, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		called := map[*ast.BasicLit][]string{} // a key → the names beside it
		ast.Inspect(f, func(n ast.Node) bool {
			call, ok := n.(*ast.CallExpr)
			if !ok || len(call.Args) < 2 {
				return true
			}
			key, ok := call.Args[0].(*ast.BasicLit)
			if !ok {
				return true
			}
			names := []string{}
			for i := 2; i < len(call.Args); i += 2 {
				if lit, ok := call.Args[i].(*ast.BasicLit); ok {
					name, _ := strconv.Unquote(lit.Value)
					names = append(names, name)
				}
			}
			called[key] = names
			return true
		})
		ast.Inspect(f, func(n ast.Node) bool {
			lit, ok := n.(*ast.BasicLit)
			if !ok || lit.Kind != token.STRING {
				return true
			}
			if key, err := strconv.Unquote(lit.Value); err == nil && regexp.MustCompile(`^(said|desk)\.[a-z-]+$`).MatchString(key) {
				names := called[lit]
				if before, twice := out[key]; twice {
					names = slices.DeleteFunc(slices.Clone(before), func(n string) bool { return !slices.Contains(called[lit], n) })
				}
				out[key] = names
			}
			return true
		})
	}
	return out
}

var place = regexp.MustCompile(`\{([a-z]+)`)

// What a command says to the desk, the desk can say: in every language there is a sentence, it names no value that the command
// does not give, and none is there that nothing says.
func TestTheDeskHasWordsForWhatCommandsSay(t *testing.T) {
	source := saidInSource(t)
	if len(source) < 40 {
		t.Fatal("few calls were found", len(source))
	}
	for _, lang := range []string{"en", "de"} {
		w, err := words.Load(themes.Bench(), lang)
		if err != nil {
			t.Fatal(err)
		}
		for key, names := range source {
			if !w.Has(key) {
				t.Errorf("%s: there is no %s", lang, key)
				continue
			}
			for _, m := range place.FindAllStringSubmatch(w.Raw(key), -1) {
				if names != nil && !slices.Contains(names, m[1]) {
					t.Errorf("%s: %s wants {%s}, and gets %v", lang, key, m[1], names)
				}
			}
		}
		for _, key := range w.Keys() {
			if _, ok := source[key]; strings.HasPrefix(key, "said.") && !ok {
				t.Errorf("%s: nobody says %s", lang, key)
			}
		}
	}
}

// told is the text of what the desk says of a form, without what is marked as another language, and all of it.
func told(t *testing.T, body string) (own, all string) {
	t.Helper()
	root, err := html.Parse(strings.NewReader(body))
	if err != nil {
		t.Fatal(err)
	}
	var walk func(n *html.Node, in, foreign bool)
	walk = func(n *html.Node, in, foreign bool) {
		for _, a := range n.Attr {
			in = in || a.Key == "id" && a.Val == "faults" || a.Key == "data-saved" || a.Key == "class" && a.Val == "told"
			foreign = foreign || a.Key == "lang" && n.Data != "html"
		}
		if n.Type == html.TextNode && in {
			if all += n.Data + "\n"; !foreign {
				own += n.Data + "\n"
			}
		}
		for c := range n.ChildNodes() {
			walk(c, in, foreign)
		}
	}
	walk(root, false, false)
	return own, all
}

func one(t *testing.T, all []string) string {
	t.Helper()
	if len(all) != 1 {
		t.Fatal("not one, but", all)
	}
	return all[0]
}

// Whoever stands at the desk hears what was done, or why not, in the journal's language, and is never told of flags and
// command lines. What only the reader of the journal can say is marked as English.
func TestTheDeskAnswersInItsOwnWords(t *testing.T) {
	commandLine := regexp.MustCompile(`--[a-z]|slipleaf |LOT:COUNT|WHO|PLANT`)
	heard := map[string][]string{} // by language
	for _, lang := range []string{"en", "de"} {
		b := demonstrationIn(t, lang)
		w, err := words.Load(themes.Bench(), lang)
		if err != nil {
			t.Fatal(err)
		}
		ask, lot := b.ask("gh: 8 dGH\nregion: GB")
		ask.Del("lot." + lot)
		lot = "HZ-1101" // which has several
		ask.Set("lot."+lot, "1")
		token := ask.Get("form")
		form := func(from url.Values, set ...string) url.Values {
			f := url.Values{"form": {token}}
			for k, v := range from {
				f[k] = slices.Clone(v)
			}
			for i := 0; i+1 < len(set); i += 2 {
				f.Set(set[i], set[i+1])
			}
			return f
		}
		do := func(key string, f url.Values) string {
			t.Helper()
			status, body := b.post(people, f)
			own, all := told(t, body)
			if status != http.StatusOK && status != http.StatusUnprocessableEntity || all == "" && key != "" {
				t.Fatalf("%s %s: %d %q", lang, key, status, all)
			}
			if key != "" {
				first := words.Plain(w.HTML(key))
				if strings.Contains(first, "{") {
					first = regexp.MustCompile(`[^{}]*$`).FindString(strings.TrimRight(w.Raw(key), "."))
				}
				if !strings.Contains(own, strings.TrimSpace(first)) {
					t.Errorf("%s: %s is not said, but %q", lang, key, all)
				}
			}
			if commandLine.MatchString(own) {
				t.Errorf("%s: it speaks of a command line: %q", lang, own)
			}
			heard[lang] = append(heard[lang], own)
			return body
		}
		undo := func(key string) {
			t.Helper()
			_, body := b.post("/desk/undo/", b.form("/desk/"))
			if own, _ := told(t, body); key != "" && !strings.Contains(own, w.Text(key)) {
				t.Errorf("%s: %s is not said, but %q", lang, key, own)
			}
		}
		wait := func(set ...string) url.Values {
			return form(nil, append([]string{"do", "wait", "who", "Quill Sample"}, set...)...)
		}
		do("said.nothing", form(nil, "do", "reserve", "who", "Quill Sample", "about", "gh: 8 dGH"))
		do("desk.who-missing", form(ask, "do", "reserve", "who", " "))
		do("said.count", form(ask, "do", "reserve", "lot."+lot, "some"))
		do("said.count", form(ask, "do", "reserve", "lot."+lot, "-3"))
		do("said.lot-short", form(ask, "do", "reserve", "lot."+lot, "1000"))
		do("said.who-lot", form(ask, "do", "reserve", "who", lot))
		do("desk.unknown-plant", wait("wait-for", "xyzzy"))
		do("desk.which-plant", wait("wait-for", "nana"))
		do("said.wait-lot", wait("wait-for", lot))
		do("said.count", wait("wait-for", "java fern", "wait-count", "0"))
		do("said.waits", wait("wait-for", "java fern"))
		if named := map[string]string{"en": "Java fern", "de": "Javafarn"}[lang]; !strings.Contains(heard[lang][len(heard[lang])-1], named) {
			t.Errorf("%s: the plant is not named %s: %q", lang, named, heard[lang][len(heard[lang])-1])
		}
		do("said.waits-already", wait("wait-for", "java fern"))
		undo("")
		do("said.nobody", form(nil, "do", "cancel", "record", "Nobody Known"))
		do("desk.forget-sure", form(nil, "do", "forget", "record", "sent/x.md"))
		do("said.no-post", form(ask, "do", "send", "about", "gh: 8 dGH\nhow: post"))

		before := snapshot(t, b.dir)
		do("", form(ask, "do", "reserve"))
		record := one(t, differs(before, snapshot(t, b.dir)))
		of := func(set ...string) url.Values { return form(nil, append(set, "record", record)...) }
		do("said.reserved-other", form(ask, "do", "reserve", "lot."+lot, "2"))
		do("said.not-sent", of("do", "report", "outcome", "arrived"))
		do("said.postage-missing", of("do", "owes", "postage", " "))
		do("said.postage-long", of("do", "owes", "postage", strings.Repeat("9", 50)))
		do("said.postage-none", of("do", "settled"))
		do("said.postage", of("do", "owes", "postage", "5 EUR"))
		do("said.recorded", of("do", "owes", "postage", "5 EUR"))
		do("said.postage-settled", of("do", "settled"))
		do("", of("do", "sent", "how", "by-hand"))
		do("said.cancel-sent", of("do", "cancel"))
		do("said.alive-many", of("do", "report", "outcome", "arrived", "alive", "9"))
		do("said.alive-negative", of("do", "report", "outcome", "arrived", "alive", "-1"))
		do("said.alive-lost", of("do", "report", "outcome", "lost", "alive", "1"))
		do("said.reported", of("do", "report", "outcome", "arrived", "alive", "1"))
		do("said.recorded", of("do", "report", "outcome", "arrived", "alive", "1"))
		do("said.forgot", of("do", "forget", "sure", "on"))
		do("said.forget-none", of("do", "forget", "sure", "on"))
		before = snapshot(t, b.dir)
		do("", form(ask, "do", "reserve", "who", "Third Person"))
		record = one(t, differs(before, snapshot(t, b.dir)))
		do("said.cancelled", of("do", "cancel"))
		do("said.cancelled-already", of("do", "cancel"))

		if err := os.WriteFile(filepath.Join(b.dir, "tanks", "nano", "2026-11-24.md"), []byte("---\ntitle: X\nwater: {ph: wet}\n---\n"), 0o644); err != nil {
			t.Fatal(err)
		}
		do("said.journal-wrong", form(ask, "do", "reserve", "who", "Fourth Person"))
	}
	for i, german := range heard["de"] {
		if german != "" && german == heard["en"][i] {
			t.Errorf("%q is said in both languages", german)
		}
	}
}
