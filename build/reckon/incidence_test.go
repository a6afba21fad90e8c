package reckon

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"slipleaf/build/quantity"
)

// competing reads the dataset aml with its events taken in turn as established and died, in the order of time.
func competing(t *testing.T, group string) []Observation {
	t.Helper()
	rows := readCSV(t, "datasets/aml.csv")
	weeks := func(r map[string]string) int {
		n, err := strconv.Atoi(r["time"])
		if err != nil {
			t.Fatal(err)
		}
		return n
	}
	rows = slices.DeleteFunc(rows, func(r map[string]string) bool { return group != "all" && r["x"] != group })
	slices.SortStableFunc(rows, func(a, b map[string]string) int { return weeks(a) - weeks(b) })
	var out []Observation
	events := 0
	for _, r := range rows {
		o := Observation{Days: quantity.Span(weeks(r))}
		if r["status"] == "1" {
			o.Status = []Status{Established, Died}[events%2]
			events++
		}
		out = append(out, o)
	}
	return out
}

// The share by each day and its standard error, against survfit of R's package survival (incidence.R).
func TestIncidenceAgainstSurvival(t *testing.T) {
	for _, r := range readCSV(t, "incidence.csv") {
		group, at, ok := strings.Cut(strings.TrimPrefix(r["inputs"], "group="), "; t=")
		day, err := strconv.Atoi(at)
		if !ok || err != nil {
			t.Fatal(r)
		}
		established, died, err := AalenJohansen(competing(t, group), 0.95)
		if err != nil {
			t.Fatal(err)
		}
		curve := established
		if r["quantity"] == "share dead" {
			curve = died
		}
		var step CurveStep
		for _, s := range curve.Steps {
			if s.Days <= quantity.Span(day) {
				step = s
			}
		}
		share, err1 := strconv.ParseFloat(r["share"], 64)
		stdErr, err2 := strconv.ParseFloat(r["std-err"], 64)
		if err1 != nil || err2 != nil {
			t.Fatal(r)
		}
		if math.Abs(step.Share.Value-share) > 1e-9 || math.Abs(step.StdErr-stdErr) > 1e-6 {
			t.Errorf("%s %s: %.10g ± %.10g, R says %.10g ± %.10g", r["id"], r["inputs"], step.Share.Value, step.StdErr, share, stdErr)
		}
	}
}
