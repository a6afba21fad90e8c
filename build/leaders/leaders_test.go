package leaders

import (
	"testing"

	"pgregory.net/rapid"
)

// Names never print over each other or over a leader.
func TestNamesDoNotMeet(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var names []Leader
		for i := range rapid.IntRange(1, 14).Draw(t, "n") {
			names = append(names, Leader{Text: rapid.StringMatching(`[A-Z][a-z]{4,12} [a-z]{4,12}`).Draw(t, "name"), X: rapid.Float64Range(0, 1100).Draw(t, "x"), Row: i})
		}
		out := Hang(names, -40, 1150)
		for i := range out {
			if out[i].Lo < -40 || out[i].Hi > 1150 {
				t.Fatalf("%q runs out of the drawing", out[i].Text)
			}
			for j := range i {
				if out[i].Meets(out[j]) {
					t.Fatalf("%q meets %q", out[i].Text, out[j].Text)
				}
			}
		}
	})
}
