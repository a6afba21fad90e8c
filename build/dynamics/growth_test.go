package dynamics

import (
	"errors"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"pgregory.net/rapid"
	"slipleaf/build/reckon"
)

func TestSegments(t *testing.T) {
	tests := []struct {
		name string
		s    Series
		want []string // sizes of each segment; * marks what a change left
	}{
		{"no counts", Series{}, nil},
		{"counts in any order", Series{Counts: []Count{{Day: 7, Size: 12}, {Day: 0, Size: 10}, {Day: 14, Size: 15}}}, []string{"0:10 7:12 14:15"}},
		{"a count on the day of a cut stands before it", Series{Counts: []Count{{Day: 0, Size: 10}, {Day: 7, Size: 16}, {Day: 14, Size: 11}},
			Changes: []Change{{7, -8, Trim}}}, []string{"0:10 7:16", "7:8* 14:11"}},
		{"a cut on a day without a count leaves no point", Series{Counts: []Count{{Day: 0, Size: 10}, {Day: 7, Size: 16}, {Day: 14, Size: 11}},
			Changes: []Change{{9, -8, Trim}}}, []string{"0:10 7:16", "14:11"}},
		{"changes of a day act as one", Series{Counts: []Count{{Day: 0, Size: 10}, {Day: 7, Size: 16}},
			Changes: []Change{{7, -8, Trim}, {7, -3, Loss}, {7, 1, Planting}}}, []string{"0:10 7:16", "7:6*"}},
		{"two counts of a day are averaged on the log scale", Series{Counts: []Count{{Day: 0, Size: 4}, {Day: 0, Size: 9}, {Day: 7, Size: 8}}}, []string{"0:6 7:8"}},
		{"a cut of all that was counted leaves none", Series{Counts: []Count{{Day: 0, Size: 10}, {Day: 7, Size: 16}, {Day: 14, Size: 3}},
			Changes: []Change{{7, -16, Trim}}}, []string{"0:10 7:16", "14:3"}},
		{"a cut of more than was counted leaves none", Series{Counts: []Count{{Day: 0, Size: 10}, {Day: 7, Size: 16}, {Day: 14, Size: 3}},
			Changes: []Change{{7, -20, Trim}}}, []string{"0:10 7:16", "14:3"}},
		{"a count of nothing ends a stand", Series{Counts: []Count{{Day: 0, Size: 10}, {Day: 7, Size: 0}, {Day: 14, Size: 3}, {Day: 21, Size: 4}}}, []string{"0:10", "14:3 21:4"}},
		{"a count of nothing beside one of something is left out", Series{Counts: []Count{{Day: 0, Size: 10}, {Day: 7, Size: 0}, {Day: 7, Size: 12}}}, []string{"0:10 7:12"}},
		{"planted again after it left", Series{Counts: []Count{{Day: 0, Size: 10}, {Day: 7, Size: 0}, {Day: 30, Size: 6}},
			Changes: []Change{{20, 5, Planting}}}, []string{"0:10", "30:6"}},
		{"a planting at the start is no point", Series{Counts: []Count{{Day: 7, Size: 6}, {Day: 14, Size: 8}},
			Changes: []Change{{0, 5, Planting}}}, []string{"7:6 14:8"}},
		{"two cuts between counts make one new segment", Series{Counts: []Count{{Day: 0, Size: 10}, {Day: 14, Size: 9}},
			Changes: []Change{{3, -2, Trim}, {5, -1, Loss}}}, []string{"0:10", "14:9"}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			segs, err := tt.s.Segments()
			if err != nil {
				t.Fatal(err)
			}
			var got []string
			for _, g := range segs {
				var words []string
				for _, p := range g {
					w := reckon.Figure(p.Day) + ":" + reckon.Figure(p.Size)
					if p.Left {
						w += "*"
					}
					words = append(words, w)
				}
				got = append(got, strings.Join(words, " "))
			}
			if d := cmp.Diff(tt.want, got); d != "" {
				t.Error(d)
			}
		})
	}
}

