package growth_test

import (
	"context"
	"fmt"
	"strings"
	"testing"
	"testing/fstest"

	"slipleaf/build/almanac"
	"slipleaf/build/growth"
	"slipleaf/build/journal"
	"slipleaf/build/quantity"
)

// book reads a journal of one tank, 100 cm by 40 cm (40 dm²), whose entries are given as their heads, by file name; those named
// tray/ are of a second tank.
func book(t testing.TB, entries map[string]string, more string) *journal.Journal {
	t.Helper()
	fsys := fstest.MapFS{
		"journal.yaml":      {Data: []byte("title: Test\ngrower: T\n" + more)},
		"tanks/vat/tank.md": {Data: []byte("---\nname: Vat\nbegan: 2026-01-01\ninside: {length: 100 cm, width: 40 cm, height: 30 cm}\n---\n")},
	}
	for name, head := range entries {
		if !strings.HasPrefix(name, "tray/") {
			name = "vat/" + name
		} else {
			fsys["tanks/tray/tank.md"] = &fstest.MapFile{Data: []byte("---\nname: Tray\nbegan: 2025-01-01\n---\n")}
		}
		fsys["tanks/"+name+".md"] = &fstest.MapFile{Data: []byte("---\ntitle: x\n" + head + "\n---\ntext\n")}
	}
	a, err := almanac.Open()
	if err != nil {
		t.Fatal(err)
	}
	j, cs, err := journal.Read(context.Background(), fsys, a, journal.Options{On: demoDay})
	if err != nil || j == nil || cs.Errors() > 0 {
		t.Fatal(err, cs)
	}
	return j
}

// told writes the series of a plant in the vat, a line each: what it is, then every point with its segment.
func told(f *growth.Facts) string {
	var b strings.Builder
	for _, g := range f.Of("vat", "rotala-rotundifolia") {
		fmt.Fprintf(&b, "%s life %d", g.Measure, g.Life)
		for _, s := range []struct {
			is   bool
			word string
		}{{g.Break == growth.NewMeasure, "new-measure"}, {g.Break == growth.UnknownChange, "unknown-change"}, {g.Break == growth.CameBack, "came-back"}, {g.Left, "left"}, {g.Over, "over"}, {g.Assumed, "assumed"}} {
			if s.is {
				b.WriteString(" " + s.word)
			}
		}
		b.WriteString(":")
		for _, p := range g.Points {
			fmt.Fprintf(&b, " %02d-%02d %s %g/%d", p.Date.Month, p.Date.Day, p.Event, p.Size, p.Segment)
		}
		b.WriteByte('\n')
	}
	return strings.TrimSuffix(b.String(), "\n")
}

func count(how string) string    { return "counts: [{plant: rotala-rotundifolia, " + how + "}]" }
func trim(how string) string     { return "trims: [{plant: rotala-rotundifolia, " + how + "}]" }
func planting(how string) string { return "plantings: [{plant: rotala-rotundifolia, " + how + "}]" }
func loss(how string) string     { return "losses: [{plant: rotala-rotundifolia, " + how + "}]" }
func also(heads ...string) string {
	return strings.Join(heads, "\n")
}

