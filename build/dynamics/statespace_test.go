package dynamics

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"slipleaf/build/reckon"
)

// diaries draws series such as a grower may keep, tidy or not.
func diaries() *rapid.Generator[Series] {
	return rapid.Custom(func(t *rapid.T) Series {
		var s Series
		for range rapid.IntRange(0, 14).Draw(t, "counts") {
			s.Counts = append(s.Counts, Count{Day: float64(rapid.IntRange(0, 90).Draw(t, "day")), Size: rapid.OneOf(rapid.Just(0.0), rapid.Float64Range(0.1, 5000)).Draw(t, "size")})
		}
		for range rapid.IntRange(0, 6).Draw(t, "changes") {
			s.Changes = append(s.Changes, Change{float64(rapid.IntRange(0, 90).Draw(t, "on")), rapid.Float64Range(-3000, 3000).Draw(t, "amount"), ChangeKind(rapid.IntRange(0, 2).Draw(t, "kind"))})
		}
		s.Floating = rapid.Bool().Draw(t, "floating")
		return s
	})
}

// plausible draws series of a plant that grows, with cuts: all of them can be fitted.
func plausible() *rapid.Generator[Series] {
	return rapid.Custom(func(t *rapid.T) Series {
		rng := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 1))
		return seriesOf(makeLife(rng, rapid.SampledFrom(lifeKinds()).Draw(t, "kind"), rapid.IntRange(4, 30).Draw(t, "counts")))
	})
}

func ordered(t *rapid.T, what string, low, value, high float64) {
	t.Helper()
	slip := 1e-6 * (math.Abs(value) + 1e-9)
	if !reckon.Finite(low) || !reckon.Finite(value) || !reckon.Finite(high) || low > value+slip || value > high+slip {
		t.Fatalf("%s: %v ≤ %v ≤ %v does not hold", what, low, value, high)
	}
}

// Whatever is written, nothing comes out that is no number, and no interval is upside down.
func TestNothingButNumbers(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := diaries().Draw(t, "diary")
		vs, err := s.visits()
		if err != nil {
			t.Fatal(err)
		}
		d := s.fitStateSpace(vs, 0.95)
		for what, e := range map[string]reckon.Interval{"rate": d.Rate, "count error": d.CountError, "unevenness": d.ProcessSD} {
			ordered(t, what, e.Low, e.Value, e.High)
		}
		for _, ahead := range []float64{0, 0.5, 7, 60} {
			e, err := d.SizeOn(d.Last+ahead, 0.8)
			if err != nil {
				t.Fatal(err)
			}
			ordered(t, "size", e.Low, e.Value, e.High)
		}
		if w, err := d.FirstPassage(rapid.Float64Range(0.01, 1e6).Draw(t, "goal"), 0.8); err == nil {
			ordered(t, "window", w.Low, w.Best, w.High)
			if w.Low < d.Last || w.High > d.Last+Horizon {
				t.Fatalf("window %+v lies outside of what can be foretold from day %v", w, d.Last)
			}
		}
		if l, err := FitLine(s, 0.95); err == nil {
			ordered(t, "regression", l.Rate.Low, l.Rate.Value, l.Rate.High)
			ordered(t, "Theil–Sen", l.Robust.Low, l.Robust.Value, l.Robust.High)
		}
		if l, err := FitLogistic(s, 0.95); err == nil {
			ordered(t, "holds", l.Capacity.Low, l.Capacity.Value, l.Capacity.High)
			ordered(t, "AICc", l.AICc, l.AICc, l.AICc)
		}
	})
}

