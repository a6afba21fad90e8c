package words

import (
	"testing"

	"slipleaf/build/almanac"
)

func TestTypeset(t *testing.T) {
	for in, want := range map[string]string{
		"Wendt's water trumpet": "Wendt’s water trumpet",
		"the growers' tank":     "the growers’ tank",
		"back in 2-6 weeks":     "back in 2–6 weeks",
		"air-grown, root-tab":   "air-grown, root-tab",
		"no marks":              "no marks",
		"5' of pipe":            "5' of pipe",
	} {
		if got := Typeset(in); got != want {
			t.Errorf("typeset(%q) = %q, want %q", in, got, want)
		}
	}
}

func TestSourcesLeaveTheRemarks(t *testing.T) {
	s := TypesetSpecies(almanac.Species{Source: "A flora", HardyNote: "lives below 10 C (a survey, seen https://survey.example/1-2 ) and above"})
	if s.HardyNote != "lives below 10 C and above" || s.Source != "A flora; a survey, seen https://survey.example/1-2" {
		t.Errorf("%q from %q", s.HardyNote, s.Source)
	}
}
