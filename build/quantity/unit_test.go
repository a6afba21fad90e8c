package quantity

import (
	"encoding/csv"
	"math"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// hardnessIn names the units of the reference rows in the spelling of the format.
var hardnessIn = map[string]string{
	"dGH": "dGH", "mmolL": "mmol/L", "mmol/L": "mmol/L", "mgL_CaCO3": "mg/L", "mg/L CaCO3": "mg/L", "clark": "°e",
	"degree Clark": "°e", "degree fH": "°f",
}

func TestHardnessUnitsAgainstReferenceRows(t *testing.T) {
	f, err := os.Open("../../testdata/reference/water_units.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	records, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range records[1:] {
		t.Run(r[0], func(t *testing.T) {
			unit, text, _ := strings.Cut(r[2], "=")
			number, err := strconv.ParseFloat(text, 64)
			if err != nil {
				t.Fatal(err)
			}
			want, err1 := strconv.ParseFloat(r[3], 64)
			tolerance, err2 := strconv.ParseFloat(r[5], 64)
			if err1 != nil || err2 != nil {
				t.Fatal(err1, err2)
			}
			var got float64
			var ok bool
			if unit == "dKH" {
				a, known := From[Alkalinity](number, unit)
				got, ok = In(a, r[4])
				ok = ok && known
			} else {
				h, known := From[Hardness](number, hardnessIn[unit])
				got, ok = In(h, hardnessIn[r[4]])
				ok = ok && known
			}
			if !ok || math.Abs(got-want) > tolerance {
				t.Errorf("%s %s = %v %s, want %v ± %v (%s)", text, unit, got, r[4], want, tolerance, r[6])
			}
		})
	}
}

// one converts 1 (or the given number) of a unit to the base unit of its kind.
func toBase[T Scalar](number float64, unit string) (float64, bool) {
	v, ok := From[T](number, unit)
	return float64(v), ok
}

func TestUnitsByDefinition(t *testing.T) {
	for _, c := range []struct {
		source string
		unit   string
		number float64
		of     func(float64, string) (float64, bool)
		want   float64
	}{
		{"definition of the Celsius scale", "K", 273.15, toBase[Temperature], 0},
		{"definition of the Fahrenheit scale", "F", 32, toBase[Temperature], 0},
		{"definition of the Fahrenheit scale", "F", 212, toBase[Temperature], 100},
		{"both scales meet", "°F", -40, toBase[Temperature], -40},
		{"SI", "mm", 1, toBase[Length], 0.1},
		{"SI", "m", 1, toBase[Length], 100},
		{"inch of 1959, exact (NIST SP 811, from memory)", "in", 1, toBase[Length], 2.54},
		{"foot, exact", "ft", 1, toBase[Length], 12 * 2.54},
		{"SI", "cm2", 100, toBase[Area], 1},
		{"SI", "m²", 1, toBase[Area], 100},
		{"square of the inch", "in2", 1, toBase[Area], 2.54 * 2.54 / 100},
		{"square of the foot", "ft²", 1, toBase[Area], 30.48 * 30.48 / 100},
		{"SI", "mL", 1, toBase[Volume], 0.001},
		{"231 cubic inches, exact (NIST SP 811, from memory)", "gal", 1, toBase[Volume], 231 * 2.54 * 2.54 * 2.54 / 1000},
		{"imperial gallon, exact (from memory)", "impgal", 1, toBase[Volume], 4.54609},
		{"SI", "mg", 1, toBase[Mass], 0.001},
		{"SI", "kg", 1, toBase[Mass], 1000},
		{"pound, exact (NIST SP 811, from memory)", "lb", 1, toBase[Mass], 453.59237},
		{"a pound is 16 ounces and 7000 grains", "oz", 1, toBase[Mass], 7000.0 / 16 * 0.06479891},
		{"1 kg of water holds 10⁶ mg", "ppm", 1, toBase[Concentration], 1},
		{"SI", "ug/L", 1000, toBase[Concentration], 1},
		{"SI", "mS/cm", 1, toBase[Conductivity], 1000},
		{"an hour has 60 minutes", "min", 1440, toBase[Span], 1},
		{"a day has 24 hours", "h", 24, toBase[Span], 1},
		{"a week has 7 days", "wk", 1, toBase[Span], 7},
		{"per cent", "%", 100, toBase[Share], 1},
		{"US gallon", "gal/h", 1, toBase[Flow], 3.785411784},
		{"base", "meq/L", 1, toBase[Alkalinity], 1},
		{"acid capacity counts H⁺ (ISO 9963-1, from memory)", "mmol/L", 1, toBase[Alkalinity], 1},
		{"2 meq of acid per mmol of CaCO3", "ppm", 100.086, toBase[Alkalinity], 2},
		{"the same spelling as hardness", "°d", 1, toBase[Hardness], float64(DGH)},
		{"the same spelling as alkalinity", "°d", 1, toBase[Alkalinity], float64(DKH)},
	} {
		got, ok := c.of(c.number, c.unit)
		if !ok || math.Abs(got-c.want) > 1e-12*max(1, math.Abs(c.want)) {
			t.Errorf("%v %s: got %v, want %v (%s)", c.number, c.unit, got, c.want, c.source)
		}
	}
	if got := Hardness(2).DGH(); math.Abs(got-2*5.6077) > 2e-4 { // row U12
		t.Errorf("2 mmol/L = %v dGH", got)
	}
	if got := Alkalinity(0.356652).DKH(); math.Abs(got-1) > 1e-5 { // row U03
		t.Errorf("0.356652 meq/L = %v dKH", got)
	}
	if got := Temperature(25).Fahrenheit(); got != 77 {
		t.Errorf("25 °C = %v °F", got)
	}
}

// formatUnits is the table of the journal format: every spelling must be read, and no kind may have more.
var formatUnits = map[Kind][]string{
	TemperatureKind:   {"C", "°C", "F", "°F", "K"},
	LengthKind:        {"mm", "cm", "m", "in", "ft"},
	AreaKind:          {"cm2", "dm2", "m2", "in2", "ft2", "cm²", "dm²", "m²", "in²", "ft²"},
	VolumeKind:        {"mL", "L", "gal", "impgal"},
	MassKind:          {"mg", "g", "kg", "oz", "lb"},
	HardnessKind:      {"dGH", "°d", "ppm", "mg/L", "mmol/L", "°f", "°e", "meq/L", "gr/gal"},
	AlkalinityKind:    {"dKH", "°d", "ppm", "mg/L", "meq/L", "mmol/L", "°f", "°e"},
	ConcentrationKind: {"mg/L", "ppm", "ug/L"},
	ConductivityKind:  {"uS/cm", "µS/cm", "mS/cm"},
	PhotonFluxKind:    {"umol/m2/s"},
	IlluminanceKind:   {"lux"},
	PowerKind:         {"W"},
	EfficacyKind:      {"umol/J"},
	LuminousFluxKind:  {"lm"},
	SpanKind:          {"min", "h", "d", "wk"},
	ShareKind:         {"%"},
	FlowKind:          {"L/h", "gal/h"},
	PHKind:            {""},
}

func TestUnitsOfTheFormat(t *testing.T) {
	for k := TemperatureKind; k <= PHKind; k++ {
		for _, s := range formatUnits[k] {
			if find(k, s) == 0 {
				t.Errorf("%v has no unit %q", k, s)
			}
		}
		for _, u := range Units(k) {
			if !slices.Contains(formatUnits[k], u) {
				t.Errorf("%v has a unit %q that the format does not name", k, u)
			}
		}
		if len(formatUnits[k]) == 0 || strings.HasPrefix(k.String(), "unknown") {
			t.Errorf("kind %d is not of the format", k)
		}
	}
	if Kind(200).String() != "unknown kind" || len(Units(kindNone)) != 0 {
		t.Error("a kind that is none has a name or units")
	}
}

// The micro sign U+00B5 and the Greek mu U+03BC look alike: a keyboard gives either.
func TestBothMus(t *testing.T) {
	for _, u := range units[1:] {
		for _, s := range append([]string{u.name}, u.also...) {
			for _, other := range []string{strings.ReplaceAll(s, "µ", "μ"), strings.ReplaceAll(s, "μ", "µ")} {
				if find(u.kind, other) == 0 {
					t.Errorf("%v has %q, but not %q", u.kind, s, other)
				}
			}
		}
	}
}

// checkConversion checks for a kind that every unit inverts: number → base → number, and base → number → base.
func checkConversion[T Scalar](t *rapid.T) {
	var zero T
	unit := rapid.SampledFrom(Units(zero.Kind())).Draw(t, "unit")
	n := rapid.Float64Range(-1e6, 1e6).Draw(t, "number")
	v, ok := From[T](n, unit)
	back, ok2 := In(v, unit)
	if !ok || !ok2 || math.Abs(back-n) > 1e-9*max(300, math.Abs(n)) { // 300: kelvins are shifted by 273
		t.Fatalf("%v %s became %v, then %v", n, unit, float64(v), back)
	}
	if w, _ := From[T](back, unit); math.Abs(float64(w-v)) > 1e-9*max(300, math.Abs(float64(v))) {
		t.Fatalf("%v came back as %v", float64(v), float64(w))
	}
}

func TestConversionInverts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		checkConversion[Temperature](t)
		checkConversion[Length](t)
		checkConversion[Area](t)
		checkConversion[Volume](t)
		checkConversion[Mass](t)
		checkConversion[Hardness](t)
		checkConversion[Alkalinity](t)
		checkConversion[Concentration](t)
		checkConversion[Conductivity](t)
		checkConversion[PhotonFlux](t)
		checkConversion[Illuminance](t)
		checkConversion[Power](t)
		checkConversion[Efficacy](t)
		checkConversion[LuminousFlux](t)
		checkConversion[Span](t)
		checkConversion[Share](t)
		checkConversion[Flow](t)
		checkConversion[PH](t)
	})
}

func TestConversionRefusesForeignUnits(t *testing.T) {
	if _, ok := In(Hardness(1), "dKH"); ok {
		t.Error("a hardness was given in dKH")
	}
	if _, ok := From[Alkalinity](1, "dGH"); ok {
		t.Error("an alkalinity was made of dGH")
	}
}

// Whatever unit is printed can be read again, as the same unit: a reader copies a figure from a page into a diary.
func TestPrintedUnitsAreRead(t *testing.T) {
	for i, u := range units[1:] {
		if u.kind == PHKind {
			continue
		}
		at := uint8(i + 1)
		for _, text := range []string{u.print, u.name} {
			if got := find(u.kind, text); got != at {
				t.Errorf("%s is printed as %q, which is read as unit %d", u.name, text, got)
			}
		}
		for _, f := range []float64{0.5, 7, 14.3, 1200} {
			printed := printedIn(u.value(f), u.value(f), at).String()
			if unit := strings.TrimLeft(printed, "0123456789., \u00a0\u202f"); find(u.kind, unit) != at {
				t.Errorf("%q is not read", printed)
			}
		}
	}
}
