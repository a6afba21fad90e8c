package main

import (
	"context"
	_ "embed"
	"encoding/json"
	"fmt"
	"html/template"
	"io"
	"strings"

	"slipleaf/build/growth"
	"slipleaf/build/journal"
	"slipleaf/build/page"
	"slipleaf/build/site"
	"slipleaf/build/words"
)

type todayCmd struct {
	Dir   string `arg:"" optional:"" help:"The journal (default: content, or the current folder)."`
	On    string `placeholder:"DATE" help:"Treat this date as today."`
	JSON  bool   `name:"json" help:"Print the list as JSON."`
	Print bool   `help:"Print it as a page for paper: Saturday's trim list and the page for whoever minds the tanks. Private: it names recipients."`
}

// Run lists what to trim, what is ready and whom to ask for news.
func (c todayCmd) Run(ctx context.Context, w world) error {
	dir, err := journalDir(c.Dir)
	if err != nil {
		return err
	}
	fsys, closeFS, err := journalFS(dir)
	if err != nil {
		return err
	}
	defer closeFS()
	on, err := w.day(c.On, fsys)
	if err != nil {
		return err
	}
	b, cs, err := site.Load(ctx, fsys, site.Options{On: on, Zone: knownZone})
	if err != nil {
		return err
	}
	if b == nil {
		showComplaints(w, dir, fsys, cs)
		return errJournal
	}
	t := b.All.Growth.TodayOf(b.All.Journal, b.All.Ledger, b.Species)
	switch {
	case c.JSON:
		e := json.NewEncoder(w.Out)
		e.SetIndent("", "  ")
		return e.Encode(t)
	case c.Print:
		return printToday(w.Out, b, t)
	}
	writeToday(w.Out, b, t)
	return nil
}

// writeToday writes the list for a terminal.
func writeToday(to io.Writer, b *page.Site, t growth.Today) {
	fmt.Fprintf(to, "%s\n", b.Locale().Date(t.On))
	parts := todayParts(b, t, recordOf)
	for _, p := range parts {
		fmt.Fprintf(to, "%s\n  %s\n", p.Head, strings.Join(p.Lines, "\n  "))
	}
	if len(parts) == 0 {
		fmt.Fprintln(to, "Nothing is due.")
	}
}

// todayPart is a heading of the list and its lines.
type todayPart struct {
	Head  string
	Lines []string
}

// todayParts puts the list into words; a part without anything in it is left out. who names the recipient of a record.
func todayParts(b *page.Site, t growth.Today, who func(j *journal.Journal, record string) string) []todayPart {
	v := b.Locale()
	name := func(plant, tank string) string {
		s := calledBy(b, plant)
		if k, ok := b.Journal.Tank(tank); ok {
			return s + ", " + k.Name
		}
		return s
	}
	var parts []todayPart
	part := func(head string, lines []string) {
		if len(lines) > 0 {
			parts = append(parts, todayPart{Head: head, Lines: lines})
		}
	}
	var now, week, count, water, lots, reserved, ask []string
	for _, d := range t.Trim {
		line := name(d.Plant, d.Tank) + ": " + v.Dates(d.Low, d.High)
		if d.Wanted > 0 {
			line += fmt.Sprintf("; %d reserved", d.Wanted)
		}
		if d.Now {
			now = append(now, line)
		} else {
			week = append(week, line)
		}
	}
	for _, d := range t.Count {
		count = append(count, fmt.Sprintf("%s: last on %s, %d days ago", name(d.Plant, d.Tank), v.DayMonth(d.Last), d.Days))
	}
	for _, d := range t.Water {
		tank, _ := b.Journal.Tank(d.Tank)
		should := fmt.Sprintf("target %s", v.N(d.Wanted, 2))
		if d.High != 0 || d.Low != 0 {
			should = fmt.Sprintf("tolerated by all: %s to %s", v.N(d.Low, 2), v.N(d.High, 2))
		}
		water = append(water, strings.TrimSpace(fmt.Sprintf("%s: %s %s %s", tank.Name, v.Text("parameter."+d.Parameter), v.N(d.Value, 2), d.Unit))+", "+should+" ("+v.DayMonth(d.On)+")")
	}
	for _, d := range t.Lots {
		lots = append(lots, fmt.Sprintf("%s, %s: due %s; add its count", d.Lot, name(d.Plant, ""), v.DayMonth(d.Ready)))
	}
	for _, d := range t.Reservations {
		reserved = append(reserved, fmt.Sprintf("%d of %s by %s (%s)", d.Count, d.Lot, v.DayMonth(d.Lapses), who(b.All.Journal, d.Record)))
	}
	for _, d := range t.Ask {
		ask = append(ask, fmt.Sprintf("%s: %s, sent %s, day %d (%s)", who(b.All.Journal, d.Record), name(d.Plant, ""), v.DayMonth(d.Sent), d.Day, lastNews(v, d)))
	}
	part("Trim now", now)
	part("Trim within a week", week)
	part("Count again", count)
	part("Water out of range", water)
	part("Lots without a count", lots)
	part("Reserved, not yet sent", reserved)
	part("Ask for news", ask)
	return parts
}

