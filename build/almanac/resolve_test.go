package almanac

import (
	"slices"
	"strings"
	"testing"
)

func TestResolve(t *testing.T) {
	a := openEmbedded(t)
	for _, c := range []struct {
		name     string
		kind     NameKind
		id       string
		doubtful bool
	}{ // rows of names.csv and of the lists' synonyms
		{"Heteranthera zosterifolia", Accepted, "heteranthera-zosterifolia", false},
		{"HETERANTHERA  ZOSTERIFOLIA Mart.", Accepted, "heteranthera-zosterifolia", false},
		{"heteranthera-zosterifolia", Accepted, "heteranthera-zosterifolia", false},
		{"Hydrocharis morsus-ranae L.", Accepted, "hydrocharis-morsus-ranae", false},
		{"Elodea densa", Synonym, "egeria-densa", false},
		{"Microsorum pteropus 'Own Form'", Synonym, "leptochilus-pteropus", false},
		{"Hemiadelphis polysperma", Synonym, "hygrophila-polysperma", false},
		{"Cryptocoryne × willisii", Accepted, "cryptocoryne-x-willisii", false},
		{"Cryptocoryne x willisii", Accepted, "cryptocoryne-x-willisii", false},
		{"Cryptocoryne willisii", Accepted, "cryptocoryne-x-willisii", false},
		{"Cryptocoryne petchii", Misapplied, "cryptocoryne-beckettii", true},
		{"Vallisneria gigantea", Misapplied, "vallisneria-australis", true},
		{"Anubias barteri var. nana “Petite”", Accepted, "anubias-barteri", false},
		{"Bucephalandra", Accepted, "bucephalandra-spp", false},
		{"Bucephalandra sp. 'Own Form'", Accepted, "bucephalandra-spp", false},
		{"Bucephalandra pygmaea", Accepted, "bucephalandra-spp", false},
		{"Cryptocoryne cf. wendtii", Accepted, "cryptocoryne-wendtii", true},
		{"parrot’s feather", Trade, "myriophyllum-aquaticum", false},
		{"Java fern", Trade, "leptochilus-pteropus", false},
		{"java-fern", Trade, "leptochilus-pteropus", false},
		{"stargrass", Trade, "", true},
		{"cabomba", Trade, "", true},
		{"Solanum tampicense", Listed, "", false},
		{"Ludwigia repens x arcuata", NoName, "", false},
		{"Nonsensia plantarum", NoName, "", false},
		{"", NoName, "", false},
	} {
		m := a.Resolve(c.name)
		if m.Kind != c.kind || m.ID != c.id || m.Doubtful != c.doubtful || (m.Why != "") != m.Doubtful {
			t.Errorf("%q: got %v %q doubtful %v (%s)", c.name, m.Kind, m.ID, m.Doubtful, m.Why)
		}
	}
}

func TestANameWithASecondMeaningSaysSo(t *testing.T) {
	a := openEmbedded(t)
	m := a.Resolve("Rotala indica") // accepted, and misapplied to R. rotundifolia in the trade (names.csv)
	if m.ID != "rotala-indica" || len(m.Also) != 1 || m.Also[0].ID != "rotala-rotundifolia" || m.Also[0].Kind != Misapplied {
		t.Errorf("got %+v", m)
	}
	m = a.Resolve("stargrass")
	var taxa []string
	for _, c := range m.Candidates {
		taxa = append(taxa, c.Taxon)
	}
	if !slices.Equal(taxa, []string{"Heteranthera dubia", "Heteranthera zosterifolia", "Hydrilla verticillata"}) {
		t.Errorf("stargrass may be %v", taxa)
	}
}

// Each everyday name of several plants must ask, not pass.
func TestDoubtfulNamesAsk(t *testing.T) {
	a := openEmbedded(t)
	for _, e := range a.Everyday() {
		if m := a.Resolve(e.Name); e.Certainty == "several" && e.Kind == "common" && (!m.Doubtful || m.Kind == NoName) && m.Kind != Accepted {
			t.Errorf("%q passes: %+v", e.Name, m)
		}
	}
}

