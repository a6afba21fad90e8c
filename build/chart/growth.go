package chart

import (
	"cmp"
	"slices"
)

// Growth is the size of a plant over time, as it was counted, cut and fitted. Sizes stand by their logarithm, where steady
// growth is a straight line, unless they span too little. Zero values leave parts out.
type Growth struct {
	Caption
	Words    Words
	Counts   []Count
	Runs     [][]CurvePoint // the fitted line of each segment: never one line across a cut
	Changes  []Change
	Ahead    []CurvePoint // the fitted line carried on, to the goal at the farthest
	Window   Window       // when the goal is likely to be reached
	Goal     float64      // size at which it is trimmed; 0: none
	Today    int          // 0: not shown
	Unit     string       // is on the highest tick
	Whole    bool         // sizes are numbers of things, so that no tick is between two
	Decimals int          // of sizes in the table
	Labels   GrowthLabels
	Heads    GrowthHeads
}

// Count is what was counted on a day; Run numbers the segment that it belongs to, from 1 (0: not told).
type Count struct {
	Day  int
	Size float64
	Run  int
}

// Kind is what changed a size other than growth.
type Kind int

// The kinds of change, each with a shape of its own on the base line.
const (
	Trimmed Kind = iota
	Planted
	Lost
)

// Change is a cut, a planting or a loss. Mark is under its tick ("22", "+6", "−4"); Note says it in the table.
type Change struct {
	Day  int
	Kind Kind
	Mark string
	Note string
}

// Window is a span of days, both included; it is left out where both are 0.
type Window struct{ From, To int }

// GrowthLabels are the texts beside the things in a growth chart.
type GrowthLabels struct {
	Count    Label // "each dot a count"
	Fit      Label // "fit and its 95 % band"
	Goal     Label // "trim at 720 cm"
	Forecast Label // "next trim"
	Window   Label // "2–12 July"
	Today    Label // "today, 30 June"
	Scale    Label // "each line ×{n}": how a logarithmic axis climbs
	Changes  Label // "cuttings": what the marks under the base line count
	Planted  Label // "planted": what the triangles mean
	Lost     Label // "lost": what the crosses above the base line mean
	None     Label // "none left": what a cross on the base line means
}

// GrowthHeads head the columns of the table.
type GrowthHeads struct{ Day, Size, Run, Change string }

// Draw makes the chart in both layouts; an empty picture without a count.
func (g Growth) Draw() Picture {
	if len(g.Counts) == 0 {
		return Picture{}
	}
	return Picture{g.draw(broad()).svg(), g.draw(narrow()).svg(), g.Table()}
}

// Table lists counts, changes and the forecast in the order of their days; a count is before a change of its day.
func (g Growth) Table() Table {
	type row struct {
		day   int
		cells []string
	}
	var rows []row
	for _, c := range g.Counts {
		run := ""
		if c.Run > 0 {
			run = g.Words.Number(float64(c.Run), 0)
		}
		rows = append(rows, row{c.Day, []string{g.Words.Date(c.Day), g.Words.Number(c.Size, g.Decimals), run, ""}})
	}
	for _, c := range g.Changes {
		rows = append(rows, row{c.Day, []string{g.Words.Date(c.Day), "", "", cmp.Or(c.Note, c.Mark)}})
	}
	slices.SortStableFunc(rows, func(a, b row) int { return a.day - b.day })
	if g.hasWindow() {
		size := ""
		if g.Goal > 0 {
			size = g.Words.Number(g.Goal, g.Decimals)
		}
		days := g.Words.Date(g.Window.From) + " – " + g.Words.Date(g.Window.To)
		rows = append(rows, row{g.Window.To, []string{days, size, "", g.Labels.Forecast.Long}})
	}
	t := Table{Head: []Column{{g.Heads.Day, false}, {g.Heads.Size, true}, {g.Heads.Run, true}, {g.Heads.Change, false}}}
	for _, r := range rows {
		t.Rows = append(t.Rows, r.cells)
	}
	return t
}

func (g Growth) hasWindow() bool { return g.Window != Window{} }
