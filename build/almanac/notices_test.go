package almanac

import (
	"encoding/csv"
	"os"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// The cases stand in a table with their sources: a row with an empty list_name says that the jurisdiction must not
// come up at all.
func TestNoticesOfTheReferenceTable(t *testing.T) {
	f, err := os.Open("../../testdata/reference/regulated_matches.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	records, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	a := openEmbedded(t)
	yes := map[bool]string{true: "yes", false: "no"}
	for _, r := range records[1:] {
		asked, region, jurisdiction, list, as := r[0], r[1], r[2], r[3], r[4]
		t.Run(asked+" in "+region+" by "+jurisdiction, func(t *testing.T) {
			var got []Notice
			for _, n := range a.Notices(asked, region) {
				if n.Jurisdiction == jurisdiction && (list == "" || n.List == list && n.ListedAs == as) {
					got = append(got, n)
				}
			}
			if list == "" {
				if len(got) > 0 {
					t.Errorf("named by %+v", got)
				}
				return
			}
			if len(got) != 1 {
				t.Fatalf("named %d times: %+v", len(got), got)
			}
			n := got[0]
			have := []string{yes[n.InParts], yes[n.Doubtful], yes[n.Forbids], yes[n.Seen]}
			if !slices.Equal(have, r[5:9]) {
				t.Errorf("in parts, doubtful, forbids, seen: %v, want %v", have, r[5:9])
			}
			if n.Place == "" || n.What == "" || n.Source == "" || n.Retrieved.IsZero() {
				t.Errorf("incomplete: %+v", n)
			}
		})
	}
}

// Every row of the lists is found again by its own name in its own jurisdiction, and without a region.
func TestEveryRowIsFound(t *testing.T) {
	a := openEmbedded(t)
	for _, l := range a.listed {
		for _, region := range []string{l.Jurisdiction, ""} {
			found := slices.ContainsFunc(a.Notices(l.name, region), func(n Notice) bool {
				return n.Jurisdiction == l.Jurisdiction && n.List == l.List && n.ListedAs == l.ListedAs && !n.InParts
			})
			if !found {
				t.Errorf("%s of %s is not found in region %q", l.ListedAs, l.Jurisdiction, region)
			}
		}
	}
}

// A cultivar or variety has the rows of its species; a change of spelling changes nothing.
func TestFormsInheritTheRows(t *testing.T) {
	a := openEmbedded(t)
	regions := []string{"", "GB", "GB-ENG", "US-FL", "US", "DE", "NZ"}
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.SampledFrom(a.All()).Draw(t, "species")
		region := rapid.SampledFrom(regions).Draw(t, "region")
		if strings.HasSuffix(s.Taxon, ".") { // a genus or "sp." has no varieties of a species
			t.Skip("a genus")
		}
		plain := a.Notices(s.Taxon, region)
		for _, form := range []string{" 'Red'", " var. nova", " L.", ""} {
			got := a.Notices(strings.ToUpper(s.Taxon)+form, region)
			if len(got) != len(plain) {
				t.Fatalf("%s%s: %d notices, the species has %d", s.Taxon, form, len(got), len(plain))
			}
		}
		for _, n := range s.Synonyms {
			if got := a.Notices(n, region); len(got) < len(plain) {
				t.Fatalf("%s, a synonym of %s: %d notices instead of %d", n, s.Taxon, len(got), len(plain))
			}
		}
	})
}

// A larger region never knows less than its part, except that it says "in parts".
func TestARegionKnowsItsParts(t *testing.T) {
	a := openEmbedded(t)
	for _, pair := range [][2]string{{"GB", "GB-ENG"}, {"GB-EAW", "GB-ENG"}, {"GB-GBN", "GB-ENG"}, {"US", "US-WA"}, {"AU", "AU-QLD"}, {"EU", "IE"}} {
		for _, s := range a.All() {
			whole, part := a.Notices(s.Taxon, pair[0]), a.Notices(s.Taxon, pair[1])
			for _, n := range part {
				i := slices.IndexFunc(whole, func(w Notice) bool {
					return w.Jurisdiction == n.Jurisdiction && w.List == n.List && w.ListedAs == n.ListedAs
				})
				if i < 0 {
					t.Fatalf("%s: %s knows %s, %s does not", s.Taxon, pair[1], n.List, pair[0])
				}
			}
		}
	}
}

func TestNoticesComeInOrder(t *testing.T) {
	got := openEmbedded(t).Notices("Elodea nuttallii", "GB-EAW")
	var order []string
	for _, n := range got {
		order = append(order, n.Jurisdiction)
	}
	if !slices.Equal(order, []string{"GB-EAW", "GB-GBN"}) {
		t.Errorf("got %v", order)
	}
}

func TestFirm(t *testing.T) {
	firm := Notice{Forbids: true, Seen: true}
	for name, n := range map[string]Notice{
		"only a label": {Seen: true}, "from memory": {Forbids: true},
		"in parts": {Forbids: true, Seen: true, InParts: true}, "doubtful": {Forbids: true, Seen: true, Doubtful: true},
	} {
		if n.Firm() {
			t.Errorf("%s is firm", name)
		}
	}
	if !firm.Firm() {
		t.Error("a plain ban is not firm")
	}
}

func TestKnownRegion(t *testing.T) {
	for code, want := range map[string]bool{ // ISO 3166
		"GB": true, "US": true, "DE": true, "NZ": true, "GB-ENG": true, "US-FL": true, "US-DC": true, "AU-QLD": true, "DE-BY": true,
		"CH-ZH": true, "ES-CT": true,
		"UK": false, "EU": false, "ZZ": false, "us": false, "us-fl": false, "US-XX": false, "AU-QXX": false, "GB-": false, "-": false,
		"": false, "USA": false, "001": false, "840": false, "GB-LONG": false, "GB-en": false, "US-FL-X": false, "Florida": false,
	} {
		if got := KnownRegion(code); got != want {
			t.Errorf("KnownRegion(%q) = %v", code, got)
		}
	}
}

func TestParents(t *testing.T) {
	for region, want := range map[string]string{
		"US-FL": "US-FL US", "DE": "DE EU", "DE-BY": "DE-BY DE EU", "GB-ENG": "GB-ENG GB GB-EAW GB-GBN", "GB-WLS": "GB-WLS GB GB-EAW GB-GBN",
		"GB-SCT": "GB-SCT GB GB-GBN", "GB-NIR": "GB-NIR GB EU", "GB": "GB", "NZ": "NZ", "PR": "PR US US-PR", "CH": "CH", "NO": "NO",
	} {
		if got := strings.Join(parents(region), " "); got != want {
			t.Errorf("%s lies in %s, want %s", region, got, want)
		}
	}
	if len(euMembers) != 27+1 { // 27 member states and Åland
		t.Errorf("%d codes of the Union", len(euMembers))
	}
	for _, code := range append(slices.Clone(euMembers), "GB") {
		if !KnownRegion(code) {
			t.Errorf("%q is no region", code)
		}
	}
}
