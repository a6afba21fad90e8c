package main

import (
	"os"
	"testing"

	"slipleaf/build/journal"
	"slipleaf/build/quantity"
	"slipleaf/build/site"
)

// mostWaiting is for how many days an offer of the demonstration may have waited: in a journal that is looked after, one
// that is older was given away, or has died.
const mostWaiting = 60

// The demonstration is held at its day: on that and every later one nothing is complained of, and no offer is old.
func TestTheDemonstrationHoldsOnAnyLaterDay(t *testing.T) {
	t.Parallel()
	content := os.DirFS("../../content")
	held := journal.HeldAt(content)
	if held.IsZero() {
		t.Fatal("the demonstration goes on")
	}
	var w world
	for _, later := range []int{0, 1, 30, 180, 400, 3000} {
		on, err := w.day(held.Add(later).String(), content)
		if err != nil || on != held {
			t.Errorf("%d days later it is made for %s, %v", later, on, err)
		}
	}
	b, complaints, err := site.Load(t.Context(), content, site.Options{On: held, Zone: knownZone})
	if err != nil || b == nil {
		t.Fatal(err, complaints)
	}
	for _, c := range complaints {
		t.Error(c)
	}
	for _, l := range b.All.Ledger.Offered() {
		if l.Left > 0 && l.Waiting > mostWaiting {
			t.Errorf("%s has waited for %d days", l.ID, l.Waiting)
		}
	}
	if b.Journal.MadeFor != (quantity.Date{Year: 2026, Month: 11, Day: 25}) {
		t.Errorf("pages say %s", b.Journal.MadeFor)
	}
}
