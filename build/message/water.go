package message

import (
	"cmp"
	"maps"
	"regexp"
	"strconv"
	"strings"
)

var (
	degreesOf   = pattern(number + upTo + `\s*(?:°|degrees?|deg|grad)?\s*(celsius|c|fahrenheit|f)\b`)
	degrees     = pattern(number + upTo + `\s*(?:°|degrees?\b|deg\b|grad\b)`)
	tempKey     = pattern(`\b(?:temp(?:erature?|eratur)?s?|heater (?:says|reads|is set to|set to)|heizer (?:steht|ist eingestellt) auf|wassertemperatur)\b[^0-9]{0,25}?` + number + upTo + `(?:\s*$|\s*[^0-9.%a-z])`)
	hardC       = pattern(`^h`)
	hardDegrees = pattern(`^\s*(?:d|f|e|kh|gh|german)`)
	notThat     = pattern(`\b(not|nicht|isn't|no longer)\s*$`)
)

// temperature reads degrees: with C or F they are said; without, the size tells which are meant.
func temperature(c clause, add func(key, value string, guess bool)) {
	low := strings.ReplaceAll(c.low, "°f h", "°fh")
	for _, k := range []struct {
		re, hardness *regexp.Regexp // the latter: behind the figure, of a hardness
		near         int            // so far before it the name of one is looked for
	}{{degreesOf(), hardC(), 12}, {degrees(), hardDegrees(), 25}, {tempKey(), nil, 25}} {
		taken := false
		for _, m := range k.re.FindAllStringSubmatchIndex(low, -1) {
			before := low[:m[0]]
			if k.hardness != nil && k.hardness.MatchString(low[m[1]:]) || hardnessNamed().MatchString(tail(before, k.near)) || notThat().MatchString(before) || partOfFigure(before) {
				continue
			}
			unit, guess := degreeUnit(group(low, m, 1)), true
			if k.re == degreesOf() {
				unit, guess = strings.ToUpper(low[m[6]:m[6]+1]), roughly().MatchString(before) || heaters().MatchString(before)
			}
			if value := span(group(low, m, 1), group(low, m, 2)); value != "" && unit != "" && (k.re == degreesOf() || !taken) {
				add("temperature", value+" "+unit, guess)
				taken = true
			}
		}
		if taken {
			return
		}
	}
}

// degreeUnit is the unit that bare degrees of a tank have: no tank is kept at 45 to 55 of either.
func degreeUnit(figure string) string {
	switch v, _ := strconv.ParseFloat(figure, 64); {
	case v >= 8 && v <= 36:
		return "C"
	case v >= 58 && v <= 95:
		return "F"
	}
	return ""
}

var phIs = pattern(`\bph(?:[- ]?(?:wert|value|level))?` + filler + number + upTo)

// filler are the words between a key and its figure.
const filler = `(?:\s|[:=~-]|is|are|of|at|around|about|roughly|approx\.?|circa|ca\.?|between|zwischen|liegt|ist|von|bei|etwa|rund|knapp|gut|just|under|over|below|unter|über|close|to|somewhere|mostly|strips?|tests?|says?|said|reads?|sits?|swings|has|gone|went|drops?|now|currently|jetzt|aktuell|nun|derzeit|like|say|müsste|auf|level|value|wert|it's|stays|steady|usually|so|um|die|hab|habe|ich)*?[\s:=~-]*`

// acidity reads pH, which has no unit.
func acidity(c clause, add func(key, value string, guess bool)) {
	for _, m := range phIs().FindAllStringSubmatchIndex(c.low, -1) {
		v, _ := strconv.ParseFloat(group(c.low, m, 1), 64)
		to := group(c.low, m, 2)
		if w, _ := strconv.ParseFloat(to, 64); w > 11 { // that of something else
			to = ""
		}
		if value := span(group(c.low, m, 1), to); value != "" && v >= 3 && v <= 11 {
			add("ph", value, roughly().MatchString(c.low[m[0]:m[2]]))
		}
	}
}

var (
	hardnessNamed = pattern(`\b(gh|kh|hardness|alkalinity|[a-zäöü]*härte)\b[^0-9]*$`)
	hardUnits     = `(°\s?dh|dgh|dkh|°\s?d|dh|°\s?fh|°\s?f\b|ppm|mg/l|mmol/l|meq/l)`
	ghIs          = pattern(`\b(?:general hardness|total hardness|gesamthärte|d?gh(?:-wert)?)` + filler + `(>|<|more than|over|above|under|below|less than|mehr als|über|unter|weniger als)?\s*` + number + upTo + `\s*` + hardUnits + `?`)
	khIs          = pattern(`\b(?:carbonate hardness|alkalinity|karbonathärte|carbonathärte|d?kh(?:-wert)?)` + filler + `(>|<|more than|over|above|under|below|less than|mehr als|über|unter|weniger als)?\s*` + number + upTo + `\s*` + hardUnits + `?`)
	hardIs        = pattern(`\b(?:the )?(?:hardness|wasserhärte|härte)\b` + filler + `()` + number + upTo + `\s*` + hardUnits + `?`)
	ownUnit       = pattern(`()` + number + upTo + `\s*(dgh|dkh)\b`)
	behindFigure  = pattern(`()` + number + upTo + `\s*(?:drops?|tropfen|degrees?|grad)?\s*` + hardUnits + `?\s*(?:of\s+)?(gh|kh|gesamthärte|karbonathärte|(?:general|total|carbonate) hardness)\s*(?:$|[.,;)&]|and\b|und\b)`)
	asChalk       = pattern(`()` + number + upTo + `\s*(ppm|mg/l)\s*(?:of |as )?(?:caco3|calcium carbonate)`)
	inDegrees     = pattern(`()` + number + upTo + `\s*(?:(?:°|degrees?|grad)?\s*(?:german|deutsche[rn]?)\b(?: degrees| grad)?|°?\s?dh\b)`)
	german        = pattern(`\b(german degrees|deutsche[rn]? (härte)?grad)\b`)
)

