package theme_test

import (
	"bytes"
	"strings"
	"testing"
	"testing/fstest"

	"slipleaf/build/theme"
)

// filesOf makes a theme of the files given, by path and content.
func filesOf(files map[string]string) fstest.MapFS {
	m := fstest.MapFS{}
	for name, text := range files {
		m[name] = &fstest.MapFile{Data: []byte(text)}
	}
	return m
}

func TestTemplateFaultsNameFileLineAndModel(t *testing.T) {
	type model struct{ Title, Text string }
	for _, row := range []struct {
		template string
		want     []string
	}{
		{"<h1>{{.Title}}</h1>\n<p>{{.Txt}}</p>", []string{"some.html:2:", "<.Txt>", "theme_test.model has Title, Text"}},
		{"{{.Title}}\n\n{{.Text.More}}", []string{"some.html:3:", "<.Text.More>", "theme_test.model"}},
		{`{{template "absent" .}}`, []string{"some.html:1:", `"absent"`}},
	} {
		look, err := theme.Load(filesOf(map[string]string{"words/en.yaml": "a: b", "templates/some.html": row.template}), "en", "")
		if err != nil {
			t.Fatal(err)
		}
		_, err = look.Render("some", model{"<b>", "c"})
		for _, want := range row.want {
			if err == nil || !strings.Contains(err.Error(), want) {
				t.Errorf("%q: %v does not say %s", row.template, err, want)
			}
		}
	}
}

func TestLoadRefuses(t *testing.T) {
	for _, row := range []struct {
		name  string
		files map[string]string
		want  string
	}{
		{"no templates", map[string]string{"words/en.yaml": "a: b"}, "the theme has no templates/*.html"},
		{"no words", map[string]string{"templates/a.html": "a"}, `no words for "en"`},
		{"another language", map[string]string{"templates/a.html": "a", "words/de.yaml": "a: b", "words/fr.yaml": "a: b"}, `no words for "en"; it has de, fr`},
		{"a slip in a template", map[string]string{"words/en.yaml": "a: b", "templates/a.html": "x\n{{if}}"}, "a.html:2"},
		{"a name that two templates define", map[string]string{"words/en.yaml": "a: b", "templates/a.html": `{{define "c"}}x{{end}}`, "templates/b.html": `{{define "c"}}y{{end}}`}, `templates/a.html and templates/b.html both define "c"`},
		{"a slip in a part", map[string]string{"words/en.yaml": "a: b", "templates/a.html": "x", "templates/part-b.html": "\n\n{{nosuch}}"}, "part-b.html:3"},
	} {
		_, err := theme.Load(filesOf(row.files), "en", "")
		if err == nil || !strings.Contains(err.Error(), row.want) {
			t.Errorf("%s: %v, want %q", row.name, err, row.want)
		}
	}
	look, err := theme.Load(filesOf(map[string]string{"words/en.yaml": "a: b", "templates/a.html": "x"}), "en", "")
	if err != nil {
		t.Fatal(err)
	}
	if _, err := look.Render("b", nil); err == nil || !strings.Contains(err.Error(), "no templates/b.html") {
		t.Errorf("a page without a template: %v", err)
	}
	if look.Styles.Path != "" || look.Script.Path != "" {
		t.Errorf("a theme without styles has %q and %q", look.Styles.Path, look.Script.Path)
	}
}

func TestBundlesAreNamedByTheirContent(t *testing.T) {
	files := map[string]string{"words/en.yaml": "a: b", "templates/a.html": "x", "styles/10-b.css": ".b { color: red }", "styles/00-a.css": ".a { color: #ff0000 }", "scripts/a.js": "let a = 1"}
	load := func() *theme.Theme {
		look, err := theme.Load(filesOf(files), "en", ".more{}")
		if err != nil {
			t.Fatal(err)
		}
		return look
	}
	one, two := load(), load()
	if one.Styles.Path != two.Styles.Path || !bytes.Equal(one.Styles.Data, two.Styles.Data) || one.Script.Path != two.Script.Path || one.Sum != two.Sum {
		t.Error("the same files give different bundles")
	}
	if got := string(one.Styles.Data); !strings.HasPrefix(got, ".a{color:red}.b{color:red}") {
		t.Errorf("the styles are not in the order of their names, or not minified: %s", got)
	}
	files["styles/10-b.css"] = ".b { color: blue }"
	if three := load(); three.Styles.Path == one.Styles.Path || three.Sum == one.Sum || three.Script.Path != one.Script.Path {
		t.Error("another style gives the same name, or another script one")
	}
}
