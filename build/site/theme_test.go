package site

import (
	"bytes"
	"context"
	"io/fs"
	"maps"
	"os"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"slipleaf/build/theme"
	"slipleaf/themes"
)

// own is a theme that holds only what differs: a word, a colour, a template, a style of its own.
var own = map[string]string{
	"words/en.yaml":           "nav:\n  plants: What I grow\n",
	"words/de.yaml":           "nav:\n  plants: Gewächse\n",
	"styles/00-tokens.css":    ":root { --leaf: #123456 }",
	"styles/90-mine.css":      ".mine { margin: 0 }",
	"templates/written.html":  `{{template "head" .}}<h1>{{.Heading}}</h1><p class="mine">{{say "nav.plants"}}</p>{{.Body}}{{template "foot" .}}`,
	"templates/part-own.html": `{{define "own"}}{{end}}`,
}

func themeOf(files map[string]string, folder string) fstest.MapFS {
	m := fstest.MapFS{}
	for name, text := range files {
		m[folder+name] = &fstest.MapFile{Data: []byte(text)}
	}
	return m
}

func TestOverAddsWordsAndHidesFiles(t *testing.T) {
	look := Over(themeOf(own, ""), themes.Bench())
	for _, name := range []string{"words/en.yaml", "styles/90-mine.css", "templates/offers.html", "templates/part-own.html"} {
		if _, err := fs.Stat(look, name); err != nil {
			t.Error(err)
		}
	}
	if _, err := fs.Stat(look, "templates/no.html"); !isMissing(err) {
		t.Errorf("a file that neither has: %v", err)
	}
	styles, err := fs.Glob(look, "styles/*.css")
	if err != nil || len(styles) < 3 || styles[0] != "styles/00-tokens.css" || !slices.Contains(styles, "styles/90-mine.css") || styles[1] == styles[0] {
		t.Errorf("the styles are %v (%v)", styles, err)
	}
	over, err := theme.Load(look, "en", "")
	if err != nil {
		t.Fatal(err)
	}
	if got := over.Words.Text("nav.plants") + ", " + over.Words.Text("nav.tanks"); got != "What I grow, Tanks" {
		t.Errorf("the words are %q", got)
	}
	if css := string(over.Styles.Data); !strings.Contains(css, "#123456") || !strings.Contains(css, ".mine") || strings.Contains(css, "--leaf:#22532c") {
		t.Error("the styles of the upper theme do not hide those of the lower")
	}
	plain, err := theme.Load(Over(nil, themes.Bench()), "en", "")
	if err != nil || plain.Sum == over.Sum {
		t.Errorf("two themes have one print (%v)", err)
	}
}

// withTheme is the sample journal with a theme in a folder of it.
func withTheme(t *testing.T, config string, files fstest.MapFS) fstest.MapFS {
	t.Helper()
	const root = "../../cmd/slipleaf/first"
	m := maps.Clone(files)
	err := fs.WalkDir(os.DirFS(root), ".", func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		text, err := os.ReadFile(root + "/" + p)
		text = bytes.ReplaceAll(text, []byte("{today}"), []byte("2026-11-20"))
		m[strings.Replace(p, "entry.md", "2026-11-20.md", 1)] = &fstest.MapFile{Data: text}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	m["journal.yaml"].Data = append(m["journal.yaml"].Data, config...)
	return m
}

// about makes the journal and gives its written page.
func about(t *testing.T, journal fs.FS, o Options) (string, error) {
	t.Helper()
	o.On = demoDay
	b, complaints, err := Load(context.Background(), journal, o)
	if err != nil {
		return "", err
	}
	if b == nil {
		t.Fatalf("the journal has errors: %v", complaints)
	}
	files, err := Make(context.Background(), b, o)
	if err != nil {
		return "", err
	}
	for _, f := range files {
		if f.Path == "about/index.html" {
			return string(f.Data), nil
		}
	}
	t.Fatal("there is no page about")
	return "", nil
}

func TestThemeIsTheJournalsOrTheOneGiven(t *testing.T) {
	given := themeOf(map[string]string{"words/en.yaml": "nav: {plants: Given}"}, "")
	for _, row := range []struct {
		name, config string
		files        fstest.MapFS
		o            Options
		want         string
	}{
		{"the default", "", fstest.MapFS{}, Options{}, ">Plants</a>"},
		{"the journal's own", "\nlook: look\n", themeOf(own, "look/"), Options{}, `<p class="mine">What I grow</p>`},
		{"one that is given", "", fstest.MapFS{}, Options{Theme: given}, ">Given</a>"},
		{"one that is given before the journal's own", "\nlook: look\n", themeOf(own, "look/"), Options{Theme: given}, ">Given</a>"},
	} {
		t.Run(row.name, func(t *testing.T) {
			got, err := about(t, withTheme(t, row.config, row.files), row.o)
			if err != nil || !strings.Contains(got, row.want) {
				t.Errorf("want %s in (%v):\n%s", row.want, err, got)
			}
		})
	}
}

func TestThemeFaultsAreNamed(t *testing.T) {
	for _, row := range []struct {
		name  string
		files map[string]string
		want  string
	}{
		{"no such folder", nil, "the theme that journal.yaml names: open look: file does not exist"},
		{"a field that is not there", map[string]string{"templates/written.html": "{{template \"head\" .}}\n{{.Headng}}"}, "written.html:2:2: executing \"written.html\" at <.Headng>"},
		{"a template that does not parse", map[string]string{"templates/written.html": "a\nb {{if}}"}, "written.html:2: missing value for if"},
		{"words that are no text", map[string]string{"words/en.yaml": "nav: {plants: 3}"}, "words/en.yaml: nav.plants is neither text nor a list"},
	} {
		t.Run(row.name, func(t *testing.T) {
			_, err := about(t, withTheme(t, "\nlook: look\n", themeOf(row.files, "look/")), Options{})
			if err == nil || !strings.Contains(err.Error(), row.want) {
				t.Errorf("the error is %v, want %s", err, row.want)
			}
		})
	}
}