// Every diary in which a rate can be known is told by the regression and the diary model alike.
func TestOrderUnitsAndDaysDoNotMatter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		one := plausible().Draw(t, "diary")
		a, err := FitGrowth(one, 0.95)
		if err != nil {
			t.Skip("too fast or too few")
		}
		unit := rapid.Float64Range(0.01, 100).Draw(t, "unit")
		days := float64(rapid.IntRange(-20000, 20000).Draw(t, "days"))
		s := Series{Ceiling: one.Ceiling * unit, Step: one.Step * unit}
		for i := range one.Counts { // backwards
			c := one.Counts[len(one.Counts)-1-i]
			s.Counts = append(s.Counts, Count{Day: c.Day + days, Size: c.Size * unit, By: c.By})
		}
		for _, c := range one.Changes {
			s.Changes = append(s.Changes, Change{c.Day + days, c.Amount * unit, c.Kind})
		}
		b, err := FitGrowth(s, 0.95)
		if err != nil {
			t.Fatal(err)
		}
		same := func(what string, x, y float64) {
			if math.Abs(x-y) > 1e-5*(math.Abs(x)+1e-3) {
				t.Fatalf("%s: %v became %v", what, x, y)
			}
		}
		same("regression", a.Line.Rate.Value, b.Line.Rate.Value)
		same("its error", a.Line.StdErr, b.Line.StdErr)
		same("rate", a.StateSpace.Rate.Value, b.StateSpace.Rate.Value)
		same("its low end", a.StateSpace.Rate.Low, b.StateSpace.Rate.Low)
		same("error of a count", a.StateSpace.CountError.Value, b.StateSpace.CountError.Value)
		x, _ := a.StateSpace.SizeOn(a.StateSpace.Last+7, 0.8)
		y, err := b.StateSpace.SizeOn(b.StateSpace.Last+7, 0.8)
		if err != nil {
			t.Fatal(err)
		}
		same("size", x.High*unit, y.High)
	})
}

// A cut on any day changes nothing in the rate of growth that is exponential and counted without error.
func TestCutsDoNotChangeTheRate(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := rapid.Float64Range(-0.02, 0.3).Draw(t, "r")
		n := rapid.IntRange(6, 12).Draw(t, "n")
		cutDay := float64(rapid.IntRange(1, 7*n-8).Draw(t, "cut day"))
		share := rapid.Float64Range(0.05, 0.7).Draw(t, "share")
		plain := weekly(n, r)
		cut := Series{Changes: []Change{{cutDay, -share * 10 * math.Exp(r*cutDay), Trim}}}
		for _, c := range plain.Counts {
			if c.Day > cutDay {
				c.Size *= 1 - share
			}
			cut.Counts = append(cut.Counts, c)
		}
		a, err := FitGrowth(plain, 0.95)
		if err != nil {
			t.Fatal(err)
		}
		b, err := FitGrowth(cut, 0.95)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(a.Line.Rate.Value-r) > 1e-9 || math.Abs(b.Line.Rate.Value-r) > 1e-9 {
			t.Fatalf("regression %v and %v, want %v", a.Line.Rate.Value, b.Line.Rate.Value, r)
		}
		// The diary's prior draws all rates a little toward 0.04. A deep cut on an uncounted day before the rate is known
		// is followed less well, as the filter takes the belief for normal; its interval must still hold the rate.
		slip := 3e-3
		if cutDay < 14 {
			slip = 0.02
		}
		if math.Abs(a.StateSpace.Rate.Value-r) > 1e-3 || math.Abs(b.StateSpace.Rate.Value-r) > slip || b.StateSpace.Rate.Low > r || b.StateSpace.Rate.High < r {
			t.Fatalf("diary %v and %v, want %v", a.StateSpace.Rate.Value, b.StateSpace.Rate.Value, r)
		}
	})
}

// TestFilterAgainstMatrices follows uneven days with the textbook's matrices (Durbin & Koopman 2012, section 4.3).
func TestFilterAgainstMatrices(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 3))
	for range 50 {
		m, q := 0.02+0.2*rng.Float64(), 0.05*rng.Float64()
		b := state{x: 2, r: rateMean, xx: m * m, rr: rateSD * rateSD}
		a, p := [2]float64{2, rateMean}, [2][2]float64{{m * m, 0}, {0, rateSD * rateSD}}
		for range 12 {
			dt, y := float64(rng.IntN(20)), 2+3*rng.Float64()
			b.predict(dt, q, 0)
			miss, spread := b.tame(y, m*m)
			// a = T a, P = T P T' + Q with T = (1 dt; 0 1)
			a[0] += dt * a[1]
			tp := [2][2]float64{{p[0][0] + dt*p[1][0], p[0][1] + dt*p[1][1]}, p[1]}
			p = [2][2]float64{{tp[0][0] + dt*tp[0][1] + q*q*dt, tp[0][1]}, {tp[1][0] + dt*tp[1][1], tp[1][1]}}
			v, f := y-a[0], p[0][0]+m*m
			k := [2]float64{p[0][0] / f, p[1][0] / f}
			a = [2]float64{a[0] + k[0]*v, a[1] + k[1]*v}
			p = [2][2]float64{{p[0][0] - k[0]*p[0][0], p[0][1] - k[0]*p[0][1]}, {p[1][0] - k[1]*p[0][0], p[1][1] - k[1]*p[0][1]}}
			got := []float64{b.x, b.r, b.xx, b.xr, b.rr, miss, spread}
			for i, want := range []float64{a[0], a[1], p[0][0], p[0][1], p[1][1], v, f} {
				if math.Abs(got[i]-want) > 1e-9*(1+math.Abs(want)) {
					t.Fatalf("figure %d: %v, want %v", i, got[i], want)
				}
			}
		}
	}
}

