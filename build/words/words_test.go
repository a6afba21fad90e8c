package words_test

import (
	"html/template"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/goccy/go-yaml"

	"pgregory.net/rapid"

	"slipleaf/build/words"
)

// themeOf makes a theme of the files given, by path and content.
func themeOf(files map[string]string) fstest.MapFS {
	m := fstest.MapFS{}
	for name, text := range files {
		m[name] = &fstest.MapFile{Data: []byte(text)}
	}
	return m
}

func wordsOf(t *testing.T, yaml string) *words.Words {
	t.Helper()
	w, err := words.Load(themeOf(map[string]string{"words/en.yaml": yaml}), "en")
	if err != nil {
		t.Fatal(err)
	}
	return w
}

const someWords = `
plain: Nothing to fill
bold: "<b>{n}</b> left"
plants: "{n} {n|plant|plants}"
to: Write to {who}
open: "half { a place"
units: "{n} % of {n} cm, over 4 dKH"
empty: "{n|it|}"
deep:
  er: "Down {here}"
list: [one, 2, three]
`

func TestHTMLFillsItsPlaces(t *testing.T) {
	w := wordsOf(t, someWords)
	for _, row := range []struct {
		key   string
		pairs []any
		want  template.HTML
	}{
		{"plain", nil, "Nothing to fill"},
		{"bold", []any{"n", 3}, "<b>3</b> left"},
		{"plants", []any{"n", 1}, "1 plant"},
		{"plants", []any{"n", 0}, "0 plants"},
		{"plants", []any{"n", 2}, "2 plants"},
		{"plants", []any{"n", 1.0}, "1 plant"},
		{"plants", []any{"n", 1.5}, "1.5 plants"},
		{"plants", []any{"n", "1"}, "1 plant"},
		{"empty", []any{"n", 2}, ""},
		{"to", []any{"who", "<script>&"}, "Write to &lt;script&gt;&amp;"},
		{"to", []any{"who", template.HTML("<i>me</i>")}, "Write to <i>me</i>"},
		{"to", []any{"other", "x"}, "Write to {who}"},
		{"to", nil, "Write to {who}"},
		{"open", []any{"n", 1}, "half { a place"},
		{"units", []any{"n", 3}, "3\u00a0% of 3\u00a0cm, over 4\u00a0dKH"},
		{"to", []any{"who", "שם"}, "Write to \u2068שם\u2069"},
		{"deep.er", []any{"here", "{n}"}, "Down {n}"},
		{"no.such", nil, "[no.such]"},
		{"no.<such>", []any{"n", 1}, "[no.&lt;such&gt;]"},
	} {
		if got := w.HTML(row.key, row.pairs...); got != row.want {
			t.Errorf("Say(%q, %v) = %q, want %q", row.key, row.pairs, got, row.want)
		}
	}
}

// Whatever a value holds, it comes out as it went in.
func TestTextKeepsItsValues(t *testing.T) {
	w := wordsOf(t, someWords)
	rapid.Check(t, func(t *rapid.T) {
		who := rapid.StringOf(rapid.SampledFrom([]rune("a <>/&;lt{}1\"'%"))).Draw(t, "who")
		if got, want := w.Text("to", "who", who), "Write to "+words.Isolated(who); got != want {
			t.Fatalf("%q, not %q", got, want)
		}
	})
}

// Titles and mail hold no markup: tags go, entities become what they stand for, and values stay as they are.
func TestTextHasNoMarkup(t *testing.T) {
	w := wordsOf(t, someWords+`co2: "CO<sub>2</sub> &amp; {who}"`)
	for _, row := range []struct {
		key   string
		pairs []any
		want  string
	}{
		{"bold", []any{"n", 3}, "3 left"},
		{"co2", []any{"who", template.HTML("<i lang=la>Nemo</i>")}, "CO2 & Nemo"},
		{"to", []any{"who", "Jan & Jo"}, "Write to Jan & Jo"},
		{"to", []any{"who", "snails <3 mm, none >5 mm, planaria"}, "Write to snails <3 mm, none >5 mm, planaria"},
		{"to", []any{"who", "&lt; & &amp;"}, "Write to &lt; & &amp;"},
		{"to", []any{"who", template.HTML("snails &lt;3 mm, <b>none</b> &gt;5 mm")}, "Write to snails <3 mm, none >5 mm"},
		{"no.such", nil, "[no.such]"},
	} {
		if got := w.Text(row.key, row.pairs...); got != row.want {
			t.Errorf("Text(%q, %v) = %q, want %q", row.key, row.pairs, got, row.want)
		}
	}
	if got := w.List("list"); !slices.Equal(got, []string{"one", "2", "three"}) {
		t.Errorf("List = %q", got)
	}
	if w.List("plain") != nil || w.Has("list") || !w.Has("plain") {
		t.Error("a list is taken for a sentence, or a sentence for a list")
	}
}

func TestWordsOfARegionAddToTheirLanguage(t *testing.T) {
	look := themeOf(map[string]string{
		"words/en.yaml":    "colour: colour\nsame: same\nonly: English",
		"words/en-US.yaml": "colour: color",
		"words/de.yaml":    "colour: Farbe\nsame: gleich",
	})
	for _, row := range []struct{ lang, colour, same, only string }{
		{"en", "colour", "same", "English"},
		{"en-US", "color", "same", "English"},
		{"en-GB", "colour", "same", "English"},
		{"de", "Farbe", "gleich", "English"}, // what a language lacks is said in English
		{"de-AT", "Farbe", "gleich", "English"},
	} {
		w, err := words.Load(look, row.lang)
		if err != nil {
			t.Fatal(err)
		}
		if got := [3]string{w.Text("colour"), w.Text("same"), w.Text("only")}; got != [3]string{row.colour, row.same, row.only} || w.Lang != row.lang {
			t.Errorf("%s: %q in %s", row.lang, got, w.Lang)
		}
	}
}

func TestLoadWordsRefuses(t *testing.T) {
	for _, row := range []struct{ name, lang, text, want string }{
		{"a language that is not there", "fr", "a: b", `no words for "fr"; it has en`},
		{"a number", "en", "a:\n  b: 3", "a.b is neither text nor a list"},
		{"a yes", "en", "a: yes\nb: true", "b is neither text nor a list"},
		{"no YAML", "en", "a: [", "words/en.yaml"},
	} {
		_, err := words.Load(themeOf(map[string]string{"words/en.yaml": row.text}), row.lang)
		if err == nil || !strings.Contains(err.Error(), row.want) {
			t.Errorf("%s: %v, want %q", row.name, err, row.want)
		}
	}
}

// FuzzHTML: whatever a value holds, no tag of its own comes out of HTML.
func FuzzHTML(f *testing.F) {
	f.Add("Write to {who}.", "<b>")
	f.Add("{who|one|other} {", "1")
	f.Add("{who}{who", "}{who}")
	f.Fuzz(func(t *testing.T, sentence, value string) {
		if strings.ContainsAny(sentence, "<>") {
			t.Skip()
		}
		file, err := yaml.Marshal(map[string]string{"key": sentence})
		if err != nil {
			t.Skip()
		}
		w, err := words.Load(themeOf(map[string]string{"words/en.yaml": string(file)}), "en")
		if err != nil {
			t.Skip() // no text that YAML can hold
		}
		said := string(w.HTML("key", "who", value))
		if strings.ContainsAny(said, "<>") {
			t.Errorf("%q with %q says %q", sentence, value, said)
		}
	})
}
