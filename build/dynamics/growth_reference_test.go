package dynamics

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"slipleaf/build/reckon"
)

// columns reads two columns of a dataset, of the rows whose third has the wanted value (all for "").
func columns(t *testing.T, file, x, y, by, want string) Segment {
	t.Helper()
	var out Segment
	for _, r := range readCSV(t, "datasets/"+file+".csv") {
		if by != "" && r[by] != want {
			continue
		}
		day, err := strconv.ParseFloat(r[x], 64)
		size, err2 := strconv.ParseFloat(r[y], 64)
		if err != nil || err2 != nil {
			t.Fatal(file, r)
		}
		out = append(out, Point{Day: day, Size: size})
	}
	if len(out) == 0 {
		t.Fatalf("no rows in %s", file)
	}
	return out
}

// exponentiate makes a plain regression of what [fitLine] regresses on the ln scale.
func exponentiate(g Segment) Segment {
	for i := range g {
		g[i].Size = math.Exp(g[i].Size)
	}
	return g
}

func mustLine(t *testing.T, segs ...Segment) Line {
	t.Helper()
	l, err := fitLine(segs, 0, 0.95)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// set notes figures under ids that follow one another: set(m, 'G', 10, a, b) is G10 and G11.
func set(m map[string]float64, letter string, from int, figures ...float64) {
	for i, f := range figures {
		id := strconv.Itoa(from + i)
		m[letter+strings.Repeat("0", 2-min(2, len(id)))+id] = f
	}
}

func TestGrowthRates(t *testing.T) {
	duck := columns(t, "duckweed", "days", "leaves", "", "")
	lemna := columns(t, "lemna_control", "day", "fronds", "", "")
	m := map[string]float64{}
	double := func(r float64) float64 {
		return DoublingTime(reckon.Interval{Value: r, Low: r, High: r, Level: 0.95}).Days
	}
	between := func(a, b Point) float64 { return math.Log(b.Size/a.Size) / (b.Day - a.Day) }
	set(m, "G", 2, double(between(duck[0], duck[13])))
	set(m, "G", 4, double(between(lemna[0], lemna[3])))
	set(m, "G", 8, double(0.109))
	l := mustLine(t, duck)
	set(m, "G", 10, l.Rate.Value, l.StdErr, l.Segments[0].Level, l.ResidualSD)
	set(m, "G", 15, l.Rate.Low, l.Rate.High, l.Doubling.Days, l.Doubling.Low, l.Doubling.High)
	for i, id := range []string{"1", "2", "3"} {
		c := mustLine(t, columns(t, "chickweight_1to5", "Time", "weight", "Chick", id))
		set(m, "G", 20+2*i, c.Rate.Value, c.StdErr)
		if i == 0 {
			m["G86"] = c.Robust.Value
		}
	}
	weekly := mustLine(t, Segment{duck[0], duck[7], duck[13]})
	set(m, "G", 26, weekly.Rate.Value, weekly.Rate.Low)
	set(m, "G", 83, l.Robust.Value, l.Robust.Low, l.Robust.High)
	trims(t, m)
	oranges(t, m)
	harvests(t, m)
	compare(t, "growth_rate_vectors.csv", m)
}

// trims is the series of three stretches, written as a grower's diary would hold it.
func trims(t *testing.T, m map[string]float64) {
	s := Series{
		Counts:  []Count{{Day: 0, Size: 10}, {Day: 3, Size: 12}, {Day: 7, Size: 16}, {Day: 10, Size: 10}, {Day: 14, Size: 13}, {Day: 18, Size: 9}, {Day: 21, Size: 12}},
		Changes: []Change{{7, -8, Trim}, {14, -6, Trim}},
	}
	l, err := FitLine(s, 0.95)
	if err != nil {
		t.Fatal(err)
	}
	if l.Points != 9 || l.DF != 5 || len(l.Segments) != 3 {
		t.Errorf("%d points, %d segments, %d free; want 9, 3, 5", l.Points, len(l.Segments), l.DF)
	}
	set(m, "G", 28, l.Rate.Value, l.StdErr, l.Rate.Value)
	segs, _ := s.Segments()
	gain, days, taken := 0.0, 0.0, 0.0
	for _, g := range segs {
		gain += math.Log(g[len(g)-1].Size / g[0].Size)
		days += g[len(g)-1].Day - g[0].Day
	}
	for _, c := range s.Changes {
		taken -= c.Amount
	}
	set(m, "G", 31, gain/days, taken/days*7)
}

// oranges fits the logistic to sizes, as R's SSlogis does.
func oranges(t *testing.T, m map[string]float64) {
	fit := func(g Segment) *Logistic {
		c, ok := fitCurve([]Segment{g}, false)
		if !ok {
			t.Fatal("no logistic")
		}
		return c.logistic(0.95)
	}
	for i := range 5 {
		l := fit(columns(t, "orange", "age", "circumference", "Tree", strconv.Itoa(i+1)))
		set(m, "G", 44+3*i, l.Capacity.Value, l.Midpoints[0].Day, 1/l.Rate.Value)
		if i == 0 {
			k, r := l.Capacity.Value, l.Rate.Value
			set(m, "G", 66, r, l.Midpoints[0].Day-math.Log(k/100-1)/r)
		}
	}
	l := fit(columns(t, "orange", "age", "circumference", "", ""))
	k, r := l.Capacity.Value, l.Rate.Value
	set(m, "G", 59, k, l.Midpoints[0].Day, 1/r, l.capacityErr, l.Midpoints[0].StdErr, l.rateErr/(r*r), l.ResidualSD)
}

func harvests(t *testing.T, m map[string]float64) {
	must := func(f float64, err error) float64 {
		if err != nil {
			t.Fatal(err)
		}
		return f
	}
	keep := func(g Regrowth, every float64) HarvestPlan {
		k, err := g.HarvestPlan(every)
		if err != nil {
			t.Fatal(err)
		}
		return k
	}
	g := Regrowth{Rate: 0.1, Capacity: 100}
	set(m, "G", 72, must(g.MaximumSustainableYield()))
	a, b, c := keep(g, 7), keep(g, 14), keep(g, 28)
	set(m, "G", 73, a.Harvest, b.Harvest, c.Harvest, a.OfBest, b.OfBest, c.OfBest, b.TrimAt, b.Leave)
}

func TestRegressionVectors(t *testing.T) {
	m := map[string]float64{}
	for i, g := range []Segment{columns(t, "women", "height", "weight", "", ""), columns(t, "cars", "speed", "dist", "", "")} {
		l := mustLine(t, exponentiate(g))
		at := 33 + 12*i
		set(m, "S", at, l.Rate.Value)
		set(m, "S", at+2, l.StdErr, l.ResidualSD)
		set(m, "S", at+5, l.Rate.Low, l.Rate.High, l.Robust.Value)
		if i == 0 {
			set(m, "S", 43, l.Robust.Low, l.Robust.High)
		}
	}
	for i, df := range []int{1, 2, 3, 5, 10, 12} {
		set(m, "S", 55+i, reckon.StudentQuantile(float64(df), 0.975))
	}
	set(m, "S", 61, reckon.NormalQuantile(0.975))
	compare(t, "regression_vectors.csv", m)
}

func TestLogisticOnLogScale(t *testing.T) {
	m := map[string]float64{}
	at := 1
	for _, tree := range []string{"1", "2", "4", "5"} {
		l := logisticOf(t, columns(t, "orange", "age", "circumference", "Tree", tree))
		set(m, "A", at, l.Capacity.Value, l.capacityErr/l.Capacity.Value, l.Rate.Value, l.rateErr, l.Midpoints[0].Day, l.ResidualSD, l.AICc-l.LineAICc)
		at += 7
	}
	for _, chick := range []string{"3", "4", "5"} {
		l := logisticOf(t, columns(t, "chickweight_1to5", "Time", "weight", "Chick", chick))
		set(m, "A", at, l.Capacity.Value, l.Rate.Value, l.rateErr, l.AICc-l.LineAICc)
		at += 4
	}
	compare(t, "logistic_vectors.csv", m)
}

func logisticOf(t *testing.T, g Segment) *Logistic {
	t.Helper()
	s := Series{}
	for _, p := range g {
		s.Counts = append(s.Counts, Count{Day: p.Day, Size: p.Size})
	}
	l, err := FitLogistic(s, 0.95)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// kalmanCase is a run of the filter over values, the first of which sets the size.
type kalmanCase struct {
	y, days    []float64
	m, q, s    float64
	mayBeWrong bool // one value in twenty is wild
}

func (k kalmanCase) run() (end state, loglik, lik float64) {
	b := state{x: k.y[0], r: rateMean, xx: k.m * k.m, rr: rateSD * rateSD}
	squares, logs := 0.0, 0.0
	for i, y := range k.y[1:] {
		b.predict(k.days[i+1]-k.days[i], k.q, k.s)
		if k.mayBeWrong {
			factor, power := b.update(y, k.m*k.m)
			loglik += math.Log(factor) + power
			continue
		}
		innovation, variance := b.tame(y, k.m*k.m)
		loglik -= (math.Log(2*math.Pi*variance) + innovation*innovation/variance) / 2
		squares += innovation * innovation / variance
		logs += math.Log(variance)
	}
	n := float64(len(k.y) - 1)
	return b, loglik, (math.Log(squares/n) + logs/n) / 2
}

// tame takes in a count that cannot be wild.
func (b *state) tame(y, variance float64) (innovation, innovationVar float64) {
	innovation, innovationVar = y-b.x, b.xx+variance
	b.gain(innovation/innovationVar, 1/innovationVar)
	return innovation, innovationVar
}

// values are the sizes of a segment on a scale, and their days.
func (g Segment) values(on scale) (y, days []float64) {
	for _, p := range g {
		y, days = append(y, on.of(p.Size)), append(days, p.Day)
	}
	return y, days
}

// TestFilterAgainstStatsmodels holds the filter against another's where counts lie unevenly and the rate stays or wanders
// (testdata/reference/kalman.py).
func TestFilterAgainstStatsmodels(t *testing.T) {
	counted := []float64{0, 1, 4, 5, 9, 13}
	duckweed := slices.DeleteFunc(columns(t, "duckweed", "days", "leaves", "", ""), func(p Point) bool { return !slices.Contains(counted, p.Day) })
	m, at := map[string]float64{}, 1
	for _, g := range []Segment{duckweed, columns(t, "chickweight_1to5", "Time", "weight", "Chick", "1"), columns(t, "chickweight_1to5", "Time", "weight", "Chick", "3")} {
		y, days := g.values(scale{})
		for _, mqs := range [][3]float64{{0.08, 0.015, 0}, {0.08, 0.015, 0.001}, {0.05, 0.02, 0.004}, {0.2, 0.003, 0.001}} {
			end, loglik, _ := kalmanCase{y: y, days: days, m: mqs[0], q: mqs[1], s: mqs[2]}.run()
			set(m, "U", at, loglik, end.x, end.r, end.xx, end.xr, end.rr)
			at += 6
		}
	}
	compare(t, "uneven_vectors.csv", m)
}

// TestFilterAgainstKalmanLike holds the filter against R's: steady and wandering rates, logits, and counts that may be wild.
func TestFilterAgainstKalmanLike(t *testing.T) {
	m := map[string]float64{}
	chick := func(n string) Segment {
		all := columns(t, "chickweight_1to5", "Time", "weight", "Chick", n)
		return slices.DeleteFunc(all, func(p Point) bool { return p.Day > 20 })
	}
	sets := []Segment{columns(t, "duckweed", "days", "leaves", "", ""), chick("1"), chick("3")}
	at := 1
	for _, g := range sets {
		y, days := g.values(scale{})
		for _, mq := range [][2]float64{{0.08, 0.015}, {0.2, 0.04}, {0.03, 0}, {0.05, 0.1}} {
			end, loglik, lik := kalmanCase{y: y, days: days, m: mq[0], q: mq[1]}.run()
			set(m, "K", at, loglik, lik, end.r, end.rr, end.x)
			at += 5
		}
	}
	for _, g := range sets {
		y, days := g.values(scale{})
		for _, mqs := range [][3]float64{{0.08, 0.015, 0.001}, {0.05, 0.02, 0.0025}} {
			end, loglik, _ := kalmanCase{y: y, days: days, m: mqs[0], q: mqs[1], s: mqs[2]}.run()
			set(m, "K", at, loglik, end.x, end.r, end.rr)
			at += 4
		}
	}
	for _, g := range sets {
		largest := 0.0
		for _, p := range g {
			largest = max(largest, p.Size)
		}
		for _, k := range []float64{2, 1.2} {
			y, days := g.values(scale{math.Round(k * largest)})
			end, loglik, _ := kalmanCase{y: y, days: days, m: 0.08, q: 0.015}.run()
			set(m, "K", at, loglik, end.x, end.r, end.rr)
			at += 4
		}
	}
	for _, g := range sets {
		y, days := g.values(scale{})
		y[3] += math.Ln2
		end, loglik, _ := kalmanCase{y: y, days: days, m: 0.08, q: 0.015, mayBeWrong: true}.run()
		set(m, "K", at, loglik, end.x, end.r, end.rr)
		at += 4
	}
	compare(t, "kalman_vectors.csv", m)
}