// hardness reads GH and KH. A bare figure is a guess: up to 30 in German degrees, from 40 on in ppm. What says itself which of
// the two it is comes first.
func hardness(c clause, add func(key, value string, guess bool)) {
	found := map[string]bool{}
	for _, k := range []struct {
		key     string // "": its figure's unit or name tells
		re      *regexp.Regexp
		unclear bool
	}{{"gh", ghIs(), false}, {"kh", khIs(), false}, {"gh", hardIs(), true}, {"", ownUnit(), false}, {"", behindFigure(), false}, {"gh", asChalk(), true}, {"gh", inDegrees(), true}} {
		before := maps.Clone(found)
		for _, m := range k.re.FindAllStringSubmatchIndex(c.low, -1) {
			key := k.key
			if last := group(c.low, m, len(m)/2-1); key == "" {
				key = map[bool]string{true: "kh", false: "gh"}[strings.HasPrefix(strings.TrimPrefix(last, "d"), "k") || last[0] == 'c']
			}
			named := k.re != hardIs() && before["kh"] || generalOrCarbonate().MatchString(c.low[:m[1]])
			if before[key] || k.unclear && named || partOfFigure(c.low[:m[0]]) && key != k.key {
				continue
			}
			found[key] = true
			addHardness(c, m, key, k.unclear, add)
		}
	}
}

var (
	generalOrCarbonate = pattern(`(general|total|carbonate|gesamt|karbonat|carbonat)[ -]?(hardness|härte)`)
	hardnessUnits      = map[string]string{"°dh": "°d", "dh": "°d", "°d": "°d", "°fh": "°f", "°f": "°f", "ppm": "ppm", "mg/l": "mg/L", "mmol/l": "mmol/L", "meq/l": "meq/L"}
)

func addHardness(c clause, m []int, key string, unclear bool, add func(key, value string, guess bool)) {
	bound, figure, to, said := group(c.low, m, 1), group(c.low, m, 2), group(c.low, m, 3), ""
	if len(m) > 8 {
		said = strings.ReplaceAll(group(c.low, m, 4), " ", "")
	}
	value := span(figure, to)
	if value == "" {
		return
	}
	guess := unclear || roughly().MatchString(c.low[m[0]:m[4]]) || roughly().MatchString(c.low[:m[0]])
	switch bound {
	case "<", "under", "below", "less than", "unter", "weniger als":
		value = "<" + value
	case "":
	default:
		value = ">" + value // the block takes none: at least so much is no reading
	}
	unit := cmp.Or(hardnessUnits[said], "d"+strings.ToUpper(key))
	if v, _ := strconv.ParseFloat(figure, 64); said == "" {
		guess = guess || !german().MatchString(c.sentence)
		switch {
		case v >= 40:
			unit = "ppm"
		case v > 30:
			return
		}
	}
	add(key, value+" "+unit, guess)
}

var (
	conducts   = pattern(number + `\s*([uµm]s)(?:/cm)?\b`)
	conductsOf = pattern(`\b(?:leitwert|leitfähigkeit|conductivity|ec)` + filler + `(\d{2,4})(?:$|[^\d.a-zäöüµ]*$)`)
)

func conductivity(c clause, add func(key, value string, guess bool)) {
	if m := conductsOf().FindStringSubmatch(c.low); m != nil {
		add("conductivity", m[1]+" µS/cm", true)
	}
	for _, m := range conducts().FindAllStringSubmatch(c.low, -1) {
		unit := map[string]string{"us": "uS/cm", "µs": "µS/cm", "ms": "mS/cm"}[m[2]]
		add("conductivity", m[1]+" "+unit, !strings.Contains(m[0], "/cm"))
	}
}

// group is the text of a group of a match by its indexes; "" where it took no part.
func group(s string, m []int, i int) string {
	if m[2*i] < 0 {
		return ""
	}
	return s[m[2*i]:m[2*i+1]]
}

var figureGoesOn = pattern(`(?:[a-zäöü]|(?:^|[\s(:])-)$`)

// tail is the last bytes of s.
func tail(s string, n int) string { return s[max(0, len(s)-n):] }

// partOfFigure reports whether a figure goes on from before: the 24 in 1.24, the 2 in CO2, the 5 in -5.
func partOfFigure(before string) bool {
	if figureGoesOn().MatchString(before) {
		return true
	}
	return before != "" && (before[len(before)-1] == '.' && len(before) > 1 && before[len(before)-2] >= '0' && before[len(before)-2] <= '9' || before[len(before)-1] >= '0' && before[len(before)-1] <= '9')
}
