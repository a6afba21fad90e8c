package site

import (
	"errors"
	"os"
	"path/filepath"
	"testing"

	"pgregory.net/rapid"

	"slipleaf/build/listing"
)

// No site comes to lie where a journal keeps what is private or read, whether that folder is there yet or not, and whichever
// way leads to it: the records of recipients would be written among its pages.
func TestNoSiteAmongAJournalsFolders(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		top, err := os.MkdirTemp("", "")
		if err != nil {
			t.Fatal(err)
		}
		defer os.RemoveAll(top)
		journal := filepath.Join(top, "journal")
		if err := errors.Join(os.Mkdir(journal, 0o755), os.Symlink("journal", filepath.Join(top, "link"))); err != nil {
			t.Fatal(err)
		}
		folder := rapid.SampledFrom(append(listing.Folders(), ".undo")).Draw(t, "folder")
		way := rapid.SampledFrom([]string{"journal/", "link/", "journal/../journal/", "other/../link/"}).Draw(t, "way")
		below := rapid.SampledFrom([]string{"", "/www", "/a/b"}).Draw(t, "below")
		if rapid.Bool().Draw(t, "there") {
			if err := os.Mkdir(filepath.Join(journal, folder), 0o755); err != nil {
				t.Fatal(err)
			}
		}
		o := Options{Dir: filepath.Join(top, rapid.SampledFrom([]string{"journal", "link"}).Draw(t, "journal")), Named: true}
		if _, _, err := resolve(filepath.Join(top, way)+"/"+folder+below, o); !errors.Is(err, ErrNotOurs) {
			t.Errorf("%s: %v", way+folder+below, err)
		}
		if _, _, err := resolve(filepath.Join(top, way)+"/www"+folder+below, o); err != nil {
			t.Errorf("a name that only ends like one of a journal's: %v", err)
		}
	})
}
