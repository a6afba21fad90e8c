package journal

import (
	"fmt"
	"slices"
	"testing"
	"testing/fstest"
)

// A journal that was made to have twenty thousand faults, of several kinds, gives a list with an end, the same for any
// number of workers, and no hint is looked for beyond the first ones.
func TestAJournalOfManyFaultsHasAListWithAnEnd(t *testing.T) {
	files := fstest.MapFS{"journal.yaml": {Data: []byte("title: B\n")}}
	for i := range 12 {
		files[fmt.Sprintf("tanks/t%d/tank.md", i)] = &fstest.MapFile{Data: []byte("---\nname: S\nbegan: 2020-01-01\n---\n")}
		for k := range 8 {
			text := "---\ntitle: x\ncounts:\n"
			for n := range 250 {
				text += fmt.Sprintf("  - {plant: zz-%d-%d-%d, stems: 3}\n", i, k, n)
			}
			files[fmt.Sprintf("tanks/t%d/2020-02-%02d.md", i, k+1)] = &fstest.MapFile{Data: []byte(text + "---\n")}
		}
	}
	var first Complaints
	for _, workers := range []int{1, 8} {
		_, cs, err := Read(t.Context(), files, mustAlmanac(t), Options{On: june, Workers: workers})
		if err != nil {
			t.Fatal(err)
		}
		if first == nil {
			first = cs
		}
		if !slices.Equal(cs, first) {
			t.Error("another number of workers gives other complaints")
		}
	}
	if len(first) < 1000 || len(first) > 2*MostListed+1 {
		t.Errorf("%d complaints are listed", len(first))
	}
}
