package console

import (
	"bytes"
	"strings"
	"testing"
	"unicode"

	"pgregory.net/rapid"

	"slipleaf/build/journal"
)

func TestShow(t *testing.T) {
	c := journal.Complaint{File: "tanks/trough/2026-04-18.md", Line: 5, Column: 14, Severity: journal.Error, Rule: "bad-quantity",
		Message: `unknown unit "dG"`, Hint: "did you mean 6 dGH?"}
	for name, row := range map[string]struct{ line, want string }{
		"a plain line":                     {"  gh:   6  dG", "      gh:   6  dG\n                 ^\n"},
		"a tab is four columns":            {"\tgh:  67 8  9dG", "        gh:  67 8  9dG\n                    ^\n"},
		"wide letters take two columns":    {"名: 12345678dG", "    名: 12345678dG\n                  ^\n"},
		"combining marks take none":        {"a\u0301: 12345678dGH", "    a\u0301: 12345678dGH\n                ^\n"},
		"escape sequences are dots":        {"gh: \x1b[31m6 dG", "    gh: ·[31m6 dG\n                 ^\n"},
		"the place after the end":          {"gh: 6", "    gh: 6\n         ^\n"},
		"text direction marks are dots":    {"gh: \u202e12345678dG", "    gh: ·12345678dG\n                 ^\n"},
		"a line that is not there":         {"", ""},
		"nothing but spaces is not there":  {"   \t", ""},
		"a long line is cut at its end":    {strings.Repeat("x", 300), "    " + strings.Repeat("x", 100) + "…\n                 ^\n"},
		"an end of line is not a dot":      {"gh: 6 dG   \r\n", "    gh: 6 dG\n            ^\n"},
		"a mark of the format is harmless": {"gh: 6 {{dG}}", "    gh: 6 {{dG}}\n                ^\n"},
	} {
		var b bytes.Buffer
		if err := Show(&b, c, row.line, false); err != nil {
			t.Fatal(err)
		}
		want := "tanks/trough/2026-04-18.md:5:14: error: unknown unit \"dG\"\n" + row.want + "  hint: did you mean 6 dGH?\n"
		if b.String() != want {
			t.Errorf("%s:\n%s\nwant\n%s", name, b.String(), want)
		}
	}
}

func TestALongLineIsCutAroundTheCaret(t *testing.T) {
	shown, caret := window(strings.Repeat("x", 200)+"!"+strings.Repeat("x", 200), 201)
	if i := strings.Index(caret, "^"); []rune(shown)[i] != '!' || len([]rune(shown)) != shownWidth+2 {
		t.Errorf("%q\n%q", shown, caret)
	}
}

func TestColourMarksTheSeverityAndTheLine(t *testing.T) {
	var b bytes.Buffer
	if err := Show(&b, journal.Complaint{File: "journal.yaml", Line: 1, Column: 1, Severity: journal.Warning, Rule: "stray", Message: "m"}, "title: The Bench", true); err != nil {
		t.Fatal(err)
	}
	if s := b.String(); !strings.Contains(s, "\x1b[33mwarning: ") || !strings.Contains(s, "title") || strings.Count(s, "\n") != 3 {
		t.Errorf("%q", s)
	}
}

// Whatever a file holds, nothing reaches the terminal but text, and the caret is within the line or just after it.
func TestShowIsHarmless(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		line := rapid.String().Draw(t, "line")
		c := journal.Complaint{File: rapid.String().Draw(t, "file"), Line: 1, Column: rapid.IntRange(1, 200).Draw(t, "column"), Message: rapid.String().Draw(t, "message"), Hint: rapid.String().Draw(t, "hint")}
		var b bytes.Buffer
		if err := Show(&b, c, line, false); err != nil {
			t.Fatal(err)
		}
		for _, r := range b.String() {
			if r != '\n' && (unicode.IsControl(r) || unicode.Is(unicode.Cf, r)) {
				t.Fatalf("%q", b.String())
			}
		}
	})
}
