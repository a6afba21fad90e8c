// Package words says things in one language and one system of units: the sentences of a theme, figures, dates, names and
// what is in a journal, put into words.
package words

import (
	"fmt"
	"html"
	"html/template"
	"io/fs"
	"iter"
	"maps"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"github.com/goccy/go-yaml"
)

// Words is one language's sentences, by key. A sentence may hold inline HTML (it is part of the theme, as trusted
// as its templates), {name} where a value goes, and {name|one|other} for a form that follows a number.
type Words struct {
	Lang  string // BCP 47: en-GB
	table map[string]string
	lists map[string][]string
}

// Load reads words/LANG.yaml of a theme; a regional file (en-US.yaml) holds only what differs from its
// language's (en.yaml), and what a language lacks is said in English. Each file is read from every layer of the
// theme. A language that the theme lacks is an error that names those it has.
func Load(theme fs.FS, lang string) (*Words, error) {
	w := &Words{Lang: lang, table: map[string]string{}, lists: map[string][]string{}}
	base, _, _ := strings.Cut(lang, "-")
	found := false
	for _, name := range slices.Compact([]string{"en", base, lang}) {
		for _, layer := range Layers(theme) {
			b, err := fs.ReadFile(layer, "words/"+name+".yaml")
			if err != nil {
				continue
			}
			found = found || name == base || name == lang
			if err := w.read(b); err != nil {
				return nil, fmt.Errorf("words/%s.yaml: %w", name, err)
			}
		}
	}
	if !found {
		return nil, &NoWordsError{lang, Languages(theme)}
	}
	return w, nil
}

// NoWordsError says that a theme has no words in a language.
type NoWordsError struct {
	Language string
	Has      []string
}

func (e *NoWordsError) Error() string {
	return fmt.Sprintf("the theme has no words for %q; it has %s", e.Language, strings.Join(e.Has, ", "))
}

// layered is a theme that lies over another: its words add to those beneath, key by key.
type layered interface {
	Layers() []fs.FS // the lowest first
}

// Layers are the themes that lie over each other in one, the lowest first.
func Layers(theme fs.FS) []fs.FS {
	if l, ok := theme.(layered); ok {
		return l.Layers()
	}
	return []fs.FS{theme}
}

// Languages lists the languages that a theme has words for.
func Languages(theme fs.FS) []string {
	names, _ := fs.Glob(theme, "words/*.yaml")
	for i, n := range names {
		names[i] = strings.TrimSuffix(strings.TrimPrefix(n, "words/"), ".yaml")
	}
	return names
}

// unitGap is the space between a figure, or the place of one, and its unit.
var unitGap = regexp.MustCompile(`([\d}]) (%|°C|°F|C|m|cm|mm|dm²|cm²|L|mL|gal|g|mg|kg|W|h|wk|mA|mg/L|mS/cm|kg/m³|dKH|dGH|mol/m²|µmol|\{floor\})(\PL|$)`)

// Bind keeps a figure and its unit on one line, wherever a sentence is broken. Most have no figure with a space behind it, and
// are not put to the expression: all words of a language pass here at each start.
func Bind(s string) string {
	for i := 1; i < len(s); i++ {
		if s[i] == ' ' && (s[i-1] == '}' || s[i-1] >= '0' && s[i-1] <= '9') {
			return unitGap.ReplaceAllString(s, "$1\u00a0$2$3")
		}
	}
	return s
}

func (w *Words) read(b []byte) error {
	var tree map[string]any
	if err := yaml.Unmarshal(b, &tree); err != nil {
		return err
	}
	return w.flatten("", tree)
}

func (w *Words) flatten(prefix string, tree map[string]any) error {
	for k, v := range tree {
		switch v := v.(type) {
		case string:
			w.table[prefix+k] = Bind(v)
		case map[string]any:
			if err := w.flatten(prefix+k+".", v); err != nil {
				return err
			}
		case []any:
			list := make([]string, len(v))
			for i := range v {
				list[i] = fmt.Sprint(v[i])
			}
			w.lists[prefix+k] = list
		default:
			return fmt.Errorf("%s%s is neither text nor a list", prefix, k)
		}
	}
	return nil
}