// Series are built from counts, trims, losses and plantings in the order of their days.
func TestSeriesAreBuiltByTheRules(t *testing.T) {
	type days map[string]string
	tests := []struct {
		name    string
		entries days
		want    string
	}{
		{"a stem series is stems times length", days{
			"2026-02-01": count("stems: 10, length: 12 cm"), "2026-02-08": count("stems: 10, length: 15 cm")},
			"stem-length life 1: 02-01 count 120/1 02-08 count 150/1"},
		{"stock of a lot that died is in the tank no longer", days{
			"2026-02-01": also(count("stems: 10, length: 12 cm"), "lots: [{lot: RR-1, plant: rotala-rotundifolia, form: cuttings, count: 6}]"),
			"2026-02-05": "losses: [{lot: RR-1, count: 3, cause: melt}]", "2026-02-08": count("stems: 10, length: 15 cm")},
			"stem-length life 1: 02-01 count 120/1 02-08 count 150/1"},
		{"a trim takes cuttings less those replanted, times their length", days{
			"2026-02-01": also(count("stems: 10, length: 20 cm"), trim("cuttings: 8, length: 12 cm, replanted: 3")), "2026-02-08": count("stems: 13, length: 12 cm")},
			"stem-length life 1: 02-01 count 200/1 02-01 trim -60/1 02-08 count 156/2"},
		{"removed is in the measure that it names", days{
			"2026-02-01": also(count("plantlets: 20"), trim("removed: 6 plantlets")), "2026-02-08": count("plantlets: 16")},
			"plantlets life 1: 02-01 count 20/1 02-01 trim -6/1 02-08 count 16/2"},
		{"removed beats the cuttings that were made of it", days{
			"2026-02-01": also(count("mass: 30 g"), trim("removed: 12 g, cuttings: 9"))},
			"mass life 1: 02-01 count 30/1 02-01 trim -12/1"},
		{"stems lost without a length take that of the last count", days{
			"2026-02-01": count("stems: 10, length: 12 cm"), "2026-02-05": loss("stems: 2"), "2026-02-08": count("stems: 8, length: 20 cm")},
			"stem-length life 1 assumed: 02-01 count 120/1 02-05 loss -24/1 02-08 count 160/2"},
		{"stems planted without a length take that of the next count where there is none before", days{
			"2026-02-01": planting("stems: 5"), "2026-02-08": count("stems: 5, length: 11 cm")},
			"stem-length life 1 assumed: 02-01 planting 55/1 02-08 count 55/1"},
		{"cover is in dm² of its area, and points removed are points of it", days{
			"2026-02-01": also(count("cover: 50 %, area: 8 dm2"), trim("removed: 10 %"))},
			"cover life 1: 02-01 count 4/1 02-01 trim -0.8/1"},
		{"cover without an area is a share of the tank's floor", days{
			"2026-02-01": also(count("cover: 10 %"), loss("cover: 5 %"))},
			"cover life 1: 02-01 count 4/1 02-01 loss -2/1"},
		{"a count on the day of a change stands before it", days{
			"2026-02-01": also(trim("removed: 4 stems"), count("stems: 12")), "2026-02-08": count("stems: 9")},
			"stems life 1: 02-01 count 12/1 02-01 trim -4/1 02-08 count 9/2"},
		{"a change on a day without a count starts a segment of its own", days{
			"2026-02-01": count("stems: 12"), "2026-02-04": trim("removed: 4 stems"), "2026-02-08": count("stems: 9")},
			"stems life 1: 02-01 count 12/1 02-04 trim -4/1 02-08 count 9/2"},
		{"two counts on a day, in two entries", days{
			"2026-02-01-morning": count("stems: 12"), "2026-02-01-night": count("stems: 14"), "2026-02-08": count("stems: 16")},
			"stems life 1: 02-01 count 12/1 02-01 count 14/1 02-08 count 16/1"},
		{"a gap in the counts is no break", days{
			"2026-02-01": count("stems: 12"), "2026-08-01": count("stems: 40")},
			"stems life 1: 02-01 count 12/1 08-01 count 40/1"},
		{"the best measure that all counts give", days{
			"2026-02-01": count("stems: 12, length: 10 cm, mass: 20 g"), "2026-02-08": count("stems: 14, length: 11 cm")},
			"stem-length life 1: 02-01 count 120/1 02-08 count 154/1"},
		{"one count without a length leaves the stems", days{
			"2026-02-01": count("stems: 12, length: 10 cm"), "2026-02-08": count("stems: 14"), "2026-02-15": count("stems: 15, length: 12 cm")},
			"stems life 1: 02-01 count 12/1 02-08 count 14/1 02-15 count 15/1"},
		{"a measure that changes half-way is followed apart", days{
			"2026-02-01": count("cover: 10 %, area: 8 dm2"), "2026-02-08": count("cover: 20 %, area: 8 dm2"),
			"2026-02-15": also(count("plantlets: 9"), trim("removed: 2 plantlets")), "2026-02-22": count("plantlets: 8")},
			"cover life 1 over: 02-01 count 0.8/1 02-08 count 1.6/1\nplantlets life 1 new-measure: 02-15 count 9/1 02-15 trim -2/1 02-22 count 8/2"},
		{"a trim that does not tell the measure begins the series anew", days{
			"2026-02-01": count("leaves: 30"), "2026-02-08": also(count("leaves: 36"), trim("cuttings: 4")), "2026-02-15": count("leaves: 20")},
			"leaves life 1 over: 02-01 count 30/1 02-08 count 36/1\nleaves life 1 unknown-change: 02-15 count 20/1"},
		{"a plant that leaves and comes back has two lives", days{
			"2026-02-01": count("plantlets: 5"), "2026-02-08": also(count("plantlets: 9"), loss("plantlets: 9, cause: removed")),
			"2026-03-08": planting("plantlets: 2"), "2026-03-15": count("plantlets: 3")},
			"plantlets life 1 left: 02-01 count 5/1 02-08 count 9/1 02-08 loss -9/1\nplantlets life 2 came-back: 03-08 planting 2/1 03-15 count 3/1"},
		{"a count of nothing ends a life", days{
			"2026-02-01": count("plantlets: 5"), "2026-02-08": count("plantlets: 0")},
			"plantlets life 1 left: 02-01 count 5/1 02-08 count 0/1"},
		{"all was cut, but more is counted later: it had never left", days{
			"2026-02-01": also(count("plantlets: 5"), trim("removed: 5 plantlets")), "2026-02-08": count("plantlets: 2")},
			"plantlets life 1: 02-01 count 5/1 02-01 trim -5/1 02-08 count 2/2"},
		{"cutting the top of every stem is no leaving", days{
			"2026-02-01": also(count("stems: 6"), trim("cuttings: 6, length: 8 cm, replanted: 1"))},
			"stems life 1: 02-01 count 6/1 02-01 trim -5/1"},
		{"what was never counted has no series", days{"2026-02-01": planting("stems: 5")}, ""},
		{"entries after the day are not told", days{
			"2026-02-01": count("stems: 12"), "2026-11-26": count("stems: 50")},
			"stems life 1: 02-01 count 12/1"},
		{"other units are the same sizes", days{
			"2026-02-01": count("stems: 10, length: 10 in"), "2026-02-08": also(count("stems: 10, length: 300 mm"), loss("stems: 1, length: 0.1 m"))},
			"stem-length life 1: 02-01 count 254/1 02-08 count 300/1 02-08 loss -10/1"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			j := book(t, tt.entries, "")
			got := told(growth.New(j, nothingKnown, demoDay))
			if got != tt.want {
				t.Errorf("got\n%s\nwant\n%s", got, tt.want)
			}
		})
	}
}

