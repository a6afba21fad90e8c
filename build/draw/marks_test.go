package draw

import "testing"

func TestMarks(t *testing.T) {
	seen := map[string]Mark{}
	for m := In; m <= NoNews; m++ {
		svg := string(m.SVG())
		wellFormed(t, svg)
		if other, ok := seen[svg]; ok {
			t.Errorf("marks %d and %d look the same", other, m)
		}
		seen[svg] = m
	}
	if Mark(99).SVG() != Unknown.SVG() || Mark(-1).SVG() != Unknown.SVG() {
		t.Error("a mark that is none is not drawn as unknown")
	}
}
