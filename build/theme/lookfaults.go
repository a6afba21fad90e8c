package theme

import (
	"fmt"
	"io/fs"
	"maps"
	"math"
	"path"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/parser"
	"golang.org/x/image/colornames"

	"slipleaf/build/spelling"
	"slipleaf/build/words"
)

// LookFault is something in a look that does nothing, or can't be read.
type LookFault struct {
	File         string // within the look
	Line, Column int    // from 1
	Message      string
	Hint         string
}

// mostFaults is how many faults of a kind are listed: more are no help.
const mostFaults = 100

// LookFaults lists the words and colours of a look that the theme beneath and the look itself know nothing of, and the
// colours in which text cannot be read. What cannot be parsed is left to [Load].
func LookFaults(look, under fs.FS) []LookFault {
	return append(unknownWords(look, under), tokenFaults(look, under)...)
}

// unknownWords lists the keys of words that neither the theme beneath has nor a template of the look says.
func unknownWords(look, under fs.FS) (out []LookFault) {
	known := map[string]bool{}
	for _, lang := range words.Languages(under) { // some are said in other languages than English alone
		if w, err := words.Load(under, lang); err == nil {
			for _, key := range w.Keys() {
				known[key] = true
			}
			for key := range w.Lists() {
				known[key] = true
			}
		}
	}
	said := string(joined(look, "templates/*.html"))
	names, _ := fs.Glob(look, "words/*.yaml")
	for _, name := range names {
		data, err := fs.ReadFile(look, name)
		if err != nil {
			continue
		}
		file, err := parser.ParseBytes(data, 0)
		if err != nil || len(file.Docs) == 0 {
			continue
		}
		eachWord("", file.Docs[0].Body, func(key string, n ast.Node) {
			if len(out) == mostFaults || known[key] || strings.Contains(said, `"`+key+`"`) {
				return
			}
			at := n.GetToken().Position
			out = append(out, LookFault{name, at.Line, at.Column, fmt.Sprintf("nothing says %q, so this is never seen", key), spelling.Hint(key, slices.Sorted(maps.Keys(known)))})
		})
	}
	return out
}

// eachWord walks the keys of a tree of words down to those that have a text or a list.
func eachWord(prefix string, n ast.Node, f func(key string, n ast.Node)) {
	var pairs []*ast.MappingValueNode
	switch n := n.(type) {
	case *ast.MappingNode:
		pairs = n.Values
	case *ast.MappingValueNode:
		pairs = []*ast.MappingValueNode{n}
	}
	for _, p := range pairs {
		key := prefix + p.Key.GetToken().Value
		switch p.Value.(type) {
		case *ast.MappingNode, *ast.MappingValueNode:
			eachWord(key+".", p.Value, f)
		default:
			f(key, p.Key)
		}
	}
}

// token is a colour's declaration.
type token struct {
	file         string
	line, column int    // from 1
	scheme       string // light or dark
	name         string
	value        string
	rgb          [3]float64 // 0 to 1
	ok           bool       // the value is a colour that is known
}

var (
	cssPart    = regexp.MustCompile(`\n|@media[^{}]*\{|\{|\}|--([a-z0-9-]+)[ \t]*:[ \t]*(#\w+|[A-Za-z]+\(?)`)
	usedName   = regexp.MustCompile(`var\(\s*--([a-z0-9-]+)`)
	otherMedia = regexp.MustCompile(`@media[^{]*(print|forced-colors)`)
	darkMedia  = regexp.MustCompile(`@media[^{]*prefers-color-scheme:\s*dark`)
)

// leastContrast is what text needs by WCAG 2.2, 1.4.3.
const leastContrast = 4.5

// tokenFaults lists the colours of a look's styles that nothing uses, and those of text that are too near to their ground.
func tokenFaults(look, under fs.FS) (out []LookFault) {
	no := func(t token) bool { return !t.ok }
	mine, theirs := tokensOf(look), slices.DeleteFunc(tokensOf(under), no)
	known := map[string]bool{}
	for _, m := range usedName.FindAllStringSubmatch(string(joined(look, "styles/*.css"))+string(joined(under, "styles/*.css")), -1) {
		known[m[1]] = true
	}
	for _, t := range theirs {
		known[t.name] = true
	}
	for _, t := range mine {
		switch {
		case len(out) >= mostFaults:
		case !t.ok && slices.ContainsFunc(theirs, func(x token) bool { return x.name == t.name }):
			out = append(out, t.fault(fmt.Sprintf("--%s is a colour, and %q is none that is known", t.name, t.value), "write it as in #22532c, or as a name of CSS"))
		case !known[t.name] && t.value[0] == '#':
			out = append(out, t.fault(fmt.Sprintf("nothing is coloured by --%s", t.name), spelling.Hint(t.name, slices.Sorted(maps.Keys(known)))))
		}
	}
	mine = slices.DeleteFunc(mine, no)
	for _, scheme := range []string{"light", "dark"} {
		now, own := map[string]token{}, map[string]bool{}
		for i, t := range append(slices.Clone(theirs), mine...) {
			if t.scheme == scheme || t.scheme == "light" && now[t.name].name == "" {
				now[t.name], own[t.name] = t, i >= len(theirs)
			}
		}
		for _, pair := range [][2]string{{"ink", "ground"}, {"ink", "paper"}, {"soft", "ground"}, {"soft", "paper"}, {"leaf", "ground"}, {"leaf", "paper"},
			{"clay", "ground"}, {"clay", "paper"}, {"slate", "ground"}, {"slate", "paper"}, {"on-leaf", "leaf"}} {
			a, b := now[pair[0]], now[pair[1]]
			if a.name == "" || b.name == "" || !own[a.name] && !own[b.name] {
				continue
			}
			if c := contrast(a.rgb, b.rgb); c < leastContrast {
				at := a
				if !own[a.name] {
					at = b
				}
				out = append(out, at.fault(fmt.Sprintf("text in --%s on --%s has a contrast of %.1f in the %s scheme; %.1f is the least that can be read", a.name, b.name, c, scheme, leastContrast), "take a darker or a lighter one"))
			}
		}
	}
	return out
}

