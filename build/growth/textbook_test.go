package growth_test

import (
	"encoding/json"
	"math"
	"slices"
	"testing"
	"time"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"

	"slipleaf/build/growth"
)

// fileOf is growth.json as a stranger reads it.
type fileOf struct {
	Plant string
	Tanks []struct {
		Tank, Measure, Unit string
		Points              []linePoint
		Growth              *struct {
			Model       string
			Segments, N int
			Rate        figureOf `json:"rgr-per-day"`
			Doubling    figureOf `json:"doubling-time"`
			Holds       *figureOf
		}
		Diary *struct {
			N       int
			Rate    figureOf `json:"rgr-per-day"`
			Ceiling *figureOf
		}
		Unknown []string
	}
}

type linePoint struct {
	Date  string
	Size  float64
	Event string
}

type figureOf struct{ Value, Low, High, Level float64 }

func (p linePoint) day(t *testing.T) float64 {
	d, err := time.Parse(time.DateOnly, p.Date)
	if err != nil {
		t.Fatal(err)
	}
	return d.Sub(time.Date(2026, 1, 1, 0, 0, 0, 0, time.UTC)).Hours() / 24
}

// dayOf is all that a file says of one day.
type dayOf struct {
	day, log, change float64
	n                float64 // counts
	counted, changed bool
}

func daysOf(t *testing.T, points []linePoint) []dayOf {
	var out []dayOf
	n := 0.0
	for _, p := range points {
		if k := len(out); k == 0 || out[k-1].day != p.day(t) {
			out = append(out, dayOf{day: p.day(t)})
			n = 0
		}
		d := &out[len(out)-1]
		if p.Event == "count" {
			d.log = (d.log*n + math.Log(p.Size)) / (n + 1)
			d.counted = true
			n++
			d.n = n
			continue
		}
		d.change += p.Size
		d.changed = true
	}
	return out
}

// TestGrowthFilesAgainstTheTextbook reads growth.json of every plant of the demonstration and does its sums again from
// the points alone: the regression as a design matrix with a column for the rate and one for the level of each segment
// (Hunt 1982), and the diary model as a Kalman filter in matrices (Kalman 1960), with cuts worked out by summing over the whole
// of the belief. Both within 0.5 % of the figure, or for the ends of the model's interval of its width.
func TestGrowthFilesAgainstTheTextbook(t *testing.T) {
	f := demoFacts(t)
	var plants []string
	for _, g := range f.All() {
		if !slices.Contains(plants, g.Plant) {
			plants = append(plants, g.Plant)
		}
	}
	fitted := 0
	for _, plant := range plants {
		b, err := f.GrowthJSON(plant, nil)
		if err != nil {
			t.Fatal(err)
		}
		var file fileOf
		if err := json.Unmarshal(b, &file); err != nil {
			t.Fatal(err)
		}
		for _, s := range file.Tanks {
			name := s.Tank + "/" + plant + "/" + s.Measure
			if s.Growth == nil {
				if !slices.Contains(s.Unknown, "growth") {
					t.Errorf("%s: no growth, and not said", name)
				}
				continue
			}
			fitted++
			days := daysOf(t, s.Points)
			if s.Growth.Model == "log-linear" {
				r, half, n, segments := leastSquares(t, days)
				closeTo(t, name+" regression", r, s.Growth.Rate.Value)
				closeTo(t, name+" regression, low", r-half, s.Growth.Rate.Low)
				closeTo(t, name+" regression, high", r+half, s.Growth.Rate.High)
				closeTo(t, name+" doubling", math.Ln2/r, s.Growth.Doubling.Value)
				if n != s.Growth.N || segments != s.Growth.Segments {
					t.Errorf("%s: %d points in %d segments, file says %d in %d", name, n, segments, s.Growth.N, s.Growth.Segments)
				}
			}
			ceiling := 0.0
			if s.Diary.Ceiling != nil {
				ceiling = s.Diary.Ceiling.Value
			}
			whole := slices.Contains([]string{"stems", "plantlets", "leaves"}, s.Measure)
			mid, low, high := kalman(days, sizes{ceiling, whole})
			closeTo(t, name+" diary", mid, s.Diary.Rate.Value)
			if slip := 0.005 * (high - low); math.Abs(s.Diary.Rate.Low-low) > slip || math.Abs(s.Diary.Rate.High-high) > slip {
				t.Errorf("%s diary: %.6g to %.6g in the file, %.6g to %.6g by the textbook", name, s.Diary.Rate.Low, s.Diary.Rate.High, low, high)
			}
		}
	}
	if fitted < 20 {
		t.Errorf("only %d series were compared", fitted)
	}
}

