package quantity

import "testing"

func taken[T Scalar](t *testing.T, rows map[string]string) {
	t.Helper()
	for text, want := range rows {
		_, as, err := Meant[T](text)
		if want == "?" && err == nil || want != "?" && (err != nil || as != want) {
			t.Errorf("%q was taken for %q, %v; not %q", text, as, err, want)
		}
	}
}

// What people write for a quantity is taken for its usual form; "" is in that form already, and ? is asked about.
func TestWhatIsWrittenForAQuantity(t *testing.T) {
	taken[Length](t, map[string]string{`30"`: "30 in", "12 inches": "12 in", "40,5 cm": "40.5 cm", "20-25 cm": "20..25 cm", "20 cm": "", "30": "?", "1,000 mm": "?"})
	taken[Area](t, map[string]string{"2 sq ft": "2 ft2", "2 square feet": "2 ft2", "30 square inches": "30 in2", "2": "?"})
	taken[Temperature](t, map[string]string{"76": "76 F", "24": "24 C", "24,5 degrees C": "24.5 C", "24.5 °C": "", "45": "?", "5": "?"})
	taken[Hardness](t, map[string]string{"5 German degrees": "5 dGH", "8 °dH": "", "8 °": "?", "8": "?"})
	taken[Alkalinity](t, map[string]string{"5 german degrees": "5 dKH", "5 °dH": "", "5 °": "?", "5": "?"})
	taken[Conductivity](t, map[string]string{"250 µS": "250 uS/cm", "250 us": "250 uS/cm", "250 mS": "?", "250": "250 uS/cm"})
	taken[Share](t, map[string]string{"50 percent": "50 %", "50": "50 %", "0.5": "?"})
	taken[LuminousFlux](t, map[string]string{"2400 lumen": "2400 lm", "2400": "2400 lm"})
}
