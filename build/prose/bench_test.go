package prose

import (
	"bytes"
	"os"
	"testing"

	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/extension"
)

// year is about a year of a diary: the sample entry, without its coloured block, many times.
func year(b *testing.B) []byte {
	b.Helper()
	body, err := os.ReadFile("testdata/harvest.md")
	if err != nil {
		b.Fatal(err)
	}
	body = bytes.Replace(body, []byte("```yaml"), []byte("```"), 1)
	return bytes.Repeat(append(body, '\n'), 50)
}

func BenchmarkRender(b *testing.B) {
	body, m := year(b), New(Options{})
	b.SetBytes(int64(len(body)))
	b.ReportAllocs()
	for b.Loop() {
		m.Render(body, here)
	}
}

func BenchmarkCheck(b *testing.B) {
	body, m := year(b), New(Options{})
	b.SetBytes(int64(len(body)))
	b.ReportAllocs()
	for b.Loop() {
		m.Check(body, garden{})
	}
}

// BenchmarkPlain is the floor: the parser below us, with tables, typographer and ids of its own.
func BenchmarkPlain(b *testing.B) {
	body := year(b)
	m := goldmark.New(goldmark.WithExtensions(extension.Table, extension.Typographer))
	b.SetBytes(int64(len(body)))
	b.ReportAllocs()
	for b.Loop() {
		var out bytes.Buffer
		if err := m.Convert(body, &out); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkColour(b *testing.B) {
	body, m := []byte("```yaml\nparameters: {ph: 6.7, gh: 6 dGH} # measured at noon\ntitle: \"First harvest\"\n```\n"), New(Options{})
	b.ReportAllocs()
	for b.Loop() {
		m.Render(body, Place{})
	}
}

func BenchmarkNew(b *testing.B) {
	for b.Loop() {
		New(Options{})
	}
}
