package almanac

import (
	"slices"
	"strings"
)

var foldSigns = strings.NewReplacer("×", " x ", "’", "'", "‘", "'", "`", "'", "´", "'", "“", `"`, "”", `"`, "_", " ")

// fold brings a name to the form in which names are compared: lower case, single spaces, plain quotes, no dots at the
// ends of words, and no hybrid sign before the epithet.
func fold(name string) string {
	lower := strings.ToLower(name)
	if isFolded(lower) { // as nearly all of the tables' ten thousand names are, which every command folds
		return lower
	}
	return foldAny(lower)
}

// isFolded reports whether a name in lower case is plainly in that form: letters and digits of ASCII, hyphens and quotes,
// with single spaces between words, of which none is a hybrid sign.
func isFolded(lower string) bool {
	space := true
	for i := range len(lower) {
		switch c := lower[i]; {
		case 'a' <= c && c <= 'z' && (c != 'x' || !space), '0' <= c && c <= '9', c == '-', c == '\'', c == '"':
			space = false
		case c == ' ' && !space:
			space = true
		default:
			return false
		}
	}
	return !space
}

// foldAny folds a name in lower case, whatever stands in it.
func foldAny(lower string) string {
	words := strings.Fields(foldSigns.Replace(lower))
	for i, w := range words {
		if t := strings.TrimRight(w, ".,"); t != "" {
			words[i] = t
		}
	}
	for len(words) > 2 && words[1] == "x" {
		words = slices.Delete(words, 1, 2)
	}
	return strings.Join(words, " ")
}

// written is a scientific name as somebody wrote it, taken apart.
type written struct {
	full     string // folded; ranks below the species kept, authors and cultivar dropped
	binomial string // genus and epithet; "" for a genus alone
	genus    string
	open     bool     // "sp.", a genus alone, an unnamed hybrid: which species it is stays open
	cf       bool     // "cf.", "aff." or "?": the species is a guess
	parents  []string // of a hybrid written as a formula
}

// ranks are the words that stand before a name below the species.
var ranks = []string{"var", "subsp", "ssp", "f", "forma", "subvar"}

// takeApart reads a scientific name.
func takeApart(name string) written {
	words := strings.Fields(withoutCultivar(fold(name)))
	var w written
	words = slices.DeleteFunc(words, func(s string) bool {
		doubt := s == "cf" || s == "aff" || s == "?"
		w.cf = w.cf || doubt
		return doubt
	})
	if len(words) == 0 {
		return w
	}
	w.genus = words[0]
	if len(words) == 1 || slices.Contains([]string{"sp", "spp", "species", "hybrid", "x"}, words[1]) {
		w.full, w.open = strings.Join(words, " "), true
		return w
	}
	w.binomial = words[0] + " " + words[1]
	w.full = w.binomial
	for i := 2; i+1 < len(words); i++ {
		if slices.Contains(ranks, words[i]) {
			w.full += " " + words[i] + " " + words[i+1]
		}
		if words[i] == "x" {
			w.parents = append(w.parents, w.binomial, w.genus+" "+words[i+1])
			if i+2 < len(words) {
				w.parents = append(w.parents, words[i+1]+" "+words[i+2])
			}
		}
	}
	return w
}

// withoutCultivar cuts a folded name before a cultivar's quotes. A quote inside a word (parrot's feather) stays.
func withoutCultivar(s string) string {
	for _, q := range []string{" '", ` "`} {
		if i := strings.Index(s, q); i > 0 {
			s = s[:i]
		}
	}
	return s
}

// firstWord gives the folded genus of a name.
func firstWord(name string) string {
	first, _, _ := strings.Cut(fold(name), " ")
	return first
}
