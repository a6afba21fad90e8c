package almanac

import (
	"slices"
	"strings"
	"testing"
)

// What a row stands for stands in one row, and names what another table knows.
func TestRowsStandOnceAndHangTogether(t *testing.T) {
	a := openEmbedded(t)
	for _, c := range []struct{ table, key string }{
		{"traits.csv", "taxon"}, {"marks.csv", "taxon"}, {"coverage.csv", "code"}, {"phrases.csv", "en"}, {"hosts.csv", "host"},
	} {
		seen := map[string]bool{}
		for _, r := range rawRows(t, c.table) {
			if seen[r[c.key]] {
				t.Errorf("%s: %q stands there twice", c.table, r[c.key])
			}
			seen[r[c.key]] = true
			if _, ok := a.Species(IDOf(r[c.key])); c.key == "taxon" && !ok {
				t.Errorf("%s: %q has no name", c.table, r[c.key])
			}
			if c.key == "code" && r["code"] != "EU" && !KnownRegion(r["code"]) {
				t.Errorf("coverage.csv: %q is no code of ISO 3166 and not EU", r["code"])
			}
		}
		if c.table != "traits.csv" {
			continue
		}
		for _, s := range a.All() {
			if s.Profiled && !seen[s.Taxon] {
				t.Errorf("%s has a profile and no traits", s.Taxon)
			}
		}
	}
	described, used := map[string]bool{}, map[string]bool{}
	list := func(r map[string]string) string { return r["jurisdiction"] + " " + r["list_name"] }
	for _, r := range rawRows(t, "lists.csv") {
		described[list(r)] = true
		if r["reason"] == "" || r["basis"] == "" {
			t.Errorf("%s: why its verdict is as it is, is not said", list(r))
		}
	}
	for _, r := range rawRows(t, "regulated.csv") {
		used[list(r)] = true
		if r["jurisdiction"] != "EU" && !KnownRegion(r["jurisdiction"]) || r["legal_reference"] == "" {
			t.Errorf("%s: no code of ISO 3166 and not EU, or no law behind it", list(r))
		}
	}
	for l := range described {
		if !used[l] {
			t.Errorf("no row is on the list %s", l)
		}
	}
}

// Every address is of a host that is known to be an authority, a publisher, a flora or a university; and no host is
// there for nothing.
func TestEveryAddressIsOfAKnownHost(t *testing.T) {
	kind, used := map[string]string{}, map[string]bool{}
	for _, r := range rawRows(t, "hosts.csv") {
		kind[r["host"]] = r["kind"]
		if !slices.Contains([]string{"authority", "publisher", "flora", "university"}, r["kind"]) {
			t.Errorf("%s is a %s", r["host"], r["kind"])
		}
	}
	for _, table := range []string{"profiles", "names", "traits", "care", "coverage", "everyday", "lists", "regulated"} {
		for _, r := range rawRows(t, table+".csv") {
			for _, cell := range r {
				for _, m := range addressHost.FindAllStringSubmatch(cell, -1) {
					used[m[1]] = true
					if kind[m[1]] == "" {
						t.Errorf("%s: %s is not in hosts.csv", table, m[1])
					}
				}
			}
			for _, column := range []string{"official_address", "source_url"} {
				if s, ok := r[column]; ok && (addressHost.FindStringIndex(s) == nil || strings.ContainsAny(s, " <>\"") || !strings.HasPrefix(s, "http")) {
					t.Errorf("%s: %q is no address", table, s)
				}
			}
		}
	}
	for host := range kind {
		if !used[host] {
			t.Errorf("no address is at %s", host)
		}
	}
}

// Every text of a profile is said in German, and no phrase is there for nothing.
func TestPhrasesAreThoseOfTheProfiles(t *testing.T) {
	a := openEmbedded(t)
	used := map[string]bool{}
	for _, s := range a.All() {
		for _, column := range []string{"propagation", "cutting-size", "melt-note", "conversion-note", "hardy-note"} {
			text, in := s.Say(column, "de")
			if text != "" && in != "de" {
				t.Errorf("%s: no German for %q", s.Taxon, text)
			}
			used[s.words(column)] = true
		}
	}
	for _, r := range rawRows(t, "phrases.csv") {
		if !used[r["en"]] {
			t.Errorf("nothing says %q", r["en"])
		}
	}
}

// How each row is known is said, though only the best known figures of a profile say it on a page.
func TestEveryRowHasItsBasis(t *testing.T) {
	known := func(basis string) bool {
		return slices.Contains([]string{Seen, SecondHand, Memory, CommonPractice}, basis)
	}
	for _, c := range []struct{ table, basis, of string }{ // of: empty where the basis is
		{"traits.csv", "poison_basis", "poison_source"}, {"traits.csv", "salt_basis", "salt_source"}, {"traits.csv", "season_basis", "season"},
		{"care.csv", "basis", "en"}, {"borders.csv", "basis", "en"}, {"marks.csv", "basis", "en"}, {"everyday.csv", "basis", "name"},
		{"names.csv", "basis", "accepted_name"},
	} {
		for i, r := range rawRows(t, c.table) {
			if (r[c.of] != "") != known(r[c.basis]) {
				t.Errorf("%s: row %d: %q has the basis %q", c.table, i+2, r[c.of], r[c.basis])
			}
		}
	}
	for i, r := range rawRows(t, "names.csv") {
		if r["basis"] == Seen && r["basis_source"] == "" {
			t.Errorf("names.csv: row %d was seen, and does not say where", i+2)
		}
	}
	for i, r := range rawRows(t, "everyday.csv") {
		if (r["basis"] == Seen) != (r["source"] != "") || r["form"] != "" && r["kind"] != "form" && r["kind"] != "trade" {
			t.Errorf("everyday.csv: row %d: what was seen has an address, and only that; or a form that its kind has not", i+2)
		}
	}
	for i, r := range rawRows(t, "traits.csv") {
		if (r["carbon"] == "unknown") == known(r["carbon_basis"]) || r["salt_ppt"] != "" && r["salt_basis"] == "" || r["rooting"] == "" || r["crown_above"] == "" {
			t.Errorf("traits.csv: row %d: %v", i+2, r)
		}
	}
}
