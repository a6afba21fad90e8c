package doubt

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"slipleaf/build/quantity"
)

// A figure that planted tanks have is never asked about, in any unit; the same figure with the other unit behind it always
// is, beside the last reading, and what was meant is offered.
func TestAWrongUnitIsAskedAbout(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		wrongUnit[quantity.Temperature](t, "temperature", "C", "F", 18, 30)
		wrongUnit[quantity.Hardness](t, "gh", "dGH", "ppm", 3, 20)
		wrongUnit[quantity.Alkalinity](t, "kh", "dKH", "ppm", 3, 15)
		wrongUnit[quantity.Conductivity](t, "conductivity", "uS/cm", "mS/cm", 60, 1500)
	})
}

func wrongUnit[T quantity.Scalar](t *rapid.T, key, a, b string, low, high float64) {
	if rapid.Bool().Draw(t, key+" in "+b) {
		var v T
		_ = v
		x, _ := quantity.From[T](low, a)
		y, _ := quantity.From[T](high, a)
		low, _ = quantity.In(x, b)
		high, _ = quantity.In(y, b)
		a, b = b, a
	}
	n := math.Round(100*rapid.Float64Range(low, high).Draw(t, key)) / 100
	right, err := quantity.Parse[T](fmt.Sprint(n, " ", a))
	wrong, err2 := quantity.Parse[T](fmt.Sprint(n, " ", b))
	if err != nil || err2 != nil {
		t.Fatal(err, err2)
	}
	if why, _ := Of(key, right, quantity.Reading[T]{}, false); why != "" {
		t.Fatalf("%s %s: %s", key, right, why)
	}
	if why, _ := Of(key, right, right, false); why != "" {
		t.Fatalf("%s %s again: %s", key, right, why)
	}
	if why, hint := Of(key, wrong, right, false); why == "" || hint != "did you mean "+right.String()+"?" {
		t.Fatalf("%s %s after %s: %q, %q", key, wrong, right, why, hint)
	}
}
