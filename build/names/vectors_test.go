package names

import (
	"encoding/csv"
	"os"
	"strings"
	"testing"

	"slipleaf/build/almanac"
)

func newResolver(t testing.TB, regions ...string) *Resolver {
	t.Helper()
	a, err := almanac.Open()
	if err != nil {
		t.Fatal(err)
	}
	return New(a, regions...)
}

// rowsOf reads a table without its head.
func rowsOf(t testing.TB, file string) [][]string {
	t.Helper()
	f, err := os.Open(file)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return rows[1:]
}

// The rows were typed by hand as growers write, before the resolver was (common practice); judged for a journal in
// Germany and recipients in England and in a state without a list here: the Union's, Britain's and federal lists.
func TestNamesThatGrowersType(t *testing.T) {
	r := newResolver(t, "DE", "GB-ENG", "US-WY")
	rows := rowsOf(t, "testdata/names.csv")
	taxon := func(s string) string { s, _, _ = strings.Cut(s, " ("); return s }
	wrong, refused, needless := 0, 0, 0
	for _, row := range rows {
		typed, want := row[0], row[1]
		got := r.Resolve(typed)
		asks, isAsk := strings.CutPrefix(want, "ask: ")
		switch {
		case isAsk:
			offered := map[string]bool{}
			for _, p := range got.Asks {
				offered[taxon(p.Taxon)] = true
			}
			missing := ""
			for w := range strings.SplitSeq(asks, " | ") {
				if !offered[w] {
					missing += " " + w
				}
			}
			switch {
			case got.Known():
				wrong++
				t.Errorf("%q is taken for %s (%s), should ask", typed, got.Plant.Taxon, got.How)
			case len(got.Asks) == 0:
				refused++
				t.Logf("%q is refused, should ask (%s)", typed, row[2])
			case missing != "":
				wrong++
				t.Errorf("%q asks %v (%s), not of%s", typed, got.Asks, got.How, missing)
			}
		case want == "unknown":
			if got.Known() || len(got.Asks) > 0 {
				wrong++
				t.Errorf("%q should be refused: %+v", typed, got)
			}
		case !got.Known() && len(got.Asks) == 0:
			refused++
			t.Logf("%q is refused, should be %s (%s)", typed, want, row[2])
		case !got.Known():
			needless++
			t.Logf("%q asks %v (%s), should be %s (%s)", typed, got.Asks, got.How, want, row[2])
		case taxon(got.Plant.Taxon) != want:
			wrong++
			t.Errorf("%q is taken for %s (%s), should be %s", typed, got.Plant.Taxon, got.How, want)
		}
	}
	t.Logf("of %d names %d wrong, %d refused, %d asked needlessly", len(rows), wrong, refused, needless)
	if 20*refused > len(rows) || 20*needless > len(rows) {
		t.Errorf("too many refused or asked")
	}
}
