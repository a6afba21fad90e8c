package chart

import (
	"math"
)

func english() Words {
	return Words{
		Months:      [12]string{"January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November", "December"},
		ShortMonths: [12]string{"Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"},
	}
}

// sampleGrowth is five runs of steady growth with four cuts, a planting and a loss: plain inventions.
func sampleGrowth(id string) Growth {
	g := Growth{
		Caption: Caption{id, "Reed in the trough, centimetres of stem, March to July 2026"},
		Words:   english(),
		Goal:    720,
		Today:   Day(2026, 6, 30),
		Window:  Window{Day(2026, 7, 2), Day(2026, 7, 12)},
		Unit:    "cm",
		Labels: GrowthLabels{
			Count: Label{"each dot a count", "a count"}, Fit: Label{"fit and its 95 % band", "fit, 95 %"}, Goal: Label{"trim at 720 cm", "720 cm"},
			Forecast: Label{"next trim", ""}, Window: Label{"2–12 July", "2–12 Jul"}, Today: Label{"today, 30 June", "30 Jun"}, Scale: Label{Long: "each line ×{n}"}, Changes: Label{"cuttings", "cut"},
		},
		Heads: GrowthHeads{"Counted", "cm of stem", "Run", "What changed"},
	}
	begins := []int{Day(2026, 3, 1), Day(2026, 3, 20), Day(2026, 4, 18), Day(2026, 5, 9), Day(2026, 6, 3), Day(2026, 6, 28)}
	sizes := []float64{240, 215, 300, 260, 190}
	marks := []string{"22", "36", "38", "40"}
	for i := range 5 {
		var run []CurvePoint
		long := float64(begins[i+1] - begins[i])
		for k := range 25 {
			d := long * float64(k) / 24
			s := sizes[i] * math.Exp(0.04*d)
			run = append(run, CurvePoint{float64(begins[i]) + d, s, s * 0.9, s * 1.11})
		}
		for k := 0.0; k < 4; k++ {
			d := math.Floor(long * k / 3)
			wobble := 1 + 0.06*math.Sin(float64(i)*3+k*2)
			g.Counts = append(g.Counts, Count{begins[i] + int(d), math.Round(sizes[i] * math.Exp(0.04*d) * wobble), i + 1})
		}
		g.Runs = append(g.Runs, run)
		if i < 4 {
			g.Changes = append(g.Changes, Change{begins[i+1], Trimmed, marks[i], marks[i] + " cuttings"})
		}
	}
	g.Changes = append(g.Changes, Change{Day(2026, 4, 2), Planted, "+6", "6 planted"}, Change{Day(2026, 6, 17), Lost, "−4", "4 lost"})
	for k := range 6 {
		d := float64(k) * 2
		s := 516 * math.Exp(0.034*d)
		w := 1.1 + 0.02*d
		g.Ahead = append(g.Ahead, CurvePoint{float64(begins[5]) + d, s, s / w, s * w})
	}
	return g
}

func sampleCourse(id string) TimeSeries {
	c := TimeSeries{
		Caption:  Caption{id, "Total hardness in the trough, 2026"},
		Words:    english(),
		Good:     Limits{2, 15},
		Target:   new(6.0),
		Unit:     "dGH",
		Decimals: 1,
		Labels:   CourseLabels{Label{"GH", ""}, Label{"good for reed: 2–15 dGH", "good: 2–15"}, Label{"wanted: 6", ""}},
		Heads:    CourseHeads{"Measured", "dGH"},
	}
	for i, v := range []float64{5.5, 6, 6.5, 6, 7, 7.5, 6, 6.5, 5, 5.5, 6, 6.5} {
		c.Readings = append(c.Readings, Reading{Day(2026, 1, 10) + i*15, v, false})
	}
	return c
}

func sampleNitrate(id string) TimeSeries {
	c := sampleCourse(id)
	c.Title, c.Unit, c.Good, c.Target, c.Decimals = "Nitrate in the trough", "mg/L", Limits{5, 20}, nil, 0
	c.Labels.Name, c.Labels.Good = Label{"Nitrate", ""}, Label{"good: 5–20", ""}
	for i := range c.Readings {
		c.Readings[i].Value = float64(4 + i*i%11)
		c.Readings[i].Below = i%4 == 0
		if c.Readings[i].Below {
			c.Readings[i].Value = 2
		}
	}
	return c
}

func sampleRanking(id string) Ranking {
	return Ranking{
		Caption: Caption{id, "Slips that lived, from each dm² and week"}, Words: english(), Decimals: 2, Unit: "slips per dm² and week",
		Rows: []Ranked{
			{Name: "Stargrass in the trough", Value: 1.42, Low: 0.96, High: 1.91, N: 9},
			{Name: "Broad-leaved sword with a long name that goes on", Value: 0.84, Low: 0.5, High: 1.3, N: 14},
			{Name: "Vesicularia dubyana", Latin: true, Where: "the tray", Value: 0.41, N: 6},
			{Name: "Dwarf lily", Value: 0, Low: 0, High: 0.32, N: 5},
		},
		Heads: RankingHeads{"Plant", "Slips", "Interval", "n"},
	}
}

func sampleTree(id string) Tree {
	return Tree{
		Caption: Caption{id, "Where the plants went"},
		Foot:    "The bench",
		Branches: []Branch{
			{"Stargrass", "6 parcels: 2 established, 1 lost", [][]Twig{
				{{Established, []Twig{{Established, []Twig{{Silent, nil}}}, {Silent, nil}}}, {Gone, nil}, {Silent, nil}}, {{Established, nil}, {Silent, nil}, {Silent, nil}}}},
			{"Broad-leaved sword with a long name that goes on", "1 parcel, from a friend", [][]Twig{{{Silent, nil}}}},
			{"Moss", "1 parcel", [][]Twig{{{Gone, nil}}}},
		},
		Marks: TreeMarks{"established", "lost", "no result", "a lot"},
	}
}

func sampleMonths(id string) Months {
	return Months{Caption: Caption{id, "2026 by month"}, Names: english().ShortMonths, Month: "Month", Rows: []MonthRow{
		{"2150 pieces cut", "Cut", "clay", []int{0, 0, 60, 113, 204, 294, 313, 356, 352, 261, 197}},
		{"31 parcels established", "Established", "leaf", []int{0, 0, 5, 4, 8, 5, 3, 1, 5, 0, 0}}}}
}

// The days that are drawn in tests: 1 January of year 1 to 31 December of year 9999.
const (
	firstDay = -719162
	lastDay  = 2932896
)
