package message

import (
	"regexp"
	"strconv"
	"strings"
)

const times = `(?:\b([2-9])(?:\s*(?:x|×|\*|mal)\s*|\s+))?`

var (
	hoursOf = pattern(number + `\s*(?:h|hrs?|hours?|std\.?|stunden)\b`)
	ofLight = pattern(`\b(light|lights|lighting|lamp|led|tubes?|bulbs?|röhren?|t5|t8|licht|beleuchtung|beleuchtungsdauer|lampe|photoperiod|par|lux|lumen|tank specs)\b`)
	aDay    = pattern(`\b(a day|per day|daily|am tag|pro tag|täglich)\b|/ ?day`)
	lumens  = pattern(times + number + `\s*(?:lm|lumens?)\b`)
	watts   = pattern(times + number + `[\s-]*(?:w|watts?)\b`)
	heaters = pattern(`\b(heater|heizer|heizung|heizstab|pump|pumpe|filter)\b`)
	tube    = pattern(`\bt[58]\b`)
	forEach = pattern(`\b(each|apiece|per (?:lamp|tube|bar|strip)|je|jeweils|pro (?:lampe|röhre|leuchte))\b`)
	several = pattern(`\b([2-9])\s+(?:[a-zäöü0-9"]+[ -]){0,3}?(?:lamps?|lights?|leds?|fixtures?|leisten?|bars?|strips?|tubes?|t[58]|[a-zäöü]*(?:röhren?|leuchten?|lampen?|balken|strahler))\b`)
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
	for _, k := range []struct {
		key, unit string
		of        *regexp.Regexp
	}{{"lamp output", "lm", lumens()}, {"lamp power", "W", watts()}} {
		for _, m := range k.of.FindAllStringSubmatchIndex(c.low, -1) {
			if k.unit == "W" && (!lit || heaters().MatchString(c.low)) {
				continue
			}
			times, figure, guess := group(c.low, m, 1), group(c.low, m, 2), roughly().MatchString(c.low[:m[4]])
			if lamps := several().FindStringSubmatch(c.low); lamps != nil && times == "" {
				if guess = true; forEach().MatchString(c.low) {
					times = lamps[1]
				}
			} else if times == "" && forEach().MatchString(c.low) {
				figure = "each" // of how many is not known
			}
			if each, err := strconv.ParseFloat(figure, 64); err == nil && times != "" {
				n, _ := strconv.ParseFloat(times, 64)
				figure, guess = strconv.FormatFloat(n*each, 'g', 6, 64), true
			}
			add(k.key, figure+" "+k.unit, guess)
			if kind := tube().FindString(c.low); kind != "" { // else it is taken for a white LED
				add("lamp kind", kind, true)
			}
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

const (
	gas   = `co2`
	gasOf = `(?:[- ]?(?:anlage|injection|system|zugabe|düngung))?\s*[:=|?.]*\s*`
)

var (
	// gasMade are the ways in which it is made or kept, which say yes whatever else stands beside it: "CO2 aus der Flasche".
	gasMade = pattern(`\b(?:yeast|hefe|sugar|zucker|diy|bio\w*|pressuri[sz]ed|druckgas|flaschen)\b.*` + gas + `|` + gas + `\b.*\b(?:yeast|hefe|gärung|bio\w*|bottle|cylinder|pressuri[sz]ed|druckgas|(?:aus der|eine) \w*flasche|blasen?|bubbles?|bps)\b`)
	gasNo   = pattern(`\b(?:no|without|ohne|koan?|kein|keine|keinen|keinerlei|nae|non|never|not?|nicht|don't|doesn't|isn't|aren't|(?:haven't|hasn't|don't have|do not have)(?: got)?(?: any)?)\b(?:\s+[a-zäöü]+){0,3}\s+` + gas + `|` + gas + gasOf + `(?:hab i(?:ch)? (?:nämlich |leider )?|habe ich |haben wir |han i |gibt es |gibt's |brauche? ich |läuft |is |ist |wird |i |we |at )?(?:no|none|nope|nil|nein|ne|kein|keine|keine?s|keens|keis|nich|nicht|not|(?:don't|do not|never) (?:use|have|inject|add|run|dose)|never)\b|` + gas + gasOf + `nö(?:\W|$)|` + gas + `\s*[:=]?\s*(?:is |ist )?(?:off|aus)\s*(?:$|[,;)])`)
	gasYes  = pattern(gas + gasOf + `(?:is |ist |wird |runs |läuft )?(?:yes|ja|on\b|an\b|da\b|vorhanden|injected|injection on|pressuri[sz]ed|zugeführt|gedüngt|via|über|läuft|at \d)|\b(?:inject(?:ing|ed)?|mit|with|add|use|dose)\s+(?:the )?` + gas)
	// gasElse are words for none, or some, without its name: always a guess.
	gasElse  = pattern(`\b(?:no|without|kein|ohne) (?:\w+ ){0,2}(?:gas|bottled gas)\b|\b(?:low[- ]?tech|(?:don't|do not|not|no|never) inject\w*|non[- ]?injected)\b`)
	gasNot   = pattern(gas + `\b.*\b(?:nicht|kein\w*|nie|not|never|ran out|abgestellt|abgeschaltet|verkauft|(?:turned|switched) off|stopped)\b`)
	nightly  = pattern(`\b(?:nachts?|nights?|timer)\b`)
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
	case gasElse().MatchString(c.low), gasNot().MatchString(c.low) && !nightly().MatchString(c.low):
		add("co2", "no", true)
	case gasYes().MatchString(c.low):
		add("co2", "yes", false)
	case highTech().MatchString(c.low):
		add("co2", "yes", true)
	}
}
