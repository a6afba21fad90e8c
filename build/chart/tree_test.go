package chart

import (
	"strings"
	"testing"
)

// Every parcel is on the tree once, with the mark of what became of it, and every lot is a node.
func TestATreeHasAMarkForEachParcel(t *testing.T) {
	tree := sampleTree("t")
	tree.Marks = TreeMarks{}
	pic := tree.Draw()
	for _, svg := range []string{string(pic.Broad), string(pic.Narrow)} {
		for mark, want := range map[string]int{"well": 3, "gone": 2, "silent": 6, "pt": 4} {
			if got := strings.Count(svg, `class="`+mark+`"`); got != want {
				t.Errorf("%d marks of %s, want %d", got, mark, want)
			}
		}
	}
}
