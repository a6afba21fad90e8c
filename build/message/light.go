package message

import (
	"strconv"
	"strings"
)

var (
	hoursOf = pattern(number + `\s*(?:h|hrs?|hours?|std\.?|stunden)\b`)
	ofLight = pattern(`\b(light|lights|lighting|lamp|led|tubes?|bulbs?|röhren?|t5|t8|licht|beleuchtung|beleuchtungsdauer|lampe|photoperiod|par|lux|lumen|tank specs)\b`)
	aDay    = pattern(`\b(a day|per day|daily|am tag|pro tag|täglich)\b|/ ?day`)
	lumens  = pattern(number + `\s*(?:lm|lumens?)\b`)
	watts   = pattern(`(?:\b([2-9])(?:\s*(?:x|×|\*|mal)\s*|\s+))?` + number + `[\s-]*(?:w|watts?)\b`)
	heaters = pattern(`\b(heater|heizer|heizung|heizstab|pump|pumpe|filter)\b`)
	forEach = pattern(`\b(each|apiece|per (?:lamp|tube|bar|strip)|je|jeweils|pro (?:lampe|röhre|leuchte))\b`)
	several = pattern(`\b([2-9])\s+(?:[a-zäöü0-9]+[ -]){0,3}?(?:lamps?|lights?|leds?|bars?|strips?|tubes?|t[58]|[a-zäöü]*(?:röhren?|leuchten?|lampen?|balken|strahler))\b`)
	luxOf   = pattern(number + `\s*lux\b`)
	photons = pattern(number + `\s*(?:umol/m2/s|µmol/m2/s|umol|µmol|par\b)`)
	parIs   = pattern(`\bpar` + filler + number)
	// onTheClock are the hours of a lamp from one time of the day to another; one of them at least says that it is one.
	onTheClock = pattern(`\b(\d{1,2})(?::00)?\s*(am|pm|uhr)?\s*(?:-|to|till?|until|bis)\s*(\d{1,2})(?::00)?\s*(am\b|pm\b|uhr\b|:00\b)`)
	hangs      = pattern(number + `\s*` + lengthUnits + `\s*(?:above|over|über) (?:the |dem |der )?(?:water|surface|wasser|oberfläche)`)
)

// light reads what is said of the lamp and of the light at the bottom.
func light(c clause, add func(key, value string, guess bool)) {
	lit := ofLight().MatchString(c.sentence)
	for _, at := range hoursOf().FindAllStringSubmatchIndex(c.low, -1) {
		hours, guess := group(c.low, at, 1), roughly().MatchString(c.low[:at[0]])
		switch {
		case !lit && !aDay().MatchString(c.low):
		case aDay().MatchString(c.low), ofLight().MatchString(c.low):
			add("light hours", hours, !lit || guess)
		default:
			add("light hours", hours, true)
		}
	}
	if spans := onTheClock().FindAllStringSubmatch(c.low, -1); lit && spans != nil {
		hours := 0
		for _, m := range spans {
			hours += between(m[1], m[2], m[3], m[4])
		}
		add("light hours", strconv.Itoa(hours), true)
	}
	for _, m := range lumens().FindAllStringSubmatch(c.low, -1) {
		add("lamp output", m[1]+" lm", false)
	}
	for _, m := range watts().FindAllStringSubmatch(c.low, -1) {
		if lit && !heaters().MatchString(c.low) {
			lamps := several().FindStringSubmatch(c.low)
			switch {
			case m[1] == "" && forEach().MatchString(c.low):
				if lamps == nil {
					add("lamp power", "each", true) // of how many is not known
					continue
				}
				m[1] = lamps[1]
			case m[1] == "":
				add("lamp power", m[2]+" W", lamps != nil)
				continue
			}
			n, _ := strconv.ParseFloat(m[1], 64)
			each, _ := strconv.ParseFloat(m[2], 64)
			add("lamp power", strconv.FormatFloat(n*each, 'g', 6, 64)+" W", true)
		}
	}
	for _, m := range luxOf().FindAllStringSubmatch(c.low, -1) {
		add("lux", m[1]+" lux", false)
	}
	for _, m := range photons().FindAllStringSubmatch(c.low, -1) {
		add("par", m[1]+" umol/m2/s", !strings.Contains(m[0], "/"))
	}
	for _, m := range parIs().FindAllStringSubmatch(c.low, -1) {
		add("par", m[1]+" umol/m2/s", true)
	}
	for _, m := range hangs().FindAllStringSubmatch(c.low, -1) {
		if unit := lengthUnit(m[2]); unit != "" {
			add("lamp above water", m[1]+" "+unit, false)
		}
	}
}

