// Package names finds the plant that a typed name means: everyday names in two languages, older names, abbreviations,
// names of forms, misspellings and what sounds alike. It asks rather than guesses where two plants share a name, and
// where a plant that lists regulate could be meant.
package names

import (
	"slices"
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"
)

// folded is a name as names are compared: lower case, no accents, no signs.
type folded struct {
	words  []string
	form   string // what stood in quotes at the end, as written: the form
	doubt  bool   // cf., aff. or ?: the writer is not certain
	hybrid bool   // a formula of two parents
}

// dropped are words that change nothing about which plant is meant.
var dropped = []string{"var", "subsp", "ssp", "f", "cv", "forma"}

// fold brings a name to the form in which names are compared. It never returns more than maxWords words.
func fold(text string) folded {
	var f folded
	if len(text) > maxLetters {
		text = text[:maxLetters]
	}
	text, f.form = quoted(text)
	text = withoutAuthors(text)
	if strings.Contains(text, "?") {
		f.doubt = true
	}
	for i, w := range strings.Fields(letters(text)) {
		switch {
		case w == "cf" || w == "aff":
			f.doubt = true
		case w == "sp" || w == "spp":
		case slices.Contains(dropped, w) && i > 0:
		case w == "x":
			f.hybrid = f.hybrid || len(f.words) > 1
		case len(f.words) < maxWords:
			f.words = append(f.words, w)
		}
	}
	return f
}

const (
	maxLetters = 200 // longer is no name
	maxWords   = 12
)

// withoutAuthors cuts a scientific name before its authors: Bacopa monnieri (L.) Wettst.
func withoutAuthors(text string) string {
	words := strings.Fields(text)
	for i := 2; i < len(words); i++ {
		w := words[i]
		if w[0] == '(' || w == "&" || 'A' <= w[0] && w[0] <= 'Z' && strings.HasSuffix(w, ".") {
			return strings.Join(words[:i], " ")
		}
	}
	return text
}

// letters lowers the text, takes accents and apostrophes off and makes all other signs spaces. An umlaut is the same
// with two dots, written out with an e, or left out.
func letters(text string) string {
	var b strings.Builder
	for _, r := range norm.NFD.String(strings.ToLower(strings.ReplaceAll(text, "ß", "ss"))) {
		switch {
		case r == '×':
			b.WriteString(" x ")
		case 'a' <= r && r <= 'z', '0' <= r && r <= '9':
			b.WriteRune(r)
		case r == 'ø':
			b.WriteByte('o')
		case unicode.Is(unicode.Mn, r), strings.ContainsRune("'’‘`´ʼ", r):
		default:
			b.WriteByte(' ')
		}
	}
	return writtenOut.Replace(b.String())
}

var writtenOut = strings.NewReplacer("ae", "a", "oe", "o", "ue", "u")

// quoted cuts a form in quotes off the end of a name: Anubias barteri 'Petite'. An apostrophe inside a word is none.
func quoted(text string) (rest, form string) {
	text = strings.TrimSpace(text)
	for _, pair := range [][2]string{{" '", "'"}, {" ‘", "’"}, {` "`, `"`}, {" “", "”"}, {" „", "“"}, {" `", "`"}, {" ’", "’"}} {
		open := strings.Index(text, pair[0])
		if open > 0 && strings.HasSuffix(text, pair[1]) && open+len(pair[0]) < len(text)-len(pair[1]) {
			return text[:open], text[open+len(pair[0]) : len(text)-len(pair[1])]
		}
	}
	return text, ""
}

// compact is the words without spaces: javafern.
func compact(words []string) string { return strings.Join(words, "") }

// sorted is the words in the order of the alphabet, so that "wendtii brown crypt" is "crypt wendtii brown".
func sorted(words []string) string {
	w := slices.Clone(words)
	slices.Sort(w)
	return strings.Join(w, " ")
}

// Key is a name as names are compared, without spaces: two spellings of one key are the same name.
func Key(text string) string {
	f := fold(text)
	return compact(append(f.words, fold(f.form).words...))
}

// Words is the words of a name as names are compared.
func Words(text string) []string { return fold(text).words }

// Fold is a text as names are compared, its words with single spaces.
func Fold(text string) string { return strings.Join(strings.Fields(letters(text)), " ") }
