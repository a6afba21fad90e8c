package desk

import (
	_ "embed"
	"fmt"
	"html/template"
	"io"
	"strings"

	"slipleaf/build/growth"
	"slipleaf/build/journal"
	"slipleaf/build/page"
	"slipleaf/build/words"
)

//go:embed today.html
var paperPage string

// paper is the model of the printed page. It is the grower's own and names people.
type paper struct {
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

// Paper writes, for paper, Saturday's trim list and the tank sitter's page.
func Paper(to io.Writer, b *page.Site, t growth.Today) error {
	v := b.Locale()
	m := paper{Title: b.Journal.Title, Date: v.Date(t.On), Grower: b.Journal.Grower}
	named := due{b: b}
	people := map[string][]string{} // by plant
	for _, p := range t.Reservations {
		name := NameIn(b.All.Journal, p.Record)
		people[p.Plant] = append(people[p.Plant], fmt.Sprintf("%s (%d)", name, p.Count))
		m.Reservations = append(m.Reservations, printReservation{p.Lot, named.plant(p.Plant), fmt.Sprint(p.Count), v.DayMonth(p.Lapses), name})
	}
	for _, d := range t.Trim {
		tank, _ := b.Journal.Tank(d.Tank)
		row := printTrim{Plant: named.plant(d.Plant), Tank: tank.Name, When: v.Dates(d.Low, d.High), For: strings.Join(people[d.Plant], ", ")}
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
	page, err := template.New("today").Parse(paperPage)
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