// TestChangeAgainstDraws compares the quadrature at a cut with a million draws.
func TestChangeAgainstDraws(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 5))
	for _, share := range []float64{-0.67, -0.5, -0.33, 0.5, 3} {
		b := state{x: math.Log(100), r: 0.05, xx: 0.01, xr: 0.0004, rr: 0.0001}
		var n, x, xx, r, xr float64
		for range 1_000_000 {
			z, y := rng.NormFloat64(), rng.NormFloat64()
			left := math.Exp(b.x+0.1*z) + 100*share*(1+cutError*float64(2*rng.IntN(2)-1))
			if left <= 0 {
				continue
			}
			lx, lr := math.Log(left), b.r+b.xr/0.1*z+math.Sqrt(b.rr-b.xr*b.xr/b.xx)*y
			n, x, xx, r, xr = n+1, x+lx, xx+lx*lx, r+lr, xr+lx*lr
		}
		x, xx, r, xr = x/n, xx/n, r/n, xr/n
		b.change(100*share, cutError, scale{})
		for what, f := range map[string][2]float64{"mean": {b.x, x}, "variance": {b.xx, xx - x*x}, "covariance": {b.xr, xr - x*r}, "rate": {b.r, r}} {
			if math.Abs(f[0]-f[1]) > 0.03*math.Abs(f[1])+2e-5 {
				t.Errorf("a change of %+.0f %%: %s %v, draws give %v", 100*share, what, f[0], f[1])
			}
		}
	}
}

func TestDiaryOfAStandThatLeavesAndReturns(t *testing.T) {
	s := weekly(6, 0.05)
	s.Changes = []Change{{40, -10 * math.Exp(0.05*40), Loss}} // all of it, on a day without a count
	s.Counts = append(s.Counts, Count{Day: 42, Size: 0})
	gone, err := FitStateSpace(s, 0.95)
	if err != nil {
		t.Fatal(err)
	}
	if e, err := gone.SizeOn(50, 0.8); err != nil || e.Value != 0 || e.High != 0 || gone.Standing() {
		t.Errorf("%+v, %v: nothing stands there", e, err)
	}
	var in *reckon.InputError
	if _, err := gone.FirstPassage(10, 0.8); !errors.As(err, &in) {
		t.Errorf("a window for what is gone: %v", err)
	}
	s.Changes = append(s.Changes, Change{60, 8, Planting})
	back, err := FitStateSpace(s, 0.95)
	if err != nil {
		t.Fatal(err)
	}
	e, err := back.SizeOn(70, 0.8)
	if want := 8 * math.Exp(0.5); err != nil || e.Low > want || e.High < want {
		t.Errorf("%+v, %v: want about %v", e, err, want)
	}
}

// A cut of more than was held to stand leaves little, and the next count tells how much.
func TestCutOfMoreThanWasHeldToStand(t *testing.T) {
	s := weekly(6, 0.05)
	s.Changes = []Change{{36, -80, Trim}}
	s.Counts = append(s.Counts, Count{Day: 43, Size: 20}, Count{Day: 50, Size: 28})
	d, err := FitStateSpace(s, 0.95)
	if err != nil {
		t.Fatal(err)
	}
	if e, err := d.SizeOn(50, 0.95); err != nil || e.Low > 28 || e.High < 28 || e.High > 60 {
		t.Errorf("%+v, %v", e, err)
	}
}

