package demo

import "strings"

// seed starts every stream of random numbers. Each series and each tank has a stream of its own, named by its address,
// so that a change to one leaves the others as they were.
const seed = 20260207

// A tank is its visits and what grows in it.
type tank struct {
	name   string
	visits []string // file names without .md, in order: a date, or a date and a slug
	series []series
	water  waterHabit
}

// A series is one life of one plant in one tank, with the truth that its counts hide.
type series struct {
	plant    string
	measure  string  // stem-length, stems, plantlets, leaves, cover or mass
	r        float64 // relative growth rate, per day
	q        float64 // unevenness: sd of log size per square root of a day
	m        float64 // error of a count: sd of its logarithm
	holds    float64 // what the space holds, in the measure; 0: no end in sight
	from, to string  // first and last visit, inclusive
	size     float64 // size on the first day, in the measure
	stems    int     // for stem-length: how many stems share it
	planted  string  // empty: it stood there when the diary began; else where it came from
	gaps     []gap   // how often it is counted
	trim     trimHabit
	area     float64 // dm²; 0: not written
	where    string
	losses   []loss
	leaves   string // cause written when the whole stand is taken out on the last day
	switches string // from this day counted in plantlets, each worth `per` of the first measure
	per      float64
}

// A gap says that from a day on the plant is counted when so many days have passed since its last count.
type gap struct {
	from string
	days int
}

// A trimHabit is when the grower reaches for the scissors, and how hard.
type trimHabit struct {
	at         float64 // length in cm for stem-length, else size in the measure; 0: never
	shareLo    float64 // share of stems (stem-length) or of the stand that is taken
	shareHi    float64
	cutLo      float64 // share of a stem's length that comes off
	cutHi      float64
	replantMax float64 // share of the cuttings that goes back, at most
	startsFrom string
}

// A loss is what died, in stems or in the measure of the series.
type loss struct {
	date  string
	count int
	cause string
}

var weekly = []gap{{"2026-01-01", 5}}

func every(days int) []gap { return []gap{{"2026-01-01", days}} }

func dates(s string) []string { return strings.Fields(s) }

func tanks() []tank {
	return []tank{
		{name: "trough", visits: dates(troughVisits), series: troughSeries(), water: troughWater},
		{name: "nano", visits: dates(nanoVisits), series: nanoSeries(), water: nanoWater},
		{name: "tray", visits: dates(trayVisits), series: traySeries(), water: trayWater},
	}
}

const troughVisits = `
2026-02-07 2026-02-14 2026-02-21 2026-03-01 2026-03-07 2026-03-14 2026-03-18 2026-03-22 2026-03-29
2026-04-04 2026-04-11 2026-04-18 2026-04-25 2026-05-03 2026-05-09 2026-05-16 2026-05-23 2026-05-23-swap-table 2026-05-31
2026-06-06 2026-06-13 2026-06-20 2026-06-28 2026-07-04 2026-07-11 2026-07-18 2026-07-21-heat 2026-07-25 2026-08-01
2026-08-16 2026-08-22 2026-08-30 2026-09-05 2026-09-12 2026-09-19 2026-09-27
2026-10-03 2026-10-10 2026-10-18 2026-10-25 2026-11-01 2026-11-08 2026-11-15 2026-11-22`

const nanoVisits = `
2026-02-15 2026-03-01 2026-03-15 2026-03-28 2026-04-06 2026-04-19 2026-05-02 2026-05-10 2026-05-24
2026-06-07 2026-06-21 2026-07-05 2026-07-19 2026-08-02 2026-08-17 2026-08-31 2026-09-13 2026-09-26
2026-10-11 2026-10-24 2026-11-07 2026-11-21`

const trayVisits = `
2026-03-28 2026-04-12 2026-04-26 2026-05-10 2026-05-25 2026-06-08 2026-06-21 2026-07-05 2026-07-20
2026-08-02 2026-08-19 2026-09-06 2026-09-20 2026-10-04 2026-10-19 2026-11-02 2026-11-16`

const last = "2026-11-22"