func closeTo(t *testing.T, what string, want, got float64) {
	t.Helper()
	if math.Abs(got-want) > 0.005*math.Abs(want) {
		t.Errorf("%s: %.6g in the file, %.6g by the textbook", what, got, want)
	}
}

// leastSquares solves for one rate and a level for each segment by QR, with the t interval of 95 %.
func leastSquares(t *testing.T, days []dayOf) (rate, half float64, n, segments int) {
	type row struct {
		segment int
		x, y    float64
	}
	var rows []row
	seg, empty := 0, true
	for _, d := range days {
		if d.counted {
			rows, empty = append(rows, row{seg, d.day, d.log}), false
		}
		if !d.changed {
			continue
		}
		if !empty {
			seg, empty = seg+1, true
		}
		if left := math.Exp(d.log) + d.change; d.counted && left > 0 {
			rows, empty = append(rows, row{seg, d.day, math.Log(left)}), false
		}
	}
	segments, n = rows[len(rows)-1].segment+1, len(rows)
	x, y := mat.NewDense(n, segments+1, nil), mat.NewVecDense(n, nil)
	for i, r := range rows {
		x.Set(i, 0, r.x)
		x.Set(i, 1+r.segment, 1)
		y.SetVec(i, r.y)
	}
	var beta, fit, res mat.VecDense
	if err := beta.SolveVec(x, y); err != nil {
		t.Fatal(err)
	}
	fit.MulVec(x, &beta)
	res.SubVec(y, &fit)
	df := float64(n - segments - 1)
	var xtx, inverse mat.Dense
	xtx.Mul(x.T(), x)
	if err := inverse.Inverse(&xtx); err != nil {
		t.Fatal(err)
	}
	se := math.Sqrt(mat.Dot(&res, &res) / df * inverse.At(0, 0))
	return beta.AtVec(0), se * distuv.StudentsT{Sigma: 1, Nu: df}.Quantile(0.975), n, segments
}

// kalman is the state-space model, written out plainly: state (place, rate, what a cut costs), weak priors r 0.04 ± 0.15,
// cost 0.01 ± 0.05, m 8 % within a factor of 3, q 0.015 within a factor of 8, at places that are part of the model; from 8 counts on a rate that stays (70 %) or
// wanders by 0.001 or 0.004 per √day (15 % each). The place of a size is its logarithm, or its logit below a ceiling. It
// gives median and 95 % interval of the rate less what cuts cost, from 8 counts on over four weeks and with what unevenness makes of it.
func kalman(days []dayOf, on sizes) (mid, low, high float64) {
	type place struct{ weight, r, sd float64 }
	var grid []place
	counts := 0.0
	for _, d := range days {
		counts += d.n
	}
	for k, s := range []float64{0, 0.001, 0.004} {
		if k > 0 && counts < 8 {
			continue
		}
		for i := range 6 {
			m := 0.025 * math.Pow(0.4/0.025, float64(i)/5)
			for j := range 4 {
				q := 0.003 * math.Pow(0.1/0.003, float64(j)/3)
				u, v := math.Log(m/0.08)/math.Log(3), math.Log(q/0.015)/math.Log(8)
				lik, r, sd := filter(days, on, m, q, s, counts >= 8)
				if counts >= 8 {
					sd = math.Hypot(sd, q/math.Sqrt(28))
				}
				grid = append(grid, place{lik - (u*u+v*v)/2 + math.Log([]float64{0.7, 0.15, 0.15}[k]), r, sd})
			}
		}
	}
	top := slices.MaxFunc(grid, func(a, b place) int { return int(math.Copysign(1, a.weight-b.weight)) }).weight
	sum := 0.0
	for i := range grid {
		grid[i].weight = math.Exp(grid[i].weight - top)
		sum += grid[i].weight
	}
	quantile := func(p float64) float64 {
		lo, hi := -2.0, 2.0
		for range 60 {
			x, below := (lo+hi)/2, 0.0
			for _, g := range grid {
				below += g.weight / sum * distuv.UnitNormal.CDF((x-g.r)/g.sd)
			}
			if below < p {
				lo = x
			} else {
				hi = x
			}
		}
		return lo
	}
	return quantile(0.5), quantile(0.025), quantile(0.975)
}

