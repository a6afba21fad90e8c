package words

import (
	"html/template"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"slipleaf/build/almanac"
)

// Clip shortens s to at most n characters at a word's end.
func Clip(s string, n int) string {
	r := []rune(s)
	if len(r) <= n {
		return s
	}
	r = r[:n-1]
	for i := len(r) - 1; i > n/2; i-- {
		if r[i] == ' ' {
			return string(r[:i]) + "…"
		}
	}
	return string(r) + "…"
}

// Capital begins s with a capital letter.
func Capital(s string) string {
	r := []rune(s)
	if len(r) > 0 {
		r[0] = unicode.ToUpper(r[0])
	}
	return string(r)
}

// Sentences joins finished sentences, leaving out empty ones.
func Sentences(parts ...string) string { return strings.Join(NonEmpty(parts...), " ") }

// And lists parts as a sentence does: "a, b and c".
func And(v Locale, parts []string) string {
	if len(parts) < 2 {
		return strings.Join(parts, "")
	}
	return v.Text("offers.and", "first", strings.Join(parts[:len(parts)-1], ", "), "last", parts[len(parts)-1])
}

// NonEmpty leaves out empty parts.
func NonEmpty(parts ...string) []string {
	return slices.DeleteFunc(parts, func(p string) bool { return p == "" })
}

// Escape makes text of ours safe to place.
func Escape(s string) template.HTML { return template.HTML(template.HTMLEscapeString(s)) }

// JoinHTML joins finished sentences.
func JoinHTML(parts []template.HTML) template.HTML {
	var b strings.Builder
	for i, p := range parts {
		if i > 0 {
			b.WriteByte(' ')
		}
		b.WriteString(string(p))
	}
	return template.HTML(b.String())
}

// NumberWord writes small numbers as a word, as a sentence deserves.
func NumberWord(v Locale, n int) string {
	if list := v.List("offers.numbers"); n >= 0 && n < len(list) {
		return list[n]
	}
	return v.N(float64(n), 0)
}

// TextOf is the text under prefix and key; "" for no key.
func TextOf(v Locale, prefix, key string) string {
	if key == "" {
		return ""
	}
	return v.Text(prefix + key)
}

// LevelText is the text under prefix and a level; "" for none.
func LevelText(v Locale, prefix string, level *int) string {
	if level == nil {
		return ""
	}
	return v.Text(prefix + strconv.Itoa(*level))
}

// InText is a name as it is inside a sentence: "The trough" is "the trough" there.
func InText(v Locale, name string) string {
	if article := v.Raw("growth-text.article"); article != "" && strings.HasPrefix(name, article) {
		return strings.ToLower(article[:1]) + name[1:]
	}
	return name
}

// PlantName is a plant's plain name for titles: its common name, or the scientific one.
func PlantName(s almanac.Species) string {
	if s.Common != "" {
		return s.Common
	}
	return s.Taxon
}
