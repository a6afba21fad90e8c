package record

import (
	"bytes"
	"fmt"
	"strings"
	"testing"
)

func TestCodesUseTheirWholeAlphabet(t *testing.T) {
	var all [256]byte
	for i := range all {
		all[i] = byte(i)
	}
	s, err := NewCode(bytes.NewReader(all[:]), len(all))
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range codeAlphabet {
		if n := strings.Count(s, string(r)); n != 8 {
			t.Errorf("%c came %d times of 256, not 8", r, n)
		}
	}
	if strings.ContainsAny(s, "ilou") {
		t.Error("a letter that is misread")
	}
	if _, err := NewCode(bytes.NewReader(nil), 25); err == nil {
		t.Error("a code without randomness")
	}
}

func TestAReportIsAddedInTheWayOfTheFile(t *testing.T) {
	const line = "{date: 2026-06-01, outcome: rooted}"
	for _, c := range []struct{ name, head, want string }{
		{"no reports yet", "lot: A\n# keep me\nprivate: {name: x}\n", "lot: A\n# keep me\nprivate: {name: x}\nreports:\n  - " + line + "\n"},
		{"a list", "reports:   # all of them\n    - {date: 1}   # first\n# after\nlot: A\n", "reports:   # all of them\n    - {date: 1}   # first\n    - " + line + "\n# after\nlot: A\n"},
		{"a list at the margin", "reports:\n- date: 1\n  outcome: x\nlot: A\n", "reports:\n- date: 1\n  outcome: x\n- " + line + "\nlot: A\n"},
		{"a flow list", "reports: [{date: 1, cause: \"a ] b\"}] # so\nlot: A\n", "reports: [{date: 1, cause: \"a ] b\"}, " + line + "] # so\nlot: A\n"},
		{"an empty flow list", "reports: [ ]\nlot: A\n", "reports: [ " + line + "]\nlot: A\n"},
		{"a flow list over lines", "reports: [\n  {date: 1}, # ]\n  {date: 2}\n]\nlot: A\n", "reports: [\n  {date: 1}, # ]\n  {date: 2}\n, " + line + "]\nlot: A\n"},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, ok := WithReport(line)([]byte("---\n" + c.head + "---\nBody: reports: []\n"))
			if want := "---\n" + c.want + "---\nBody: reports: []\n"; !ok || string(got) != want {
				t.Errorf("got\n%s\nwant\n%s", got, want)
			}
			dos := strings.ReplaceAll("---\n"+c.head+"---\nBody\n", "\n", "\r\n")
			got, ok = WithReport(line)([]byte(dos))
			if !ok || strings.Count(string(got), "\n") != strings.Count(string(got), "\r\n") {
				t.Errorf("line ends are mixed: %q", got)
			}
		})
	}
	for _, bad := range []string{"", "no head", "---\nreports: 5\n---\n", "---\nreports: [\n---\n", "---\nreports:\nlot: A\n---\n"} {
		if got, ok := WithReport(line)([]byte(bad)); ok {
			t.Errorf("%q became %q", bad, got)
		}
	}
}

func TestTextsSurviveTheirYAML(t *testing.T) {
	for _, s := range []string{"fine sand", "", "no", "a: b", "it's \"so\"", "- x", "#1", "Zoë", "[x]"} {
		w := word(s)
		if s == "" && w != "" || s != "" && w != s && w != fmt.Sprintf("%q", s) {
			t.Errorf("%q -> %s", s, w)
		}
	}
}

func TestRemarksAreFound(t *testing.T) {
	for text, want := range map[string]bool{
		"private: # keep\n  name: A\n": true, "private:\n  name: A # nick\n": true, "private:\n  # mind\n  name: A\n": true, "private: {name: A} # x\n": true,
		"private: {name: \"A # B\"}\n": false, "private:\n  name: 'A # B'\n": false, "private: {name: A#B}\n": false, "private:\n  name: A\n# by hand\n": false,
		"lot: X # mine\nprivate: {name: A}\n": false, "private: {name: \"a\\\" # b\"}\n": false,
	} {
		if _, ok := Unremarked("private")([]byte("---\n" + text + "---\n")); ok == want {
			t.Errorf("%q: %v", text, ok)
		}
	}
}