// sizes turns sizes into places and back.
type sizes struct {
	ceiling float64
	whole   bool // whole plants are counted
}

// place is that of a size that was counted: what is called full may lack half a step of 5 %.
func (s sizes) place(size float64) float64 { return s.below(size, 0.975) }

func (s sizes) below(size, most float64) float64 {
	if s.ceiling == 0 {
		return math.Log(size)
	}
	f := math.Min(size/s.ceiling, most)
	return math.Log(f / (1 - f))
}

func (s sizes) size(place float64) float64 {
	if s.ceiling == 0 {
		return math.Exp(place)
	}
	return s.ceiling / (1 + math.Exp(-place))
}

// steps is the variance of a cover that is guessed in steps of 5 %, or of plants that are counted whole.
func (s sizes) steps(place float64) float64 {
	if s.ceiling == 0 {
		if s.whole {
			return 1 / 12. / math.Exp(2*place)
		}
		return 0
	}
	f := s.size(place) / s.ceiling
	return math.Pow(0.05/math.Sqrt(12)/(f*(1-f)), 2)
}

// filter runs one choice of m, q and s over the days: F = [1 dt 0; 0 1 0; 0 0 1], Q of an integrated random walk with q² on the size,
// H = [1 0 0], and C = [1 0 -1; 0 1 0; 0 0 1] on the first day after a cut. A count is wild in one case of twenty, with 0.7 more of spread; the two cases are mixed to one normal.
func filter(days []dayOf, on sizes, m, q, s float64, lately bool) (lik, r, sd float64) {
	x := mat.NewVecDense(3, []float64{0, 0.04, 0.01})
	p := mat.NewDense(3, 3, []float64{0, 0, 0, 0, 0.15 * 0.15, 0, 0, 0, 0.05 * 0.05})
	standing, last, rests, first, cuts := false, 0.0, false, math.Inf(1), 0.0
	through := func(by ...float64) {
		step := mat.NewDense(3, 3, by)
		x.MulVec(step, x)
		p.Product(step, p, step.T())
	}
	begin := func(place, variance float64) {
		x.SetVec(0, place)
		for i := range 3 {
			p.Set(0, i, 0)
			p.Set(i, 0, 0)
		}
		p.Set(0, 0, variance)
		standing = true
	}
	for i, d := range days {
		if standing {
			dt := d.day - last
			through(1, dt, 0, 0, 1, 0, 0, 0, 1)
			p.Add(p, mat.NewDense(3, 3, []float64{q*q*dt + s*s*dt*dt*dt/3, s * s * dt * dt / 2, 0, s * s * dt * dt / 2, s * s * dt, 0, 0, 0, 0}))
			if rests {
				through(1, 0, -1, 0, 1, 0, 0, 0, 1)
			}
		}
		rests = false
		last = d.day
		y := on.place(math.Exp(d.log))
		h := (m*m + on.steps(y)) / d.n
		switch {
		case d.counted && !standing:
			begin(y, h)
		case d.counted:
			lik += math.Log(mix(x, p, y, h))
		}
		if d.counted && math.Exp(d.log)+d.change <= 0 && (i+1 == len(days) || !days[i+1].counted) {
			standing = false
		}
		switch {
		case !d.changed:
		case standing:
			cut(x, p, d.change, on)
			rests = d.change < 0
		case !d.counted && d.change > 0:
			begin(on.place(d.change), m*m)
		}
	}
	for _, d := range days {
		if d.counted {
			first = min(first, d.day)
		}
	}
	if lately {
		first = max(first, last-28)
	}
	for _, d := range days {
		if d.change < 0 && d.day >= first && d.day < last {
			cuts++
		}
	}
	of := mat.NewVecDense(3, []float64{0, 1, -cuts / (last - first)})
	return lik, mat.Dot(of, x), math.Sqrt(mat.Inner(of, p, of))
}

