package page

import (
	"fmt"
	"html/template"
	"slices"

	"slipleaf/build/journal"
	"slipleaf/build/keys"
	"slipleaf/build/plot"
	"slipleaf/build/words"
)

// figure draws a fenced figure of prose for the page at from.
func (b *Site) figure(from, kind string, args []string) (template.HTML, error) {
	switch kind {
	case "parameter":
		return b.parameterFigure(from, args)
	case "water":
		return b.waterFigure(from)
	case "growth":
		return b.growthFigure(from, args)
	case "keys":
		tasks, err := keys.Tasks(b.Locale())
		if err != nil {
			return "", err
		}
		out, err := b.part(nil, "part-keys", tasks)
		return template.HTML(out), err
	}
	return "", fmt.Errorf("there is no figure %q", kind)
}

func (b *Site) parameterFigure(from string, args []string) (template.HTML, error) {
	key := args[0]
	if !slices.Contains(words.ParameterKeys[:], key) {
		return "", fmt.Errorf("%q is no parameter", key)
	}
	return b.tankCharts(args[1:], fmt.Errorf("no %s was measured there", key), func(t *journal.Tank) *plot.ChartBlock {
		measured := b.plots().Series(t)[key]
		if measured == nil {
			return nil
		}
		return new(b.plots().ParameterChart(from, t, key, *measured, plot.Days{}))
	})
}

// tankCharts are the charts of the tanks that have one, or of the one that is named; none is an error.
func (b *Site) tankCharts(named []string, none error, of func(t *journal.Tank) *plot.ChartBlock) (template.HTML, error) {
	var out []byte
	for _, t := range b.Journal.Tanks {
		if len(named) > 0 && t.ID != named[0] {
			continue
		}
		c := of(t)
		if c == nil {
			continue
		}
		var err error
		if out, err = b.part(out, "part-chart-block", c); err != nil {
			return "", err
		}
	}
	if len(out) == 0 {
		return "", none
	}
	return template.HTML(out), nil
}

// waterFigure is a table of every tank's water as last measured.
func (b *Site) waterFigure(from string) (template.HTML, error) {
	v := b.Locale()
	var tanks []TankLine
	for _, t := range b.Journal.Tanks {
		w := b.facts.WaterNow(t.ID)
		if water := waterLine(v, w); len(water) > 0 {
			tanks = append(tanks, TankLine{Name: b.tankName(t.ID), Href: b.href(from, TankAddr(t.ID)), Water: water, WaterDate: v.Date(w.Newest(lineKeys...))})
		}
	}
	if len(tanks) == 0 {
		return "", fmt.Errorf("no water has been measured yet")
	}
	out, err := b.part(nil, "part-water", tanks)
	return template.HTML(out), err
}

// part appends a part of the theme, filled.
func (b *Site) part(to []byte, name string, model any) ([]byte, error) {
	x, err := b.Theme.Part(name, model)
	return append(to, x...), err
}
