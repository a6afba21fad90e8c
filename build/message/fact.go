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
	why        string // not taken, because
}

// finder reads candidates out of a clause.
type finder func(c clause, add func(key, value string, guess bool))

// mostFacts is how many figures of a message are looked at: more is no message of a person.
const mostFacts = 300

// candidates are all that a message says, in its order.
func candidates(text string) []candidate {
	lines := cleaned(text)
	all := clauses(lines)
	var out []candidate
	for _, c := range all {
		if len(out) > mostFacts {
			break
		}
		for _, f := range finders {
			f.find(c, func(key, value string, guess bool) {
				x := candidate{key: key, value: value, guess: guess, from: shortened(c.text)}
				if f.ofTank {
					x.why = c.why
					if c.question && x.why == "" {
						x.why = "that is a question"
					}
				}
				out = append(out, x)
			})
		}
	}
	out = append(append(out, carriage(all)...), livestock(all)...)
	return append(out, signature(lines)...)
}

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
	upTo   = `(?:\s*(?:-|to|bis|and|und|\.\.)\s*(\d+(?:\.\d+)?))?`
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
var roughly = pattern(`(?i)\b(about|around|roughly|approx\.?|circa|ca\.?|etwa|ungefähr|more like|eher|rund)\s*$`)
