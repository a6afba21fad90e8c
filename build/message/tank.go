package message

import (
	"cmp"
	"regexp"
	"strconv"
	"strings"
)

const lengthUnits = `(cm|centimet(?:re|er)s?|mm|met(?:re|er)s?\b|m\b|inch(?:e?s)?|in\b|"|''|″|ft|feet|foot|zoll|zentimeter)?`

var (
	// inNames are the tanks that are called by their length, and cubes.
	inNames  = pattern(number + `\s*(?:(cm|inch|in|"|foot(?:er)?|ft|feet)|(er))[- ]?(?:\w+ )?(tanks?|becken|aquarium|cube|würfel)\b|(?:cube|würfel)\b[^0-9]{0,12}` + number + `\s*(cm|in|inch)\b`)
	risesTo  = pattern(`(?:water|wasser)\b[^0-9]{0,30}?\b(?:up to|stands|comes|steht|reicht)\b[^0-9]{0,20}?` + number + `\s*` + lengthUnits)
	byBy     = pattern(number + `\s*` + lengthUnits + `\s*(?:x|×|\*|by|mal|/)\s*` + number + `\s*` + lengthUnits + `\s*(?:(?:x|×|\*|by|mal|/)\s*` + number + `\s*` + lengthUnits + `)?`)
	side     = pattern(number + `\s*` + lengthUnits + `\s*(long|wide|deep|high|tall|(?:from )?front to back|(?:in der )?(?:lang|breit|tief|hoch|länge|breite|höhe|tiefe)|(?:in|of) (?:the )?(?:length|width|height|depth))\b`)
	keyed    = pattern(`\b(length|width|height|depth|länge|breite|höhe|tiefe|water depth|wasserstand|wassertiefe)\b[^0-9]{0,40}?` + number + `\s*` + lengthUnits)
	imperial = pattern(`\b(gallons?|gal|inch(es)?|fahrenheit|\d+ ?°?f)\b`)
	ofDepth  = pattern(number + `\s*` + lengthUnits + `\s*(?:of )?(?:(?:water|wasser)\b|(?:over|above|über) (?:the |dem |der )?(?:gravel|sand|soil|substrate|kies|bodengrund|boden)\b)`)
	lights   = pattern(`\b(lamps?|lights?|leds?|lampen?|leuchten?)\b`)
	measured = pattern(`\b(tank|mine|aquarium|becken|cube|vessel|litres?|liter|long|setup|set up|nano|hat|has)\b|\d ?l\b|gallon`)
)

// measures reads length, width and height that are written as 60 x 30 x 36.
func measures(c clause, add func(key, value string, guess bool)) {
	for _, m := range byBy().FindAllStringSubmatch(c.low, -1) {
		units, bare := [3]string{lengthUnit(m[2]), lengthUnit(m[4]), lengthUnit(m[6])}, cmp.Or(m[2], m[4], m[6]) == ""
		slashed := strings.Contains(m[0], "/")
		if m[5] == "" && (bare || slashed) || slashed && !measured().MatchString(c.sentence) {
			continue // two bare figures may be anything, and three with strokes a day
		}
		if bare {
			if units[2] = "cm"; c.imperial {
				units[2] = "in"
			}
			if least, _ := strconv.ParseFloat(m[1], 64); least < 10 && !measured().MatchString(c.sentence) && c.sentence != c.low || otherThings().MatchString(c.low) && !measured().MatchString(c.low) {
				continue
			}
		}
		for i := 1; i >= 0; i-- { // a figure without a unit has that of the next
			units[i] = cmp.Or(units[i], units[i+1])
		}
		for i, key := range []string{"tank length", "tank width", "tank height"} {
			if figure := m[1+2*i]; figure != "" {
				unit, taken := cmp.Or(units[i], units[0]), units[i] == ""
				if v, _ := strconv.ParseFloat(figure, 64); taken && v >= 10 && smaller[unit] != "" { // 1.2 m x 50 x 50
					unit = smaller[unit]
				}
				add(key, figure+" "+unit, bare || slashed)
			}
		}
	}
}

// smaller are the units in which people go on behind a large one.
var smaller = map[string]string{"m": "cm", "ft": "in"}

// called reads the length that a tank is named by.
func called(c clause, add func(key, value string, guess bool)) {
	if m := inNames().FindStringSubmatch(c.low); m != nil && !byBy().MatchString(c.low) {
		value := cmp.Or(m[1], m[5]) + " " + lengthUnit(cmp.Or(m[2], m[6], "cm"))
		add("tank length", value, true)
		if m[5] != "" || m[4] == "cube" || m[4] == "würfel" {
			add("tank width", value, true)
			add("tank height", value, true)
		}
	}
}

