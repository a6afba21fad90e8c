package message

import (
	"regexp"
	"strconv"
	"strings"
)

const lengthUnits = `(cm|centimet(?:re|er)s?|mm|m\b|inch(?:es)?|in\b|"|''|″|ft|feet|foot|zoll|zentimeter)?`

var (
	byBy     = regexp.MustCompile(number + `\s*` + lengthUnits + `\s*(?:x|×|\*|by|mal)\s*` + number + `\s*` + lengthUnits + `\s*(?:(?:x|×|\*|by|mal)\s*` + number + `\s*` + lengthUnits + `)?`)
	side     = regexp.MustCompile(number + `\s*` + lengthUnits + `\s*(long|wide|deep|high|tall|lang|breit|tief|hoch|in length|in width|in height)\b`)
	keyed    = regexp.MustCompile(`\b(length|width|height|depth|länge|breite|höhe|tiefe|water depth|wasserstand|wassertiefe)\b[^0-9]{0,40}?` + number + `\s*` + lengthUnits)
	imperial = regexp.MustCompile(`\b(gallons?|gal|inch(es)?|fahrenheit|\d+ ?f)\b`)
	measured = regexp.MustCompile(`\b(tank|aquarium|becken|cube|vessel|litres?|liter|long|setup|set up|nano|hat|has)\b|\d ?l\b|gallon`)
)

// measures reads length, width and height that are written as 60 x 30 x 36.
func measures(c clause, add func(key, value string, guess bool)) {
	for _, m := range byBy.FindAllStringSubmatch(c.low, -1) {
		unit, guess := "", false
		for _, i := range []int{2, 4, 6} {
			if m[i] != "" {
				unit = lengthUnit(m[i])
			}
		}
		if m[5] == "" && unit == "" {
			continue // two bare figures may be anything
		}
		if unit == "" {
			if unit, guess = "cm", true; imperial.MatchString(c.sentence) {
				unit = "in"
			}
			if !measured.MatchString(c.sentence) && c.sentence != c.low {
				continue
			}
		}
		for i, key := range []string{"tank length", "tank width", "tank height"} {
			if figure := m[1+2*i]; figure != "" {
				add(key, figure+" "+unit, guess)
			}
		}
	}
}

// sides reads a measure with its name: 45 cm long, height 30 cm.
func sides(c clause, add func(key, value string, guess bool)) {
	if byBy.MatchString(c.low) {
		return
	}
	for _, m := range side.FindAllStringSubmatchIndex(c.low, -1) {
		named(c, group(c.low, m, 1), group(c.low, m, 2), group(c.low, m, 3), c.low[m[1]:], add)
	}
	for _, m := range keyed.FindAllStringSubmatchIndex(c.low, -1) {
		named(c, group(c.low, m, 2), group(c.low, m, 3), group(c.low, m, 1), c.low[m[1]:], add)
	}
}

var (
	otherThings = regexp.MustCompile(`\b(cuttings?|stems?|stängel|stecklinge?|plants?|pflanzen|leaves|gravel|sand|soil|substrate|bodengrund|kies|lamp|lampe|light|above the water|über dem wasser)\b`)
	ofWater     = regexp.MustCompile(`\b(water|wasser)`)
	frontToBack = regexp.MustCompile(`front to back|vorn[e]? (nach|bis) hinten|to the back`)
)

// named takes a measure by its name. How deep may be the water or the tank: what is beside it tells.
func named(c clause, figure, written, name, behind string, add func(key, value string, guess bool)) {
	unit, guess := lengthUnit(written), false
	if unit == "" {
		v, err := strconv.ParseFloat(figure, 64)
		if err != nil || v < 10 {
			return
		}
		if unit, guess = "cm", true; imperial.MatchString(c.sentence) {
			unit = "in"
		}
	}
	value := figure + " " + unit
	water := ofWater.MatchString(c.low)
	switch name {
	case "water depth", "wasserstand", "wassertiefe":
		add("water depth", value, guess)
		return
	case "deep", "tief", "depth", "tiefe":
		switch {
		case frontToBack.MatchString(c.low):
			add("tank width", value, guess)
		case water:
			add("water depth", value, guess || !aboveGround.MatchString(c.sentence))
		case strings.Contains(c.sentence, "länge") && strings.Contains(c.sentence, "höhe"), strings.Contains(c.sentence, "length") && strings.Contains(c.sentence, "height"):
			add("tank width", value, guess)
		}
		return
	}
	if otherThings.MatchString(c.low) {
		return
	}
	key := map[byte]string{'l': "tank length", 'w': "tank width", 'b': "tank width", 'h': "tank height", 't': "tank height"}[strings.TrimPrefix(name, "in ")[0]]
	add(key, value, guess)
}

var aboveGround = regexp.MustCompile(`gravel|sand|substrate|surface|bodengrund|kies|soil`)

// lengthUnit is a unit as the block writes it; "" for none.
func lengthUnit(s string) string {
	switch {
	case s == "":
		return ""
	case strings.HasPrefix(s, "c"), s == "zentimeter":
		return "cm"
	case s == "mm", s == "m":
		return s
	case strings.HasPrefix(s, "f"):
		return "ft"
	}
	return "in"
}
