package ledger

import (
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"slipleaf/build/journal"
)

// Worked by hand.
func TestArrivals(t *testing.T) {
	n := func(i int) *int { return &i }
	sent := day("2026-06-01")
	parcel := func(how string, reports ...journal.Report) *journal.Parcel {
		return &journal.Parcel{Count: 5, Sent: sent, How: how, Reports: reports}
	}
	arrived := func(days, alive int) journal.Report {
		return journal.Report{Date: sent.Add(days), Outcome: "arrived", DaysInPost: n(days), Alive: n(alive)}
	}
	parcels := []*journal.Parcel{
		parcel("post", arrived(2, 5), journal.Report{Date: sent.Add(40), Outcome: "established"}),
		parcel("post", arrived(3, 4), journal.Report{Date: sent.Add(30), Outcome: "lost"}),
		parcel("", arrived(4, 5)),
		parcel("post", journal.Report{Date: sent.Add(20), Outcome: journal.LostInPost}),
		parcel("post"),
		parcel("by-hand", arrived(0, 5)),
		parcel("post", arrived(90, 5)), // after the day that is asked about
		{Count: 5, How: "post"},
	}
	got := ArrivalsOf(parcels, sent.Add(60), nil)
	want := Arrivals{Sent: 6, Lost: 1, Days: []int{2, 3, 4}, By: []Arrival{
		{From: 0, To: 2, Parcels: 1, Plants: 5, Alive: 5, Established: 1}, {From: 3, To: 4, Parcels: 2, Plants: 10, Alive: 9, Died: 1, Open: 1}}}
	if d := cmp.Diff(want, got); d != "" {
		t.Error(d)
	}
}

// No parcel counts twice, and none that says its days is left out.
func TestArrivalsAddUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var parcels []*journal.Parcel
		for range rapid.IntRange(0, 20).Draw(t, "parcels") {
			days, alive := rapid.IntRange(0, 60).Draw(t, "days"), rapid.IntRange(0, 6).Draw(t, "alive")
			p := &journal.Parcel{Count: 6, Sent: day("2026-06-01"), How: "post"}
			if rapid.Bool().Draw(t, "reported") {
				p.Reports = append(p.Reports, journal.Report{Date: p.Sent.Add(days), Outcome: "arrived", DaysInPost: &days, Alive: &alive})
			}
			parcels = append(parcels, p)
		}
		a := ArrivalsOf(parcels, day("2027-06-01"), nil)
		sum, plants := 0, 0
		for _, x := range a.By {
			sum += x.Parcels
			plants += x.Plants
			if x.Alive > x.Plants || x.Established+x.Died+x.Open != x.Parcels {
				t.Fatalf("%+v", x)
			}
		}
		if a.Sent != len(parcels) || sum != len(a.Days) || plants != 6*sum {
			t.Fatalf("%+v", a)
		}
	})
}
