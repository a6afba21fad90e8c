package ledger

import (
	"reflect"
	"testing"

	"slipleaf/build/journal"
	"slipleaf/build/quantity"
)

// What all parcels but one fared is what they fare when that one was never sent.
func TestFareWithout(t *testing.T) {
	day := func(n int) quantity.Date { return quantity.Date{Year: 2026, Month: 4, Day: 1}.Add(n) }
	hard := journal.Parameters{KH: quantity.Of(10 * quantity.DKH)}
	soft := journal.Parameters{KH: quantity.Of(2 * quantity.DKH)}
	parcels := []*journal.Parcel{
		{Lot: "a", Count: 3, Sent: day(0), Water: hard, Reports: []journal.Report{{Date: day(40), Outcome: "established"}}},
		{Lot: "b", Count: 2, Sent: day(1), Water: hard, Reports: []journal.Report{{Date: day(9), Outcome: "lost"}}},
		{Lot: "a", Count: 4, Sent: day(2), Water: soft, Reports: []journal.Report{{Date: day(50), Outcome: "passed-on"}}},
		{Count: 1, Sent: day(3), Water: soft},
	}
	on := day(90)
	watched := func(skip int) []observed {
		var ws []observed
		for i, p := range parcels {
			if i != skip {
				ws = append(ws, observe(p, on))
			}
		}
		return ws
	}
	for _, class := range []WaterClass{AnyWater, Soft, Hard} {
		for i, p := range parcels {
			got, want := countOutcomes(class, watched(-1)).Without(p, on), countOutcomes(class, watched(i))
			got.Plants, want.Plants = 0, 0 // what was in them is not counted
			if !reflect.DeepEqual(got, want) {
				t.Errorf("%s without parcel %d: %+v, want %+v", class, i, got, want)
			}
		}
	}
	notSent := &journal.Parcel{Count: 2, Water: soft}
	if all := countOutcomes(AnyWater, watched(-1)); !reflect.DeepEqual(all.Without(notSent, on), all) {
		t.Error("a parcel that was not sent is taken off")
	}
}
