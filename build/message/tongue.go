package message

import (
	"cmp"
	"slices"
	"strings"
)

// small are words of which hardly a sentence has none, by language.
var small = map[string][]string{
	"en": strings.Fields("and are but for from have hello hi if is it my not of on or please thanks that the to we with would you"),
	"de": strings.Fields("aber auch bei bitte danke das dem den der die ein eine habe hallo ich im ist kein keine mein mit nicht noch oder und von wir zu"),
}

// umlauts are the letters of German words alone.
const umlauts = "äöüß"

// leastWords is how many of them tell a language (our choice).
const leastWords = 3

// written is the language that the words of a message are in, of those that the program speaks: that of which it has over twice as
// many small words, or words with its own letters, as of the other; "" where it has too few.
func written(text string) string {
	count := map[string]int{}
	for word := range strings.FieldsFuncSeq(strings.ToLower(text), func(r rune) bool { return (r < 'a' || r > 'z') && !strings.ContainsRune(umlauts, r) }) {
		switch {
		case slices.Contains(small["en"], word):
			count["en"]++
		case slices.Contains(small["de"], word) || strings.ContainsAny(word, umlauts):
			count["de"]++
		}
	}
	for lang, other := range map[string]string{"en": "de", "de": "en"} {
		if count[lang] >= leastWords && count[lang] > 2*count[other] {
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