func TestEventsStandInTheSegmentThatTheyEnd(t *testing.T) {
	s := Series{
		Counts:  []Count{{Day: 14, Size: 13}, {Day: 0, Size: 10}, {Day: 7, Size: 16}, {Day: 21, Size: 9}, {Day: 35, Size: 5}, {Day: 28, Size: 0}},
		Changes: []Change{{0, 10, Planting}, {7, -8, Trim}, {16, -5, Loss}, {17, -1, Trim}, {30, 5, Planting}},
	}
	got, err := s.SegmentNumbers()
	if err != nil {
		t.Fatal(err)
	}
	// The planting of day 0 has a count before it, so it ends a segment of one point.
	want := []int{1, 1, 2, 2, 3, 3, 4, 4, 4, 5, 5} // of days 0, 0, 7, 7, 14, 16, 17, 21, 28, 30, 35
	if d := cmp.Diff(want, got); d != "" {
		t.Error(d)
	}
	segs, err := s.Segments()
	if err != nil || len(segs) != 5 {
		t.Errorf("%d segments, %v; the events tell of 5", len(segs), err)
	}
}

// weekly counts a stand that grows by r a day, at days 0, 7, …
func weekly(n int, r float64) Series {
	s := Series{}
	for i := range n {
		s.Counts = append(s.Counts, Count{Day: float64(7 * i), Size: 10 * math.Exp(7*r*float64(i))})
	}
	return s
}

func TestTooFewCounts(t *testing.T) {
	floating := weekly(4, 0.05)
	floating.Floating = true
	for i := range floating.Counts {
		floating.Counts[i].Day /= 3
	}
	rooted := floating
	rooted.Floating = false
	cuts := weekly(4, 0.05)
	for _, day := range []float64{1, 8, 15} {
		cuts.Changes = append(cuts.Changes, Change{day, -1, Trim})
	}
	same := weekly(3, 0.05)
	same.Counts = append(same.Counts, Count{Day: 14, Size: 20})
	tests := []struct {
		name string
		s    Series
		says string // "" for enough
	}{
		{"none", Series{}, "0 dates, 4 needed"},
		{"three dates", weekly(3, 0.05), "3 dates, 4 needed"},
		{"two counts of a day are one date", same, "3 dates, 4 needed"},
		{"four dates in a week", rooted, "7 days, 14 needed"},
		{"four dates in a week of a floating plant", floating, ""},
		{"four dates, a cut between each without a count", cuts, "between one trim and the next"},
		{"four dates over three weeks", weekly(4, 0.05), ""},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			_, err := FitGrowth(tt.s, 0.95)
			_, alone := FitStateSpace(tt.s, 0.95)
			if (err == nil) != (alone == nil) {
				t.Errorf("the line says %v, the diary %v", err, alone)
			}
			var few *TooFewCounts
			switch {
			case tt.says == "" && err != nil:
				t.Error(err)
			case tt.says != "" && (!errors.As(err, &few) || !strings.Contains(err.Error(), tt.says)):
				t.Errorf("%v, want %q", err, tt.says)
			}
		})
	}
}

func TestRatesThatAreAskedAboutOrRefused(t *testing.T) {
	fast := weekly(5, 0.2)
	fast.Rooted = true
	g, err := FitGrowth(fast, 0.95)
	if err != nil || !g.Line.Ask || !g.StateSpace.Ask {
		t.Errorf("a rooted plant that grows by 0.2 a day is not asked about: %v", err)
	}
	fast.Rooted = false
	if g, err = FitGrowth(fast, 0.95); err != nil || g.Line.Ask || g.StateSpace.Ask {
		t.Errorf("a plant not rooted is asked about: %v", err)
	}
	var too *TooFast
	if _, err = FitLine(weekly(4, 0.7), 0.95); !errors.As(err, &too) || math.Abs(too.Rate-0.7) > 1e-9 {
		t.Errorf("0.7 a day: %v", err)
	}
	if _, err = FitStateSpace(weekly(4, 0.7), 0.95); !errors.As(err, &too) {
		t.Errorf("0.7 a day by the diary: %v", err)
	}
	if _, err = FitLine(weekly(4, 0.599), 0.95); err != nil {
		t.Errorf("0.599 a day: %v", err)
	}
}

func TestDoublingTime(t *testing.T) {
	near := func(a, b float64) bool { return math.Abs(a-b) < 1e-9 }
	d := DoublingTime(reckon.Interval{Value: 0.05, Low: 0.04, High: 0.06, Level: 0.95})
	if !d.Growing || d.Open || !near(d.Days, math.Ln2/0.05) || !near(d.Low, math.Ln2/0.06) || !near(d.High, math.Ln2/0.04) {
		t.Errorf("%+v", d)
	}
	if d = DoublingTime(reckon.Interval{Value: 0.05, Low: -0.01, High: 0.06, Level: 0.95}); !d.Growing || !d.Open || d.High != 0 {
		t.Errorf("an interval that reaches below 0: %+v", d)
	}
	if d = DoublingTime(reckon.Interval{Value: -0.02, Low: -0.03, High: -0.01, Level: 0.95}); d.Growing || d.Days != 0 || d.Low != 0 {
		t.Errorf("a stand that shrinks: %+v", d)
	}
}

