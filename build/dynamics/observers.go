package dynamics

import (
	"maps"
	"math"
	"slices"
	"sort"
)

// observerSD is how far one person's counts lie from another's on the ln scale, and pairSD how far one count lies from what
// the count before lets expect (our choices).
const observerSD, pairSD = 0.15, 0.12

// unbiased is what was counted, less what each person counts too high or too low, where several people count. The truth is
// taken to lie in the middle of them. The biases are those of a mixed model (Henderson 1975, Biometrics 31:423–447) of the
// steps from one count to the next: ln W₂ − ln W₁ = r dt + b₂ − b₁, where r is free and each b is drawn toward nothing.
func (s Series) unbiased() []Count {
	out := slices.Clone(s.Counts)
	people := map[string]int{}
	for _, c := range out {
		if _, known := people[c.By]; !known {
			people[c.By] = 0
		}
	}
	if len(people) < 2 {
		return out
	}
	for i, p := range slices.Sorted(maps.Keys(people)) {
		people[p] = i + 1
	}
	bias, ok := s.biases(people)
	if !ok {
		return out
	}
	on := scale{s.Ceiling}
	for i, c := range out {
		if c.Size > 0 {
			out[i].Size = on.size(on.of(c.Size) - bias[people[c.By]])
		}
	}
	return out
}

// biases solves the normal equations: r first, then the bias of each person.
func (s Series) biases(people map[string]int) ([]float64, bool) {
	n := len(people) + 1
	xx, xy := make([][]float64, n), make([]float64, n)
	for i := range xx {
		xx[i] = make([]float64, n)
		xx[i][i] = pairSD * pairSD / (observerSD * observerSD)
	}
	xx[0][0] = 1e-9
	row, on := make([]float64, n), scale{s.Ceiling}
	for _, p := range s.pairs() {
		clear(row)
		row[0] = p[1].Day - p[0].Day
		row[people[p[1].By]]++
		row[people[p[0].By]]--
		y := on.of(p[1].Size) - on.of(p[0].Size)
		for i := range row {
			xy[i] += row[i] * y
			for j := range row {
				xx[i][j] += row[i] * row[j]
			}
		}
	}
	return xy, solve(xx, xy)
}

// solve turns b into the x of a·x = b; a is symmetric, and lost. False where it is not positive definite, the one kind that
// needs no search for pivots.
func solve(a [][]float64, b []float64) bool {
	for i := range b {
		if !(a[i][i] > 0) {
			return false
		}
		for j := i + 1; j < len(b); j++ {
			f := a[j][i] / a[i][i]
			for k := i; k < len(b); k++ {
				a[j][k] -= f * a[i][k]
			}
			b[j] -= f * b[i]
		}
	}
	for i := len(b) - 1; i >= 0; i-- {
		for j := i + 1; j < len(b); j++ {
			b[i] -= a[i][j] * b[j]
		}
		b[i] /= a[i][i]
	}
	return true
}

// pairs lists the counts that follow each other, with nothing cut or planted between them and no step beyond reason.
func (s Series) pairs() [][2]Count {
	counts := slices.DeleteFunc(slices.Clone(s.Counts), func(c Count) bool { return !(c.Size > 0) })
	sort.SliceStable(counts, func(i, j int) bool { return counts[i].Day < counts[j].Day })
	var out [][2]Count
	for i := 1; i < len(counts); i++ {
		a, b := counts[i-1], counts[i]
		cut := slices.ContainsFunc(s.Changes, func(c Change) bool { return a.Day <= c.Day && c.Day < b.Day })
		if !cut && math.Abs(math.Log(b.Size/a.Size)) < FastestRate*max(b.Day-a.Day, 2) {
			out = append(out, [2]Count{a, b})
		}
	}
	return out
}
