package journal

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"pgregory.net/rapid"

	"slipleaf/build/almanac"
)

// regions are all countries of ISO 3166, the states and parts that have codes of their own here, and every place of which
// something was looked up.
func regions() []string {
	var out []string
	for a := 'A'; a <= 'Z'; a++ {
		for b := 'A'; b <= 'Z'; b++ {
			out = append(out, string(a)+string(b))
			for c := 'A'; c <= 'Z'; c++ {
				out = append(out, "AU-"+string(a)+string(b)+string(c), "GB-"+string(a)+string(b)+string(c))
			}
			out = append(out, "US-"+string(a)+string(b), "CA-"+string(a)+string(b))
		}
	}
	out = append(out, "AU-SA", "AU-NT", "AU-WA", "DE-BY", "ES-CT")
	known := strings.Fields("GB-ENG GB-SCT GB-WLS GB-NIR GB-EAW GB-GBN CA-AB CA-BC CA-MB CA-NB CA-NL CA-NS CA-ON CA-PE CA-QC CA-SK CA-YT CA-NT CA-NU")
	out = slices.DeleteFunc(out, func(code string) bool {
		country, _, divided := strings.Cut(code, "-")
		return !almanac.KnownRegion(code) || divided && (country == "GB" || country == "CA") && !slices.Contains(known, code)
	})
	return out
}

// In every country and state, the reader complains of a lot of every regulated plant as the lists stand to it, which is
// what the plant's page and the sheet go by: an error where a list that was read bans it, a question where one may, and
// nothing where none that is held names it. Nowhere is a plant called permitted, and every place says what was read of its
// law and whom to ask.
func TestEveryPlantInEveryRegion(t *testing.T) {
	a := mustAlmanac(t)
	fsys := fstest.MapFS{"tanks/a/tank.md": {Data: []byte("---\nbegan: 2026-01-01\n---\n")}}
	entry, taxa := "---\nlots:\n", []string{}
	for i, l := range a.ListedNames() {
		fsys[fmt.Sprintf("plants/p-%d.md", i)] = &fstest.MapFile{Data: []byte("---\ntaxon: " + l.Taxon + "\n---\n")}
		entry += fmt.Sprintf("  - {lot: P-%d, plant: p-%d, form: cuttings, count: 1}\n", i, i)
		taxa = append(taxa, l.Taxon)
	}
	fsys["tanks/a/2026-01-02.md"] = &fstest.MapFile{Data: []byte(entry + "---\n")}
	all := regions()
	pairs := 0
	r := NewReader(a)
	for _, region := range all {
		fsys["journal.yaml"] = &fstest.MapFile{Data: []byte("title: A\nregion: " + region + "\n")}
		_, complaints, err := r.Read(t.Context(), fsys, Options{On: june}, Changes{})
		if err != nil {
			t.Fatal(err)
		}
		said := map[int]Complaint{}
		for _, c := range complaints {
			if c.Rule == "forbidden" || c.Rule == "maybe-forbidden" {
				said[c.Line-3] = c
			}
			if strings.Contains(c.Message+c.Hint, "allowed") || strings.Contains(c.Message+c.Hint, " legal") {
				t.Errorf("%s: %s", region, c.Message)
			}
		}
		for i, taxon := range taxa {
			pairs++
			is, by := almanac.StandingOf(a.Notices(taxon, region))
			c, complained := said[i]
			for _, n := range by {
				if complained && !strings.Contains(c.Message, n.List) {
					t.Errorf("%s in %s: %q does not name %s", taxon, region, c.Message, n.List)
				}
			}
			if complained != (is != almanac.Unnamed) || is == almanac.Banned && c.Severity != Error || is == almanac.Perhaps && c.Severity != Warning {
				t.Errorf("%s in %s: standing %d by %v, the reader says %s: %s", taxon, region, is, by, c.Severity, c.Message)
			}
		}
		for i, place := range a.Coverage(region) {
			if place.Ask() == "" || place.Place == "" || i == 0 && place.Code != region && !strings.HasPrefix(place.Code, region) {
				t.Errorf("%s: %+v", region, place)
			}
		}
		if len(a.Coverage(region)) == 0 {
			t.Errorf("%s: nothing is said of its law", region)
		}
	}
	t.Logf("%d plants in %d regions", len(taxa), len(all))
	if pairs < len(all)*90 {
		t.Errorf("%d pairs only", pairs)
	}
}

// A name under which growers know a plant that a list of the journal's or the recipient's region names is never taken for
// it without a word: it is asked about, or it is the scientific name, which is said.
func TestNoListedPlantIsTakenSilently(t *testing.T) {
	a := mustAlmanac(t)
	all := regions()
	listed := map[string]bool{}
	for _, l := range a.ListedNames() {
		listed[l.Taxon] = true
	}
	var typed []string
	for _, e := range a.Everyday() {
		if slices.ContainsFunc(e.Taxa, func(taxon string) bool { return listed[taxon] }) {
			typed = append(typed, e.Name)
		}
	}
	asked := 0
	rapid.Check(t, func(t *rapid.T) {
		j := &Journal{Region: rapid.SampledFrom(all).Draw(t, "journal")}
		other := rapid.SampledFrom(all).Draw(t, "recipient")
		name := rapid.SampledFrom(typed).Draw(t, "name")
		m := j.Meant(a, name, other)
		if len(m.Asks) > 0 {
			asked++
		}
		for _, region := range []string{j.Region, other} {
			if m.ID != "" && len(a.Notices(m.Plant.Taxon, region)) > 0 && !m.Say {
				t.Fatalf("%q is taken for %s (%s), which a list of %s names", name, m.Plant.Taxon, m.How, region)
			}
		}
	})
	if len(typed) < 200 || asked == 0 {
		t.Errorf("%d names, %d asked about", len(typed), asked)
	}
}
