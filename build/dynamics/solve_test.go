package dynamics

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"
)

// near holds to one part in a million where the matrix is not nearly singular.
func near(a, b float64) bool { return math.Abs(a-b) <= 1e-6*max(math.Abs(a), math.Abs(b), 1e-9) }

// The variances of an arrow are those of the whole matrix, and both call the same ones hopeless.
func TestVariancesAreThoseOfTheWholeMatrix(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		segments := rapid.IntRange(1, 6).Draw(t, "segments")
		a, whole := newArrow(segments), mat.NewSymDense(2+segments, nil)
		x := rapid.Float64Range(-3, 3)
		for i := range segments {
			for range rapid.IntRange(0, 5).Draw(t, "points") {
				d := [3]float64{x.Draw(t, "K"), x.Draw(t, "r"), x.Draw(t, "middle")}
				a.add(i, d, 1)
				row := make([]float64, 2+segments)
				row[0], row[1], row[2+i] = d[0], d[1], d[2]
				whole.SymRankOne(whole, 1, mat.NewVecDense(len(row), row))
			}
		}
		got, ok := a.variances()
		var chol mat.Cholesky
		if !chol.Factorize(whole) {
			if ok {
				t.Fatal("the whole matrix is not positive definite")
			}
			return
		}
		switch cond := chol.Cond(); {
		case ok && cond > 1e16, !ok && cond < 1e12:
			t.Fatalf("%v, where the condition is %g", ok, cond)
		case cond > 1e8: // the figures are rounded off
			return
		}
		var inverse mat.SymDense
		if err := chol.InverseTo(&inverse); err != nil {
			t.Fatal(err)
		}
		for i, v := range got {
			if !near(v, inverse.At(i, i)) {
				t.Fatalf("variance %d is %g, not %g", i, v, inverse.At(i, i))
			}
		}
	})
}

// What is solved gives the right side again; what is not positive definite is refused.
func TestSolvedEquationsHold(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 7).Draw(t, "n")
		x := rapid.Float64Range(-2, 2)
		a, b := make([][]float64, n), make([]float64, n)
		for i := range a {
			a[i] = make([]float64, n)
			a[i][i] = 0.1
			b[i] = x.Draw(t, "b")
		}
		for range rapid.IntRange(0, 9).Draw(t, "rows") {
			row := make([]float64, n)
			for i := range row {
				row[i] = x.Draw(t, "x")
			}
			for i := range row {
				for j := range row {
					a[i][j] += row[i] * row[j]
				}
			}
		}
		was, right := make([][]float64, n), append([]float64(nil), b...)
		for i := range a {
			was[i] = append([]float64(nil), a[i]...)
		}
		if !solve(a, b) {
			t.Fatal("a positive definite matrix is refused")
		}
		for i := range was {
			sum := 0.0
			for j := range was {
				sum += was[i][j] * b[j]
			}
			if math.Abs(sum-right[i]) > 1e-9 {
				t.Fatalf("row %d gives %g, not %g", i, sum, right[i])
			}
		}
	})
	if solve([][]float64{{1, 2}, {2, 1}}, []float64{1, 1}) || solve([][]float64{{0}}, []float64{1}) || solve([][]float64{{math.NaN()}}, []float64{1}) {
		t.Error("a matrix that is not positive definite is solved")
	}
}
