package journal

import (
	"path"
	"regexp"
	"slices"
	"strings"
	"unicode"

	"slipleaf/build/spelling"
	"slipleaf/build/usual"
)

// What is private must not be told by a complaint either: terminals are looked at by others, and their text is pasted
// into mails. A file with faults is not parsed, so what is private in it is found line by line, and rather too much than
// too little.

// topLine is a line at the margin that begins with a key.
var topLine = regexp.MustCompile(`^([A-Za-z0-9_-]+)[ \t]*:`)

// headKeys lists the keys at the top of a file's head.
func headKeys(file string) []string {
	dir, base := path.Split(file)
	switch top, _, _ := strings.Cut(dir, "/"); {
	case file == "journal.yaml":
		return bindings["journal"].Names()
	case top == "sent":
		return bindings["sent"].Names()
	case top == "tanks" && base == "tank.md":
		return bindings["tank"].Names()
	case top == "tanks":
		return bindings["entry"].Names()
	case top == "plants":
		return bindings["plant"].Names()
	}
	return bindings["page"].Names()
}

// hiddenLines tells of every line of a file, counted from 0, whether it may hold what is private: it is under the key
// private, or under a word that is no key and may be a slip of it. Under sent/ every word that is no key may be: a name
// that was written beside private is as private as one in it.
func hiddenLines(file string, lines []string) []bool {
	out := make([]bool, len(lines))
	known, hidden := headKeys(file), false
	for i, l := range lines {
		switch m := topLine.FindStringSubmatch(l); {
		case usual.Fence([]byte(l)) && i > 0:
			return out
		case strings.EqualFold(firstWord(strings.TrimLeft(l, " \t-#?\"'")), "private"):
			hidden = true
		case strings.TrimSpace(l) == "" || l[0] == ' ' || l[0] == '\t' || l[0] == '-' || l[0] == '#':
			// part of what is above
		case m != nil && slices.Contains(known, usual.Key(m[1])):
			hidden = false
		case strings.HasPrefix(file, "sent/"), spelling.Nearest(firstWord(l), []string{"private"}) != "":
			hidden = true
		}
		out[i] = hidden
	}
	return out
}

// firstWord is what a line says before its first colon, space or equals sign.
func firstWord(l string) string {
	if i := strings.IndexAny(l, ":= \t\"'"); i >= 0 {
		return l[:i]
	}
	return l
}

// Excerpt is a line of a file of a journal, counted from 1 as complaints count, for showing beside one, without what is
// private; "" where there is no such line.
func Excerpt(file string, data []byte, n int) string {
	lines := linesOf(data)
	if n >= 1 && n <= len(lines) && hiddenLines(file, lines)[n-1] {
		return "private: [not shown]"
	}
	return lineOf(data, n)
}

// privateKeys are words that stand in the private part without being private.
var privateKeys = []string{"private", "name", "address", "note", "phone", "email", Postage, PostageSettled}

// unsaid takes from complaints about a file what they repeat of its private part: those that point into it, and those of
// the parser, which may point anywhere.
func unsaid(file string, data []byte, cs Complaints) {
	if len(cs) == 0 {
		return
	}
	lines := linesOf(data)
	hidden := hiddenLines(file, lines)
	words := map[string]bool{}
	for i, l := range lines {
		if hidden[i] {
			for _, w := range append(wordsOf(l), wordsOf(strings.ReplaceAll(l, "\t", ""))...) { // the parser passes over tabs
				words[w] = !slices.Contains(privateKeys, w)
			}
		}
	}
	for i := range cs {
		c := &cs[i]
		within := c.Line >= 1 && c.Line <= len(lines) && hidden[c.Line-1]
		parser := c.Rule == rules[ruleYAML].Name || c.Rule == rules[ruleYAMLFeature].Name
		if c.Rule == rules[ruleUnknownKey].Name && plainKey.MatchString(lineOf(data, c.Line)) || !within && !parser || !strings.ContainsAny(c.Message+c.Hint, "\"!&*") { // what is repeated is in quotes, or behind a sign of YAML
			continue
		}
		tells := func(text string) bool {
			return slices.ContainsFunc(wordsOf(text), func(w string) bool { return words[w] && (within || len(w) > 2) })
		}
		r := rules[slices.IndexFunc(rules[:], func(r Rule) bool { return r.Name == c.Rule })]
		if tells(c.Hint) {
			c.Hint = r.Cure
		}
		if tells(c.Message) {
			c.Message = r.About + ", in or near the private part, which is not shown here"
		}
	}
}

// plainKey is a line of a head with a word that may be named as an unknown key: a name of somebody has a capital or a space.
var plainKey = regexp.MustCompile(`^[a-z][a-z-]{0,23}:(?:[ \t]|$)`)

// wordsOf are the runs of letters and digits in a text.
func wordsOf(s string) []string {
	return strings.FieldsFunc(s, func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
}
