package message

import (
	"strconv"
	"strings"

	"slipleaf/build/spelling"
)

// candidate is one thing that a message says of a key.
type candidate struct {
	key, value string
	from       string
	guess      bool
	why        Why
}

// finder reads candidates out of a clause.
type finder func(c clause, add func(key, value string, guess bool))

// mostFacts is how many figures of a message are looked at: more is no message of a person.
const mostFacts = 300

// candidates are all that a message says, in its order.
func candidates(text string) []candidate {
	lines := cleaned(text)
	all := clauses(lines)
	unfilled := notYet().MatchString(text)
	var out []candidate
	for _, c := range all {
		if len(out) > mostFacts {
			break
		}
		for _, f := range finders {
			f.find(c, func(key, value string, guess bool) {
				x := candidate{key: key, value: value, guess: guess, from: shortened(c.text)}
				if f.ofTank {
					x.guess = guess || unfilled
					x.why = c.why
					if c.question && x.why == Taken {
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
	out = append(append(out, carriage(all)...), livestock(all)...)
	return append(out, signature(lines)...)
}

// notYet are the words of somebody whose tank has no water yet: what is measured is likely that of another.
var notYet = pattern(`(?i)(?:(?:\bnot|n't|\bnever) (?:yet )?(?:been )?(?:filled|set up)|\bnoch nicht (?:befüllt|eingerichtet)|\bnoch leer)\b`)

// corrects are the words of a sentence that takes back what was said of the things that it names. Which of its figures is
// right then is for somebody to read.
var corrects = pattern(`\b(?:i meant|meant to (?:say|write)|correction|typo|mistyped|scrap that|vertippt|verschrieben|tippfehler|ich meinte|korrektur)\b`)

var named = map[string]lazy{"temperature": pattern(`\btemp|degrees|grad\b|°`), "ph": pattern(`\bph\b`), "gh": pattern(`\bgh\b|gesamthärte|general hardness`), "kh": pattern(`\bkh\b|karbonathärte|carbonate hardness`),
	"conductivity": conducts, "light hours": hoursOf, "lamp power": watts, "tank length": pattern(`\btank\b|becken|length|länge`), "co2": pattern(`\b` + gas)}

// finders are the readers of clauses; those of the tank heed what a clause speaks of.
var finders = []struct {
	find   finder
	ofTank bool
}{
	{temperature, true}, {acidity, true}, {hardness, true}, {conductivity, true}, {measures, true}, {sides, true}, {light, true}, {carbonDioxide, true},
	{wanted, false}, {place, false},
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
	upTo   = `(?:\s*(?:-|to|bis|and|und|or|oder|\.\.)\s*(\d+(?:\.\d+)?))?`
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
var roughly = pattern(`(?i)\b(about|around|like|roughly|approx\.?|circa|ca\.?|etwa|ungefähr|more like|eher|rund|so|um die|(just |a bit |knapp |gut )?(under|below|over|above|unter|über)|close to|nearly|almost|knapp|gut|fast)\s*$`)
