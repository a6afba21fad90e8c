package almanac

import (
	"encoding/csv"
	"io/fs"
	"strings"
	"testing"
	"testing/fstest"

	"slipleaf/build/quantity"
)

// rawRows reads an embedded table as maps of its cells, by the header.
func rawRows(t *testing.T, name string) []map[string]string {
	t.Helper()
	b, err := fs.ReadFile(tables, "tables/"+name)
	if err != nil {
		t.Fatal(err)
	}
	records, err := csv.NewReader(strings.NewReader(string(b))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var out []map[string]string
	for _, r := range records[1:] {
		m := map[string]string{}
		for i, cell := range r {
			m[records[0][i]] = cell
		}
		out = append(out, m)
	}
	return out
}

func openEmbedded(t testing.TB) *Almanac {
	t.Helper()
	a, err := Open()
	if err != nil {
		t.Fatal(err)
	}
	return a
}

func TestEveryRowOfTheTablesIsRead(t *testing.T) {
	a := openEmbedded(t)
	if got, want := len(a.All()), len(rawRows(t, "names.csv")); got != want {
		t.Errorf("%d species from %d names", got, want)
	}
	if got, want := len(a.listed), len(rawRows(t, "regulated.csv")); got != want {
		t.Errorf("%d listed rows from %d", got, want)
	}
	profiled := 0
	for _, s := range a.All() {
		if s.Profiled {
			profiled++
		}
	}
	if want := len(rawRows(t, "profiles.csv")); profiled != want {
		t.Errorf("%d profiles from %d rows", profiled, want)
	}
	if got := a.Retrieved().String(); got != "2026-11-28" { // the column "retrieved" of every row
		t.Errorf("newest row is of %s", got)
	}
}

// The readings must say what the table says, digit for digit.
func TestProfilesReadAsWritten(t *testing.T) {
	a := openEmbedded(t)
	plain := func(low, high, unit string) string {
		trim := func(s string) string {
			if strings.Contains(s, ".") {
				s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
			}
			return s
		}
		s := trim(low)
		if h := trim(high); h != s {
			s += ".." + h
		}
		return strings.TrimSpace(s + " " + unit)
	}
	for _, r := range rawRows(t, "profiles.csv") {
		s, ok := a.Species(IDOf(r["taxon"]))
		if !ok {
			t.Errorf("no species for %q", r["taxon"])
			continue
		}
		for column, pair := range map[string][2]string{
			"temperature": {s.Temperature.String(), plain(r["temp_min_c"], r["temp_max_c"], "C")},
			"ph":          {s.PH.String(), plain(r["ph_min"], r["ph_max"], "")},
			"gh":          {s.GH.String(), plain(r["gh_min_d"], r["gh_max_d"], "dGH")},
			"kh":          {s.KH.String(), plain(r["kh_min_d"], r["kh_max_d"], "dKH")},
			"light":       {s.Light.String(), plain(r["light_ppfd_min"], r["light_ppfd_max"], "umol/m2/s")},
			"light-good":  {s.LightGood.String(), plain(r["light_ppfd_good"], r["light_ppfd_good"], "umol/m2/s")},
			"height":      {s.Height.String(), plain(r["height_min_cm"], r["height_max_cm"], "cm")},
			"spread":      {s.Spread.String(), plain(r["spread_cm"], r["spread_cm"], "cm")},
			"spacing":     {s.Spacing.String(), plain(r["spacing_cm"], r["spacing_cm"], "cm")},
			"co2":         {s.CO2, r["co2_need"]},
			"growth":      {s.Growth, strings.ReplaceAll(r["growth"], " ", "-")},
			"habit":       {s.Habit, r["habit"]},
			"cutting":     {s.CuttingSize, r["cutting_size"]},
		} {
			if pair[0] != pair[1] {
				t.Errorf("%s: %s reads %q, the table says %q", s.ID, column, pair[0], pair[1])
			}
		}
	}
}

func TestRatesAreThePublishedOnes(t *testing.T) {
	a := openEmbedded(t)
	known := 0
	for _, s := range a.All() {
		if s.RGR.Known() {
			known++
		}
	}
	if known != 5 { // of Elodea canadensis, Riccia fluitans, Hydrocharis laevigata, Lemna minor and Salvinia natans
		t.Errorf("%d species have a published rate", known)
	}
	lemna, _ := a.Species("lemna-minor")
	if lemna.RGR != (Rate{0.28, 0.36}) { // the row's citations
		t.Errorf("Lemna minor grows %v a day", lemna.RGR)
	}
	frogbit, _ := a.Species("hydrocharis-laevigata")
	if frogbit.RGR != (Rate{0.12, 0.12}) { // ln 2 / 5.7 d, the row's citation
		t.Errorf("Hydrocharis laevigata grows %v a day", frogbit.RGR)
	}
}

// broken is the embedded tables with one text replaced once.
func broken(t *testing.T, name, old, new string) fs.FS {
	t.Helper()
	out := fstest.MapFS{}
	all, err := fs.Glob(tables, "tables/*.csv")
	if err != nil {
		t.Fatal(err)
	}
	for _, path := range all {
		b, err := fs.ReadFile(tables, path)
		if err != nil {
			t.Fatal(err)
		}
		n := strings.TrimPrefix(path, "tables/")
		s := string(b)
		if n == name {
			if !strings.Contains(s, old) {
				t.Fatalf("%s does not hold %q", n, old)
			}
			s = strings.Replace(s, old, new, 1)
		}
		out["tables/"+n] = &fstest.MapFile{Data: []byte(s)}
	}
	return out
}

func TestOpenRefusesBrokenTables(t *testing.T) {
	const bacopa = "Bacopa caroliniana,lemon bacopa,Großes Fettblatt,Plantaginaceae,stem,middle,20,40,4,15,28,5.5,8.0,1,20,0,12,25,60,250,none"
	with := func(old, new string) string { return strings.Replace(bacopa, old, new, 1) }
	for _, c := range []struct{ name, table, old, new, want string }{
		{"a range backwards", "profiles.csv", bacopa, with("15,28", "28,15"), "row 4: temp_min_c and temp_max_c: the range runs backwards"},
		{"a figure that is none", "profiles.csv", bacopa, with("1,20,", "1,lots,"), "row 4: gh_min_d and gh_max_d"},
		{"an unknown habit", "profiles.csv", bacopa, with("stem", "tree"), `row 4: habit: "tree" is none of`},
		{"an unknown carbon need", "profiles.csv", bacopa, with(",none", ",some"), `row 4: co2_need: "some" is none of`},
		{"good light outside", "profiles.csv", bacopa, with("25,60,250", "25,300,250"), "row 4: light_ppfd_good: lies outside"},
		{"a profile without a name", "profiles.csv", bacopa, with("Bacopa", "Bacopis"), `no name "Bacopis caroliniana"`},
		{"a family that differs", "profiles.csv", bacopa, with("Plantaginaceae", "Araceae"), "of family Araceae"},
		{"an address inside a source", "profiles.csv", "EPPO Reporting Service 2012/045 <https://gd.eppo.int/reporting/article-1872>", "https://gd.eppo.int/reporting/article-1872", "an address stands at the end in <>"},
		{"a basis of nothing", "profiles.csv", "height: seen", "hight: seen", "is no column with its basis"},
		{"a kind without its words", "care.csv", "crypt,alarm,", "crypt,alert,", `"alert" is no part`},
		{"salt of the sea", "traits.csv", ",15,second-hand,", ",150,second-hand,", "no salinity of a water plant"},
		{"harm to nobody", "traits.csv", "all,people,memory,\"thiaminase", "all,,memory,\"thiaminase", "whom it harms"},
		{"a mad rate", "profiles.csv", ",0.06-0.09,", ",0.9-0.06,", `rgr_per_day: "0.9-0.06" is no rate`},
		{"a changed header", "profiles.csv", "taxon,common_name,", "taxon,name,", "header is"},
		{"a name twice", "names.csv", "Bacopa monnieri,", "Bacopa caroliniana,", "stands there twice"},
		{"a stray space", "names.csv", "Ammannia gracilis,", "Ammannia gracilis ,", "stray space"},
		{"a list nobody described", "regulated.csv", "National Pest Plant Accord", "Accord", `lists.csv has no list "Accord" of NZ`},
		{"a region that is none", "regulated.csv", ",AU-QLD,", ",AU-QXX,", "lists.csv has no list"},
		{"a day that is none", "regulated.csv", "2026-11-25", "2026-13-25", "retrieved:"},
		{"a list without a verdict", "lists.csv", ",Queensland,yes,", ",Queensland,maybe,", `forbids: "maybe" is none of`},
		{"a row too short", "everyday.csv", "frogbit,en,", "frogbit en,", "wrong number of fields"},
		{"two plants for one", "everyday.csv", "Java fern,en,Leptochilus pteropus,common,one", "Java fern,en,Leptochilus pteropus; Bolbitis heudelotii,common,one", "several plants are several"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := open(broken(t, c.table, c.old, c.new))
			if err == nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("got %v, want an error with %q", err, c.want)
			}
		})
	}
	if _, err := open(fstest.MapFS{}); err == nil {
		t.Error("opened an almanac without tables")
	}
}

// Callers cannot change the almanac through what it returns.
func TestWhatIsReturnedIsACopy(t *testing.T) {
	a := openEmbedded(t)
	s, _ := a.Species("egeria-densa")
	*s.Melts, s.Synonyms[0], s.TradeNames[0] = 3, "x", "y"
	s.Temperature = quantity.Reading[quantity.Temperature]{}
	a.Notices("Egeria densa", "")[0].OldNames[0] = "z"
	again, _ := a.Species("egeria-densa")
	if *again.Melts != 1 || again.Synonyms[0] != "Elodea densa" || again.TradeNames[0] == "y" || !again.Temperature.Known() {
		t.Errorf("the almanac was changed: %+v", again)
	}
	if a.Notices("Egeria densa", "")[0].OldNames[0] == "z" {
		t.Error("notices were changed")
	}
}
