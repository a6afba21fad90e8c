package journal

import (
	"strings"
	"testing"
	"testing/fstest"
)

// readItems reads a record of several plants.
func readItems(t *testing.T, record string) (*Journal, Complaints) {
	t.Helper()
	j, complaints, err := Read(t.Context(), fstest.MapFS{
		"journal.yaml":          {Data: []byte("title: A\n")},
		"tanks/a/tank.md":       {Data: []byte("---\nname: A\nbegan: 2026-01-01\n---\n")},
		"tanks/a/2026-02-01.md": {Data: []byte("---\nlots:\n  - {lot: HZ-1, plant: heteranthera-zosterifolia, form: cuttings, count: 9}\n  - {lot: VS-1, plant: vallisneria-spiralis, form: plantlets, count: 3}\n---\n")},
		"sent/a.md":             {Data: []byte("---\n" + record + "---\n")},
	}, mustAlmanac(t), Options{On: june})
	if err != nil {
		t.Fatal(err)
	}
	return j, complaints
}

const twoPlants = "items:\n  - {lot: HZ-1, count: 4}\n  - {lot: VS-1, count: 2}\nsent: 2026-03-01\n"

// A record of several plants is a parcel for each, of one record; a report of no plant is for all of them.
func TestSeveralPlantsInOneParcel(t *testing.T) {
	j, complaints := readItems(t, twoPlants+"reports:\n  - {date: 2026-03-03, outcome: arrived}\n  - {date: 2026-04-03, lot: VS-1, outcome: lost, cause: melt}\n  - {date: 2026-05-03, lot: HZ-1, outcome: growing, alive: 3}\n")
	if len(complaints) > 0 || len(j.Parcels) != 2 {
		t.Fatalf("%d parcels, %v", len(j.Parcels), complaints)
	}
	for i, want := range []struct {
		lot, outcomes string
		count         int
		first         bool
	}{{"HZ-1", "arrived growing", 4, true}, {"VS-1", "arrived lost", 2, false}} {
		p := j.Parcels[i]
		var outcomes []string
		for _, r := range p.Reports {
			outcomes = append(outcomes, r.Outcome)
		}
		if p.Lot != want.lot || p.Count != want.count || p.First() != want.first || strings.Join(outcomes, " ") != want.outcomes || len(p.Plants()) != 2 || len(p.Record()) != 2 {
			t.Errorf("plant %d: %+v", i, p)
		}
	}
}

func TestSeveralPlantsAreHeldTogether(t *testing.T) {
	for name, row := range map[string]struct{ record, says string }{
		"beside a lot":             {"lot: HZ-1\n" + twoPlants, "stands under each of items"},
		"one lot twice":            {"items: [{lot: HZ-1, count: 1}, {lot: HZ-1, count: 2}]\nsent: 2026-03-01\n", "HZ-1 is in the parcel twice"},
		"more than are left":       {"items: [{lot: HZ-1, count: 1}, {lot: VS-1, count: 4}]\nsent: 2026-03-01\n", "VS-1"},
		"a report of another lot":  {twoPlants + "reports: [{date: 2026-03-03, lot: PS-1, outcome: arrived}]\n", "PS-1 is not in this parcel"},
		"more alive than came":     {twoPlants + "reports: [{date: 2026-03-03, lot: VS-1, outcome: growing, alive: 3}]\n", "3 alive of 2 sent"},
		"alive of nobody knows":    {twoPlants + "reports: [{date: 2026-03-03, outcome: growing, alive: 3}]\n", "alive counts one plant"},
		"a plant without a count":  {"items: [{lot: HZ-1}]\nsent: 2026-03-01\n", "count"},
		"nobody asked, sent, none": {"items: [{lot: HZ-1, count: 1}]\n", "needs sent, reserved or asked"},
	} {
		_, complaints := readItems(t, row.record)
		if len(complaints) == 0 || !strings.Contains(complaints[0].Message, row.says) {
			t.Errorf("%s: %v, want %q", name, complaints, row.says)
		}
	}
}
