package draw

import (
	"math"
	"strings"
	"testing"
)

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

func TestTally(t *testing.T) {
	for _, c := range []struct {
		name                    string
		in                      Tally
		per                     int
		leaves, crosses, ghosts int
	}{
		{"one mark each", Tally{7, 2, 5}, 1, 7, 2, 5},
		{"none", Tally{}, 1, 0, 0, 0},
		{"below none counts as none", Tally{-3, 1, 0}, 1, 0, 1, 0},
		{"sixty still one each", Tally{40, 10, 10}, 1, 40, 10, 10},
		{"then two each, part marks whole", Tally{50, 11, 1}, 2, 25, 6, 1},
		{"five each", Tally{200, 50, 0}, 5, 40, 10, 0},
		{"twenty each", Tally{1000, 1, 0}, 20, 50, 1, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			d := c.in.Draw()
			svg := string(d.SVG)
			got := [...]int{strings.Count(svg, string(Established.SVG())), strings.Count(svg, string(Lost.SVG())), strings.Count(svg, string(NoNews.SVG()))}
			if d.Per != c.per || got != [...]int{c.leaves, c.crosses, c.ghosts} {
				t.Errorf("%v, %d each; want %d %d %d, %d each", got, d.Per, c.leaves, c.crosses, c.ghosts, c.per)
			}
		})
	}
	if n := len(Tally{math.MaxInt, math.MaxInt, math.MaxInt}.Draw().SVG); n > MaxPlate {
		t.Errorf("the largest tally has %d bytes", n)
	}
}
