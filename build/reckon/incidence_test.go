package reckon

import (
	"math"
	"math/rand/v2"
	"slices"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

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

// The share established by a day, on made-up parcels: each establishes, dies or is heard of no more after a time of its own. Few
// parcels that all did well are no proof that all would; the interval holds what is true about as often as it says.
func TestIncidenceHoldsWhatItSays(t *testing.T) {
	runs := 4000
	if testing.Short() {
		runs = 1000
	}
	for _, k := range []struct{ parcels, establish, die, silence float64 }{{5, 20, math.Inf(1), math.Inf(1)}, {8, 12, math.Inf(1), 60}, {6, 60, 30, math.Inf(1)}, {12, 20, 200, 40}, {30, 20, 60, 60}} {
		rng := rand.New(rand.NewPCG(uint64(k.parcels), 7))
		const day = 40
		truth := 1 / k.establish / (1/k.establish + 1/k.die) * (1 - math.Exp(-day*(1/k.establish+1/k.die)))
		held := 0.0
		for range runs {
			var ws []Observation
			for range int(k.parcels) {
				times := [3]float64{Censored: k.silence * rng.ExpFloat64(), Established: k.establish * rng.ExpFloat64(), Died: k.die * rng.ExpFloat64()}
				first := slices.Index(times[:], slices.Min(times[:]))
				ws = append(ws, Observation{Days: quantity.Span(min(times[first], 1000)), Status: Status(first)})
			}
			established, died, err := AalenJohansen(ws, 0.95)
			if err != nil {
				t.Fatal(err)
			}
			for _, c := range []Curve{established, died} {
				for _, s := range c.Steps {
					if !(s.Share.Low <= s.Share.Value && s.Share.Value <= s.Share.High && s.Share.Low < s.Share.High) {
						t.Fatalf("%v: %+v", ws, s)
					}
				}
			}
			if e := established.At(day); e.Low <= truth && truth <= e.High {
				held++
			}
		}
		if share := held / float64(runs); share < 0.9 {
			t.Errorf("%+v: intervals hold %.3f in %.3f", k, truth, share)
		}
	}
}

// Where no parcel fell silent, the end of a curve that reaches all of them is that of Wilson's interval.
func TestIncidenceOfAllIsWilson(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		days := rapid.SliceOfN(rapid.IntRange(1, 90), 1, 40).Draw(t, "days")
		var ws []Observation
		for _, d := range days {
			ws = append(ws, Observation{Days: quantity.Span(d), Status: Established})
		}
		established, _, err := AalenJohansen(ws, 0.95)
		want, err2 := Wilson(Tally{len(days), len(days)}, 0.95)
		if got := established.At(90); FirstError(err, err2) != nil || math.Abs(got.Low-want.Low) > 1e-9 || got.High != 1 {
			t.Fatalf("%+v, Wilson %+v", got, want)
		}
	})
}
