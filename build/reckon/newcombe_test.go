package reckon

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// The difference of two shares against the worked examples of Newcombe 1998, Stat. Med. 17:873–890, Table II, method 10 (from
// memory, to the four decimals printed there).
func TestNewcombe(t *testing.T) {
	for _, c := range []struct {
		a, b      Tally
		low, high float64
	}{
		{Tally{56, 70}, Tally{48, 80}, 0.0524, 0.3339},
		{Tally{9, 10}, Tally{3, 10}, 0.1705, 0.8090},
		{Tally{6, 7}, Tally{2, 7}, 0.0582, 0.8062},
		{Tally{5, 56}, Tally{0, 29}, -0.0381, 0.1926},
		{Tally{0, 10}, Tally{0, 20}, -0.1611, 0.2775},
		{Tally{10, 10}, Tally{0, 20}, 0.6791, 1},
	} {
		got, err := Newcombe(c.a, c.b, 1, 0.95)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(got.Low-c.low) > 0.5e-4 || math.Abs(got.High-c.high) > 0.5e-4 {
			t.Errorf("%v and %v: %.4f to %.4f, want %.4f to %.4f", c.a, c.b, got.Low, got.High, c.low, c.high)
		}
	}
}

// The other way round it is the same with the other sign; it holds its value, stays between −1 and 1, and is wider where more is
// asked of it.
func TestNewcombeLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, m := rapid.IntRange(1, 400).Draw(t, "n"), rapid.IntRange(1, 400).Draw(t, "m")
		a, b := Tally{rapid.IntRange(0, n).Draw(t, "a"), n}, Tally{rapid.IntRange(0, m).Draw(t, "b"), m}
		d, err := Newcombe(a, b, 1, 0.95)
		if err != nil {
			t.Fatal(err)
		}
		back, _ := Newcombe(b, a, 1, 0.95)
		wide, _ := Newcombe(a, b, 1, 0.99)
		const tiny = 1e-12
		if math.Abs(d.Low+back.High) > tiny || math.Abs(d.High+back.Low) > tiny || d.Low > d.Value || d.High < d.Value || d.Low < -1-tiny || d.High > 1+tiny || wide.Low > d.Low+tiny || wide.High < d.High-tiny {
			t.Fatalf("%v, %v: %+v, back %+v, at 99 %% %+v", a, b, d, back, wide)
		}
	})
	if _, err := Newcombe(Tally{0, 0}, Tally{1, 2}, 1, 0.95); err == nil {
		t.Error("the share of none was taken")
	}
}
