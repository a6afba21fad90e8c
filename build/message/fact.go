package message

import (
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"slipleaf/build/spelling"
)

// candidate is one thing that a message says of a key.
type candidate struct {
	key, value string
	from       string
	guess      bool
	why        Why
	rank       int // what ranks higher drives out the others
}

// finder reads candidates out of a clause.
type finder func(c clause, add func(key, value string, guess bool))

// mostFacts is how many figures of a message are looked at: more is no message of a person.
const mostFacts = 300

// candidates are all that a message says, in its order.
func candidates(text string) []candidate {
	lines := cleaned(text)
	all := clauses(lines)
	unfilled := notYet().MatchString(strings.Join(lines, "\n"))
	var out []candidate
	destined := forWhich(all)
	for i, c := range all {
		if len(out) > mostFacts {
			break
		}
		for _, f := range finders {
			f.find(c, func(key, value string, guess bool) {
				x := candidate{key: key, value: value, guess: guess, from: shortened(c.text), rank: f.rank}
				if key == "region" && !guess || strings.HasPrefix(key, "tank ") && inner().MatchString(c.low) {
					x.rank++
				}
				if f.ofTank {
					x.guess = guess || unfilled || hedged().MatchString(c.sentence) || !plainly(c.low)
					x.why = c.why
					switch {
					case i < destined:
						x.why = Tanks
					case c.question && x.why == Taken:
						x.why = Question
					}
				}
				out = append(out, x)
			})
		}
	}
	for _, c := range all {
		if corrects().MatchString(c.sentence) {
			for i := range out {
				if re, ok := named[out[i].key]; ok && re().MatchString(c.sentence) {
					out[i].why, out[i].from = Corrected, shortened(c.sentence)
				}
			}
		}
	}
	out = append(append(out, carriage(all)...), livestock(all[destined:])...)
	return append(append(out, signature(lines)...), postcodes(lines)...)
}

// notYet are the words of somebody whose tank has no water yet: what is measured is likely that of another.
var notYet = pattern(`(?i)(?:(?:\bnot|n't|\bnever) (?:yet )?(?:been )?(?:filled|set up)|\bnoch nicht (?:befüllt|eingerichtet)|\bnoch leer)\b`)

// corrects are the words of a sentence that takes back what was said of the things that it names. Which of its figures is
// right then is for somebody to read.
var corrects = pattern(`\b(?:i meant|meant to (?:say|write)|correction|typo|mistyped|scrap that|vertippt|verschrieben|tippfehler|ich meinte|korrektur)\b`)

var named = map[string]lazy{"temperature": pattern(`\btemp|degrees|grad\b|°`), "ph": pattern(`\bph\b`), "gh": pattern(`\bgh\b|gesamthärte|general hardness`), "kh": pattern(`\bkh\b|karbonathärte|carbonate hardness`),
	"conductivity": conducts, "light hours": hoursOf, "lamp power": watts, "tank length": pattern(`\btank\b|becken|length|länge`), "co2": pattern(`\b` + gas)}

// hedged are sentences of which their writer is not sure.
var hedged = pattern(`\b(?:i (?:think|believe|guess|suppose)|maybe|perhaps|probably|might|not sure|apparently|ich (?:glaub|denk|schätz)e?|glaub(?:e)? ich|denke ich|vielleicht|vermutlich|wahrscheinlich|müsste)\b`)

var (
	manyTanks = pattern(`\b(?:2|3|4|both|several|beide|mehrere) (?:\p{L}+ )?(?:tanks|becken|aquari\p{L}+)\b|\b(?:other|second|big(?:ger)?|small(?:er)?|andere[sn]?|zweite[sn]?|große[sn]?|kleine[sn]?) (?:one|tank|becken|aquarium)\b`)
	goInto    = pattern(`\b(?:plants?|they|these|this|it|pflanzen|die|sie|das|es)\b.{0,30}?\b(?:go(?:ing)? in(?:to)?|for|für|ins?)\b (?:(?:the|my|our|den|das|die|dem|mein\w*|unser\w*) )?(?:\p{L}+ )?(?:one|tank|cube|nano|becken|aquarium|kleine\w*|große\w*)\b`)
)

// forWhich is the clause from which on a writer of several tanks speaks of that which the plants go into; 0 where they don't.
func forWhich(all []clause) (at int) {
	if slices.ContainsFunc(all, func(c clause) bool { return manyTanks().MatchString(c.low) }) {
		at = max(0, slices.IndexFunc(all, func(c clause) bool { return goInto().MatchString(c.low) }))
	}
	return at
}