// Flat counts have no doubling time, by either model; counts that double every two weeks have one near that.
func TestFlatCountsHaveNoDoublingTime(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, size := rapid.IntRange(4, 12).Draw(t, "counts"), float64(rapid.IntRange(5, 200).Draw(t, "size"))
		var flat, grown Series
		for i := range n {
			day := float64(7 * i)
			flat.Counts = append(flat.Counts, Count{Day: day, Size: size})
			grown.Counts = append(grown.Counts, Count{Day: day, Size: size * math.Exp2(day/14)})
		}
		for _, fit := range []func(Series) (Doubling, error){
			func(s Series) (Doubling, error) { f, err := FitLine(s, 0.95); return f.Doubling, err },
			func(s Series) (Doubling, error) { f, err := FitStateSpace(s, 0.95); return f.Doubling, err },
		} {
			if d, err := fit(flat); err != nil || d.Growing {
				t.Fatalf("%d counts of %g: %+v, %v", n, size, d, err)
			}
			if d, err := fit(grown); err != nil || !d.Growing || d.Days < 12 || d.Days > 17 {
				t.Fatalf("%d counts from %g on, doubling in 14 d: %+v, %v", n, size, d, err)
			}
		}
	})
}

func TestFiguresThatNoDiaryHolds(t *testing.T) {
	for _, bad := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), -1e13, 1e13} {
		for name, s := range map[string]Series{
			"count":  {Counts: []Count{{Day: 0, Size: bad}}},
			"day":    {Counts: []Count{{Day: bad, Size: 1}}},
			"change": {Changes: []Change{{0, bad, Trim}}},
			"when":   {Changes: []Change{{bad, 1, Trim}}},
		} {
			var in *reckon.InputError
			if _, err := FitGrowth(s, 0.95); !errors.As(err, &in) {
				t.Errorf("%s of %v: %v", name, bad, err)
			}
		}
	}
	if _, err := FitStateSpace(weekly(5, 0.05), 1); err == nil {
		t.Error("a level of 1 is let through")
	}
}

func TestUsualTrim(t *testing.T) {
	s := Series{
		Counts:  []Count{{Day: 0, Size: 10}, {Day: 7, Size: 16}, {Day: 14, Size: 13}, {Day: 21, Size: 24}, {Day: 28, Size: 18}},
		Changes: []Change{{7, -8, Trim}, {21, -10, Trim}, {28, -9, Trim}, {14, -1, Loss}, {10, -1, Trim}},
	}
	if got, ok := s.UsualTrim(); !ok || math.Abs(got-18) > 1e-9 {
		t.Errorf("%v %v, want the median of 16, 24 and 18", got, ok)
	}
	if _, ok := weekly(5, 0.05).UsualTrim(); ok {
		t.Error("a stand that was never cut has a usual size to cut at")
	}
}

func TestLevellingOff(t *testing.T) {
	s := Series{}
	for day := 0.0; day <= 84; day += 7 {
		wobble := 1 + 0.02*math.Sin(day*day) // no noise of any pattern
		s.Counts = append(s.Counts, Count{Day: day, Size: wobble * 100 / (1 + 9*math.Exp(-0.1*day))})
	}
	g, err := FitGrowth(s, 0.95)
	if err != nil {
		t.Fatal(err)
	}
	if g.Model() != "logistic" || g.Logistic.Capacity.Low > 100 || g.Logistic.Capacity.High < 100 || g.Logistic.Rate.Low > 0.1 || g.Logistic.Rate.High < 0.1 {
		t.Errorf("%s %+v", g.Model(), g.Logistic)
	}
	var far *TooFar
	if _, err := g.NextTrim(200, 0.8); !errors.As(err, &far) {
		t.Errorf("twice what the space holds: %v", err)
	}
	if l, err := FitLogistic(Series{Counts: s.Counts[:5]}, 0.95); err == nil {
		t.Errorf("five points level off: %+v", l)
	}
	if l, err := FitLogistic(Series{Counts: s.Counts[:6]}, 0.95); err == nil && l.Chosen() && l.Capacity.Value > 3*s.Counts[5].Size {
		t.Errorf("the space is told before growth has passed its middle: %+v", l)
	}
	if g, err := FitGrowth(weekly(8, 0.05), 0.95); err != nil || g.Model() != "log-linear" {
		t.Errorf("exponential growth levels off: %v", err)
	}
}
