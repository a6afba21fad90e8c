// Package interview asks for a diary entry line by line, for whoever writes at a terminal.
package interview

import (
	"bufio"
	"cmp"
	"fmt"
	"io"
	"path"
	"strings"

	"slipleaf/build/compose"
	"slipleaf/build/journal"
	"slipleaf/build/quantity"
)

// questions are asked one after the other. An empty answer leaves a blank, = takes the value of last time.
type questions struct {
	out   io.Writer
	lines *bufio.Scanner
	ended bool
	j     *journal.Journal
	t     *journal.Tank
	on    quantity.Date
	name  func(plant string) string
}

func (q *questions) ask(format string, args ...any) string {
	fmt.Fprintf(q.out, format, args...)
	if q.ended || !q.lines.Scan() {
		q.ended = true
		return ""
	}
	return strings.TrimSpace(q.lines.Text())
}

// Entry is the entry of a tank that the answers make. name is what a plant is called.
func Entry(in io.Reader, out io.Writer, j *journal.Journal, t *journal.Tank, on quantity.Date, name func(plant string) string) compose.Entry {
	q := &questions{out, bufio.NewScanner(in), false, j, t, on, name}
	fmt.Fprintln(out, "Enter leaves a blank, = takes what is in brackets, a bare number takes its unit.")
	e := compose.Entry{Parameters: q.readings()}
	for _, s := range journal.Standing(t.Entries, on) {
		q.plant(s, &e)
	}
	if file := q.ask("photo, its file? "); file != "" {
		e.Photos = append(e.Photos, compose.Photo{File: path.Base(file), Alt: q.ask("what it shows? ")})
	}
	e.Words = q.ask("words? ")
	return e
}

func (q *questions) readings() (out []compose.Reading) {
	water := q.t.WaterOn(q.on)
	keys, values := water.Texts()
	last := map[string]string{}
	for i, key := range keys {
		last[key] = values[i]
	}
	for _, key := range compose.ReadingKeys(q.t, q.on) {
		_, unit, _ := strings.Cut(last[key], " ")
		if v := q.value(key, last[key], cmp.Or(unit, compose.UnitOf(key, q.j.Units))); v != "" {
			out = append(out, compose.Reading{Key: key, Value: v})
		}
	}
	return out
}

// value asks for one value.
func (q *questions) value(name, last, unit string) string {
	if last != "" {
		name += " (" + last + ")"
	}
	answer := q.ask("%s? ", name)
	if answer == "=" {
		return last
	}
	return compose.WithUnit(answer, unit)
}

// plant asks for a count, for what was cut after it, and whether that is offered.
func (q *questions) plant(s journal.Stand, e *compose.Entry) {
	measures := compose.Amounts(s.Amount)
	var keys, last []string
	for _, m := range measures {
		keys, last = append(keys, m.Key), append(last, m.Value)
	}
	if answer := q.ask("%s, %s (%s)? ", q.name(s.Plant), strings.Join(keys, " and "), strings.Join(last, ", ")); answer != "" {
		e.Counts = append(e.Counts, compose.Count{Plant: s.Plant, Amount: amountOf(measures, answer, s.Area.String())})
	}
	trim, lot := compose.TrimLike(q.t, s, q.on), compose.Lot{}
	cut := q.ask("  cut? ")
	if cut == "" {
		return
	}
	pieces, length, _ := strings.Cut(cut, " ")
	if trim.Removed == "" {
		trim.Cuttings, trim.Length = pieces, cmp.Or(compose.WithUnit(length, unitIn(trim.Length, "cm")), trim.Length)
	} else {
		trim.Removed = compose.WithUnit(cut, unitIn(trim.Removed, measures[0].Key))
	}
	e.Trims = append(e.Trims, trim)
	lot = compose.NewLot(q.j, q.t, s, q.on)
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
			v = compose.WithUnit(figures[i], unitIn(m.Value, ""))
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