func troughSeries() []series {
	return []series{
		{plant: "heteranthera-zosterifolia", measure: "stem-length", r: 0.040, q: 0.012, m: 0.07, from: "2026-02-07", to: last,
			size: 150, stems: 13, gaps: []gap{{"2026-01-01", 5}, {"2026-08-30", 12}}, area: 6, where: "{along: 20..50 cm, row: back}",
			trim:   trimHabit{at: 24, shareLo: 0.8, shareHi: 1, cutLo: 0.56, cutHi: 0.7, replantMax: 0.15},
			losses: []loss{{"2026-05-16", 2, "uprooted"}}},
		{plant: "rotala-rotundifolia", measure: "stem-length", r: 0.048, q: 0.014, m: 0.09, from: "2026-03-14", to: "2026-09-19",
			size: 90, stems: 10, planted: "gift", gaps: weekly, area: 4, where: "{along: 78..98 cm, row: back}",
			trim: trimHabit{at: 25, shareLo: 0.7, shareHi: 1, cutLo: 0.48, cutHi: 0.62, replantMax: 0.15}, leaves: "removed"},
		{plant: "bacopa-caroliniana", measure: "stem-length", r: 0.024, q: 0.008, m: 0.05, from: "2026-02-07", to: last,
			size: 100, stems: 8, gaps: every(13), area: 3, where: "{along: 52..66 cm, row: middle}",
			trim: trimHabit{at: 26, shareLo: 0.6, shareHi: 1, cutLo: 0.48, cutHi: 0.62, replantMax: 0.2}},
		{plant: "staurogyne-repens", measure: "stems", r: 0.026, q: 0.012, m: 0.06, from: "2026-02-07", to: last,
			size: 19, gaps: every(10), area: 4, where: "{along: 40..70 cm, row: front}",
			trim: trimHabit{at: 48, shareLo: 0.33, shareHi: 0.55}},
		{plant: "cryptocoryne-wendtii", measure: "plantlets", r: 0.013, q: 0.008, m: 0.05, from: "2026-02-07", to: last,
			size: 9, gaps: every(13), area: 5, where: "{along: 98..114 cm, row: middle}",
			trim:   trimHabit{at: 17, shareLo: 0.3, shareHi: 0.45},
			losses: []loss{{"2026-03-22", 1, "melt"}}},
		{plant: "cryptocoryne-x-willisii", measure: "plantlets", r: 0.010, q: 0.006, m: 0.05, from: "2026-02-14", to: last,
			size: 16, gaps: every(20), area: 3, where: "{along: 72..90 cm, row: front}",
			trim: trimHabit{at: 34, shareLo: 0.3, shareHi: 0.4}},
		{plant: "sagittaria-subulata", measure: "cover", r: 0.017, q: 0.012, m: 0.10, from: "2026-02-21", to: last,
			size: 8, gaps: every(10), area: 8, where: "{along: 0..24 cm, row: front}",
			trim: trimHabit{at: 40, shareLo: 0.3, shareHi: 0.5, startsFrom: "2026-04-01"}, switches: "2026-07-11", per: 1.1},
		{plant: "helanthium-tenellum", measure: "cover", r: 0.055, q: 0.007, m: 0.07, holds: 78, from: "2026-03-07", to: last,
			size: 4, planted: "swap", gaps: every(8), area: 9, where: "{along: 14..40 cm, row: front}"},
		{plant: "anubias-barteri", measure: "leaves", r: 0.0065, q: 0.003, m: 0.03, from: "2026-02-07", to: last,
			size: 31, gaps: every(26), where: "{along: 4..18 cm, row: middle}",
			trim: trimHabit{at: 90, shareLo: 0.2, shareHi: 0.3}},
		{plant: "leptochilus-pteropus", measure: "leaves", r: 0.0105, q: 0.006, m: 0.06, from: "2026-02-21", to: last,
			size: 22, gaps: every(20), where: "{along: 2..16 cm, row: back}",
			trim: trimHabit{at: 70, shareLo: 0.3, shareHi: 0.45}},
		{plant: "hydrocharis-laevigata", measure: "plantlets", r: 0.075, q: 0.02, m: 0.06, from: "2026-05-03", to: "2026-10-25", leaves: "removed",
			size: 9, planted: "gift", gaps: weekly,
			trim: trimHabit{at: 40, shareLo: 0.4, shareHi: 0.66}},
		{plant: "pistia-stratiotes", measure: "plantlets", r: 0.05, q: 0.02, m: 0.05, from: "2026-06-13", to: "2026-07-18",
			size: 3, planted: "gift", gaps: every(13), leaves: "removed"},
	}
}

