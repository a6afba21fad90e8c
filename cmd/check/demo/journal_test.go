package demo

import (
	"context"
	"os"
	"testing"

	"slipleaf/build/almanac"
	"slipleaf/build/journal"
	"slipleaf/build/quantity"
)

// TestTheStrictReaderComplainsOnlyOfWhatWasPlanted reads the journal as it is two days after its last entry.
func TestTheStrictReaderComplainsOnlyOfWhatWasPlanted(t *testing.T) {
	names, err := almanac.Open()
	if err != nil {
		t.Fatal(err)
	}
	on, err := quantity.ParseDate("2026-11-25")
	if err != nil {
		t.Fatal(err)
	}
	j, complaints, err := journal.Read(context.Background(), os.DirFS(root+"/content"), names, journal.Options{On: on})
	if err != nil {
		t.Fatal(err)
	}
	var files []string
	for _, c := range complaints {
		files = append(files, c.File)
		if c.Severity != journal.Warning {
			t.Errorf("%v", c)
		}
	}
	if len(files) > 0 { // the parcel that went where its plant is listed is warned of for sixty days alone
		t.Errorf("complaints about %v", files)
	}
	if len(j.Tanks) != 3 || len(j.Parcels) < 24 || len(j.Gathered) != 2 {
		t.Errorf("%d tanks, %d parcels, %d friends' files", len(j.Tanks), len(j.Parcels), len(j.Gathered))
	}
}

// TestNoLotIsOfAListedPlant asks the lists where the grower lives about every lot; the one listed plant is kept, but withheld.
func TestNoLotIsOfAListedPlant(t *testing.T) {
	names, err := almanac.Open()
	if err != nil {
		t.Fatal(err)
	}
	j, _, err := journal.Read(context.Background(), os.DirFS(root+"/content"), names, journal.Options{})
	if err != nil {
		t.Fatal(err)
	}
	taxon := func(id string) string {
		if p, ok := j.Plant(id); ok && p.Taxon != "" {
			return p.Taxon
		}
		s, ok := names.Species(id)
		if !ok {
			t.Errorf("the almanac does not know %s", id)
		}
		return s.Taxon
	}
	for _, tank := range j.Tanks {
		for _, e := range tank.Entries {
			for _, l := range e.Lots {
				if n := names.Notices(taxon(l.Plant), j.Region); len(n) > 0 {
					t.Errorf("%s: lot %s is of a plant on %s", e.Path, l.ID, n[0].List)
				}
			}
		}
	}
	kept, ok := j.Plant("pistia-stratiotes")
	if !ok || !kept.Withhold || len(names.Notices(kept.Taxon, j.Region)) == 0 {
		t.Error("the plant that shows withholding is not a listed one that is withheld")
	}
}
