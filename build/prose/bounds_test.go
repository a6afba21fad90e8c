package prose

import (
	"fmt"
	"strings"
	"testing"
)

func TestBounds(t *testing.T) {
	m := New(Options{})
	filler := strings.Repeat(strings.Repeat("x", 62)+"\n", MaxRun/63)
	refused := 0
	for _, row := range []struct {
		name, text, want string
	}{
		{"quotes at their bound", "a\n\n" + strings.Repeat("> ", MaxQuotes) + "b", ""},
		{"one quote more", "a\n\n" + strings.Repeat("> ", MaxQuotes+1) + "b", "3:1: error: quotation is nested 101 deep; the limit is 100"},
		{"a megabyte of quotes", strings.Repeat(">", 1<<20), "1:1: error: quotation is nested 1048576 deep; the limit is 100"},
		{"a paragraph at its bound", filler + "\n" + filler, ""},
		{"a paragraph beyond it", "a\n\n" + filler + strings.Repeat("y", 63), "3:1: error: more than 128 kB stand here without an empty line between"},
		{"brackets at their bound", strings.Repeat("[a](<b", MaxBrackets) + "\n\n" + strings.Repeat("[](", MaxBrackets), ""},
		{"one bracket more", "a\n\nb\n" + strings.Repeat("[](", MaxBrackets+1), "3:1: error: more than 2000 square brackets are closed here without an empty line between"},
		{"a megabyte of links that never end", strings.Repeat("[a](<b", 1<<17), "1:1: error: more than 128 kB stand here without an empty line between"},
		{"a megabyte of references", strings.Repeat("[a]: b\n", 1<<17), "1:1: error: more than 2000 square brackets are closed here without an empty line between"},
	} {
		doc := m.Render([]byte(row.text), Place{})
		got := ""
		if len(doc.Faults) > 0 {
			got = doc.Faults[0].String()
		}
		if got != row.want || fmt.Sprint(m.Check([]byte(row.text), nil)) != fmt.Sprint(doc.Faults) {
			t.Errorf("%s: %q", row.name, got)
		}
		refused += len(doc.Faults)
		if len(doc.Faults) > 0 && (doc.HTML != "" || doc.Faults[0].Hint == "") {
			t.Errorf("%s: %q, %+v", row.name, doc.HTML, doc.Faults)
		}
	}
	t.Attr("figure", fmt.Sprintf("limits shown, of a text: %d", refused))
}