// plain are the words among which a figure is that of the writer's tank today. There are too many ways in which it is not, so
// that what stands beside any other word is a guess.
var plain = strings.Fields(`the and with for from has have are its mine our tank aquarium cube nano setup water temperature temp temps thermometer heater reads read says say set stays sits steady
	currently now today always year round about around roughly between approx circa long wide deep high tall length width height depth inside inner internal measures measured measurements dimensions size
	litre litres liter liters gallon gallons gal inch inches foot feet metre metres meter meters centimetres centimeters hardness general carbonate total alkalinity degrees deg celsius fahrenheit german dgh dkh
	ppm conductivity light lights lighting lamp lamps led leds tube tubes bulb strip bar bars fixture fixtures each watt watts lumens lumen lux par day daily hours hour hrs per above over surface bottom
	substrate gravel sand soil front back rim test tests tested kit strips drop drops value values parameters params specs stats exactly just only same both there this none yes without any don't use
	pressurised pressurized injected injection injecting inject bottle cylinder yeast diy bubbles bubble second sec timer column filled
	und mit von bei hat habe haben ist sind liegt beträgt misst steht läuft hängt das die der dem den des ein eine mein meine meinem meines unser unsere unserem becken würfel wasser temperatur
	wassertemperatur grad lang breit hoch tief länge breite höhe tiefe innen maße masse abmessungen innenmaß innenmaße zentimeter härte gesamthärte karbonathärte wasserhärte deutsche deutscher leitwert
	leitfähigkeit wert werte wasserwerte licht beleuchtung lampe leuchte leuchten röhre röhren stunden std tag täglich pro über auf wasseroberfläche oberfläche bodengrund boden kies wasserstand wasserhöhe
	wassertiefe kein keine keinen ohne nein anlage druckgas druckflasche flasche bio gärung blasen sekunde zugabe düngung gemessen zeigt tropfentest teststreifen etwa rund knapp gut zwischen aktuell derzeit
	momentan jetzt heute immer konstant zur zeit jeweils oder nur hier für aus dauer gesamt heizer heizung eingestellt`)

// plainly reports whether a clause has no other words than those, short ones aside.
func plainly(low string) bool {
	for w := range strings.FieldsFuncSeq(low, func(r rune) bool { return !unicode.IsLetter(r) && r != '\'' }) {
		if utf8.RuneCountInString(w) > 2 && !slices.Contains(plain, strings.TrimSuffix(w, "'s")) && w != "it's" || w == "he" || w == "er" {
			return false
		}
	}
	return true
}

// inner are the words for measures of the inside, which is what counts.
var inner = pattern(`\b(?:inside|internal|inner|innen\w*)`)

// finders are the readers of clauses; those of the tank heed what a clause speaks of.
var finders = []struct {
	find   finder
	ofTank bool
	rank   int
}{
	{temperature, true, 1}, {acidity, true, 1}, {hardness, true, 1}, {conductivity, true, 1}, {called, true, 0}, {measures, true, 1}, {sides, true, 1}, {light, true, 1},
	{carbonDioxide, true, 1}, {wanted, false, 1}, {place, false, 1},
}

// shortened is the words that something was read from, at most 60 letters of them, without what could move a terminal.
func shortened(s string) string {
	s = strings.Join(strings.Fields(spelling.Clean(s)), " ")
	if r := []rune(s); len(r) > 60 {
		return string(r[:59]) + "…"
	}
	return s
}

const (
	number = `(\d+(?:\.\d+)?)`
	upTo   = `(?:\s*(?:-|to|bis|or|oder|\.\.)\s*(\d+(?:\.\d+)?))?`
)

// span writes one figure, or two as a range; "" where they are in no order.
func span(low, high string) string {
	if high == "" {
		return low
	}
	a, errA := strconv.ParseFloat(low, 64)
	b, errB := strconv.ParseFloat(high, 64)
	if errA != nil || errB != nil || a >= b {
		return ""
	}
	return low + ".." + high
}

// roughly reports whether a figure is said to be about so much.
var roughly = pattern(`(?i)(?:[~≈±]|\b(about|around|like|roughly|approx\.?|circa|ca\.?|etwa|ungefähr|more like|eher|rund|so|um die|(just |a bit |knapp |gut )?(under|below|over|above|unter|über)|close to|nearly|almost|knapp|gut|fast)|\d\s*(?:-|to|bis|or|oder))\s*$`)
