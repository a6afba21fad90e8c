package almanac

import (
	"math"
	"testing"
)

// The scores were worked out by hand from the columns of the table (our own proposal; derived, not published).
func TestEase(t *testing.T) {
	a, err := Open()
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		id    string
		score float64
		band  string
	}{
		{"taxiphyllum-barbieri", 98.2, "easy"},
		{"hygrophila-polysperma", 94.0, "easy"},
		{"anubias-barteri", 91.2, "easy"},
		{"bacopa-caroliniana", 83.0, "easy"},
		{"vallisneria-spiralis", 82.0, "easy"},
		{"echinodorus-grisebachii", 76.7, "easy"},
		{"cryptocoryne-wendtii", 73.8, "fair"},
		{"alternanthera-reineckii", 60.1, "fair"},
		{"hemianthus-callitrichoides", 31.0, "demanding"},
		{"tonina-fluviatilis", 21.4, "demanding"},
	} {
		s, ok := a.Species(c.id)
		if !ok {
			t.Errorf("no %s", c.id)
			continue
		}
		e := EaseOf(s)
		if math.Abs(e.Score-c.score) > 0.06 || e.Band() != c.band || !e.Known {
			t.Errorf("%s: %.2f %s, want %.1f %s", c.id, e.Score, e.Band(), c.score, c.band)
		}
	}
	if EaseOf(Species{}).Band() != "" {
		t.Error("a species of which nothing is known has a band")
	}
}
