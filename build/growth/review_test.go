package growth_test

import (
	"testing"

	"slipleaf/build/growth"
)

// The review of the demonstration's year, counted again straight from the files' model.
func TestReviewCountsWhatTheFilesSay(t *testing.T) {
	j, a := demo(t)
	r := growth.New(j, lookUp(j, a), demoDay).ReviewOf(j, 2026)
	entries, parcels, given, seeds := 0, 0, 0, 0
	for _, tank := range j.Tanks {
		entries += len(tank.Entries)
	}
	for _, p := range j.Parcels {
		if !p.Sent.IsZero() && p.Cancelled.IsZero() && !p.Sent.After(demoDay) && !p.Lost(demoDay) {
			parcels++
			if lot, ok := j.Lot(p.Lot); ok && lot.Form == "seeds" {
				seeds += p.Count
			} else {
				given += p.Count
			}
		}
	}
	if r.Entries != entries || r.Total.Parcels != parcels || r.Total.Given != given || r.Total.Seeds != seeds || seeds == 0 {
		t.Errorf("entries %d, parcels %d, plants %d, seeds %d; the files say %d, %d, %d, %d", r.Entries, r.Total.Parcels, r.Total.Given, r.Total.Seeds, entries, parcels, given, seeds)
	}
	if r.Total.Established+r.Total.Lost > r.Total.Heard || r.Total.Heard > r.Total.Parcels {
		t.Errorf("verdicts %d + %d, heard %d of %d", r.Total.Established, r.Total.Lost, r.Total.Heard, r.Total.Parcels)
	}
	var months growth.ReviewMonth
	for _, m := range r.Months {
		months.Slips, months.Given, months.Established = months.Slips+m.Slips, months.Given+m.Given, months.Established+m.Established
	}
	if want := (growth.ReviewMonth{Slips: r.Total.Slips, Given: r.Total.Given, Established: r.Total.Established}); months != want || len(r.Months) != int(demoDay.Month) {
		t.Errorf("%d months come to %+v, the year to %+v", len(r.Months), months, want)
	}
	if !r.Partial {
		t.Error("the year is not over, and the review does not say so")
	}
	if years := growth.Years(j, demoDay); len(years) != 1 || years[0] != 2026 {
		t.Errorf("years %v", years)
	}
	if empty := growth.New(j, lookUp(j, a), demoDay).ReviewOf(j, 2020); empty.Entries != 0 || len(empty.Plants) != 0 {
		t.Errorf("2020: %+v", empty)
	}
}