func (t token) fault(message, hint string) LookFault {
	return LookFault{t.file, t.line, t.column, message, hint}
}

// tokensOf lists the colours that the styles of a theme declare for screens, by file and place.
func tokensOf(theme fs.FS) (out []token) {
	names, _ := fs.Glob(theme, "styles/*.css")
	for _, name := range names {
		if data, err := fs.ReadFile(theme, name); err == nil {
			out = append(out, tokensIn(name, string(data))...)
		}
	}
	return out
}

// tokensIn walks a style sheet once, with the schemes of the blocks that are open: "" for what is not for screens.
func tokensIn(file, text string) (out []token) {
	open, line, start := []string{"light"}, 1, 0
	for _, m := range cssPart.FindAllStringSubmatchIndex(text, -1) {
		part, now := text[m[0]:m[1]], open[len(open)-1]
		switch {
		case m[2] >= 0:
			value := text[m[4]:m[5]]
			rgb, ok := rgbOf(value)
			if now != "" && (ok || !strings.HasSuffix(value, "(") && !slices.Contains(otherColours, strings.ToLower(value))) {
				out = append(out, token{file, line, utf8.RuneCountInString(text[start:m[0]]) + 1, now, text[m[2]:m[3]], value, rgb, ok})
			}
		case part == "}":
			open = open[:max(1, len(open)-1)]
		case otherMedia.MatchString(part):
			open = append(open, "")
		case darkMedia.MatchString(part):
			open = append(open, "dark")
		case part != "\n":
			open = append(open, now)
		}
		if n := strings.Count(part, "\n"); n > 0 {
			line, start = line+n, m[0]+strings.LastIndexByte(part, '\n')+1
		}
	}
	return out
}

// otherColours are words of CSS that stand for a colour which is not known here.
var otherColours = []string{"inherit", "initial", "unset", "revert", "currentcolor", "transparent", "canvas", "canvastext", "linktext"}

// rgbOf reads #rrggbb, #rgb, both with an alpha, which is not looked at, or a name of CSS.
func rgbOf(text string) (c [3]float64, ok bool) {
	if named, ok := colornames.Map[strings.ToLower(text)]; ok {
		return [3]float64{float64(named.R) / 255, float64(named.G) / 255, float64(named.B) / 255}, true
	}
	hex, ok := strings.CutPrefix(text, "#")
	if len(hex) == 3 || len(hex) == 4 {
		hex = string([]byte{hex[0], hex[0], hex[1], hex[1], hex[2], hex[2]})
	}
	v, err := strconv.ParseUint(hex, 16, 64)
	switch {
	case !ok || err != nil:
		return c, false
	case len(hex) == 8:
		v >>= 8
	case len(hex) != 6:
		return c, false
	}
	return [3]float64{float64(v>>16) / 255, float64(v>>8&255) / 255, float64(v&255) / 255}, true
}

// contrast is that of WCAG 2.2: (L1 + 0.05) / (L2 + 0.05) of the relative luminances, the lighter above.
func contrast(a, b [3]float64) float64 {
	x, y := luminance(a), luminance(b)
	return (max(x, y) + 0.05) / (min(x, y) + 0.05)
}

func luminance(c [3]float64) float64 {
	for i, v := range c {
		if v <= 0.04045 {
			c[i] = v / 12.92
		} else {
			c[i] = math.Pow((v+0.055)/1.055, 2.4)
		}
	}
	return 0.2126*c[0] + 0.7152*c[1] + 0.0722*c[2]
}

// joined is the text of all files that match.
func joined(theme fs.FS, pattern string) (out []byte) {
	names, _ := fs.Glob(theme, pattern)
	for _, name := range names {
		if data, err := fs.ReadFile(theme, path.Clean(name)); err == nil {
			out = append(out, data...)
		}
	}
	return out
}
