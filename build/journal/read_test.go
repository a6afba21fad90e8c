package journal

import (
	"os"
	"testing"

	"slipleaf/build/almanac"
	"slipleaf/build/quantity"
)

func mustAlmanac(t testing.TB) *almanac.Almanac {
	t.Helper()
	a, err := almanac.Open()
	if err != nil {
		t.Fatal(err)
	}
	return a
}

var june = quantity.Date{Year: 2026, Month: 6, Day: 30}

func TestAGoodJournalHasNoComplaints(t *testing.T) {
	j, complaints, err := Read(t.Context(), os.DirFS("../../testdata/journals/good"), mustAlmanac(t), Options{On: june})
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range complaints {
		t.Error(c)
	}
	if len(j.Tanks) != 1 || len(j.Tanks[0].Entries) != 2 {
		t.Errorf("%d tanks", len(j.Tanks))
	}
}
