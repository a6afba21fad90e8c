package head

import (
	"reflect"
	"strings"
	"testing"
	"unicode/utf8"

	"pgregory.net/rapid"
)

// sameTree holds the law of the fast scanner: where it gives a tree at all, it is the full parser's.
func sameTree(t interface {
	Helper()
	Fatalf(string, ...any)
}, src string) bool {
	t.Helper()
	fast, ok := new(Scanner).head(src, 2)
	if !ok {
		return false
	}
	full, faults := parseYAML(src, 2)
	if len(faults) > 0 || !reflect.DeepEqual(fast, full) {
		t.Fatalf("%q\nfast: %+v\nfull: %+v\nfaults: %v", src, fast, full, faults)
	}
	return true
}

func TestTheFastScannerReadsWhatHeadsAreMadeOf(t *testing.T) {
	for name, src := range map[string]string{
		"the entry of the good journal":      entryHead(t),
		"plain values":                       "a: <5 mg/L\nb: 30 %\nc: -3 C\nd: 2026-04-18\ne: it's\nf: http://x.example/?q={lot}\n",
		"quoted values":                      "a: \"x: y, z\"\nb: 'x # y'\n",
		"comments":                           "# first\na: 1 # one\n\n  # indented\nb: 2\n# last",
		"a list of mappings":                 "a:\n  - p: 1\n    q: 2\n  - r: 3\nb: 4\n",
		"a list as deep as its key":          "a:\n- p: 1\n  q: 2\n- r: 3\nb: 4\n",
		"brackets over lines":                "a: {p: 1, q: [x y, 'z'],\n    r: {s: 2}}\nb: []\nc: {}\n",
		"a mapping in a mapping":             "a:\n  b:\n    c: 1\n  d: 2\ne:\n",
		"letters beyond ASCII":               "a: {kind: größe, b: \"é\", c: 1}\n",
		"null":                               "a: ~\nb: null\nc: {d: null, e: 1}\n",
		"a value without an end of line":     "a: 1",
		"a list whose items are plain words": "a:\n  - x y\n  - \"z\"\n  - {p: 1}\n",
	} {
		if !sameTree(t, src) {
			t.Errorf("%s: refused", name)
		}
	}
}

func TestTheFastScannerRefusesWhatItDoesNotKnow(t *testing.T) {
	for name, src := range map[string]string{
		"an anchor": "a: &x 1\n", "an alias": "a: *x\n", "a tag": "a: !!str 1\n", "a block of text": "a: |\n  x\n",
		"an escape": "a: \"x\\ty\"\n", "a value over two lines": "a: x\n  y\n", "an open bracket": "a: [1, 2\n",
		"an open quotation": "a: \"x\n", "a tab": "a:\tx\n", "a merge key": "<<: {a: 1}\n", "a second document": "a: 1\n---\nb: 2\n",
		"two colons": "a: b: c\n", "a list at the top": "- a\n", "a word at the top": "words\n", "nothing": "", "words of nothing but brackets": "a: 0" + strings.Repeat("{", 100) + "\n", "an odd indent": "a: 1\n  b: 2\n",
	} {
		if _, ok := new(Scanner).head(src, 2); ok {
			t.Errorf("%s: taken", name)
		}
	}
}

// TestTheFastScannerAgreesOnMadeHeads makes heads out of the pieces that YAML is tricky about.
func TestTheFastScannerAgreesOnMadeHeads(t *testing.T) {
	pieces := []string{"a", "b-c", ": ", ":", "\n", "\n  ", "\n    ", "- ", "-", "{", "}", "[", "]", ", ", ",", "\"", "'", "#", " # ", " ",
		"1", "<5 mg/L", "30 %", "?", "~", "null", "é", "x y", "true", "*", "&", "!", "|", ">", "---", "...", "=", "a: 1\n", "b: {c: 2}\n", "0x1f", ".inf", "<<", "_", "1_0", "2026-04-18"}
	rapid.Check(t, func(t *rapid.T) {
		sameTree(t, strings.Join(rapid.SliceOfN(rapid.SampledFrom(pieces), 1, 14).Draw(t, "pieces"), ""))
	})
}

func FuzzHead(f *testing.F) {
	for _, s := range []string{"a: 1\n", "a: {b: [1, 2], c: \"x\"}\n", "a:\n  - b: 1\n    c: <5 mg/L\n", "a: |\n  x\n", entryHead(f)} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, src string) {
		if !utf8.ValidString(src) || strings.ContainsAny(src, "\r\x00") {
			t.Skip("such heads are not read")
		}
		sameTree(t, src)
	})
}
