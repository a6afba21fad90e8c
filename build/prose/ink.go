package prose

import (
	"fmt"
	"strings"

	"github.com/alecthomas/chroma/v2"
)

// Inks are the colours of code in one colour scheme, each "#rrggbb".
type Inks struct {
	Plain   string // all that has no other
	Comment string // also in italics
	Keyword string // also in bold
	Name    string // functions, types, tags, attributes
	Text    string // strings
	Number  string // numbers and constants
	Added   string // lines put in, in a comparison
	Removed string // lines taken out
}

// DayInks are readable on light grounds: 4.5:1 or more by WCAG 2.2, success criterion 1.4.3, on
// #f0efe4 and anything lighter.
func DayInks() Inks {
	return Inks{
		Plain: "#17251c", Comment: "#404c44", Keyword: "#22532c", Name: "#2e4d5e",
		Text: "#793517", Number: "#6b3f72", Added: "#22532c", Removed: "#793517",
	}
}

// NightInks are readable on dark grounds: 4.5:1 or more on #142424 and anything darker.
func NightInks() Inks {
	return Inks{
		Plain: "#e4e9db", Comment: "#aab7a8", Keyword: "#8fc98a", Name: "#96bed3",
		Text: "#eba57f", Number: "#d3aedb", Added: "#8fc98a", Removed: "#eba57f",
	}
}

// CodeCSS is the style sheet of code: light by day, dark where the reader's system asks for it, and
// black on paper. It sets no ground, so code is on the page's own. Long lines wrap, so that code
// needs no scrolling frame on a small screen.
func CodeCSS(light, dark Inks) string {
	var b strings.Builder
	b.WriteString("pre { white-space: pre-wrap; overflow-wrap: anywhere; tab-size: 4; }\n")
	fmt.Fprintf(&b, ".%s { font-style: italic; }\n.%s, .%s { font-weight: 600; }\n", classComment, classKeyword, classTitle)
	b.WriteString("@media screen {\n")
	light.write(&b)
	b.WriteString("}\n@media screen and (prefers-color-scheme: dark) {\n")
	dark.write(&b)
	b.WriteString("}\n")
	return b.String()
}

func (k Inks) write(b *strings.Builder) {
	for _, rule := range []struct{ selector, ink string }{
		{"pre > code", k.Plain},
		{"." + classComment, k.Comment},
		{"." + classKeyword, k.Keyword},
		{"." + className, k.Name},
		{"." + classText, k.Text},
		{"." + classNumber, k.Number},
		{"." + classAdded, k.Added},
		{"." + classRemoved, k.Removed},
	} {
		fmt.Fprintf(b, "  %s { color: %s; }\n", rule.selector, rule.ink)
	}
}

const (
	classComment = "c-comment"
	classKeyword = "c-keyword"
	className    = "c-name"
	classText    = "c-text"
	classNumber  = "c-number"
	classAdded   = "c-added"
	classRemoved = "c-removed"
	classTitle   = "c-title"
)

// classOf sorts chroma's hundred kinds of token into our few; "" is printed plain, and so is what a
// lexer takes for an error, as it is the lexer's as often as the writer's.
func classOf(t chroma.TokenType) string {
	switch t {
	case chroma.GenericInserted:
		return classAdded
	case chroma.GenericDeleted:
		return classRemoved
	case chroma.GenericHeading, chroma.GenericSubheading, chroma.GenericStrong:
		return classTitle
	case chroma.KeywordConstant:
		return classNumber
	case chroma.NameFunction, chroma.NameClass, chroma.NameTag, chroma.NameAttribute, chroma.NameBuiltin,
		chroma.NameNamespace, chroma.NameDecorator, chroma.KeywordType:
		return className
	}
	switch {
	case t.InCategory(chroma.Comment):
		return classComment
	case t.InCategory(chroma.Keyword):
		return classKeyword
	case t.InSubCategory(chroma.LiteralString):
		return classText
	case t.InSubCategory(chroma.LiteralNumber):
		return classNumber
	}
	return ""
}
