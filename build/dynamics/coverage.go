package dynamics

import (
	_ "embed"
	"encoding/csv"
	"strconv"
	"strings"
)

// coverageCSV is what the made-up diaries of COVERAGE.md came to; its test makes it.
//
//go:embed coverage.csv
var coverageCSV string

// Coverage is how often intervals held on made-up diaries of one kind with so many counts.
type Coverage struct {
	Kind    string  // in a few English words: "two people"
	Counts  int     // in each diary
	Rate    float64 // share of diaries whose 95 % interval held the growth of the last four weeks
	Windows int     // windows of the next trim with two ends
	Window  float64 // share of them that held
	Days    float64 // in a window, on average
	Chance  Chances
}

// Chances are those that were given instead of windows: how many, their sum, and how many came true.
type Chances struct{ N, Sum, Came float64 }

// CoverageTable lists all kinds and numbers of counts, in the order of the test.
func CoverageTable() []Coverage {
	rows, err := csv.NewReader(strings.NewReader(coverageCSV)).ReadAll()
	if err != nil || len(rows) == 0 {
		return nil // the test that makes the table reads it too
	}
	number := func(s string) float64 { f, _ := strconv.ParseFloat(s, 64); return f }
	var out []Coverage
	for _, r := range rows[1:] {
		of := map[string]string{}
		for i, name := range rows[0] {
			of[name] = r[i]
		}
		out = append(out, Coverage{Kind: of["kind"], Counts: int(number(of["counts"])), Rate: number(of["rate"]) / 100,
			Windows: int(number(of["windows"])), Window: number(of["window"]) / 100, Days: number(of["days"]),
			Chance: Chances{number(of["chances"]), number(of["chances-sum"]), number(of["chances-came"])}})
	}
	return out
}

// PooledFrom is from how many counts on what held is pooled.
const PooledFrom = 8

// WindowCoverage is over how many kinds, and between which shares, windows held from [PooledFrom] counts on.
func WindowCoverage() (kinds int, least, most float64) {
	seen := map[string]bool{}
	least = 1
	for _, c := range CoverageTable() {
		if c.Counts >= PooledFrom && c.Window > 0 {
			seen[c.Kind] = true
			least, most = min(least, c.Window), max(most, c.Window)
		}
	}
	return len(seen), least, most
}

// ChanceCoverage pools the chances of all kinds and numbers of counts.
func ChanceCoverage() (all Chances) {
	for _, c := range CoverageTable() {
		all = Chances{all.N + c.Chance.N, all.Sum + c.Chance.Sum, all.Came + c.Chance.Came}
	}
	return all
}
