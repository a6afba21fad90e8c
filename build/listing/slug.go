package listing

import (
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"
)

// spelled are letters that no accent explains, and the German ones whose two letters everybody knows.
var spelled = strings.NewReplacer("ä", "ae", "ö", "oe", "ü", "ue", "ß", "ss", "æ", "ae", "œ", "oe", "ø", "o", "å", "a", "ł", "l", "đ", "d", "ð", "d", "þ", "th", "ı", "i", "'", "", "’", "", "\"", "")

// longestSlug is the length that leaves room for the folders around a name.
const longestSlug = 40

// Slug makes a name of the format, which every system takes, out of what somebody calls a thing; "" where none of its
// letters are Latin.
func Slug(name string) string {
	var b strings.Builder
	for _, r := range norm.NFD.String(spelled.Replace(norm.NFC.String(strings.ToLower(name)))) {
		switch {
		case r >= 'a' && r <= 'z' || r >= '0' && r <= '9':
			b.WriteRune(r)
		case !unicode.Is(unicode.Mn, r):
			b.WriteByte(' ')
		}
	}
	s := strings.Join(strings.Fields(b.String()), "-")
	if len(s) > longestSlug {
		s = strings.TrimRight(s[:longestSlug], "-")
	}
	if device.MatchString(s) {
		s += "-1"
	}
	return s
}
