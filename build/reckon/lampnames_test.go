package reckon

import "testing"

// A lamp is known by the short names that its box has.
func TestLampsByTheirShortNames(t *testing.T) {
	for said, want := range map[string]string{"RGB": "rgb led", "RGB LED bar": "rgb led", "T5": "t5", "T5 tube": "t5", "T8 tubes": "t8", "LED": "white led", "white": "white led", "red-blue": "red-blue led", "": "white led"} {
		if k, err := kindNamed(said); err != nil || k.name != want {
			t.Errorf("%q is %q (%v), want %q", said, k.name, err, want)
		}
	}
	for _, said := range []string{"candle", "white-ish", "plasma tube"} {
		if k, err := kindNamed(said); err == nil {
			t.Errorf("%q is taken for %q", said, k.name)
		}
	}
}
