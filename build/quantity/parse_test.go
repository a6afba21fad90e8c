package quantity

import (
	"errors"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// parsed is what a text gives, by kind and unit: low and high in the unit as written.
type parsed struct {
	low, high float64
	unit      string
	below     bool
}

func parseAs[T Scalar](s string) (parsed, string, error) {
	r, err := Parse[T](s)
	return parsed{r.low, r.high, r.Unit(), r.below}, r.String(), err
}

func TestParse(t *testing.T) {
	for _, c := range []struct {
		text string
		as   func(string) (parsed, string, error)
		want parsed
		back string // as the journal writes it
	}{
		{"24.6 C", parseAs[Temperature], parsed{24.6, 24.6, "C", false}, "24.6 C"},
		{"78 °F", parseAs[Temperature], parsed{78, 78, "F", false}, "78 F"},
		{"78F", parseAs[Temperature], parsed{78, 78, "F", false}, "78 F"},
		{"78\u00a0°F", parseAs[Temperature], parsed{78, 78, "F", false}, "78 F"},
		{"78\u202f°F", parseAs[Temperature], parsed{78, 78, "F", false}, "78 F"},
		{"78\t°F", parseAs[Temperature], parsed{78, 78, "F", false}, "78 F"},
		{"  78   F  ", parseAs[Temperature], parsed{78, 78, "F", false}, "78 F"},
		{"22..26 C", parseAs[Temperature], parsed{22, 26, "C", false}, "22..26 C"},
		{"22..22 C", parseAs[Temperature], parsed{22, 22, "C", false}, "22 C"},
		{"-3..4 C", parseAs[Temperature], parsed{-3, 4, "C", false}, "-3..4 C"},
		{"−3 °C", parseAs[Temperature], parsed{-3, -3, "C", false}, "-3 C"},
		{"-0 C", parseAs[Temperature], parsed{0, 0, "C", false}, "0 C"},
		{"+5 C", parseAs[Temperature], parsed{5, 5, "C", false}, "5 C"},
		{".5 cm", parseAs[Length], parsed{0.5, 0.5, "cm", false}, "0.5 cm"},
		{"007 cm", parseAs[Length], parsed{7, 7, "cm", false}, "7 cm"},
		{"0.5..0.75 m", parseAs[Length], parsed{0.5, 0.75, "m", false}, "0.5..0.75 m"},
		{"<5 mg/L", parseAs[Concentration], parsed{5, 5, "mg/L", true}, "<5 mg/L"},
		{"< 0.05 mg/l", parseAs[Concentration], parsed{0.05, 0.05, "mg/L", true}, "<0.05 mg/L"},
		{"20 µg/L", parseAs[Concentration], parsed{20, 20, "ug/L", false}, "20 ug/L"},
		{"20 μg/l", parseAs[Concentration], parsed{20, 20, "ug/L", false}, "20 ug/L"},
		{"6 °dH", parseAs[Hardness], parsed{6, 6, "dGH", false}, "6 dGH"},
		{"12 °f", parseAs[Hardness], parsed{12, 12, "°f", false}, "12 °f"},
		{"107 mg/L", parseAs[Hardness], parsed{107, 107, "ppm", false}, "107 ppm"},
		{"4 °d", parseAs[Alkalinity], parsed{4, 4, "dKH", false}, "4 dKH"},
		{"310 µS/cm", parseAs[Conductivity], parsed{310, 310, "uS/cm", false}, "310 uS/cm"},
		{"25..200 µmol/m²/s", parseAs[PhotonFlux], parsed{25, 200, "umol/m2/s", false}, "25..200 umol/m2/s"},
		{"6.8", parseAs[PH], parsed{6.8, 6.8, "", false}, "6.8"},
		{"5.5..7.5", parseAs[PH], parsed{5.5, 7.5, "", false}, "5.5..7.5"},
		{"71", parseAs[PH], parsed{71, 71, "", false}, "71"}, // what is possible is for the journal to say
		{"35 %", parseAs[Share], parsed{35, 35, "%", false}, "35 %"},
		{"35%", parseAs[Share], parsed{35, 35, "%", false}, "35 %"},
		{"0.1234567890123 g", parseAs[Mass], parsed{0.1234567890123, 0.1234567890123, "g", false}, "0.1234567890123 g"},
		{"999999999999 mg", parseAs[Mass], parsed{999999999999, 999999999999, "mg", false}, "999999999999 mg"},
		{"2 wk", parseAs[Span], parsed{2, 2, "wk", false}, "2 wk"},
	} {
		got, back, err := c.as(c.text)
		if err != nil || got != c.want || back != c.back {
			t.Errorf("%q: got %+v, %q, %v", c.text, got, back, err)
		}
	}
}

func TestParseUnknown(t *testing.T) {
	for _, s := range []string{"unknown", "?", " ? "} {
		r, err := Parse[Mass](s)
		if err != nil || !r.Asked() || r.Known() || !r.Written() || r.String() != "unknown" {
			t.Errorf("%q: %+v, %v", s, r, err)
		}
	}
}

func failing[T Scalar](s string) error { _, err := Parse[T](s); return err }

func TestParseErrors(t *testing.T) {
	for _, c := range []struct {
		name, text string
		as         func(string) error
		offset     int
		message    string // a part of it
		hint       string
	}{
		{"the example of the format", "6 dG", failing[Hardness], 2,
			`unknown unit "dG"; hardness is written 6 dGH, 107 ppm or 1.07 mmol/L`, "6 dGH"},
		{"nothing", "  ", failing[Length], 0, "no value; length is written 1 cm, 10 mm or 0.01 m", ""},
		{"no unit", "24", failing[Temperature], 2, "24 has no unit; temperature is written 24 C, 75.2 F or 297 K", "24 C or 24 F"},
		{"a range without a unit", "22..26", failing[Temperature], 6, "22..26 has no unit", "22..26 C or 22..26 F"},
		{"a unit alone", "C", failing[Temperature], 0, `expected a number, found "C"`, ""},
		{"a decimal comma", "24,6 C", failing[Temperature], 0, "numbers have a decimal point and no comma", "24.6 C"},
		{"a decimal comma at the end of a range", "22..24,5 C", failing[Temperature], 4, "no comma", "22..24.5 C"},
		{"decimal commas at both ends", "22,5..24,5 C", failing[Temperature], 0, "no comma", "22.5..24.5 C"},
		{"thousands are not guessed", "1,000 L", failing[Volume], 0, "no comma", ""},
		{"a range backwards", "26..22 C", failing[Temperature], 4, "the range runs backwards: 22 is less than 26", "22..26 C"},
		{"three points", "22...26 C", failing[Temperature], 4, "a range is written 22..26", "22..26 C"},
		{"a range without an end", "22..C", failing[Temperature], 4, `two numbers with two points between: expected a number, found "C"`, ""},
		{"a range below a limit", "<5..7 mg/L", failing[Concentration], 2, "a range cannot also be below a limit", ""},
		{"two limits", "<<5 mg/L", failing[Concentration], 1, "expected a number", ""},
		{"a unit at both ends", "20 cm..55 cm", failing[Length], 3, `unknown unit "cm..55 cm"`, ""},
		{"a fraction", "1/2 in", failing[Length], 1, `unknown unit "/2 in"`, ""},
		{"an exponent", "1e5 C", failing[Temperature], 1, `unknown unit "e5 C"`, ""},
		{"too many digits", strings.Repeat("9", 400) + " g", failing[Mass], 0, "too large", ""},
		{"an absurd figure", "9999999999999 L", failing[Volume], 0, `the number "9999999999999" is too large`, ""},
		{"another kind", "6 dKH", failing[Hardness], 2, `"dKH" measures alkalinity; hardness is written`, ""},
		{"several other kinds", "5 mg/L", failing[Length], 2, `"mg/L" measures hardness or alkalinity or a concentration`, ""},
		{"French degrees are not Fahrenheit", "10 °F", failing[Hardness], 3, `"°F" measures temperature`, ""},
		{"a pH with its name", "6.7 pH", failing[PH], 4, `pH is a number without a unit, but "pH" follows it`, "6.7"},
		{"small letters", "24 c", failing[Temperature], 3, `unknown unit "c"`, "24 C"},
		{"small letters of a range", "22..26 c", failing[Temperature], 7, `unknown unit "c"`, "22..26 C"},
		{"a limit keeps its sign in the hint", "<5 MG/L", failing[Concentration], 3, `unknown unit "MG/L"`, "<5 mg/L"},
		{"spaces inside a unit", "5 mg / L", failing[Concentration], 2, `unknown unit "mg / L"`, "5 mg/L"},
		{"a word", "14 days", failing[Span], 3, `unknown unit "days"`, "14 d"},
		{"a sign of a phone", "24 ºC", failing[Temperature], 3, `unknown unit "ºC"`, "24 C"},
		{"one sign for both", "24 ℃", failing[Temperature], 3, `unknown unit "℃"`, "24 C"},
		{"inches by a quote", `5"`, failing[Length], 1, "unknown unit", "5 in"},
		{"a caret", "60 umol/m^2/s", failing[PhotonFlux], 3, "unknown unit", "60 umol/m2/s"},
		{"as CaCO3", "100 mg/L as CaCO3", failing[Hardness], 4, "unknown unit", "100 ppm"},
		{"a unit a thousand times as large is no hint", "5 g/L", failing[Concentration], 2, `unknown unit "g/L"`, ""},
		{"nor is a mole", "1 mol/L", failing[Hardness], 2, `unknown unit "mol/L"`, ""},
		{"nor carbonate hardness", "6 KH", failing[Hardness], 2, `unknown unit "KH"`, ""},
		{"a daily light sum is no rate", "8 mol/m2/d", failing[PhotonFlux], 2, "unknown unit", ""},
		{"space before counts", "  6 dG", failing[Hardness], 4, `unknown unit "dG"`, "6 dGH"},
		{"a capital", "Unknown", failing[Mass], 0, "expected a number", "unknown"},
		{"a long text is clipped", strings.Repeat("ab", 40), failing[Mass], 0, `found "abababababababababababababababababababa…"`, ""},
		{"control characters are not repeated", "\x1b[31m", failing[Mass], 0, `found " [31m"`, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			var e *ParseError
			if err := c.as(c.text); !errors.As(err, &e) {
				t.Fatalf("got %v", err)
			}
			if e.Offset != c.offset || !strings.Contains(e.Error(), c.message) || e.Hint != c.hint {
				t.Errorf("at %d: %s\n  hint: %q", e.Offset, e.Message, e.Hint)
			}
		})
	}
}

