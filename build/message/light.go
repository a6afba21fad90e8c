package message

import (
	"regexp"
	"strings"
)

var (
	hoursOf = regexp.MustCompile(number + `\s*(?:h|hrs?|hours?|std\.?|stunden)\b`)
	ofLight = regexp.MustCompile(`\b(light|lights|lighting|lamp|led|licht|beleuchtung|beleuchtungsdauer|lampe|photoperiod|par|lux|lumen|tank specs)\b`)
	aDay    = regexp.MustCompile(`\b(a day|per day|daily|am tag|pro tag|täglich)\b|/ ?day`)
	lumens  = regexp.MustCompile(number + `\s*(?:lm|lumens?)\b`)
	watts   = regexp.MustCompile(number + `\s*(?:w|watts?)\b`)
	heaters = regexp.MustCompile(`\b(heater|heizer|heizstab|pump|pumpe|filter)\b`)
	luxOf   = regexp.MustCompile(number + `\s*lux\b`)
	photons = regexp.MustCompile(number + `\s*(?:umol/m2/s|µmol/m2/s|umol|µmol|par\b)`)
	hangs   = regexp.MustCompile(number + `\s*` + lengthUnits + `\s*(?:above|over|über) (?:the |dem |der )?(?:water|surface|wasser|oberfläche)`)
)

// light reads what is said of the lamp and of the light at the bottom.
func light(c clause, add func(key, value string, guess bool)) {
	lit := ofLight.MatchString(c.sentence)
	for _, m := range hoursOf.FindAllStringSubmatch(c.low, -1) {
		switch {
		case !lit && !aDay.MatchString(c.low):
		case aDay.MatchString(c.low), ofLight.MatchString(c.low):
			add("light hours", m[1], !lit)
		default:
			add("light hours", m[1], true)
		}
	}
	for _, m := range lumens.FindAllStringSubmatch(c.low, -1) {
		add("lamp output", m[1]+" lm", false)
	}
	for _, m := range watts.FindAllStringSubmatch(c.low, -1) {
		if lit && !heaters.MatchString(c.low) {
			add("lamp power", m[1]+" W", false)
		}
	}
	for _, m := range luxOf.FindAllStringSubmatch(c.low, -1) {
		add("lux", m[1]+" lux", false)
	}
	for _, m := range photons.FindAllStringSubmatch(c.low, -1) {
		add("par", m[1]+" umol/m2/s", !strings.Contains(m[0], "/"))
	}
	for _, m := range hangs.FindAllStringSubmatch(c.low, -1) {
		if unit := lengthUnit(m[2]); unit != "" {
			add("lamp above water", m[1]+" "+unit, false)
		}
	}
}

const gas = `(?:co2|co₂|carbon dioxide|kohlendioxid)`

var (
	withGas    = regexp.MustCompile(gas)
	gasNo      = regexp.MustCompile(`\b(?:no|without|ohne|kein|keine|keinen|nae|non|never|not?|nicht|don't|doesn't|isn't|aren't)\b(?:\s+[a-zäöü]+){0,3}\s+` + gas + `|` + gas + `(?:[- ]?(?:anlage|injection|system))?\s*[:=]?\s*(?:hab ich |habe ich |is |ist |wird )?(?:no|none|nein|kein|keine|keins|nich|nicht|off|aus|not)\b`)
	gasYes     = regexp.MustCompile(gas + `(?:[- ]?(?:anlage|injection|system))?\s*[:=]?\s*(?:is |ist |wird )?(?:yes|ja|on\b|an\b|injected|injection on|pressuri[sz]ed|zugeführt|gedüngt|via|läuft)|\b(?:inject(?:ing|ed)?|pressuri[sz]ed|mit|with|add|use|dose)\s+` + gas)
	gasHaveNot = regexp.MustCompile(`\b(?:ich habe|hab|i have|we have)\s+(?:keins|keine|none|kein)\b`)
)

// carbonDioxide reads whether it is added.
func carbonDioxide(c clause, add func(key, value string, guess bool)) {
	switch {
	case gasNo.MatchString(c.low):
		add("co2", "no", false)
	case gasYes.MatchString(c.low):
		add("co2", "yes", false)
	case !withGas.MatchString(c.low) && gasHaveNot.MatchString(c.low):
		return
	}
}
