package curve

import (
	"math"
	"regexp"
	"strconv"
	"testing"

	"pgregory.net/rapid"
)

var oneNumber = regexp.MustCompile(`-?(\d+(\.\d)?|\.\d)`)

// numbers reads the numbers of path data.
func numbers(t *rapid.T, s string) []float64 {
	var out []float64
	for _, word := range oneNumber.FindAllString(s, -1) {
		v, err := strconv.ParseFloat(word, 64)
		if err != nil {
			t.Fatalf("%q in %q: %v", word, s, err)
		}
		out = append(out, v)
	}
	return out
}

// Relative steps must not add up rounding: wherever the pen went, the sum of its steps is the rounded end.
func TestPenDoesNotDrift(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var p Path
		point := func() Pt {
			return Pt{rapid.Float64Range(-500, 500).Draw(t, "x"), rapid.Float64Range(-500, 500).Draw(t, "y")}
		}
		p.Move(point())
		var last Pt
		for range rapid.IntRange(1, 40).Draw(t, "steps") {
			last = point()
			p.Line(last)
			if rapid.Bool().Draw(t, "run") {
				last = point()
				p.Run([]Pt{point(), point(), point(), last})
			}
		}
		if got := penEnd(t, string(p.Data(nil))); math.Abs(got.X-last.X) > 0.0501 || math.Abs(got.Y-last.Y) > 0.0501 {
			t.Fatalf("the pen ends at %v instead of %v", got, last)
		}
	})
}

var pathCommand = regexp.MustCompile(`([mlqtcz])([^mlqtcz]*)`)

// penEnd follows relative path data by the grammar of SVG 2, chapter 9, and returns where it ends.
func penEnd(t *rapid.T, d string) Pt {
	at := Pt{}
	for _, m := range pathCommand.FindAllStringSubmatch(d, -1) {
		n := numbers(t, m[2])
		step := map[string]int{"m": 2, "l": 2, "t": 2, "q": 4, "c": 6}[m[1]]
		if step == 0 || len(n)%step != 0 {
			t.Fatalf("%q in %q", m[0], d)
		}
		for i := step; i <= len(n); i += step {
			at = Pt{at.X + n[i-2], at.Y + n[i-1]}
		}
	}
	return at
}

func TestNumbersAreShort(t *testing.T) {
	for v, want := range map[float64]string{0: "0", 0.5: ".5", -0.25: "-.2", 12: "12", -3.14: "-3.1", 100.06: "100.1", -0.01: "0"} {
		if got := Num(v); got != want {
			t.Errorf("Num(%g) = %q, want %q", v, got, want)
		}
	}
}
