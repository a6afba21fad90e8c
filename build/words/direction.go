package words

import "strings"

// Marks of the Unicode Bidirectional Algorithm (UAX 9, 2.3): what is between them is set by its own direction, and
// does not turn what is beside it.
const (
	firstStrong = "\u2068"
	endIsolate  = "\u2069"
)

// Isolated shuts a name that is written from right to left off from the sentence around it; any other text stays as it is.
// A table's cell is shut off by itself, a link by the style sheet.
func Isolated(s string) string {
	if strings.IndexFunc(s, rightToLeft) < 0 {
		return s
	}
	return firstStrong + s + endIsolate
}

// rightToLeft tells the blocks of Unicode in which letters run from right to left: Hebrew to Arabic Extended-A, their
// presentation forms, and those of the two planes above (Unicode 16, Blocks.txt, from memory).
func rightToLeft(r rune) bool {
	return r >= 0x590 && (r <= 0x8ff || r >= 0xfb1d && r <= 0xfdff || r >= 0xfe70 && r <= 0xfeff || r >= 0x10800 && r <= 0x10fff || r >= 0x1e800 && r <= 0x1efff)
}
