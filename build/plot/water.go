package plot

import (
	"cmp"
	"slices"

	"slipleaf/build/chart"
	"slipleaf/build/journal"
	"slipleaf/build/quantity"
	"slipleaf/build/theme"
	"slipleaf/build/words"
)

// ChartBlock is a chart with its caption, its figures as a table and links to them as files.
type ChartBlock struct {
	chart.Picture
	Caption string
	Label   string // names the table's scrolling frame
	Data    []theme.Link
}

// Words is what charts must know of the language.
func Words(v words.Locale) chart.Words {
	w := chart.Words{DayMonth: v.Raw("date.chart-day-month"), DatePattern: v.Raw("date.full"), Decimal: v.Raw("figure.decimal")}
	copy(w.Months[:], v.List("date.months"))
	copy(w.ShortMonths[:], v.List("date.short-months"))
	return w
}

// Series is one parameter of a tank over time, in a unit.
type Series struct {
	Points []chart.Reading
	Unit   string
}

// Series collects the parameters of a tank by their keys, as far as the site's day.
func (b Kit) Series(t *journal.Tank) map[string]*Series {
	all := map[string]*Series{}
	for _, e := range b.Facts.ReadingsNow(t.ID) {
		for _, r := range words.Readings(b.Locale, e.Parameters) {
			if !r.Known {
				continue
			}
			if all[r.Key] == nil {
				all[r.Key] = &Series{Unit: r.Unit}
			}
			all[r.Key].Points = append(all[r.Key].Points, chart.Reading{Day: e.Date.Days(), Value: r.Base, Below: r.Below})
		}
	}
	return all
}

// ParameterCharts draws every parameter of a tank that was measured at least three times.
func (b Kit) ParameterCharts(from string, t *journal.Tank) []ChartBlock {
	var out []ChartBlock
	var keys []string
	var axis Days // of all, so that the charts line up
	all := b.Series(t)
	for _, key := range words.ParameterKeys {
		if s := all[key]; s != nil && len(s.Points) >= 3 {
			keys = append(keys, key)
			axis = axis.with(s.Points)
		}
	}
	for _, key := range keys {
		c := b.ParameterChart(from, t, key, *all[key], axis)
		c.Picture.Broad = "" // they stand in columns, which are narrow
		out = append(out, c)
	}
	return out
}

// Days is the days that a time axis shows at least; zero: as its readings.
type Days struct{ from, to int }

func (s Days) with(points []chart.Reading) Days {
	for _, p := range points {
		if s == (Days{}) {
			s = Days{p.Day, p.Day}
		}
		s = Days{min(s.from, p.Day), max(s.to, p.Day)}
	}
	return s
}

// ParameterChart draws one parameter of a tank with its target and the tolerance shared by what grows there.
func (b Kit) ParameterChart(from string, t *journal.Tank, key string, s Series, axis Days) ChartBlock {
	v, points, unit := b.Locale, s.Points, s.Unit
	name := v.Text("parameter." + key)
	title := v.Text("chart.parameter-title", "name", name, "tank", words.InText(v, b.TankName(t.ID)))
	c := chart.TimeSeries{
		Caption: chart.Caption{ID: "c-" + t.ID + "-" + key, Title: title},
		Words:   Words(v), Readings: points, From: axis.from, To: axis.to, Unit: printedUnit(key, unit), Decimals: decimalsOf(key, points),
		Labels: chart.CourseLabels{Name: chart.Label{Long: name}},
		Heads:  chart.CourseHeads{Day: v.Text("chart.day"), Value: name + unitInBrackets(key, unit)},
	}
	ids := b.Standing(t)
	finding := b.finding(v, c.Words, points, key, unit)
	if l, ok := b.sharedTolerance(ids, key); ok {
		c.Good = chart.Limits{Low: l.Low, High: l.High}
		c.Labels.Good = chart.Label{Long: v.Text("chart.good-for-all"), Short: v.Text("chart.good")}
		finding += " " + v.Text("chart.tolerance", "low", c.Words.Number(l.Low, words.Decimals(l.Low)), "high", c.Words.Number(l.High, words.Decimals(l.High)), "unit", unitAfter(printedUnit(key, unit)))
	} else if clash := b.clash(v, ids, key, unitAfter(printedUnit(key, unit))); clash != "" {
		finding += " " + clash
	}
	if target, ok := targetOf(v, t, key); ok {
		c.Target = &target
		c.Labels.Target = chart.Label{Long: v.Text("chart.wanted", "value", c.Words.Number(target, words.Decimals(target)))}
	}
	return ChartBlock{Picture: c.Draw(), Caption: finding, Label: title,
		Data: []theme.Link{{Text: "parameters.csv", Href: b.Href(from, b.TankAddr(t.ID)+"parameters.csv")}}}
}

