package reckon

import (
	"testing"

	"slipleaf/build/quantity"
)

// What watts alone tell of a lamp holds what the lumens on its box tell. Watts and lumens of usual lamps: from memory.
func TestWattsAloneHoldWhatTheBoxSays(t *testing.T) {
	for _, c := range []struct {
		kind          string
		watts, lumens float64
	}{{"", 20, 2000}, {"white led cri 90", 30, 2700}, {"t5", 39, 3100}, {"t5", 24, 1750}, {"t8", 36, 3350}, {"t8", 18, 1350}, {"incandescent", 60, 720}, {"incandescent", 40, 420},
		{"metal halide", 150, 12_500}, {"ceramic metal halide 4200 k", 70, 6600}, {"high-pressure sodium", 150, 16_000}, {"low-pressure sodium", 55, 8000}} {
		watts := Lamp{Kind: c.kind, Power: quantity.Of(quantity.Power(c.watts))}
		lumens := Lamp{Kind: c.kind, Output: quantity.Of(quantity.LuminousFlux(c.lumens))}
		by, err := watts.photons(new(Working))
		box, err2 := lumens.photons(new(Working))
		if err := FirstError(err, err2); err != nil {
			t.Fatal(err)
		}
		if box.Best < by.Low || box.Best > by.High {
			t.Errorf("%q of %v W makes %.0f to %.0f µmol/s, and by its %v lm %.0f", c.kind, c.watts, by.Low, by.High, c.lumens, box.Best)
		}
	}
}