func nothingKnown(string) almanac.Species { return almanac.Species{} }

func TestEntriesInAnyOrderMakeTheSameSeries(t *testing.T) {
	entries := map[string]string{
		"2026-02-01": also(count("stems: 10, length: 20 cm"), trim("cuttings: 8, length: 12 cm, replanted: 3")),
		"2026-02-05": loss("stems: 2"), "2026-02-08": count("stems: 13, length: 12 cm"), "2026-02-15": count("stems: 13, length: 15 cm"),
	}
	j := book(t, entries, "")
	want := told(growth.New(j, nothingKnown, demoDay))
	tank, _ := j.Tank("vat")
	for i, k := 0, len(tank.Entries)-1; i < k; i, k = i+1, k-1 {
		tank.Entries[i], tank.Entries[k] = tank.Entries[k], tank.Entries[i]
	}
	if got := told(growth.New(j, nothingKnown, demoDay)); got != want {
		t.Errorf("backwards:\n%s\nwant\n%s", got, want)
	}
}

func TestGoalComesFromTheNearestWord(t *testing.T) {
	entries := map[string]string{"2026-02-01": also(count("stems: 10, length: 20 cm"), trim("cuttings: 5, length: 12 cm, replanted: 2"))}
	tests := []struct {
		name, journal, tank string
		goal                float64
		from                growth.GoalFrom
	}{
		{"nothing said: the usual size", "", "", 200, growth.UsualGoal},
		{"the journal's stems, times those that stand there", "trim-when: {stem-length: 24 cm}\n", "", 24 * 12, growth.JournalGoal},
		{"the tank's own word beats it", "trim-when: {stem-length: 24 cm}\n", "10 in", 25.4 * 12, growth.TankGoal},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			j := book(t, entries, tt.journal)
			if tt.tank != "" {
				tank, _ := j.Tank("vat")
				l, err := quantity.Parse[quantity.Length](tt.tank)
				if err != nil {
					t.Fatal(err)
				}
				tank.TrimWhen = map[string]journal.TrimWhen{"rotala-rotundifolia": {StemLength: l}}
			}
			g := growth.New(j, nothingKnown, demoDay).Of("vat", "rotala-rotundifolia")[0]
			if d := g.Goal - tt.goal; d > 1e-6 || d < -1e-6 || g.GoalFrom != tt.from {
				t.Errorf("goal %g from %v, want %g from %v", g.Goal, g.GoalFrom, tt.goal, tt.from)
			}
		})
	}
}

