package diary_test

import (
	"encoding/json"
	"math"
	"testing"

	"slipleaf/build/quantity"
)

// The figures of growth.json are worked out here a second time, by the book: matrices, normal equations and plain
// integration, from nothing but the points in the file itself. Only the model's priors and grid are the same, because they
// are part of the model.

// published is growth.json as a stranger reads it.
type published struct {
	Tanks []struct {
		Tank, Measure string
		Points        []struct {
			Date  quantity.Date
			Size  float64
			Event string
		}
		Growth *struct {
			Model    string
			N        int
			Segments int
			Rate     ends `json:"rgr-per-day"`
			Doubling ends `json:"doubling-time"`
		}
		Diary *struct {
			N        int
			Rate     ends `json:"rgr-per-day"`
			Doubling ends `json:"doubling-time"`
		}
	}
}

type ends struct{ Value, Low, High float64 }

// day is a day of a diary: the mean ln count, then the sum of what was changed.
type day struct {
	at, ln            float64
	counts            int
	nothing, changed  bool
	change, sumOfLogs float64
}

type matrix [][]float64

func zeros(rows, columns int) matrix {
	m := make(matrix, rows)
	for i := range m {
		m[i] = make([]float64, columns)
	}
	return m
}

func (a matrix) times(b matrix) matrix {
	out := zeros(len(a), len(b[0]))
	for i := range a {
		for j := range b[0] {
			for k := range b {
				out[i][j] += a[i][k] * b[k][j]
			}
		}
	}
	return out
}

func (a matrix) transposed() matrix {
	out := zeros(len(a[0]), len(a))
	for i := range a {
		for j := range a[0] {
			out[j][i] = a[i][j]
		}
	}
	return out
}

func (a matrix) plus(b matrix, sign float64) matrix {
	out := zeros(len(a), len(a[0]))
	for i := range a {
		for j := range a[0] {
			out[i][j] = a[i][j] + sign*b[i][j]
		}
	}
	return out
}

// inverse is by Gauss and Jordan with row exchange.
func (a matrix) inverse() matrix {
	n := len(a)
	w := zeros(n, 2*n)
	for i := range a {
		copy(w[i], a[i])
		w[i][n+i] = 1
	}
	for c := range n {
		best := c
		for r := c; r < n; r++ {
			if math.Abs(w[r][c]) > math.Abs(w[best][c]) {
				best = r
			}
		}
		w[c], w[best] = w[best], w[c]
		p := w[c][c]
		for k := range w[c] {
			w[c][k] /= p
		}
		for r := range n {
			if r == c {
				continue
			}
			f := w[r][c]
			for k := range w[r] {
				w[r][k] -= f * w[c][k]
			}
		}
	}
	out := zeros(n, n)
	for i := range out {
		copy(out[i], w[i][n:])
	}
	return out
}

// regression is least squares of ln size on the day with a level for each run: the slope, its interval, and the numbers of
// points and runs.
func regression(days []day) (slope ends, points, runs int) {
	var x, y []float64
	var in []int
	add := func(at, ln float64) {
		x, y, in = append(x, at-days[0].at), append(y, ln), append(in, runs)
		points++
	}
	open := false
	for _, d := range days {
		if d.counts > 0 {
			add(d.at, d.ln)
			open = true
		}
		if (d.changed || d.nothing) && open {
			runs, open = runs+1, false
		}
		if left := math.Exp(d.ln) + d.change; d.changed && d.counts > 0 && left > 0 {
			add(d.at, math.Log(left))
			open = true
		}
	}
	if open {
		runs++
	}
	design, ln := zeros(points, runs+1), zeros(points, 1)
	for i := range x {
		design[i][in[i]], design[i][runs], ln[i][0] = 1, x[i], y[i]
	}
	square := design.transposed().times(design).inverse()
	at := square.times(design.transposed()).times(ln)
	misses := ln.plus(design.times(at), -1)
	free := points - runs - 1
	half := student(free, 0.975) * math.Sqrt(misses.transposed().times(misses)[0][0]/float64(free)*square[runs][runs])
	r := at[runs][0]
	return ends{r, r - half, r + half}, points, runs
}

