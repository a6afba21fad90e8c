package quantity

import (
	"regexp"
	"strings"
)

// Meant reads what people write for a quantity: what [Parse] takes, and what is plainly meant where nobody could mean
// anything else: another word for a unit, a decimal comma, a range with a dash, a bare number with only one unit that makes
// sense. as is the text that [Parse] reads as the same; "" where it is the text itself. Errors are those of [Parse].
func Meant[T Scalar](text string) (r Reading[T], as string, err error) {
	r, err = Parse[T](text)
	if err == nil {
		return r, "", nil
	}
	var v T
	said := meant(v.Kind(), strings.TrimSpace(text))
	again, failed := Parse[T](said)
	if failed != nil {
		return r, "", err
	}
	return again, again.String(), nil
}

var (
	// dashRange is two numbers with a dash or "to" between; a dash before the first is its sign.
	dashRange = regexp.MustCompile(`^([0-9.]+)\s*(?:-|–|—|−|to|\.\.\.|…)\s*([0-9.]+)(.*)$`)
	numbersAt = regexp.MustCompile(`^<?\s*[-+−]?[0-9.]+(?:\.\.[-+−]?[0-9.]+)?`)
	// anyComma parts thousands, or decimals: of three digits it may be either.
	anyComma = regexp.MustCompile(`([0-9]),([0-9]+)`)
	// meterSays is how a meter of light names its figure before it.
	meterSays = regexp.MustCompile(`^(?i:par|ppfd)\s*[:=]?\s*([0-9].*)$`)
)

// meant is a text with its comma, range and unit as the format writes them, as far as that is no guess.
func meant(k Kind, s string) string {
	if strings.EqualFold(s, "unknown") {
		return "unknown"
	}
	s = strings.ReplaceAll(strings.ReplaceAll(s, "\u00a0", " "), "\u202f", " ")
	s = points(s)
	light := k == PhotonFluxKind && meterSays.MatchString(s)
	if light {
		s = meterSays.ReplaceAllString(s, "$1")
	}
	if m := dashRange.FindStringSubmatch(s); m != nil {
		s = m[1] + ".." + m[2] + m[3]
	}
	at := len(numbersAt.FindString(s))
	if at == 0 {
		return s
	}
	number, unit := s[:at], strings.TrimSpace(s[at:])
	switch {
	case k == PHKind && strings.EqualFold(unit, "ph"):
		return number
	case unit == "" && light:
		unit = units[base(k)].name
	case unit == "":
		unit = soleUnit(k, number)
	case find(k, unit) == 0:
		unit = wordFor(k, unit)
	}
	if unit == "" {
		return s
	}
	return number + " " + unit
}

// points writes decimal commas as points, but not one that may part thousands: 1,000 is not 1.
func points(s string) string {
	for _, m := range anyComma.FindAllStringSubmatch(s, -1) {
		if len(m[2]) == 3 {
			return s
		}
	}
	return anyComma.ReplaceAllString(s, "$1.$2")
}

// wordFor is the unit of k that a word or another capital stands for; "" for none or several.
func wordFor(k Kind, s string) string {
	bare := strings.ReplaceAll(s, " ", "")
	if i := find(k, bare); i != 0 {
		return units[i].name
	}
	low := strings.TrimSuffix(strings.ToLower(bare), ".")
	if w := unitWords[low]; w != "" && find(k, w) != 0 {
		return w
	}
	if strings.Contains(low, "°") { // °f is a degree of hardness, °F one of temperature
		return ""
	}
	found := ""
	for _, u := range units[1:] {
		if u.kind == k && strings.EqualFold(u.name, bare) {
			if found != "" {
				return ""
			}
			found = u.name
		}
	}
	return found
}

// sensible are the figures that a bare number can be of in a tank or at its lamp, by unit. Common practice: water that
// plants grow in has 10 to 38 °C, fresh water some tens to some thousands of µS/cm. Where two rows fit, or none, the unit
// is asked for; lengths, volumes and hardness have two units in use for every figure, and no row.
var sensible = []struct {
	kind      Kind
	unit      string
	low, high float64
}{
	{TemperatureKind, "C", 10, 38}, {TemperatureKind, "F", 50, 100},
	{ShareKind, "%", 1, 100},
	{PowerKind, "W", 1, 1000}, {LuminousFluxKind, "lm", 50, 100_000}, {EfficacyKind, "umol/J", 0.5, 4},
	{PhotonFluxKind, "umol/m2/s", 1, 1500}, {IlluminanceKind, "lux", 50, 100_000},
	{ConductivityKind, "uS/cm", 20, 5000}, {ConductivityKind, "mS/cm", 0.02, 5},
}

// soleUnit is the only unit in which a bare number, or both ends of a range, is a sensible figure.
func soleUnit(k Kind, number string) string {
	p := parser{kind: k, text: number, rest: number}
	if p.numbers() != nil {
		return ""
	}
	found := ""
	for _, row := range sensible {
		if row.kind == k && row.low <= p.low && p.high <= row.high {
			if found != "" {
				return ""
			}
			found = row.unit
		}
	}
	return found
}

// unitsToAsk are the two units that a bare number is usually in, for asking which.
var unitsToAsk = map[Kind][2]string{
	TemperatureKind: {"C", "F"}, LengthKind: {"cm", "in"}, VolumeKind: {"L", "gal"}, AreaKind: {"cm2", "in2"}, HardnessKind: {"dGH", "ppm"},
	AlkalinityKind: {"dKH", "ppm"}, ConcentrationKind: {"mg/L", "ug/L"}, SpanKind: {"d", "wk"}, MassKind: {"g", "oz"}, FlowKind: {"L/h", "gal/h"},
	ConductivityKind: {"uS/cm", "mS/cm"},
}

// asked is the question for the unit of a bare number, as a hint.
func asked(k Kind, number string) string {
	u, ok := unitsToAsk[k]
	if !ok {
		return ""
	}
	return number + " " + u[0] + " or " + number + " " + u[1]
}

// Otherwise gives what a reading may be meant as if its unit is wrong or its decimal point is lost: the same figures in the
// units that a bare number is usually in, or a tenth of a pH.
func Otherwise[T Scalar](r Reading[T]) []Reading[T] {
	var v T
	var out []Reading[T]
	if v.Kind() == PHKind && r.unit != 0 {
		out = append(out, Reading[T]{anyReading{low: r.low / 10, high: r.high / 10, unit: r.unit, below: r.below}})
	}
	for _, name := range unitsToAsk[v.Kind()] {
		if i := find(v.Kind(), name); i != 0 && i != r.unit && r.unit != 0 {
			out = append(out, Reading[T]{anyReading{low: r.low, high: r.high, unit: i, below: r.below}})
		}
	}
	return out
}
