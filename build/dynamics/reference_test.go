package dynamics

import (
	"encoding/csv"
	"flag"
	"math"
	"os"
	"strconv"
	"testing"
)

var update = flag.Bool("update", false, "rewrite what the simulations came to")

// readCSV reads a table of testdata/reference, a map for each row.
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

// compare runs the rows of a table against figures named by the row's id; every row must have one, and a source.
func compare(t *testing.T, file string, figures map[string]float64) {
	t.Helper()
	for _, r := range readCSV(t, file) {
		t.Run(r["id"], func(t *testing.T) {
			got, ok := figures[r["id"]]
			want, err1 := strconv.ParseFloat(r["expected"], 64)
			tolerance, err2 := strconv.ParseFloat(r["tolerance"], 64)
			if !ok || err1 != nil || err2 != nil || r["source"] == "" {
				t.Fatalf("%s is not computed, or has no figure or source: %v", r["quantity"], r)
			}
			if !(math.Abs(got-want) <= max(tolerance, 1e-9*math.Abs(want))) {
				t.Errorf("%s: %.10g, want %.10g ± %g (%s)", r["quantity"], got, want, tolerance, r["source"])
			}
		})
	}
}
