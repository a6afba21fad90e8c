package ledger

import (
	"math/rand/v2"
	"testing"

	"slipleaf/build/journal"
	"slipleaf/build/quantity"
	"slipleaf/build/reckon"
)

// parcelIn is a settled parcel with a result: its water's alkalinity, how it went, and whether it was lost.
func parcelIn(kh float64, how string, lost bool) observed {
	w := observed{settled: true, parcel: &journal.Parcel{How: how}}
	w.parcel.Water.KH = quantity.Of(quantity.Alkalinity(kh) * quantity.DKH)
	if w.Status = reckon.Established; lost {
		w.Status = reckon.Died
		w.parcel.Reports = []journal.Report{{Outcome: "lost", Cause: "water"}}
	}
	return w
}

func TestTheLostHaveHardWaterInCommon(t *testing.T) {
	var ws []observed
	for i := range 20 {
		ws = append(ws, parcelIn(2+float64(i%2), "post", i == 0), parcelIn(12, []string{"post", "by-hand"}[i%2], i < 15))
	}
	c := commonOf(ws)
	if c.Circumstance != "hard" || c.With != (reckon.Tally{Yes: 15, Of: 20}) || c.Without != (reckon.Tally{Yes: 1, Of: 20}) || c.More.Low <= 0 {
		t.Errorf("%+v", c)
	}
	if c.Lost != 16 || len(c.Causes) != 1 || c.Causes[0] != (Cause{"water", 16}) {
		t.Errorf("%d lost of %v", c.Lost, c.Causes)
	}
	if few := commonOf(ws[1:4]); few.Lost >= fewestLost || few.Circumstance != "" || few.Looked != 0 {
		t.Errorf("of %d losses it says %q", few.Lost, few.Circumstance)
	}
}

// Where a loss has nothing to do with anything, "hardly chance" may be said of one journal in twenty, however many circumstances
// are compared. Of 600 such journals more than 45 would be 1.5 standard errors beyond 30; Bonferroni's bound is wide, so that
// far fewer are seen.
func TestChanceIsCalledChance(t *testing.T) {
	r := rand.New(rand.NewPCG(22, 6))
	said, asked := 0, 0
	for range 600 {
		var ws []observed
		for range 12 + r.IntN(30) {
			ws = append(ws, parcelIn([]float64{2, 6, 12}[r.IntN(3)], []string{"post", "by-hand"}[r.IntN(2)], r.IntN(3) == 0))
		}
		c := commonOf(ws)
		if c.Looked > 0 {
			asked++
		}
		if c.Circumstance != "" && c.More.Low > 0 {
			said++
		}
	}
	t.Attr("figure", "journals of losses by chance of which something is called hardly chance: "+quantity.Number(float64(said), 0)+" of "+quantity.Number(float64(asked), 0))
	if asked < 500 || said > 45 {
		t.Errorf("of %d journals %d are told that a loss had a reason", asked, said)
	}
}

// Parcels of a lot fare alike, whatever becomes of it: that one lot went by post and another by hand is then no reason, however
// many parcels were in them.
func TestTheFateOfALotIsNoReason(t *testing.T) {
	r := rand.New(rand.NewPCG(22, 7))
	said := 0
	for range 600 {
		var ws []observed
		for lot := range 8 {
			how, died := []string{"post", "by-hand"}[r.IntN(2)], r.Float64() < 0.35
			for range 3 + r.IntN(4) {
				w := parcelIn(6, how, died != (r.IntN(10) == 0))
				w.lot = string(rune('A' + lot))
				ws = append(ws, w)
			}
		}
		if c := commonOf(ws); c.Circumstance != "" && c.More.Low > 0 {
			said++
		}
	}
	if said > 45 {
		t.Errorf("of 600 journals %d are told that a loss had a reason", said)
	}
}
