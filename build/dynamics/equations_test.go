package dynamics

import (
	"testing"

	"slipleaf/build/reckon"
)

// Each equation has a key of its own, words, a rule and a source.
func TestEquationsHaveSources(t *testing.T) {
	seen := map[string]bool{}
	for _, e := range []reckon.Equation{EquationLine, EquationLogistic, EquationStateSpace} {
		if seen[e.Key] || e.Key == "" || e.Words == "" || e.Formula == "" || e.Source == "" {
			t.Errorf("equation %+v", e)
		}
		seen[e.Key] = true
	}
}