func TestYield(t *testing.T) {
	type days map[string]string
	on := quantity.Date{Year: 2026, Month: 11, Day: 25}
	tests := []struct {
		name                 string
		entries              days
		recent, all          int
		recentWeeks, allDays float64
		area                 float64
		lots                 bool
	}{
		{"cuttings less those put back, recent ones apart", days{
			"2026-02-04": also(count("stems: 10, length: 20 cm, area: 4 dm2"), trim("cuttings: 9, length: 10 cm, replanted: 2")),
			"2026-11-20": also(count("stems: 10, length: 20 cm, area: 5 dm2"), trim("cuttings: 6, length: 10 cm"))}, 6, 13, 12, 295, 5, false},
		{"only the time in which it stood there counts", days{
			"2026-11-01": planting("plantlets: 4"), "2026-11-12": also(count("plantlets: 20, area: 2 dm2"), trim("removed: 8 plantlets"))}, 8, 8, 25.0 / 7, 25, 2, false},
		{"leaves are no slips: lots are", days{
			"2026-11-12": also(count("leaves: 20, area: 2 dm2"), trim("removed: 8 leaves"), "lots: [{lot: RR-1, plant: rotala-rotundifolia, form: divisions, count: 3}]")}, 3, 3, 2, 14, 2, true},
		{"nothing was cut, so no lots stand for cuts", days{"2026-11-12": count("leaves: 20, area: 2 dm2")}, 0, 0, 2, 14, 2, false},
		{"without an area there is no rate", days{
			"2026-11-01": also(count("plantlets: 20"), trim("removed: 8 plantlets"))}, 8, 8, 25.0 / 7, 25, 0, false},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			y := growth.New(book(t, tt.entries, ""), nothingKnown, on).Yield("vat", "rotala-rotundifolia")
			if y.Recent.Slips != tt.recent || y.All.Slips != tt.all || y.Recent.Area != tt.area || y.FromLots != tt.lots {
				t.Errorf("%+v", y)
			}
			if y.Recent.Weeks != tt.recentWeeks || y.All.Weeks != tt.allDays/7 {
				t.Errorf("weeks %g and %g, want %g and %g", y.Recent.Weeks, y.All.Weeks, tt.recentWeeks, tt.allDays/7)
			}
			want := 0.0
			if tt.area > 0 {
				want = float64(tt.recent) / tt.area / tt.recentWeeks
			}
			if got := y.Recent.Weekly(); got != want {
				t.Errorf("%g slips per dm² and week, want %g", got, want)
			}
		})
	}
}
