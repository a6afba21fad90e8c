package quantity

import (
	"slices"
	"strings"

	"slipleaf/build/spelling"
)

// unitWords are the words and signs that people write instead of a unit's spelling, in lower case without spaces.
var unitWords = map[string]string{
	"celsius": "C", "degc": "C", "degreesc": "C", "degreescelsius": "C", "℃": "C", "ºc": "C", "˚c": "C", "°c": "C",
	"fahrenheit": "F", "degf": "F", "degreesf": "F", "degreesfahrenheit": "F", "℉": "F", "ºf": "F", "˚f": "F", "°f": "F",
	"kelvin": "K",
	"inch":   "in", "inches": "in", "\"": "in", "″": "in", "foot": "ft", "feet": "ft", "'": "ft", "′": "ft",
	"sqin": "in2", "sqft": "ft2", "squareinch": "in2", "squareinches": "in2", "squarefoot": "ft2", "squarefeet": "ft2", "sqcm": "cm2", "cm^2": "cm2", "dm^2": "dm2", "m^2": "m2",
	"litre": "L", "litres": "L", "liter": "L", "liters": "L", "gallon": "gal", "gallons": "gal", "impgallons": "impgal",
	"gram": "g", "grams": "g", "ounce": "oz", "ounces": "oz", "pound": "lb", "pounds": "lb", "lbs": "lb",
	"mg/lascaco3": "ppm", "ppmcaco3": "ppm", "ppmascaco3": "ppm", "mg/lcaco3": "ppm",
	"f": "°f", "fh": "°f", "°tf": "°f", "frenchdegrees": "°f", "clark": "°e", "°clark": "°e", "clarkdegrees": "°e",
	"germandegrees": "°d", "us": "uS/cm", "µs": "uS/cm", "μs": "uS/cm", "microsiemens": "uS/cm",
	"watt": "W", "watts": "W", "lumen": "lm", "lumens": "lm", "umol/m^2/s": "umol/m2/s",
	"par": "umol/m2/s", "ppfd": "umol/m2/s", "umol": "umol/m2/s", "µmol": "umol/m2/s", "μmol": "umol/m2/s",
	"minute": "min", "minutes": "min", "mins": "min", "hour": "h", "hours": "h", "hr": "h", "hrs": "h",
	"day": "d", "days": "d", "week": "wk", "weeks": "wk", "wks": "wk", "percent": "%", "lph": "L/h", "gph": "gal/h",
}

// otherUnits look like units of the format but measure another size or another thing, so that a hint would mislead
// by a factor.
var otherUnits = []string{"g/l", "g/ml", "mg/ml", "ug/ml", "ng/l", "mol/l", "umol/l", "gpg", "kh", "gh", "mol/m2/s",
	"mol/m2/d", "ms", "s", "month", "months", "mo", "t", "km", "um", "ul", "cl", "dl", "m3", "l/min", "l/m", "kw", "mw"}

// near gives the unit of k that somebody most probably meant by s, or "" when that would be a guess.
func near(k Kind, s string) string {
	bare := strings.Map(func(r rune) rune {
		if strings.ContainsRune(spaces, r) {
			return -1
		}
		return r
	}, s)
	if w := wordFor(k, bare); w != "" {
		return w
	}
	low := strings.ToLower(bare)
	switch {
	case low == "°" && find(k, "°d") != 0: // German ones, most often
		return "°d"
	case slices.Contains(otherUnits, low):
		return ""
	}
	return closest(k, low)
}

// closest gives the unit of k spelt most like low: one letter off for a short unit, two for a long one.
func closest(k Kind, low string) string {
	best, at := 3, ""
	for _, u := range units[1:] {
		if u.kind != k {
			continue
		}
		allowed := 2
		if len(u.name) < 6 {
			allowed = 1
		}
		d := spelling.Edits(low, strings.ToLower(u.name))
		if d < best && d <= allowed && d < len(u.name) {
			best, at = d, u.name
		}
	}
	return at
}