// finding says what a parameter's chart shows: the last value, and the lowest and highest with their number.
func (b Kit) finding(v words.Locale, w chart.Words, points []chart.Reading, key, unit string) string {
	last := points[len(points)-1]
	byValue := func(x, y chart.Reading) int { return cmp.Compare(x.Value, y.Value) }
	lo, hi := slices.MinFunc(points, byValue), slices.MaxFunc(points, byValue)
	num := func(r chart.Reading) string {
		text := w.Number(r.Value, min(words.Decimals(r.Value), mostDecimals(key)))
		if r.Below {
			return v.Text("figure.below", "limit", text)
		}
		return text
	}
	u := unitAfter(printedUnit(key, unit))
	if lo.Value == hi.Value {
		return v.Text("chart.finding-steady", "name", v.Text("parameter."+key), "value", num(last), "unit", u, "n", len(points))
	}
	return v.Text("chart.finding", "name", v.Text("parameter."+key), "value", num(last), "unit", u, "date", v.Date(quantity.FromDays(last.Day)), "low", num(lo), "high", num(hi), "n", len(points))
}

func targetOf(v words.Locale, t *journal.Tank, key string) (float64, bool) {
	for _, r := range words.Readings(v, t.Target) {
		if r.Key == key && r.Known {
			return r.Base, true
		}
	}
	return 0, false
}

// printedUnit is a unit as charts print it.
func printedUnit(key, unit string) string {
	switch {
	case key == "ph":
		return ""
	case unit == "C":
		return "°C"
	case unit == "uS/cm":
		return "µS/cm"
	case unit == "umol/m2/s":
		return "µmol/m²/s"
	}
	return unit
}

// unitAfter is a unit with the space before it; "" where there is none.
func unitAfter(unit string) string {
	if unit == "" {
		return ""
	}
	return "\u00a0" + unit
}

func unitInBrackets(key, unit string) string {
	if u := printedUnit(key, unit); u != "" {
		return " (" + u + ")"
	}
	return ""
}

// decimalsOf is the most decimals that the readings need, at most as many as the parameter is measured to.
func decimalsOf(key string, points []chart.Reading) int {
	d := 0
	for _, p := range points {
		d = max(d, words.Decimals(p.Value))
	}
	return min(d, mostDecimals(key))
}

// mostDecimals is how many decimals a parameter of a hobby tank is measured to (common practice); what was converted from
// another unit has more, which say nothing.
func mostDecimals(key string) int {
	switch key {
	case "conductivity", "light", "lux":
		return 0
	case "temperature", "gh", "kh", "co2", "nitrate", "potassium", "calcium", "magnesium", "oxygen":
		return 1
	}
	return 2
}

// clash says that no value of a parameter suits all plants: which of them tolerates the least, and which needs the most. It is
// "" where some value suits all, or too little is known.
func (b Kit) clash(v words.Locale, ids []string, key, unit string) string {
	var low, high Limits
	var needs, stands string
	for _, id := range ids {
		t, known := b.Tolerance(id, key)
		if !known {
			continue
		}
		if needs == "" || t.Low > low.Low {
			needs, low = id, t
		}
		if stands == "" || t.High < high.High {
			stands, high = id, t
		}
	}
	if needs == "" || low.Low < high.High {
		return ""
	}
	w := Words(v)
	return v.Text("tank-text.clash", "name", v.Text("parameter."+key), "stands", words.Capital(b.PlantName(stands)), "most", w.Number(high.High, words.Decimals(high.High)),
		"needs", b.PlantName(needs), "least", w.Number(low.Low, words.Decimals(low.Low)), "unit", unit)
}
