package quantity

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// Conversions in these rows follow from the definitions in unit_test.go; what is rounded how is our own choice.
func TestPrint(t *testing.T) {
	for _, c := range []struct {
		text                string
		print               func(string) [3]string
		metric, us, written string
	}{
		{"24.6 C", printed[Temperature], "24.6 °C", "76 °F", "24.6 °C"},
		{"78 F", printed[Temperature], "25.6 °C", "78 °F", "78 °F"},
		{"-3.26 C", printed[Temperature], "−3.3 °C", "26 °F", "−3.3 °C"},
		{"-0.001 C", printed[Temperature], "−0.001 °C", "32 °F", "−0.001 °C"},
		{"22..26 C", printed[Temperature], "22–26 °C", "72–79 °F", "22–26 °C"},
		{"22.01..22.02 C", printed[Temperature], "22 °C", "72 °F", "22 °C"},
		{"31 cm", printed[Length], "31 cm", "12.2 in", "31 cm"},
		{"12 in", printed[Length], "30.5 cm", "12 in", "12 in"},
		{"2.5 m", printed[Length], "2.5 m", "98.4 in", "2.5 m"},
		{"6 dm2", printed[Area], "6 dm²", "93 in²", "6 dm²"},
		{"0.5 m2", printed[Area], "50 dm²", "5.38 ft²", "0.5 m²"},
		{"12 in2", printed[Area], "77 cm²", "12 in²", "12 in²"},
		{"2 m2", printed[Area], "2 m²", "21.5 ft²", "2 m²"},
		{"10 gal", printed[Volume], "37.9 L", "10 gal", "10 gal"},
		{"50 mL", printed[Volume], "50 mL", "50 mL", "50 mL"},
		{"4 impgal", printed[Volume], "18.2 L", "4.8 gal", "4 imp gal"},
		{"4 g", printed[Mass], "4 g", "4 g", "4 g"},
		{"0.004 g", printed[Mass], "4 mg", "4 mg", "0.004 g"},
		{"2 kg", printed[Mass], "2 kg", "4.4 lb", "2 kg"},
		{"107 ppm", printed[Hardness], "6 dGH", "6 dGH", "107 ppm"},
		{"4 dKH", printed[Alkalinity], "4 dKH", "4 dKH", "4 dKH"},
		{"<5 mg/L", printed[Concentration], "below 5 mg/L", "below 5 mg/L", "below 5 mg/L"},
		{"0.05 mg/L", printed[Concentration], "50 µg/L", "50 µg/L", "0.05 mg/L"},
		{"0 mg/L", printed[Concentration], "0 mg/L", "0 mg/L", "0 mg/L"},
		{"0.31 mS/cm", printed[Conductivity], "310 µS/cm", "310 µS/cm", "0.31 mS/cm"},
		{"25..200 umol/m2/s", printed[PhotonFlux], "25–200 µmol/m²/s", "25–200 µmol/m²/s", "25–200 µmol/m²/s"},
		{"90 min", printed[Span], "1.5 h", "1.5 h", "90 min"},
		{"20 min", printed[Span], "20 min", "20 min", "20 min"},
		{"2 wk", printed[Span], "14 d", "14 d", "2 wk"},
		{"33.333 %", printed[Share], "33%", "33%", "33%"},
		{"0.4 %", printed[Share], "0.4%", "0.4%", "0.4%"},
		{"400 L/h", printed[Flow], "400 L/h", "106 gal/h", "400 L/h"},
		{"6.75", printed[PH], "6.75", "6.75", "6.75"},
		{"5.5..7.5", printed[PH], "5.5–7.5", "5.5–7.5", "5.5–7.5"},
		{"unknown", printed[PH], "", "", ""},
	} {
		want := [3]string{c.metric, c.us, c.written}
		for i := range want { // figure and unit stay on one line
			if n := strings.LastIndex(want[i], " "); n > 0 {
				want[i] = want[i][:n] + nbsp + want[i][n+1:]
			}
			want[i] = strings.Replace(want[i], " imp"+nbsp, nbsp+"imp ", 1)
		}
		if got := c.print(c.text); got != want {
			t.Errorf("%q: got %q, want %q", c.text, got, want)
		}
	}
}

func printed[T Scalar](s string) [3]string {
	r, err := Parse[T](s)
	if err != nil {
		return [3]string{err.Error()}
	}
	return [3]string{r.Print(Metric), r.Print(US), r.PrintAsWritten()}
}

func TestOtherSystem(t *testing.T) {
	if Metric.Other() != US || US.Other() != Metric {
		t.Error("the systems are not each other's other")
	}
}

