package prose

import (
	"strconv"
	"strings"
	"unicode"

	"github.com/yuin/goldmark/ast"
	"golang.org/x/text/unicode/norm"
)

const maxLevel = 6 // of HTML headings

// nameHeadings gives each heading its level and its id, in the order of the text. An id depends on
// the heading's words and on equal headings above it alone, so text added elsewhere leaves it alone.
func (j *job) nameHeadings(n node) {
	for c := n.FirstChild(); c != nil; c = c.NextSibling() {
		h, ok := c.(*ast.Heading)
		if !ok {
			if c.Type() == ast.TypeBlock {
				j.nameHeadings(c)
			}
			continue
		}
		h.Level = min(h.Level+1, maxLevel) // the page's title is the h1
		h.SetAttributeString("id", []byte(j.freeID(slug(string(oneLine(j.plain(h, true)))))))
	}
}

// freeID returns id, or id with the first number from 2 that nothing has taken. ids remembers the
// number that an id came to, so that a thousand equal headings need no million tries.
func (j *job) freeID(id string) string {
	free := id
	for j.ids[free] > 0 {
		j.ids[id]++
		free = id + "-" + strconv.Itoa(j.ids[id])
	}
	j.ids[free] = 1
	j.names = append(j.names, free)
	return free
}

// slug makes an id of a heading: letters and digits of any script in lower case, in Unicode's
// normal form C, with one hyphen for what is between them. "section" if nothing is left.
func slug(text string) string {
	var b strings.Builder
	gap := false
	for _, r := range norm.NFC.String(text) {
		switch {
		case unicode.IsLetter(r) || unicode.IsDigit(r) || unicode.IsMark(r):
			if gap && b.Len() > 0 {
				b.WriteByte('-')
			}
			gap = false
			b.WriteRune(unicode.ToLower(r))
		case r != '\'' && r != '’': // "don't" is one word
			gap = true
		}
	}
	if b.Len() == 0 {
		return "section"
	}
	return norm.NFC.String(b.String())
}