// student is a quantile of Student's t: the density is added up until the share is reached.
func student(free int, p float64) float64 {
	f := float64(free)
	a, _ := math.Lgamma((f + 1) / 2)
	b, _ := math.Lgamma(f / 2)
	density := func(t float64) float64 {
		return math.Exp(a-b-(f+1)/2*math.Log1p(t*t/f)) / math.Sqrt(f*math.Pi)
	}
	const step = 1e-4
	sum, t := 0.5, 0.0
	for sum < p {
		sum += density(t+step/2) * step
		t += step
	}
	return t
}

// filtered is one filter of the grid when it has gone through the diary.
type filtered struct{ weight, rate, sd float64 }

// follow is the Kalman filter for ln size and rate, with matrices, for one error of a count and one unevenness.
func follow(days []day, m, q float64) filtered {
	state, cov := matrix{{0}, {0.04}}, matrix{{0, 0}, {0, 0.15 * 0.15}}
	look := matrix{{1, 0}}
	logWeight, standing, last := 0.0, false, 0.0
	for _, d := range days {
		if standing {
			t := d.at - last
			move := matrix{{1, t}, {0, 1}}
			state, cov = move.times(state), move.times(cov).times(move.transposed())
			cov[0][0] += q * q * t
		}
		last = d.at
		if d.counts > 0 {
			noise := m * m / float64(d.counts)
			if standing {
				spread := look.times(cov).times(look.transposed())[0][0] + noise
				miss := d.ln - state[0][0]
				gain := cov.times(look.transposed())
				for i := range gain {
					gain[i][0] /= spread
				}
				state = state.plus(matrix{{gain[0][0] * miss}, {gain[1][0] * miss}}, 1)
				cov = cov.plus(gain.times(look).times(cov), -1)
				logWeight -= (math.Log(2*math.Pi*spread) + miss*miss/spread) / 2
			} else {
				state[0][0], cov[0][0], cov[0][1], cov[1][0], standing = d.ln, noise, 0, 0, true
			}
		}
		if d.nothing || d.counts > 0 && math.Exp(d.ln)+d.change <= 0 {
			standing = false
		}
		switch {
		case !d.changed:
		case standing:
			state, cov = shifted(state, cov, d.change)
		case d.change > 0 && d.counts == 0:
			state[0][0], cov[0][0], cov[0][1], cov[1][0], standing = math.Log(d.change), m*m, 0, 0, true
		}
	}
	return filtered{logWeight, state[1][0], math.Sqrt(cov[1][1])}
}

// shifted adds an amount to the size itself and matches the moments, which are added up over the normal distribution. What
// would be left of less than a fiftieth is ruled out, as the model has it.
func shifted(state, cov matrix, amount float64) (matrix, matrix) {
	x, sd, slope := state[0][0], math.Sqrt(cov[0][0]), cov[0][1]/cov[0][0]
	var all, mean, from, square, both, spread float64
	const step = 0.01
	for z := -6.0; z <= 6; z += step {
		was := x + sd*z
		left := math.Exp(was) + amount
		if left <= 0.02*math.Exp(x) {
			continue
		}
		w, is := math.Exp(-z*z/2), math.Log(left)
		all, mean, from, square, both, spread = all+w, mean+w*is, from+w*was, square+w*is*is, both+w*is*was, spread+w*was*was
	}
	mean, from = mean/all, from/all
	to := square/all - mean*mean
	across := both/all - mean*from
	rate := state[1][0] + slope*(from-x)
	rates := cov[1][1] + slope*slope*(spread/all-from*from-cov[0][0])
	return matrix{{mean}, {rate}}, matrix{{to, slope * across}, {slope * across, rates}}
}

// diaryRate weighs the filters of the grid and gives median and interval of the rate.
func diaryRate(days []day) ends {
	var all []filtered
	top := math.Inf(-1)
	for i := range 7 {
		for j := range 7 {
			m, q := 0.025*math.Pow(16, float64(i)/6), 0.002*math.Pow(50, float64(j)/6)
			f := follow(days, m, q)
			u, v := math.Log(m/0.08)/math.Log(3), math.Log(q/0.015)/math.Log(8)
			f.weight -= (u*u + v*v) / 2
			top = max(top, f.weight)
			all = append(all, f)
		}
	}
	quantile := func(p float64) float64 {
		low, high := -2.0, 2.0
		for range 50 {
			mid, below, sum := (low+high)/2, 0.0, 0.0
			for _, f := range all {
				w := math.Exp(f.weight - top)
				sum += w
				below += w * math.Erfc((f.rate-mid)/f.sd/math.Sqrt2) / 2
			}
			if below < p*sum {
				low = mid
			} else {
				high = mid
			}
		}
		return (low + high) / 2
	}
	return ends{quantile(0.5), quantile(0.025), quantile(0.975)}
}