func nanoSeries() []series {
	return []series{
		{plant: "vallisneria-spiralis", measure: "plantlets", r: 0.021, q: 0.010, m: 0.05, from: "2026-02-15", to: last,
			size: 6, gaps: every(13), area: 3, trim: trimHabit{at: 20, shareLo: 0.35, shareHi: 0.55}},
		{plant: "cryptocoryne-beckettii", measure: "leaves", r: 0.0125, q: 0.008, m: 0.05, from: "2026-02-15", to: last,
			size: 17, gaps: every(13), area: 2, trim: trimHabit{at: 60, shareLo: 0.3, shareHi: 0.4}},
		{plant: "heteranthera-zosterifolia", measure: "stem-length", r: 0.015, q: 0.010, m: 0.07, from: "2026-04-06", to: last,
			size: 60, stems: 6, planted: "the trough", gaps: every(12), area: 1.5,
			trim:   trimHabit{at: 19, shareLo: 0.6, shareHi: 0.9, cutLo: 0.48, cutHi: 0.62, replantMax: 0.2},
			losses: []loss{{"2026-05-02", 1, "melt"}}},
		{plant: "ceratopteris-thalictroides", measure: "leaves", r: 0.040, q: 0.015, m: 0.06, from: "2026-03-01", to: "2026-06-07",
			size: 7, planted: "gift", gaps: every(12), area: 1.5, trim: trimHabit{at: 60, shareLo: 0.4, shareHi: 0.6}, leaves: "removed"},
		{plant: "ceratopteris-thalictroides", measure: "leaves", r: 0.033, q: 0.015, m: 0.06, from: "2026-08-31", to: last,
			size: 5, planted: "gift", gaps: every(12), area: 1.5, trim: trimHabit{at: 45, shareLo: 0.4, shareHi: 0.6}},
		{plant: "taxiphyllum-barbieri", measure: "mass", r: 0.016, q: 0.010, m: 0.11, from: "2026-02-15", to: last,
			size: 9, gaps: every(13), trim: trimHabit{at: 34, shareLo: 0.4, shareHi: 0.66}},
	}
}

func traySeries() []series {
	return []series{
		{plant: "staurogyne-repens", measure: "stems", r: 0.029, q: 0.012, m: 0.05, from: "2026-03-28", to: last,
			size: 10, planted: "the trough", gaps: every(12), area: 3, trim: trimHabit{at: 50, shareLo: 0.4, shareHi: 0.6}},
		{plant: "cryptocoryne-parva", measure: "plantlets", r: 0.007, q: 0.004, m: 0.03, from: "2026-03-28", to: last,
			size: 16, planted: "swap", gaps: every(13), area: 2},
		{plant: "lobelia-cardinalis", measure: "stems", r: 0.012, q: 0.006, m: 0.04, from: "2026-04-12", to: last,
			size: 8, planted: "gift", gaps: every(13), area: 2, trim: trimHabit{at: 22, shareLo: 0.35, shareHi: 0.5},
			losses: []loss{{"2026-08-19", 3, "dried out"}}},
		{plant: "hydrocotyle-tripartita", measure: "cover", r: 0.023, q: 0.010, m: 0.09, from: "2026-04-26", to: last,
			size: 5, planted: "gift", gaps: every(12), area: 4, trim: trimHabit{at: 46, shareLo: 0.45, shareHi: 0.66},
			losses: []loss{{"2026-08-19", 12, "dried out"}}},
		{plant: "bacopa-monnieri", measure: "stem-length", r: 0.033, q: 0.012, m: 0.06, from: "2026-06-08", to: last,
			size: 48, stems: 6, planted: "swap", gaps: every(12), area: 2,
			trim: trimHabit{at: 18, shareLo: 0.7, shareHi: 1, cutLo: 0.48, cutHi: 0.62, replantMax: 0.2}},
		{plant: "wendtii-wash-house", measure: "plantlets", r: 0.011, q: 0.006, m: 0.04, from: "2026-06-21", to: last,
			size: 3, planted: "the trough", gaps: every(40), area: 1},
	}
}
