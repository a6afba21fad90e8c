package ledger

import (
	"fmt"
	"math"
	"os"
	"testing"

	"slipleaf/build/journal"
	"slipleaf/build/quantity"
	"slipleaf/build/reckon"
)

// parcelsOf makes a journal with one lot of stargrass, and a parcel of one plant for each body.
func parcelsOf(t *testing.T, bodies ...string) *journal.Journal {
	t.Helper()
	files := map[string]string{"tanks/trough/2026-03-01.md": entry("  - {lot: HZ-1, " + stargrass + ", count: 60}")}
	for i, body := range bodies {
		files[fmt.Sprintf("sent/%02d.md", i)] = head("lot: HZ-1", "count: 1", "sent: 2026-03-02", body)
	}
	j, complaints := read(t, names(t), day("2026-06-30"), files)
	if complaints.Errors() > 0 {
		t.Fatal(complaints)
	}
	return j
}

func reports(kh string, outcomes ...string) string {
	s := "reports:"
	for _, o := range outcomes {
		s += "\n  - {" + o + "}"
	}
	if kh != "" {
		s = "water: {kh: " + kh + "}\n" + s
	}
	return s
}

const (
	established = "date: 2026-04-01, outcome: established"
	lost        = "date: 2026-03-12, outcome: lost"
	arrived     = "date: 2026-03-05, outcome: arrived"
	passedOn    = "date: 2026-05-01, outcome: passed-on"
)

func TestVerdictsAreCountedBySpeciesAndWater(t *testing.T) {
	j := parcelsOf(t, reports("2 dKH", arrived, established, passedOn), reports("4 dKH", established), reports("7.9 dKH", lost),
		reports("8 dKH", lost), reports("143 ppm", established), reports("", passedOn), reports("10 dKH", arrived), "how: post")
	all, _, ok := New(j, day("2026-06-30"), nil).Outcomes()
	e := all["heteranthera-zosterifolia"]
	if !ok || e.All.Sent != 8 || e.All.Heard != 7 || e.All.Established != 4 || e.All.Lost != 2 || e.All.PassedOn != 2 || e.All.NoResult() != 2 {
		t.Fatalf("%+v", e.All)
	}
	want := []struct {
		water                   WaterClass
		sent, established, lost int
	}{{Soft, 1, 1, 0}, {Medium, 2, 1, 1}, {Hard, 3, 1, 1}, {UnsaidWater, 2, 1, 0}}
	if len(e.ByWater) != len(want) {
		t.Fatalf("%+v", e.ByWater)
	}
	for i, w := range want {
		if f := e.ByWater[i]; f.Water != w.water || f.Sent != w.sent || f.Established != w.established || f.Lost != w.lost || f.Say != TooFew {
			t.Errorf("%s: %+v", w.water, f)
		}
	}
	if e.All.Quiet {
		t.Error("seven of eight were heard of, and that is called quiet")
	}
	if wilson, _ := reckon.Wilson(reckon.Tally{Yes: 4, Of: 6}, Level); e.All.Say != CountsAndInterval || e.All.Share != wilson {
		t.Errorf("says %d: %v, want %v", e.All.Say, e.All.Share, wilson)
	}
}

func TestWhatIsSaidGrowsWithTheVerdicts(t *testing.T) {
	for n, want := range map[int]Say{0: TooFew, 4: TooFew, 5: CountsAndInterval, 9: CountsAndInterval, 10: Percent, 14: Percent} {
		var bodies []string
		for range n {
			bodies = append(bodies, reports("", established))
		}
		bodies = append(bodies, "how: post")
		all, _, ok := New(parcelsOf(t, bodies...), day("2026-06-30"), nil).Outcomes()
		if f := all["heteranthera-zosterifolia"].All; f.Say != want || ok != (n > 0) {
			t.Errorf("%d verdicts: says %d, want %d", n, f.Say, want)
		}
	}
}

func TestSilenceIsNoSuccess(t *testing.T) {
	all, _, _ := New(parcelsOf(t, reports("", established), reports("", lost), "how: post", "how: post"), day("2026-06-30"), nil).Outcomes()
	f := all["heteranthera-zosterifolia"].All
	if !f.Quiet || f.Least != 0.25 || f.Most != 0.75 || f.Share.Value != 0.5 {
		t.Errorf("%+v", f)
	}
}