// sides reads a measure with its name: 45 cm long, height 30 cm.
func sides(c clause, add func(key, value string, guess bool)) {
	for _, m := range ofDepth().FindAllStringSubmatch(c.low, -1) {
		if unit := lengthUnit(m[2]); unit != "" && ofWater().MatchString(c.sentence) && !lights().MatchString(c.low) {
			add("water depth", m[1]+" "+unit, true)
		}
	}
	if m := risesTo().FindStringSubmatch(c.low); m != nil {
		add("water depth", m[1]+" "+cmp.Or(lengthUnit(m[2]), "cm"), true)
		return
	}
	if byBy().MatchString(c.low) {
		return
	}
	low := c.low
	for _, m := range side().FindAllStringSubmatchIndex(c.low, -1) {
		name := group(c.low, m, 3)
		sideNamed(c, c.low[:m[0]], group(c.low, m, 1), group(c.low, m, 2), name[strings.LastIndexByte(name, ' ')+1:], add)
		low = low[:m[0]] + strings.Repeat(" ", m[1]-m[0]) + low[m[1]:]
	}
	for _, m := range keyed().FindAllStringSubmatchIndex(low, -1) { // 50 cm breite und 60 cm: the name is that of the figure before it
		sideNamed(c, low[:m[0]], group(low, m, 2), group(low, m, 3), group(low, m, 1), add)
	}
}

var (
	otherThings = pattern(`\b(cuttings?|stems?|stängel|stecklinge?|plants?|pflanzen|leaves|gravel|sand|soil|substrate|bodengrund|kies|lamp|lampe|light|above the water|über dem wasser)\b`)
	lengthNamed = pattern(`\b(?:long|length|lang|länge)\b`)
	deepAndWide = pattern(`\b(?:deep|depth|tiefe?)\b.*\b(?:wide|width|breite?)\b|\b(?:wide|width|breite?)\b.*\b(?:deep|depth|tiefe?)\b`)
	ofTank      = pattern(`\b(?:tank|aquarium|becken|it's|it is|vessel|cube|misst)\b`)
	ofWater     = pattern(`\b(water|wasser)`)
	longAndTall = pattern(`(?:\b(?:long|lang)\b|length|länge).*(?:\b(?:tall|high|hoch)\b|height|höhe)|(?:\b(?:tall|high|hoch)\b|height|höhe).*(?:\b(?:long|lang)\b|length|länge)`)
	fills       = pattern(`\b(fill(?:ed)?|gefüllt|fülle)\b`)
	waterItself = pattern(`\b(water|wasser)\b`)
	frontToBack = pattern(`front to back|vorn[e]? (nach|bis) hinten|to the back`)
)

// sideNamed takes a measure by its name. How deep may be the water or the tank: what is beside it tells.
func sideNamed(c clause, before, figure, written, name string, add func(key, value string, guess bool)) {
	unit, guess := lengthUnit(written), roughly().MatchString(before)
	if unit == "" {
		v, err := strconv.ParseFloat(figure, 64)
		if err != nil || v < 10 || one().MatchString(before) { // a 20 long holds 20 gallons
			return
		}
		if unit, guess = "cm", true; c.imperial {
			unit = "in"
		}
	}
	value := figure + " " + unit
	water := ofWater().MatchString(c.low)
	noLength := !lengthNamed().MatchString(c.sentence) && deepAndWide().MatchString(c.sentence) // of furniture the width is the longest side
	switch name {
	case "water depth", "wasserstand", "wassertiefe":
		add("water depth", value, guess)
		return
	case "deep", "tief", "depth", "tiefe":
		switch {
		case fills().MatchString(c.low):
			add("water depth", value, true)
		case frontToBack().MatchString(c.low):
			add("tank width", value, guess)
		case water:
			add("water depth", value, guess || !aboveGround().MatchString(c.sentence))
		case noLength, longAndTall().MatchString(c.sentence):
			add("tank width", value, guess || noLength)
		}
		return
	}
	if tank := lastAt(ofTank(), before); (otherThings().MatchString(c.low) || hadBefore().MatchString(c.low)) && (tank < 0 || tank < lastAt(otherThings(), before)) {
		return // it is of the last thing that was named
	}
	if waterItself().MatchString(tail(before, 25)) && (name == "high" || name == "hoch") {
		add("water depth", value, guess)
		return
	}
	key := map[byte]string{'l': "tank length", 'w': "tank width", 'b': "tank width", 'h': "tank height", 't': "tank height"}[name[0]]
	if noLength && key == "tank width" {
		key, guess = "tank length", true
	}
	add(key, value, guess)
}

// lastAt is where the last match in s begins; -1 for none.
func lastAt(re *regexp.Regexp, s string) int {
	at := re.FindAllStringIndex(s, -1)
	if at == nil {
		return -1
	}
	return at[len(at)-1][0]
}

var aboveGround = pattern(`gravel|sand|substrate|surface|bodengrund|kies|soil`)

// lengthUnit is a unit as the block writes it; "" for none.
func lengthUnit(s string) string {
	for _, u := range [...][2]string{{"c", "cm"}, {"ze", "cm"}, {"mm", "mm"}, {"m", "m"}, {"f", "ft"}} {
		if strings.HasPrefix(s, u[0]) {
			return u[1]
		}
	}
	if s == "" {
		return ""
	}
	return "in"
}
