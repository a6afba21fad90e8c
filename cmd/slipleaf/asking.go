package main

import (
	"bufio"
	"cmp"
	"fmt"
	"path"
	"regexp"
	"strings"

	"slipleaf/build/compose"
	"slipleaf/build/journal"
)

// questions asks for an entry line by line. An empty answer leaves a blank, = takes the value of last time.
type questions struct {
	w     world
	lines *bufio.Scanner
	ended bool
}

func (q *questions) ask(format string, args ...any) string {
	fmt.Fprintf(q.w.Err, format, args...)
	if q.ended || !q.lines.Scan() {
		q.ended = true
		return ""
	}
	return strings.TrimSpace(q.lines.Text())
}

// asked is the entry that the answers make.
func (d *desk) asked(t *journal.Tank) compose.Entry {
	q := &questions{w: d.w, lines: bufio.NewScanner(d.w.In)}
	fmt.Fprintln(d.w.Err, "Enter leaves a blank, = takes what is in brackets, a bare number takes its unit.")
	e := compose.Entry{Parameters: d.askReadings(q, t)}
	for _, s := range journal.Standing(t.Entries, d.on) {
		d.askPlant(q, t, s, &e)
	}
	if file := q.ask("photo, its file? "); file != "" {
		e.Photos = append(e.Photos, compose.Photo{File: path.Base(file), Alt: q.ask("what it shows? ")})
	}
	e.Words = q.ask("words? ")
	return e
}

func (d *desk) askReadings(q *questions, t *journal.Tank) (out []compose.Reading) {
	water := t.WaterOn(d.on)
	keys, values := water.Texts()
	last := map[string]string{}
	for i, key := range keys {
		last[key] = values[i]
	}
	for _, key := range compose.ReadingKeys(t, d.on) {
		_, unit, _ := strings.Cut(last[key], " ")
		if v := q.value(key, last[key], cmp.Or(unit, compose.UnitOf(key, d.journal.Units))); v != "" {
			out = append(out, compose.Reading{Key: key, Value: v})
		}
	}
	return out
}

// value asks for one value.
func (q *questions) value(name, last, unit string) string {
	answer := q.ask("%s%s? ", name, inBrackets(last))
	if answer == "=" {
		return last
	}
	return withUnit(answer, unit)
}

func inBrackets(last string) string {
	if last == "" {
		return ""
	}
	return " (" + last + ")"
}

var bare = regexp.MustCompile(`^<?[0-9]+(?:[.,][0-9]+)?$`)

// withUnit gives a bare number its unit.
func withUnit(s, unit string) string {
	if bare.MatchString(s) {
		return strings.TrimSpace(strings.Replace(s, ",", ".", 1) + " " + unit)
	}
	return s
}

// askPlant asks for a count, for what was cut after it, and whether that is offered.
func (d *desk) askPlant(q *questions, t *journal.Tank, s journal.Stand, e *compose.Entry) {
	name := d.species(s.Plant).Common
	name = cmp.Or(name, s.Plant)
	measures := compose.Amounts(s.Amount)
	var keys, last []string
	for _, m := range measures {
		keys, last = append(keys, m.Key), append(last, m.Value)
	}
	if answer := q.ask("%s, %s (%s)? ", name, strings.Join(keys, " and "), strings.Join(last, ", ")); answer != "" {
		e.Counts = append(e.Counts, compose.Count{Plant: s.Plant, Amount: amountOf(measures, answer, s.Area.String())})
	}
	trim, lot := compose.TrimLike(t, s, d.on), compose.Lot{}
	cut := q.ask("  cut? ")
	if cut == "" {
		return
	}
	pieces, length, _ := strings.Cut(cut, " ")
	if trim.Removed == "" {
		trim.Cuttings, trim.Length = pieces, cmp.Or(withUnit(length, unitIn(trim.Length, "cm")), trim.Length)
	} else {
		trim.Removed = withUnit(cut, unitIn(trim.Removed, measures[0].Key))
	}
	e.Trims = append(e.Trims, trim)
	lot = compose.NewLot(d.journal, t, s, d.on)
	if offer := q.ask("  offer as %s, how many (%s)? ", lot.Lot, pieces); offer != "" {
		lot.Count = offer
		if offer == "=" || strings.EqualFold(offer, "y") {
			lot.Count = pieces
		}
		lot.Length = trim.Length
		e.Lots = append(e.Lots, lot)
	}
}

// amountOf reads the figures of an answer in the order of the measures; what is not said is as last time.
func amountOf(measures []compose.Reading, answer, area string) compose.Amount {
	var a compose.Amount
	figures := strings.Fields(answer)
	for i, m := range measures {
		v := m.Value
		if i < len(figures) && figures[i] != "=" && answer != "=" {
			v = withUnit(figures[i], unitIn(m.Value, ""))
		}
		a.Set(m.Key, v)
	}
	a.Area = area
	return a
}

// unitIn is the unit of a written quantity.
func unitIn(value, none string) string {
	if _, unit, ok := strings.Cut(value, " "); ok {
		return unit
	}
	return none
}
