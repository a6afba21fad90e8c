package draw

import (
	"regexp"
	"strings"
	"testing"
)

var strapMark = regexp.MustCompile(`<path class="d-strap" d="M([-0-9.]+) ([-0-9.]+)`)

// Whatever the plant: a pressed one has at most three straps, all on the plate, and what floats or sits on wood or stone has none.
func TestStrapsHoldWhatIsPressed(t *testing.T) {
	held := 0
	for _, g := range growers {
		svg := string(Plate{ID: "p", Seed: g.taxon, Title: "A plate", Habit: g.habit, Leaf: LeafOf(g.habit, g.taxon), HeightCm: g.height}.Draw().SVG)
		all := strapMark.FindAllStringSubmatch(svg, -1)
		held += len(all)
		if len(all) > mostStraps || (g.habit == Floating || g.habit == Moss) && len(all) > 0 {
			t.Errorf("%s has %d straps", g.taxon, len(all))
		}
		for _, m := range all {
			if strings.HasPrefix(m[1], "-") || strings.HasPrefix(m[2], "-") {
				t.Errorf("%s: a strap at %s %s, off the plate", g.taxon, m[1], m[2])
			}
		}
	}
	if held < 100 {
		t.Errorf("only %d straps were looked at", held)
	}
}