func lastNews(v words.Locale, d growth.AskDue) string {
	if d.Reported.IsZero() {
		return "no news yet"
	}
	return "last news " + v.DayMonth(d.Reported)
}

//go:embed today.html
var todayPage string

// todayPrint is the model of the printed page. It is the grower's own and names people.
type todayPrint struct {
	Title, Date, Grower string
	Trim                []printTrim
	Reservations        []printReservation
	Tanks               []printTank
}

type printTrim struct{ Plant, Tank, When, Wanted, For string }

type printReservation struct{ Lot, Plant, Count, By, Name string }

type printTank struct {
	Name, Size, Light, Animals string
	CO2                        bool
	Water                      []words.Measure
}

// printToday writes Saturday's trim list and the tank sitter's page.
func printToday(to io.Writer, b *page.Site, t growth.Today) error {
	v := b.Locale()
	m := todayPrint{Title: b.Journal.Title, Date: v.Date(t.On), Grower: b.Journal.Grower}
	people := map[string][]string{} // by plant
	for _, p := range t.Reservations {
		name := nameOf(b.All.Journal, p.Record)
		people[p.Plant] = append(people[p.Plant], fmt.Sprintf("%s (%d)", name, p.Count))
		m.Reservations = append(m.Reservations, printReservation{p.Lot, calledBy(b, p.Plant), fmt.Sprint(p.Count), v.DayMonth(p.Lapses), name})
	}
	for _, d := range t.Trim {
		tank, _ := b.Journal.Tank(d.Tank)
		row := printTrim{Plant: calledBy(b, d.Plant), Tank: tank.Name, When: v.Dates(d.Low, d.High), For: strings.Join(people[d.Plant], ", ")}
		if d.Wanted > 0 {
			row.Wanted = fmt.Sprint(d.Wanted)
		}
		m.Trim = append(m.Trim, row)
	}
	for _, tank := range b.Journal.Tanks {
		if !tank.Ended.IsZero() && !tank.Ended.After(t.On) {
			continue
		}
		m.Tanks = append(m.Tanks, sitterTank(b, v, tank))
	}
	page, err := template.New("today").Parse(todayPage)
	if err != nil {
		return err
	}
	return page.Execute(to, m)
}

func sitterTank(b *page.Site, v words.Locale, tank *journal.Tank) printTank {
	p := printTank{Name: tank.Name, Size: b.TankSize(tank), CO2: tank.CO2 == journal.Yes}
	for _, l := range tank.Light {
		if l.Hours > 0 {
			p.Light = v.N(l.Hours, 1) + " h"
			break
		}
	}
	var animals []string
	for _, l := range tank.Livestock {
		animals = append(animals, fmt.Sprintf("%d %s", l.Count, l.Kind))
	}
	p.Animals = strings.Join(animals, ", ")
	p.Water, _ = b.LatestWater(tank)
	return p
}

// calledBy is the plain name of a plant with the scientific one beside it.
func calledBy(b *page.Site, plant string) string {
	s := b.Species(plant)
	s.ID = plant
	return s.Called()
}

// recordOf names a recipient by the file of the record, for a terminal that others may see.
func recordOf(_ *journal.Journal, record string) string { return record }

// nameOf is the recipient's name for the grower's own paper and the preview's own page; the record's file where none is written.
func nameOf(j *journal.Journal, record string) string {
	for _, p := range j.Parcels {
		if p.Path == record {
			if name, ok := p.Private.Reveal("name"); ok && name != "" {
				return name
			}
		}
	}
	return record
}