// What was lost in the post says nothing of the plant: it is not among those sent, and costs no share.
func TestLostInThePostDoesNotCount(t *testing.T) {
	with := parcelsOf(t, reports("", established), reports("", lost), reports("", "date: 2026-03-20, outcome: lost-in-post"))
	all, _, _ := New(with, day("2026-06-30"), nil).Outcomes()
	f := all["heteranthera-zosterifolia"].All
	if f.Sent != 2 || f.Established != 1 || f.Lost != 1 || f.Share.Value != 0.5 {
		t.Errorf("%+v", f)
	}
	for _, p := range with.Parcels {
		if g := f.Without(p, day("2026-06-30")); p.Lost(day("2026-06-30")) && (g.Sent != f.Sent || g.Lost != f.Lost) {
			t.Error("leaving it out changes the counts")
		}
	}
}

func TestTheFirstVerdictCountsAndLaterOnesWait(t *testing.T) {
	on := day("2026-06-30")
	for _, c := range []struct {
		name string
		body string
		on   quantity.Date
		want reckon.Status
	}{
		{"established, then lost", reports("", established, "date: 2026-06-01, outcome: lost"), on, reckon.Established},
		{"written in another order", reports("", "date: 2026-06-01, outcome: lost", established), on, reckon.Established},
		{"before its report came", reports("", established), day("2026-03-31"), reckon.Censored},
		{"trimmed stands for established", reports("", "date: 2026-05-01, outcome: trimmed"), on, reckon.Established},
		{"melting decides nothing", reports("", "date: 2026-05-01, outcome: melting"), on, reckon.Censored},
		{"lost", reports("", lost), on, reckon.Died},
	} {
		if got := StatusOf(parcelsOf(t, c.body).Parcels[0], c.on); got != c.want {
			t.Errorf("%s: %d, want %d", c.name, got, c.want)
		}
	}
}

// Four parcels: lost on day 10, no news after day 20, established on day 30 and 40. By hand: I(30) = 3/4 · 1/2, I(40) =
// 3/4, as Aalen and Johansen have it.
func TestTimeToEstablishedByHand(t *testing.T) {
	at := func(days int, outcome string) string {
		return reports("", fmt.Sprintf("date: %s, outcome: %s", day("2026-03-02").Add(days), outcome))
	}
	all, _, _ := New(parcelsOf(t, at(10, "lost"), at(20, "rooted"), at(30, "established"), at(40, "established")), day("2026-06-30"), nil).Outcomes()
	e := all["heteranthera-zosterifolia"]
	for days, want := range map[quantity.Span]float64{29: 0, 30: 0.375, 40: 0.75, 90: 0.75} {
		if got := e.CumulativeIncidence.At(days).Value; math.Abs(got-want) > 1e-12 {
			t.Errorf("day %v: %v, want %v", days, got, want)
		}
	}
	if !e.MedianKnown || e.Median != 40 {
		t.Errorf("half by %v, %v", e.Median, e.MedianKnown)
	}
}

func TestTheDemonstrationElsewhere(t *testing.T) {
	on := day("2026-11-25")
	j, _, err := journal.Read(t.Context(), os.DirFS("../../content"), names(t), journal.Options{On: on})
	if err != nil {
		t.Fatal(err)
	}
	all, _, ok := New(j, on, nil).Outcomes()
	if !ok {
		t.Fatal("no verdicts")
	}
	for id, e := range all {
		sum := OutcomeCounts{}
		for _, f := range e.ByWater {
			sum.Sent, sum.Established, sum.Lost, sum.Plants = sum.Sent+f.Sent, sum.Established+f.Established, sum.Lost+f.Lost, sum.Plants+f.Plants
		}
		if sum.Sent != e.All.Sent || sum.Established != e.All.Established || sum.Lost != e.All.Lost || sum.Plants != e.All.Plants {
			t.Errorf("%s: the waters do not add up: %+v, %+v", id, sum, e.All)
		}
	}
}