// between is how many hours lie between two times; 0 where it is no such time.
func between(from, fromHalf, to, toHalf string) int {
	fromHalf, toHalf = strings.Replace(fromHalf, ":00", "uhr", 1), strings.Replace(toHalf, ":00", "uhr", 1)
	at := func(hour, half string) int {
		h, err := strconv.Atoi(hour)
		if err != nil || h > 24 || half != "uhr" && h > 12 {
			return -1
		}
		if half == "uhr" {
			return h % 24
		}
		if h %= 12; half == "pm" {
			h += 12
		}
		return h
	}
	if fromHalf == "" {
		if fromHalf = toHalf; toHalf == "pm" && at(from, "pm") >= at(to, "pm") { // 9 to 7pm
			fromHalf = "am"
		}
	}
	a, b := at(from, fromHalf), at(to, toHalf)
	if a < 0 || b < 0 || a == b {
		return 0
	}
	return (b - a + 24) % 24
}

const gas = `(?:co2|co₂|carbon dioxide|kohlendioxid)`

var (
	// gasMade are the ways in which it is made or kept, which say yes whatever else stands beside it: "CO2 aus der Flasche".
	gasMade = pattern(`\b(?:yeast|hefe|sugar|zucker|diy|bio|pressuri[sz]ed|flaschen)\b.*` + gas + `|` + gas + `\b.*\b(?:yeast|hefe|bottle|cylinder|(?:aus der|eine) \w*flasche|blasen|bubbles)\b`)
	gasNo   = pattern(`\b(?:no|without|ohne|koan?|kein|keine|keinen|nae|non|never|not?|nicht|don't|doesn't|isn't|aren't)\b(?:\s+[a-zäöü]+){0,3}\s+` + gas + `|` + gas + `(?:[- ]?(?:anlage|injection|system|zugabe|düngung))?\s*[:=]?\s*(?:hab ich |habe ich |brauche? ich |is |ist |wird |i )?(?:no|none|nein|kein|keine|keine?s|nich|nicht|not|don't|never)\b|` + gas + `\s*[:=]?\s*(?:is |ist )?(?:off|aus)\s*(?:$|[,;)])`)
	gasYes  = pattern(gas + `(?:[- ]?(?:anlage|injection|system|zugabe|düngung))?\s*[:=]?\s*(?:is |ist |wird )?(?:yes|ja|on\b|an\b|da\b|vorhanden|injected|injection on|pressuri[sz]ed|zugeführt|gedüngt|via|über|läuft)|\b(?:inject(?:ing|ed)?|mit|with|add|use|dose)\s+` + gas)
	// gasElse are words for none, or some, without its name: always a guess.
	gasElse  = pattern(`\b(?:no|without|kein|ohne) (?:\w+ ){0,2}(?:gas|bottled gas)\b|\b(?:low[- ]?tech|(?:don't|do not|not|no|never) inject\w*|non[- ]?injected)\b`)
	denies   = pattern(`\b(?:no|not|never|without|ohne|kein\w*|nicht|nie|don't|doesn't|used to|want|wish)\b`)
	highTech = pattern(`\bhigh[- ]?tech\b|\b(?:das|the) gas (?:läuft|is on|runs)\b`)
)

// carbonDioxide reads whether it is added.
func carbonDioxide(c clause, add func(key, value string, guess bool)) {
	switch {
	case gasMade().MatchString(c.low) && !denies().MatchString(c.low):
		add("co2", "yes", false)
	case gasNo().MatchString(c.low):
		add("co2", "no", false)
	case gasYes().MatchString(c.low):
		add("co2", "yes", false)
	case gasElse().MatchString(c.low):
		add("co2", "no", true)
	case highTech().MatchString(c.low):
		add("co2", "yes", true)
	}
}
