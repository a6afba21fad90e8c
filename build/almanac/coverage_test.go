package almanac

import (
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// A place whose list is not held is never said to have no listing: it says so, and whom to ask.
func TestCoverage(t *testing.T) {
	a := openEmbedded(t)
	for _, c := range []struct{ region, codes, held, says string }{
		{"US-WY", "US-WY US", "none", "Wyoming"},
		{"US-NH", "US-NH US", "whole", "New Hampshire"},
		{"US-TX", "US-TX US", "part", "Texas"},
		{"DE", "DE EU", "part", "Union list only"},
		{"GB-ENG", "GB-ENG GB-EAW GB-GBN", "part", "England"},
		{"BR", "BR", "", "BR"},
		{"DE-BY", "DE-BY DE EU", "", "DE-BY"},
	} {
		got := a.Coverage(c.region)
		var codes []string
		for _, g := range got {
			codes = append(codes, g.Code)
		}
		if strings.Join(codes, " ") != c.codes && !strings.HasPrefix(strings.Join(codes, " "), c.codes) || got[0].Held != c.held || !strings.Contains(got[0].Place+got[0].Note, c.says) {
			t.Errorf("%s: %v: %+v: %s", c.region, codes, got[0], c.says)
		}
	}
}

// Whatever is read for a region, the region itself is spoken of first, and a place of which something is known has an
// authority to ask; what lists are held is never more than the coverage says.
func TestCoverageSpeaksOfTheRegion(t *testing.T) {
	a := openEmbedded(t)
	rapid.Check(t, func(t *rapid.T) {
		region := rapid.OneOf(rapid.SampledFrom(euMembers), rapid.SampledFrom([]string{"US", "GB", "GB-NIR", "CH", "NO", "JP", "ZA", "CA-ON", "AU-NSW", "NZ", "BR", "IN"}),
			rapid.Custom(func(t *rapid.T) string { return "US-" + rapid.SampledFrom(usParts).Draw(t, "state") })).Draw(t, "region")
		got := a.Coverage(region)
		if len(got) == 0 || got[0].Code != region && !partOf(got[0].Code, region) {
			t.Fatalf("%s: %+v", region, got)
		}
		for _, c := range got {
			if c.Held != "" && c.Address == "" || c.Ask() == "" {
				t.Fatalf("%s: %+v", region, c)
			}
		}
		lists, own := a.Lists(region)
		if region == "GB" {
			return // its parts are spoken of
		}
		if own && got[0].Held == "none" || !own && got[0].Held == "whole" {
			t.Fatalf("%s: own list %v, coverage %+v, %v", region, own, got[0], lists)
		}
	})
}

// Every jurisdiction with a list is in the table of what was looked at, and not as a place of which nothing was read.
func TestEveryListIsCovered(t *testing.T) {
	a := openEmbedded(t)
	for _, l := range a.listed {
		if c, ok := a.coverage[l.Jurisdiction]; !ok || c.Held == "none" {
			t.Errorf("%s: %s is held, the coverage says %q", l.Jurisdiction, l.List, c.Held)
		}
	}
}

// Genus rules, exceptions and lists that disagree: 15A NCAC 02G .0602 leaves out S. rotundifolia, a name under which S.
// minima is sold (seen); Real Decreto 630/2013 takes in Ludwigia except L. palustris (second-hand).
func TestGenusRules(t *testing.T) {
	a := openEmbedded(t)
	for _, c := range []struct {
		taxon, region string
		firm, asked   bool
	}{
		{"Ludwigia repens", "ES", true, false},
		{"Ludwigia palustris", "ES", false, false},
		{"Ludwigia repens 'Rubin'", "ES", true, false},
		{"Salvinia minima", "US-NC", false, true},
		{"Salvinia minima", "US-FL", false, false},
		{"Salvinia natans", "US-FL", true, false},
	} {
		firm, asked := false, false
		for _, n := range a.Notices(c.taxon, c.region) {
			if n.Jurisdiction == c.region {
				firm, asked = firm || n.Firm(), asked || n.Doubtful
			}
		}
		if firm != c.firm || asked != c.asked {
			t.Errorf("%s in %s: firm %v, asked %v", c.taxon, c.region, firm, asked)
		}
	}
}

// Looking only at the rows of a plant's genera finds what looking at all rows finds.
func TestRowsOfAreAllThatNameAPlant(t *testing.T) {
	a := openEmbedded(t)
	whole := *a
	whole.listedOf = map[string][]int{}
	for g := range a.listedOf {
		for i := range a.listed {
			whole.listedOf[g] = append(whole.listedOf[g], i)
		}
	}
	var taxa []string
	for _, s := range a.All() {
		taxa = append(taxa, s.Taxon)
	}
	taxa = append(taxa, "Salvinia sp.", "Ludwigia repens x arcuata", "water fern", "stargrass", "Elodea cf. densa")
	for _, taxon := range taxa {
		if got, want := len(a.Notices(taxon, "")), len(whole.Notices(taxon, "")); got != want {
			t.Errorf("%s: %d rows, of all %d", taxon, got, want)
		}
	}
}

// What is said of the law never calls anything allowed: a list that does not name a plant gives no permission.
func TestNothingIsCalledAllowed(t *testing.T) {
	a := openEmbedded(t)
	for _, l := range a.listed {
		for _, text := range []string{l.What, l.Text(l.Jurisdiction)} {
			if strings.Contains(text, "allowed") || strings.Contains(text, "safe to") {
				t.Errorf("%s: %q", l.List, text)
			}
		}
	}
}