// Keys lists every key, sorted: two languages of a theme must have the same.
func (w *Words) Keys() []string {
	return slices.Sorted(maps.Keys(w.table))
}

// Has reports whether there is a sentence under key.
func (w *Words) Has(key string) bool { _, ok := w.table[key]; return ok }

// Raw is the sentence under key with its places to fill, for scripts that fill them; "" if there is none.
func (w *Words) Raw(key string) string { return w.table[key] }

// Lists gives the keys of all lists.
func (w *Words) Lists() iter.Seq[string] { return maps.Keys(w.lists) }

// List is the list under key; nil if there is none.
func (w *Words) List(key string) []string { return w.lists[key] }

// HTML fills the sentence under key with pairs of name and value. Values are escaped unless they are template.HTML.
// A key that the words lack shows as [key], which the checks refuse.
func (w *Words) HTML(key string, pairs ...any) template.HTML {
	text, ok := w.table[key]
	if !ok {
		return template.HTML("[" + html.EscapeString(key) + "]")
	}
	if len(pairs) == 0 && !strings.Contains(text, "{") {
		return template.HTML(text)
	}
	return template.HTML(fill(text, pairs, true))
}

// Text is [Words.HTML] without markup, for titles, descriptions and mail. The markup of the sentence goes before it is
// filled: what looks like a tag in a value, as in "snails <3 mm, none >5 mm", is the value's.
func (w *Words) Text(key string, pairs ...any) string {
	text, ok := w.table[key]
	if !ok {
		return "[" + key + "]"
	}
	return fill(html.UnescapeString(stripTags(text)), pairs, false)
}

// fill puts the values of pairs into text.
func fill(text string, pairs []any, escape bool) string {
	var b strings.Builder
	for {
		open := strings.IndexByte(text, '{')
		if open < 0 {
			break
		}
		end := strings.IndexByte(text[open:], '}')
		if end < 0 {
			break
		}
		b.WriteString(text[:open])
		name, forms, plural := strings.Cut(text[open+1:open+end], "|")
		v := value(pairs, name)
		switch {
		case plural:
			one, other, _ := strings.Cut(forms, "|")
			if isOne(v) {
				b.WriteString(one)
			} else {
				b.WriteString(other)
			}
		case escape:
			b.WriteString(escaped(v))
		default:
			b.WriteString(Isolated(plainText(v)))
		}
		text = text[open+end+1:]
	}
	b.WriteString(text)
	return b.String()
}

func value(pairs []any, name string) any {
	for i := 0; i+1 < len(pairs); i += 2 {
		if pairs[i] == name {
			return pairs[i+1]
		}
	}
	return "{" + name + "}"
}

func isOne(v any) bool {
	switch v := v.(type) {
	case int:
		return v == 1
	case float64:
		return v == 1
	case string:
		return v == "1"
	}
	return false
}

func plainText(v any) string {
	switch v := v.(type) {
	case string:
		return v
	case int:
		return strconv.Itoa(v)
	case template.HTML:
		return Plain(v)
	}
	return fmt.Sprint(v)
}

func escaped(v any) string {
	if h, ok := v.(template.HTML); ok {
		return string(h)
	}
	return html.EscapeString(Isolated(plainText(v)))
}

// Plain is a sentence without its markup.
func Plain(h template.HTML) string { return html.UnescapeString(stripTags(string(h))) }

// stripTags drops the inline tags that words may hold. It is for the theme's own text, never a defence.
func stripTags(s string) string {
	for {
		i := strings.IndexByte(s, '<')
		if i < 0 {
			return s
		}
		j := strings.IndexByte(s[i:], '>')
		if j < 0 {
			return s
		}
		s = s[:i] + s[i+j+1:]
	}
}
