package chart

import (
	"strings"
	"testing"
)

func TestStockIsMarkedAsNoOutcome(t *testing.T) {
	pic, err := Tree{Caption: Caption{ID: "t", Title: "A way"}, Nodes: []Node{{Key: "a", Name: "6 cuttings", Outcome: Stock}, {Key: "b", Parent: "a", Name: "2 of them", Outcome: Gone}}}.Draw()
	if err != nil {
		t.Fatal(err)
	}
	for _, svg := range []string{string(pic.Broad), string(pic.Narrow)} {
		if strings.Count(svg, `class="pt"`) != 1 || strings.Contains(svg, `class="well"`) || strings.Contains(svg, `class="silent"`) {
			t.Errorf("the stock has no disc of its own: %s", svg)
		}
	}
}
