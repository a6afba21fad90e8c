package almanac

import (
	"bytes"
	"encoding/csv"
	"flag"
	"os"
	"testing"

	"golang.org/x/text/language"
	"golang.org/x/text/language/display"
)

var update = flag.Bool("update", false, "rewrite the table of countries")

// The table has every country that golang.org/x/text knows today, none that is gone, with its names.
func TestCountriesAreThoseOfCLDR(t *testing.T) {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	rows := [][]string{{"code", "en", "de"}}
	for x := 'A'; x <= 'Z'; x++ {
		for y := 'A'; y <= 'Z'; y++ {
			code := string(x) + string(y)
			r, err := language.ParseRegion(code)
			known := err == nil && r.IsCountry() && r.String() == code && r.Canonicalize() == r
			if known {
				rows = append(rows, []string{code, display.Regions(language.English).Name(r), display.Regions(language.German).Name(r)})
			}
			if KnownRegion(code) != known && !*update {
				t.Errorf("%s is known: %v", code, !known)
			}
		}
	}
	if err := w.WriteAll(rows); err != nil {
		t.Fatal(err)
	}
	if *update {
		if err := os.WriteFile("tables/countries.csv", b.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	if got, err := tables.ReadFile("tables/countries.csv"); err != nil || !bytes.Equal(got, b.Bytes()) {
		t.Errorf("countries.csv is not what golang.org/x/text says (%v); rewrite it with -update", err)
	}
	if CountryName("CH", "de") != "Schweiz" || CountryName("CH", "fr") != "" || CountryName("CH", "code") != "" || CountryName("EU", "en") != "" || len(Countries()) != len(rows)-1 {
		t.Error("a name is found in the wrong place")
	}
}
