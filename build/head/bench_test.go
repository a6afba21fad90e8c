package head

import (
	"bytes"
	"os"
	"strings"
	"testing"
)

func entryHead(t testing.TB) string {
	t.Helper()
	data, err := os.ReadFile("../../testdata/journals/good/tanks/trough/2026-04-18.md")
	if err != nil {
		t.Fatal(err)
	}
	text, _, _ := bytes.Cut(data[4:], []byte("\n---\n"))
	return string(text) + "\n"
}

func BenchmarkFullParser(b *testing.B) {
	text := entryHead(b)
	b.ReportAllocs()
	for b.Loop() {
		parseYAML(text, 2)
	}
}

func BenchmarkHead(b *testing.B) {
	text := entryHead(b)
	b.ReportAllocs()
	for b.Loop() {
		Parse(text, 2)
	}
}

// The longest heads, of one thing over and over, that somebody could send to keep a reader busy: each is a few milliseconds'
// work, or refused.
func BenchmarkHostile(b *testing.B) {
	for _, of := range []string{"é", "- ", "\n", "x:\n", "a: b\n", "{}", "[", "&a ", "!t ", "\"", "'a' ", "? ", "%", "\\", "a: |\n b\n"} {
		for _, before := range []string{"", "title: ", "counts: [", "a: |\n  "} {
			src := before + strings.Repeat(of, (64<<10-len(before))/len(of))
			b.Run(before+of, func(b *testing.B) {
				for b.Loop() {
					Parse(src, 2)
				}
			})
		}
	}
}
