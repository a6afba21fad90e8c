package reckon

import (
	"encoding/csv"
	"fmt"
	"math"
	"os"
	"sort"
	"strconv"
	"strings"
	"testing"
)

// row is one check figure with its source.
type row struct {
	id, quantity, unit, source, basis string
	in                                map[string]string
	expected, tolerance               float64
}

func (r row) f(key string) float64 {
	v, err := strconv.ParseFloat(r.in[key], 64)
	if err != nil {
		panic(fmt.Sprintf("%s: input %s=%q: %v", r.id, key, r.in[key], err))
	}
	return v
}

// or is f with a default for an input that the row does not have.
func (r row) or(key string, v float64) float64 {
	if r.in[key] == "" {
		return v
	}
	return r.f(key)
}

// readRows reads a table of testdata/reference: id, quantity, inputs, expected, unit, tolerance, source, basis.
func readRows(t *testing.T, name string) []row {
	t.Helper()
	var out []row
	for _, rec := range readCSV(t, name) {
		r := row{id: rec["id"], quantity: rec["quantity"], unit: rec["unit"], source: rec["source"], basis: rec["basis"], in: map[string]string{}}
		for _, part := range strings.Split(rec["inputs"], ";") {
			part = strings.TrimSpace(part)
			k, v, ok := strings.Cut(part, "=")
			if i := strings.LastIndex(part, " "); !ok && i > 0 { // "prior mean 0.7"
				k, v = part[:i], part[i+1:]
			}
			r.in[k] = v
		}
		var err error
		if r.expected, err = strconv.ParseFloat(rec["expected"], 64); err != nil {
			t.Fatalf("%s: %v", r.id, err)
		}
		if r.tolerance, err = strconv.ParseFloat(rec["tolerance"], 64); err != nil {
			t.Fatalf("%s: %v", r.id, err)
		}
		if r.source == "" || r.basis == "" {
			t.Errorf("%s has no source", r.id)
		}
		out = append(out, r)
	}
	return out
}

func readCSV(t *testing.T, name string) []map[string]string {
	t.Helper()
	f, err := os.Open("testdata/reference/" + name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	all, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var out []map[string]string
	for _, rec := range all[1:] {
		m := map[string]string{}
		for i, k := range all[0] {
			m[k] = rec[i]
		}
		out = append(out, m)
	}
	return out
}

// aside are rows that are no check of the sums here, or not at their own tolerance: each with the reason and the
// tolerance within which the sum must still agree with it.
var aside = map[string]struct {
	why       string
	tolerance float64
}{
	"A13": {"another equation (Bates & Pinching 1949) for the same constant; a second source for ours", 0.003},
	"G02": {"the body's own rounding of its 5000 ppm: 8994 mg/m³ by the ideal gas at 25 °C", 10},
	"G04": {"the body's own rounding of its 5000 ppm: 9148 mg/m³ by the ideal gas at 20 °C", 10},
	"T04": {"the factor of one scale at 20 °C; ours is a band for hobby meters that must hold it", 0.2},
	"S96": {"maximum likelihood, for comparison; the prior here is fitted by moments, whose weight is 2.66 against 4.50", 2},
	"S97": {"maximum likelihood, for comparison; the prior here is fitted by moments, whose weight is 2.66 against 4.50", 2},
}

// checkRows runs every row of a table through the function for its quantity.
func checkRows(t *testing.T, name string, reckon func(row) (float64, error)) {
	for _, r := range readRows(t, name) {
		t.Run(r.id, func(t *testing.T) {
			got, err := reckon(r)
			if err != nil {
				t.Fatalf("%s %v: %v", r.quantity, r.in, err)
			}
			tolerance := r.tolerance
			if a, ok := aside[r.id]; ok {
				if math.Abs(got-r.expected) <= tolerance {
					t.Errorf("%s stands aside (%s) but passes: take it off the list", r.id, a.why)
				}
				tolerance = a.tolerance
			}
			if !(math.Abs(got-r.expected) <= tolerance+1e-12) {
				t.Errorf("%s %v = %.9g %s, want %.9g ± %g (%s)", r.quantity, r.in, got, r.unit, r.expected, tolerance, r.source)
			}
		})
	}
}

// TestWhatTheChecksStandOn counts the check figures by what they stand on.
func TestWhatTheChecksStandOn(t *testing.T) {
	count := map[string]int{}
	for _, name := range []string{"water.csv", "light.csv", "statistics.csv"} {
		for _, r := range readRows(t, name) {
			if _, ok := aside[r.id]; ok {
				count["set aside, with a reason"]++
				continue
			}
			count[r.basis]++
		}
	}
	var lines []string
	for basis, n := range count {
		lines = append(lines, fmt.Sprintf("%4d  %s", n, basis))
	}
	sort.Strings(lines)
	t.Log("checks by what they stand on:\n" + strings.Join(lines, "\n"))
	for _, basis := range []string{"seen", "from memory", "common practice", "computed from the cited equation", "computed by R"} {
		if count[basis] == 0 {
			t.Errorf("no check is %q: the tables have changed their words", basis)
		}
		delete(count, basis)
	}
	delete(count, "set aside, with a reason")
	if len(count) > 0 {
		t.Errorf("unknown bases: %v", count)
	}
}