// Every row in every spelling: too few to draw by chance, and a hybrid's id is only one of them.
func TestEveryRowResolvesToItself(t *testing.T) {
	a := openEmbedded(t)
	species := a.All()
	spellings := []func(string) string{
		func(n string) string { return n }, strings.ToUpper, strings.ToLower, func(n string) string { return "  " + n + "  " },
		func(n string) string { return n + " 'Own Form'" }, IDOf,
		func(n string) string { return strings.Replace(n, " x ", " × ", 1) },
	}
	for _, s := range species {
		for _, spell := range spellings {
			if m := a.Resolve(spell(s.Taxon)); m.Kind != Accepted || m.ID != s.ID || m.Taxon != s.Taxon {
				t.Errorf("%q: %+v", spell(s.Taxon), m)
			}
			for _, n := range s.Synonyms {
				if m := a.Resolve(spell(n)); m.Kind != Synonym || m.ID != s.ID {
					t.Errorf("%q: %+v", spell(n), m)
				}
			}
		}
	}
	for _, s := range species { // every row, plainly
		names := append(append([]string{s.Taxon}, s.Synonyms...), append(s.Misapplied, s.TradeNames...)...)
		for _, n := range names {
			m := a.Resolve(n)
			if !slices.ContainsFunc(append(m.Candidates, m.Also...), func(c Candidate) bool { return c.ID == s.ID }) {
				t.Errorf("%q does not lead to %s: %+v", n, s.ID, m)
			}
		}
	}
}

func TestIDsAreOfTheFormat(t *testing.T) {
	for _, s := range openEmbedded(t).All() {
		if strings.Trim(s.ID, "abcdefghijklmnopqrstuvwxyz0123456789-") != "" || strings.Contains(s.ID, "--") {
			t.Errorf("%q is no id", s.ID)
		}
	}
}

func TestSpeciesByAlias(t *testing.T) {
	a := openEmbedded(t)
	for asked, want := range map[string]string{
		"cryptocoryne-x-willisii": "cryptocoryne-x-willisii",
		"cryptocoryne-willisii":   "cryptocoryne-x-willisii",
		"bucephalandra":           "bucephalandra-spp",
		"bucephalandra-spp.":      "bucephalandra-spp",
		"anubias-afzelii":         "anubias-afzelii", // a name without a profile
	} {
		if s, ok := a.Species(asked); !ok || s.ID != want {
			t.Errorf("%q: got %q, %v", asked, s.ID, ok)
		}
	}
	for _, asked := range []string{"", "anubias-nana", "elodea-densa", "java-fern", "Egeria-densa", "taxiphyllum"} {
		if s, ok := a.Species(asked); ok {
			t.Errorf("%q is an id of %s", asked, s.ID)
		}
	}
}

// Whatever is asked, the answer is consistent: what it names exists and resolves to itself, doubt has a reason, and
// a name folds to the same whether or not it was folded before.
func FuzzResolve(f *testing.F) {
	a := openEmbedded(f)
	for _, s := range []string{"Elodea densa", "Cryptocoryne × willisii", "stargrass", "Ludwigia repens x arcuata", "a x x b",
		"Anubias 'Nana'", "sp.", "''", "x", "Salvinia spp. (except S. minima)", "cf.", "Genus cf. ? x", "\xff", "-", "ẞ İ"} {
		f.Add(s)
	}
	for _, s := range a.All() {
		f.Add(s.Taxon)
	}
	f.Fuzz(func(t *testing.T, name string) {
		if once := fold(name); fold(once) != once {
			t.Fatalf("%q folds to %q, then to %q", name, once, fold(once))
		}
		m := a.Resolve(name)
		if (m.Kind == NoName) != (len(m.Candidates) == 0) || m.Doubtful != (m.Why != "") {
			t.Fatalf("%q: %+v", name, m)
		}
		for _, c := range append(m.Candidates, m.Also...) {
			if c.ID == "" {
				continue
			}
			if s, ok := a.Species(c.ID); !ok || s.Taxon != c.Taxon {
				t.Fatalf("%q leads to %+v", name, c)
			}
		}
		if m.ID != "" {
			if again := a.Resolve(m.Taxon); again.ID != m.ID || again.Kind != Accepted {
				t.Fatalf("%q leads to %q, which leads to %+v", name, m.Taxon, again)
			}
		}
		for _, n := range a.Notices(name, "GB") {
			if n.Doubtful != (n.Why != "") || n.Firm() && n.Doubtful {
				t.Fatalf("%q: %+v", name, n)
			}
		}
	})
}
