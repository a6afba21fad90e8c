package message

import (
	"cmp"
	"slices"
	"strings"
	"unicode"
)

// small are words of which hardly a sentence has none, by language. Under "" are those of neighbours that share some with these: Dutch,
// Danish, Norwegian and Swedish, in which the program says nothing.
var small = map[string][]string{
	"en": strings.Fields("and are but for from have hello hi if is it my not of on or please thanks that the to we with would you tank water temp light hours want each"),
	"de": strings.Fields("aber auch bei bitte danke das dem den der die ein eine habe hallo ich im ist kein keine mein mit nicht noch oder und von wir zu für hab hätt hätte hätten wäre würde gern gerne gruß grüße kann moin nein wenn becken wasser grad stück licht besatz wunsch beleuchtung stunden härte adresse isch hän hätti merci boden"),
	"":   strings.Fields("att det een er ett har het ik ikke inte jag jeg mijn niet och og som til van vil zijn är på"),
}

// leastWords is how many of them tell a language (our choice).
const leastWords = 3

// written is the language that the words of a message are in, of those that the program speaks: that of which it has over twice as
// many small words as of all others; "" where it has too few.
func written(text string) string {
	count, all := map[string]int{}, 0
	for word := range strings.FieldsFuncSeq(strings.ToLower(text), func(r rune) bool { return !unicode.IsLetter(r) }) {
		for lang, words := range small {
			if slices.Contains(words, word) {
				count[lang]++
				all++
			}
		}
	}
	for _, lang := range []string{"en", "de"} {
		if n := count[lang]; n >= leastWords && n > 2*(all-n) {
			return lang
		}
	}
	return ""
}

// For adds what goes without saying: a message in another language than the journal's asks for a sheet in its own.
func (r *Reading) For(home string) {
	home, _, _ = strings.Cut(strings.ToLower(cmp.Or(home, "en")), "-")
	own := strings.Join(cleaned(withoutBlock(r.letter)), "\n") // neither plain lines nor what is quoted of others
	if lang := written(own); lang != "" && r.Block.Language == "" && lang != home {
		r.Block.Language = lang
		r.Guessed = append(r.Guessed, Fact{Key: "language", Is: lang, From: shortened(own)})
	}
}
