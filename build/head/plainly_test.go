package head

import (
	"strings"
	"testing"
)

// What the parser says of a mistake is said in words for people who do not know YAML, with a cure for that mistake.
func TestMistakesInPlainWords(t *testing.T) {
	for src, want := range map[string]string{
		"a: It's \"so\": b: c\n":      "put text that holds \": \" in quotes",
		"a: 'It's fine'\n":            "put the whole text in quotes",
		"a: [A] thing\n":              "put the whole text in quotes",
		"a: \"x\" y\n":                "put the whole text in quotes",
		"a: > hello\n":                "put the value in quotes",
		"a: @b\n":                     "put the value in quotes",
		"a: \"b\n":                    "close the quotation mark",
		"a: [{b: 1}\n":                "close every { and [",
		"a: A\n b: {c: 1}\n":          "indent keys of one level alike",
		"a:\n- b: 1\n c: 3\n":         "indent keys of one level alike",
		"a: 1\nb 2\n":                 "write it as KEY: value",
		"a:\n  b: 'x'\n   c: 'y'\n":   "indent keys of one level alike",
		"a: 1\nb: {c: 'x', d: [y]}\n": "",
	} {
		_, faults := Parse(src, 2)
		if want == "" && len(faults) == 0 {
			continue
		}
		if len(faults) == 0 || want == "" || !strings.Contains(faults[0].Hint, want) {
			t.Errorf("%q: %+v, not %q", src, faults, want)
		}
	}
}
