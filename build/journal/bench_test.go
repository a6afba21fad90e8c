package journal

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
	head, _, _ := bytes.Cut(data[4:], []byte("\n---\n"))
	return string(head) + "\n"
}

func BenchmarkFullParser(b *testing.B) {
	head := entryHead(b)
	b.ReportAllocs()
	for b.Loop() {
		parseYAML(head, 2)
	}
}

func BenchmarkHead(b *testing.B) {
	head := entryHead(b)
	b.ReportAllocs()
	for b.Loop() {
		parseHead(head, 2)
	}
}

func BenchmarkEntry(b *testing.B) {
	head := entryHead(b)
	s := Source{Path: "tanks/trough/2026-04-18.md", head: seal(head), HeadLine: 2}
	scan := new(scanner)
	b.ReportAllocs()
	for b.Loop() {
		d := &decoder{limits: Limits{}.orDefault(), scan: scan}
		readHead(d, s, entryFields, &Entry{}, nil)
	}
}