// mix takes in a count by both cases, and gives its density.
func mix(x *mat.VecDense, p *mat.Dense, y, h float64) float64 {
	var means [2]*mat.VecDense
	var vars [2]*mat.Dense
	var weight [2]float64
	for i, c := range [2][2]float64{{0.95, h}, {0.05, h + 0.49}} {
		s, miss := p.At(0, 0)+c[1], y-x.AtVec(0)
		gain := mat.NewVecDense(3, []float64{p.At(0, 0) / s, p.At(1, 0) / s, p.At(2, 0) / s})
		means[i], vars[i] = mat.NewVecDense(3, nil), mat.NewDense(3, 3, nil)
		means[i].AddScaledVec(x, miss, gain)
		vars[i].Mul(mat.NewDense(3, 3, []float64{1 - gain.AtVec(0), 0, 0, -gain.AtVec(1), 1, 0, -gain.AtVec(2), 0, 1}), p)
		weight[i] = c[0] * distuv.Normal{Mu: 0, Sigma: math.Sqrt(s)}.Prob(miss)
	}
	all := weight[0] + weight[1]
	mean := mat.NewVecDense(3, nil)
	for i, w := range weight {
		mean.AddScaledVec(mean, w/all, means[i])
	}
	x.CopyVec(mean)
	p.Zero()
	for i, w := range weight {
		var off mat.VecDense
		var part mat.Dense
		off.SubVec(means[i], mean)
		part.Outer(1, &off, &off)
		part.Add(&part, vars[i])
		part.Scale(w/all, &part)
		p.Add(p, &part)
	}
	return all
}

// cut adds an amount to the size itself, by summing over what is held: place = mean + sd·z, and the amount 5 % more or less than
// was written, unless whole plants were taken. Where next to nothing would be left the cut was not that one.
func cut(x *mat.VecDense, p *mat.Dense, amount float64, on sizes) {
	const steps, reach = 501, 5.0
	sd, off := math.Sqrt(p.At(0, 0)), 0.05
	if on.whole {
		off = 0
	}
	var w, wy, wyy, wz, wzz, wyz float64
	for i := range steps {
		z := reach * (2*float64(i)/(steps-1) - 1)
		for _, e := range [...]float64{1 - off, 1 + off} {
			left := on.size(x.AtVec(0)+sd*z) + e*amount
			if left <= 0.02*on.size(x.AtVec(0)) {
				continue
			}
			k, y := math.Exp(-z*z/2), on.below(left, 0.999)
			w, wy, wyy, wz, wzz, wyz = w+k, wy+k*y, wyy+k*y*y, wz+k*z, wzz+k*z*z, wyz+k*y*z
		}
	}
	my, mz := wy/w, wz/w
	vy, vz, cyz := wyy/w-my*my, wzz/w-mz*mz, wyz/w-my*mz
	slope := []float64{0, p.At(1, 0) / sd, p.At(2, 0) / sd} // of the rate and the cost on z
	x.SetVec(0, my)
	p.Set(0, 0, vy)
	for i := 1; i < 3; i++ {
		x.SetVec(i, x.AtVec(i)+slope[i]*mz)
		p.Set(0, i, slope[i]*cyz)
		p.Set(i, 0, slope[i]*cyz)
		for j := 1; j < 3; j++ {
			p.Set(i, j, p.At(i, j)+slope[i]*slope[j]*(vz-1))
		}
	}
}

// TestTruthLiesInTheIntervals: the rates from which the demonstration was made lie in the 95 % intervals of the diary
// model in at least 90 % of its series. One whose space is full has no single rate: there the logistic's interval counts.
func TestTruthLiesInTheIntervals(t *testing.T) {
	f := demoFacts(t)
	held, of := 0, 0
	for _, g := range f.All() {
		if g.Fit == nil {
			continue
		}
		r := rateOf(t, g)
		i := g.Fit.StateSpace.Rate
		if g.Fit.Logistic.Chosen() {
			i = g.Fit.Logistic.Rate
		}
		of++
		if i.Low <= r && r <= i.High {
			held++
		} else {
			t.Logf("%s %s %s: %.4f is outside %.4f to %.4f", g.Tank, g.Plant, g.Measure, r, i.Low, i.High)
		}
	}
	if of < 20 || float64(held) < 0.9*float64(of) {
		t.Errorf("%d of %d", held, of)
	}
}

// rateOf finds the true rate behind a series.
func rateOf(t *testing.T, g *growth.Growth) float64 {
	for _, s := range demoTruth(t).Series {
		if s.Tank == g.Tank && s.Plant == g.Plant && !g.Began().Before(s.Start) && !g.Began().After(s.End) {
			return s.R
		}
	}
	t.Fatalf("no truth about %s in %s from %s", g.Plant, g.Tank, g.Began())
	return 0
}