func TestGrowthFilesAgainstASecondCalculation(t *testing.T) {
	f := demoFacts(t)
	lines, diaries := 0, 0
	plants := map[string]bool{}
	for _, g := range f.Growth {
		plants[g.Plant] = true
	}
	for plant := range plants {
		text, err := f.GrowthJSON(plant, nil)
		if err != nil {
			t.Fatal(err)
		}
		var file published
		if err := json.Unmarshal(text, &file); err != nil {
			t.Fatal(err)
		}
		for _, s := range file.Tanks {
			if s.Growth == nil {
				continue
			}
			name := plant + " in " + s.Tank
			var days []day
			for _, p := range s.Points {
				at := float64(p.Date.Days())
				if len(days) == 0 || days[len(days)-1].at != at {
					days = append(days, day{at: at})
				}
				d := &days[len(days)-1]
				switch {
				case p.Event != "count":
					d.change, d.changed = d.change+p.Size, true
				case p.Size == 0:
					d.nothing = d.counts == 0
				default:
					d.counts, d.sumOfLogs, d.nothing = d.counts+1, d.sumOfLogs+math.Log(p.Size), false
					d.ln = d.sumOfLogs / float64(d.counts)
				}
			}
			if s.Growth.Model == "log-linear" {
				want, points, runs := regression(days)
				near(t, name+", regression", s.Growth.Rate, want)
				near(t, name+", its doubling", ends{s.Growth.Doubling.Value, s.Growth.Doubling.Low, s.Growth.Doubling.High}, doubled(s.Growth.Doubling, want))
				if points != s.Growth.N || runs != s.Growth.Segments {
					t.Errorf("%s: %d points in %d runs, the file says %d in %d", name, points, runs, s.Growth.N, s.Growth.Segments)
				}
				lines++
			}
			want := diaryRate(days)
			near(t, name+", diary model", s.Diary.Rate, want)
			near(t, name+", its doubling", s.Diary.Doubling, doubled(s.Diary.Doubling, want))
			diaries++
		}
	}
	if lines < 8 || diaries < 12 {
		t.Errorf("only %d regressions and %d diary models were compared", lines, diaries)
	}
	t.Logf("%d regressions, %d diary models", lines, diaries)
}

// doubled is ln 2 over a rate; the ends that the file leaves out are left out.
func doubled(file, rate ends) ends {
	out := ends{math.Ln2 / rate.Value, math.Ln2 / rate.High, math.Ln2 / rate.Low}
	if file.Value == 0 {
		out.Value = 0
	}
	if file.Low == 0 {
		out.Low = 0
	}
	if file.High == 0 {
		out.High = 0
	}
	return out
}

// near compares to half a per cent, of the rate for the ends of its interval.
func near(t *testing.T, what string, got, want ends) {
	t.Helper()
	most := 0.005 * math.Abs(want.Value)
	for _, pair := range [...]ends{{got.Value, want.Value, most}, {got.Low, want.Low, most}, {got.High, want.High, max(most, 0.005*math.Abs(want.High))}} {
		if math.Abs(pair.Value-pair.Low) > pair.High {
			t.Errorf("%s: the file says %v, the second calculation %v", what, got, want)
			return
		}
	}
}

// The demonstration's counts were made from known rates. The diary model's intervals must hold nine of ten of them.
func TestIntervalsHoldWhatTheDemonstrationWasMadeFrom(t *testing.T) {
	f := demoFacts(t)
	held, all := 0, 0
	for _, s := range demoTruth(t).Series {
		for _, g := range f.Of(s.Tank, s.Plant) {
			if g.Fit == nil || g.Measure.String() != s.Measure || s.Holds > 0 || s.End.Before(g.Began()) || g.Ended().Before(s.Start) {
				continue // what levels off has no one rate
			}
			all++
			if r := g.Fit.Diary.Rate; r.Low <= s.R && s.R <= r.High {
				held++
			} else {
				t.Logf("%s in %s: made with %v, told as %v", s.Plant, s.Tank, s.R, r)
			}
		}
	}
	if all < 10 || float64(held) < 0.9*float64(all) {
		t.Errorf("%d of %d intervals hold the rate that the counts were made from", held, all)
	}
	t.Logf("%d of %d", held, all)
}