// checkHint checks that a hint mends the fault that it was given for: it reads well, or its first fault is another.
func checkHint[T Scalar](t *testing.T, text string, e *ParseError) {
	t.Helper()
	if e.Hint == "" {
		return
	}
	var again *ParseError
	if _, err := Parse[T](e.Hint); errors.As(err, &again) && firstWords(again.Message) == firstWords(e.Message) {
		t.Fatalf("%q: %s\nits hint %q: %s", text, e.Message, e.Hint, again.Message)
	}
}

func firstWords(s string) string { return strings.Join(strings.Fields(s)[:2], " ") }

// checkRoundTrip draws a reading and checks that what it writes reads back as the same.
func checkRoundTrip[T Scalar](t *rapid.T) {
	var zero T
	number := rapid.Float64Range(-1e9, 1e9)
	r := Reading[T]{anyReading{unit: find(zero.Kind(), rapid.SampledFrom(Units(zero.Kind())).Draw(t, "unit"))}}
	r.low = number.Draw(t, "number") + 0
	r.high = r.low
	switch rapid.IntRange(0, 2).Draw(t, "form") {
	case 1:
		r.high = max(r.low, number.Draw(t, "end")) + 0
	case 2:
		r.below = true
	}
	got, err := Parse[T](r.String())
	if err != nil || got != r {
		t.Fatalf("%q: %+v became %+v, %v", r.String(), r, got, err)
	}
	for _, s := range []string{r.Print(Metric), r.Print(US), r.PrintAsWritten()} {
		if s == "" || strings.Contains(s, "NaN") || strings.Contains(s, "Inf") || strings.Contains(s, "-") {
			t.Fatalf("%q prints %q", r.String(), s)
		}
	}
}

