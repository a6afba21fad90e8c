package journal

import (
	"bytes"
	"os"
	"testing"

	"slipleaf/build/head"
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

func BenchmarkEntry(b *testing.B) {
	text := entryHead(b)
	s := Source{Path: "tanks/trough/2026-04-18.md", head: seal(text), HeadLine: 2}
	scan := new(head.Scanner)
	b.ReportAllocs()
	for b.Loop() {
		d := &decoder{limits: Limits{}.orDefault(), scan: scan}
		readHead(d, s, bindings["entry"], &Entry{})
	}
}