func TestNumber(t *testing.T) {
	for _, c := range []struct {
		f      float64
		places int
		want   string
	}{
		{1234567, 2, "1234567"}, {123.4, 2, "123"}, {12.345, 2, "12.3"}, {1.2345, 2, "1.23"}, {9.996, 2, "10"}, {99.96, 1, "100"},
		{0.004, 2, "0"}, {-0.004, 2, "0"}, {-1.5, 1, "−1.5"}, {100, 0, "100"}, {0, 3, "0"}, {math.Copysign(0, -1), 1, "0"},
		{math.NaN(), 1, "—"}, {math.Inf(1), 1, "—"}, {math.Inf(-1), 1, "—"},
	} {
		if got := Number(c.f, c.places); got != c.want {
			t.Errorf("Number(%v, %d) = %q, want %q", c.f, c.places, got, c.want)
		}
	}
}

func TestFormat(t *testing.T) {
	for _, c := range []struct{ got, want string }{
		{Format(Temperature(25), Metric), "25\u00a0°C"},
		{Format(Temperature(25), US), "77\u00a0°F"},
		{Format(Temperature(math.NaN()), US), "—"},
		{Format(Length(199.96), Metric), "200\u00a0cm"},
		{Format(Length(1e-17), Metric), "0\u00a0cm"}, // the noise of a sum
		{FormatIn(Hardness(1.07), "ppm", Metric), "107\u00a0ppm"},
		{FormatIn(Hardness(1), "dKH", Metric), Format(Hardness(1), Metric)},
		{FormatIn(Mass(0.004), "g", Metric), "0.004\u00a0g"}, // a dose never prints as none
		{FormatRange(Temperature(22), Temperature(26), US), "72–79\u00a0°F"},
		{FormatRange(Volume(0.2), Volume(20), Metric), "0.2–20\u00a0L"},
		{FormatRange(Length(5), Length(5), Metric), "5\u00a0cm"},
	} {
		if c.got != c.want {
			t.Errorf("got %q, want %q", c.got, c.want)
		}
	}
}

// Whatever is printed is finite, has a typographic minus and no ordinary space before its unit.
func TestPrintingNeverShowsNaN(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := rapid.Float64().Draw(t, "value")
		sys := System(rapid.IntRange(0, 1).Draw(t, "system"))
		for _, s := range []string{Format(Temperature(f), sys), Format(Length(f), sys), Format(Area(f), sys), Format(Volume(f), sys), Format(Mass(f), sys),
			Format(Hardness(f), sys), Format(Alkalinity(f), sys), Format(Concentration(f), sys), Format(Span(f), sys), Format(Share(f), sys),
			Format(Flow(f), sys), Format(PH(f), sys), FormatRange(Length(f), Length(f+1), sys), FormatIn(Volume(f), "impgal", sys)} {
			if s == "" || strings.Contains(s, "NaN") || strings.Contains(s, "Inf") || strings.HasPrefix(s, "-") || strings.Contains(s, " ") && !strings.Contains(s, "imp gal") {
				t.Fatalf("%v prints %q", f, s)
			}
		}
	})
}

func TestReadings(t *testing.T) {
	r := Between[Temperature](26, 22)
	if r.Low() != 22 || r.High() != 26 || r.Mid() != 24 || !r.IsRange() || r.Below() || !r.Known() || r.Asked() {
		t.Errorf("got %+v", r)
	}
	limit, err := Parse[Concentration]("<5 mg/L")
	if err != nil || limit.Low() != 0 || limit.High() != 5 || limit.Mid() != 2.5 || !limit.Below() || limit.IsRange() {
		t.Errorf("got %+v, %v", limit, err)
	}
	var none Reading[Mass]
	if none.Written() || none.Known() || none.String() != "" || none.Print(Metric) != "" || none.High() != 0 || none.Unit() != "" {
		t.Errorf("got %+v", none)
	}
	if Of(Mass(math.Inf(1))).Written() || Between(Mass(1), Mass(math.NaN())).Written() {
		t.Error("a reading was made of what is not finite")
	}
	if a, err := Parse[Length]("12 in"); err != nil || a.String() != "12 in" || a.High() != 12*Inch {
		t.Errorf("got %v, %v", a, err)
	}
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.Float64Range(-1e6, 1e6).Draw(t, "v")
		if got := float64(Of(Hardness(v)).High()); math.Abs(got-v) > 1e-9*max(1, math.Abs(v)) {
			t.Fatalf("%v came back as %v", v, got)
		}
	})
}

func TestMarshalJSON(t *testing.T) {
	for text, want := range map[string]string{
		"6.2 dGH": `{"value":6.2,"unit":"dGH"}`, "2..9 dGH": `{"value":5.5,"unit":"dGH","low":2,"high":9}`,
		"<5 ppm": `{"value":5,"unit":"ppm","below-limit":true}`, "unknown": "null",
	} {
		r, err := Parse[Hardness](text)
		if err != nil {
			t.Fatal(err)
		}
		if got, err := json.Marshal(r); err != nil || string(got) != want {
			t.Errorf("%q: %s, %v", text, got, err)
		}
	}
	if got, err := json.Marshal(Of(PH(6.8))); err != nil || string(got) != `{"value":6.8}` {
		t.Errorf("pH: %s, %v", got, err)
	}
	if _, err := json.Marshal(Of(Mass(math.MaxFloat64))); err != nil {
		t.Errorf("the largest number: %v", err)
	}
}
