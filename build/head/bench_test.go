package head

import (
	"bytes"
	"os"
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