func TestReach(t *testing.T) {
	d, err := FitStateSpace(weekly(8, 0.05), 0.95) // 10 on day 0, 115.5 on day 49
	if err != nil {
		t.Fatal(err)
	}
	w, err := d.FirstPassage(200, 0.8)
	want := math.Log(20) / 0.05 // 59.9
	if err != nil || w.Low > want || w.High < want || math.Abs(w.Best-want) > 1.5 || w.Open {
		t.Errorf("%+v, %v: want about %.1f", w, err, want)
	}
	if w, err = d.FirstPassage(50, 0.8); err != nil || w.Low != 49 || w.High != 49 {
		t.Errorf("a goal that stands already: %+v, %v", w, err)
	}
	var far *TooFar
	if _, err = d.FirstPassage(10000, 0.8); !errors.As(err, &far) || far.Days != 49 {
		t.Errorf("a goal 89 days ahead: %v", err)
	}
	if wide, _ := d.FirstPassage(200, 0.95); wide.High-wide.Low <= w.High-w.Low {
		t.Error("a window of 95 % is no wider than one of 80 %")
	}
}

func TestStretch(t *testing.T) {
	w := Window{Low: 100, Best: 104, High: 110, Level: 0.8}
	past := func(n int, at float64) []Past {
		var out []Past
		for range n {
			out = append(out, Past{Made: 0, Window: Window{Low: 6, Best: 10, High: 14, Level: 0.8}, Reached: at})
		}
		return out
	}
	if got := w.Stretch(past(9, 30), 95); got != w {
		t.Errorf("nine past windows change it: %+v", got)
	}
	if got := w.Stretch(past(12, 18), 95); got.Low >= w.Low || got.High <= w.High || got.Best != w.Best {
		t.Errorf("goals twice as far off as the windows said: %+v", got)
	}
	if got := w.Stretch(past(12, 10.5), 95); got.Low <= w.Low || got.High >= w.High {
		t.Errorf("goals in the middle of the windows: %+v", got)
	}
	if got := w.Stretch(past(40, 30), 99); got.Low != 99 {
		t.Errorf("it begins before the day it is made: %+v", got)
	}
	hits, of := Hits(append(past(3, 11), past(2, 20)...))
	if d := cmp.Diff([]int{3, 5}, []int{hits, of}); d != "" {
		t.Error(d)
	}
}

func TestBacktest(t *testing.T) {
	s := Series{}
	size := 10.0
	for i := range 20 {
		day := float64(7 * i)
		s.Counts = append(s.Counts, Count{Day: day, Size: size})
		if size >= 20 {
			s.Changes = append(s.Changes, Change{day, -size / 2, Trim})
			size /= 2
		}
		size *= math.Exp(0.05 * 7)
	}
	record, err := Backtest(s, 20, 0.8)
	if err != nil {
		t.Fatal(err)
	}
	hits, of := Hits(record)
	if of < 6 || hits != of {
		t.Errorf("growth without noise: %d of %d windows held", hits, of)
	}
	for _, p := range record {
		if p.Reached <= p.Made || p.Window.Low < p.Made {
			t.Errorf("%+v looks back", p)
		}
	}
}

// Whole plants that are taken out are counted, so a trim of them leaves the size as surely known as it was; of stems the length is guessed.
func TestATrimOfWholePlantsIsExact(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		size := rapid.Float64Range(1000, 5000).Draw(t, "size") // so large that rounding to whole ones does not show
		share := rapid.Float64Range(0.3, 0.7).Draw(t, "share")
		var s Series
		for i := range 6 {
			s.Counts = append(s.Counts, Count{Day: float64(7 * i), Size: math.Round(size * math.Exp(0.04*7*float64(i)))})
		}
		s.Changes = []Change{{Day: 35, Amount: -math.Round(share * s.Counts[5].Size), Kind: Trim}}
		width := func(step float64) float64 {
			s.Step = step
			d, err := FitStateSpace(s, 0.95)
			if err != nil {
				t.Fatal(err)
			}
			left, err := d.SizeOn(35, 0.95)
			if err != nil {
				t.Fatal(err)
			}
			return math.Log(left.High / left.Low)
		}
		if whole, guessed := width(1), width(0); whole > 0.99*guessed {
			t.Errorf("what a trim of whole plants leaves is known within a factor of e^%.4f, of a guessed amount e^%.4f", whole, guessed)
		}
	})
}