func TestParseOfStringIsTheReading(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		checkRoundTrip[Temperature](t)
		checkRoundTrip[Length](t)
		checkRoundTrip[Area](t)
		checkRoundTrip[Volume](t)
		checkRoundTrip[Mass](t)
		checkRoundTrip[Hardness](t)
		checkRoundTrip[Alkalinity](t)
		checkRoundTrip[Concentration](t)
		checkRoundTrip[Conductivity](t)
		checkRoundTrip[PhotonFlux](t)
		checkRoundTrip[Span](t)
		checkRoundTrip[Share](t)
		checkRoundTrip[Flow](t)
		checkRoundTrip[PH](t)
	})
}

// lawOf checks one kind: what is read prints to a text that reads back the same and has finite ends in order; what is
// refused is blamed inside the text.
func lawOf[T Scalar](t *testing.T, text string) {
	t.Helper()
	r, err := Parse[T](text)
	if err != nil {
		var e *ParseError
		if !errors.As(err, &e) || e.Message == "" || e.Offset < 0 || e.Offset > len(text) {
			t.Fatalf("%q: %#v", text, err)
		}
		if r != (Reading[T]{}) {
			t.Fatalf("%q: an error and %+v", text, r)
		}
		checkHint[T](t, text, e)
		return
	}
	again, err := Parse[T](r.String())
	if err != nil || again != r {
		t.Fatalf("%q: %+v, written %q, becomes %+v, %v", text, r, r.String(), again, err)
	}
	if lo, hi := float64(r.Low()), float64(r.High()); !finite(lo) || !finite(hi) || lo > hi {
		t.Fatalf("%q: from %v to %v", text, lo, hi)
	}
	for _, s := range []string{r.Print(Metric), r.Print(US), r.PrintAsWritten()} {
		if (s == "") == r.Known() || strings.Contains(s, "NaN") || strings.Contains(s, "Inf") {
			t.Fatalf("%q prints %q", text, s)
		}
	}
}

func FuzzParse(f *testing.F) {
	for _, s := range []string{"24.6 C", "78 °F", "22..26 C", "<5 mg/L", "6 dGH", "6 dG", "unknown", "?", "24,6 C", "1,000 L", "-0 C", "−3 C",
		"22...26 C", "26..22 C", "20 µg/L", "20 μg/l", "5 mg / L", "6.8", "35%", "1e309 g", "9999999999999 L", "0.0000000000000000000001 m",
		"..", "<", "<<", "5.", "5. C", ".", "-", "−", "\u00a0", "5\u00a0C", "1/2 in", "\xff C", "100 mg/L as CaCO3", "<2 K", "<-3 C"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		lawOf[Temperature](t, text)
		lawOf[Length](t, text)
		lawOf[Hardness](t, text)
		lawOf[Alkalinity](t, text)
		lawOf[Concentration](t, text)
		lawOf[Conductivity](t, text)
		lawOf[PhotonFlux](t, text)
		lawOf[Span](t, text)
		lawOf[Share](t, text)
		lawOf[PH](t, text)
	})
}
