package facts

import (
	"testing"

	"pgregory.net/rapid"

	"slipleaf/build/prose"
)

// What lists show of a text rests on no more of it than its brief.
func TestABriefHasTheWholeSummary(t *testing.T) {
	maker := prose.New(prose.Options{})
	if got := string(brief([]byte("\nPlain words.\n\nMore of them.\n"))); got != "Plain words." {
		t.Errorf("the brief of two paragraphs is %q", got)
	}
	lines := []string{"", "", "", "Plain words.", "More “words” of it", "a | b", "--- | ---", "1 | 2", "===", "---", "- item", "> said", "    code", "```", "```water", "[a]", "[a][b]", "See [it][b] there",
		"[b]: https://x.example", "[a]: /y", "  [b]:", "<!--", "-->", "<b>raw</b>", "![alt](p.jpg)", "# Head", "ends \\", "\t", " ", "*a", "b*", "Ünder *one* 'quote", "1. one", "\r"}
	rapid.Check(t, func(t *rapid.T) {
		var body []byte
		for _, l := range rapid.SliceOfN(rapid.SampledFrom(lines), 0, 12).Draw(t, "lines") {
			body = append(body, l+"\n"...)
		}
		part := brief(body)
		got, want := maker.Render(part, prose.Place{}).Summary, maker.Render(body, prose.Place{}).Summary
		if got != want {
			t.Fatalf("%q: %q of %q, want %q", body, got, part, want)
		}
	})
}
