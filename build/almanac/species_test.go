package almanac

import (
	"reflect"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
	"slipleaf/build/quantity"
)

func parse[T quantity.Scalar](t testing.TB, s string) quantity.Reading[T] {
	t.Helper()
	r, err := quantity.Parse[T](s)
	if err != nil {
		t.Fatalf("%q: %v", s, err)
	}
	return r
}

func TestWithNothingOwnIsIdentity(t *testing.T) {
	a := openEmbedded(t)
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.SampledFrom(a.All()).Draw(t, "species")
		if got := With(s, Profile{}); !reflect.DeepEqual(got, s) {
			t.Fatalf("%+v became %+v", s, got)
		}
	})
}

// whole is a profile with every column written.
func whole(t testing.TB) Profile {
	melts, weediness := 0, 2
	return Profile{
		Temperature: parse[quantity.Temperature](t, "64..79 F"), PH: parse[quantity.PH](t, "6..7"),
		GH: parse[quantity.Hardness](t, "2..9 dGH"), KH: parse[quantity.Alkalinity](t, "unknown"),
		Light: parse[quantity.PhotonFlux](t, "20..90 umol/m2/s"), LightGood: parse[quantity.PhotonFlux](t, "50 umol/m2/s"),
		CO2: "helps", Height: parse[quantity.Length](t, "4..6 in"), Spread: parse[quantity.Length](t, "3 cm"),
		Spacing: parse[quantity.Length](t, "2 cm"), Growth: "slow", Melts: &melts, Feeding: "root", Placement: "front",
		Habit: "rosette", Propagation: "division", Weediness: &weediness,
	}
}

func TestWithAWholeProfileReplacesAll(t *testing.T) {
	s, _ := openEmbedded(t).Species("bacopa-caroliniana")
	own := whole(t)
	got := With(s, own)
	if !reflect.DeepEqual(got.Profile, own) {
		t.Errorf("got %+v", got.Profile)
	}
	if !slices.Equal(got.Own, columnNames[:]) {
		t.Errorf("own columns %v", got.Own)
	}
	for _, c := range columnNames[:] {
		if b := got.Basis(c); b != OwnFigure {
			t.Errorf("%s has basis %q", c, b)
		}
	}
	if len(s.Own) != 0 || s.CO2 != "none" || got.Melts == own.Melts {
		t.Error("With changed or shares what it was given")
	}
}

// The order in which columns are replaced does not matter, and replacing twice is replacing once.
func TestWithColumnByColumn(t *testing.T) {
	s, _ := openEmbedded(t).Species("bacopa-caroliniana")
	own := whole(t)
	first, second := Profile{Growth: own.Growth, GH: own.GH}, Profile{Temperature: own.Temperature, Growth: own.Growth}
	both := Profile{Growth: own.Growth, GH: own.GH, Temperature: own.Temperature}
	got, want := With(With(s, first), second), With(s, both)
	if !reflect.DeepEqual(got, want) || !slices.Equal(got.Own, []string{"temperature", "gh", "growth"}) {
		t.Errorf("got %v, want %v", got.Own, want.Own)
	}
	if got.PH != s.PH || got.KH != s.KH {
		t.Error("a column that was not written changed")
	}
}

func TestAPlantOfTheFileAlone(t *testing.T) {
	own := Profile{Growth: "slow"}
	s := openEmbedded(t).Introduce("anubias-my-find", "Anubias sp. 'My Find'", "my find", own)
	if s.ID != "anubias-my-find" || s.Profiled || s.Poison.Part != "sap" || !slices.Equal(s.Own, []string{"growth"}) {
		t.Errorf("got %+v", s)
	}
	if b := s.Basis("temperature"); b != "" {
		t.Errorf("a column that holds nothing has basis %q", b)
	}
}

func TestIntroduce(t *testing.T) {
	a := openEmbedded(t)
	barteri, _ := a.Species("anubias-barteri")
	for _, c := range []struct{ name, id, taxon, wantTaxon, lentBy string }{
		{"the almanac's own", "anubias-barteri", "", "Anubias barteri", ""},
		{"a variety lends the species' profile", "anubias-nana", "Anubias barteri var. nana", "Anubias barteri var. nana", "anubias-barteri"},
		{"a cultivar too", "petite", "Anubias barteri 'Petite'", "Anubias barteri 'Petite'", "anubias-barteri"},
		{"an older name as id is enough", "anubias-nana", "", "Anubias barteri", "anubias-barteri"},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := a.Introduce(c.id, c.taxon, "", Profile{Growth: "fast"})
			if s.ID != c.id || s.Taxon != c.wantTaxon || s.LentBy != c.lentBy || s.Common != barteri.Common {
				t.Errorf("got %+v", s)
			}
			if s.Temperature != barteri.Temperature || s.Growth != "fast" || !slices.Equal(s.Own, []string{"growth"}) || !s.Poison.Known() {
				t.Errorf("got %+v", s)
			}
		})
	}
	if s := a.Introduce("bucephalandra", "Bucephalandra sp. 'Own Form'", "", Profile{}); s.ID != "bucephalandra" || s.LentBy != "bucephalandra-spp" {
		t.Errorf("got %+v", s)
	}
	for _, taxon := range []string{"Nonsensia plantarum", "Cryptocoryne petchii", "stargrass", "Cryptocoryne cf. wendtii", "Ludwigia repens x arcuata"} {
		if s := a.Introduce("own-plant", taxon, "c", Profile{}); s.LentBy != "" || s.Profiled || s.Taxon != taxon || s.Common != "c" {
			t.Errorf("%s: a doubtful name lent a profile: %+v", taxon, s)
		}
	}
}

func TestBasis(t *testing.T) {
	a := openEmbedded(t)
	for _, c := range []struct{ id, column, basis string }{ // by the row's citations
		{"ammannia-gracilis", "temperature", CommonPractice},
		{"salvinia-minima", "temperature", Seen}, // American Fern Journal 99(3), 2009
		{"salvinia-minima", "light", CommonPractice},
		{"cabomba-caroliniana", "temperature", Memory},
		{"cabomba-caroliniana", "spread", CommonPractice},
		{"cryptocoryne-crispatula", "height", Seen}, // Flora of China vol. 23
		{"lemna-minor", "rgr", SecondHand},
		{"bolbitis-heudelotii", "temperature", CommonPractice}, // an encyclopaedia without source
		{"riccia-fluitans", "co2", Seen},                       // Andersen & Pedersen 2002
		{"riccia-fluitans", "cutting-size", CommonPractice},
		{"ammannia-gracilis", "rgr", ""},
		{"lagarosiphon-major", "habit", Seen},
		{"lagarosiphon-major", "temperature", ""},
	} {
		s, ok := a.Species(c.id)
		if b := s.Basis(c.column); !ok || b != c.basis {
			t.Errorf("%s, %s: %q", c.id, c.column, b)
		}
	}
}

// What is printed of a profile is there in English and German; the grower's own words are in neither.
func TestSay(t *testing.T) {
	a := openEmbedded(t)
	for _, s := range a.All() {
		for _, c := range []string{"propagation", "cutting-size", "melt-note", "conversion-note", "hardy-note"} {
			en, in := s.Say(c, "en-GB")
			de, in2 := s.Say(c, "de")
			if (en == "") != (de == "") || in != "en" || en != "" && in2 != "de" {
				t.Errorf("%s, %s: %q (%s), %q (%s)", s.ID, c, en, in, de, in2)
			}
			if strings.ContainsAny(en+de, `'"`) || strings.Contains(en+de, "://") {
				t.Errorf("%s, %s: plain quotes or an address in %q, %q", s.ID, c, en, de)
			}
		}
	}
	s, _ := a.Species("bacopa-caroliniana")
	if text, in := With(s, Profile{Propagation: "Kopfstecklinge"}).Say("propagation", "de"); text != "Kopfstecklinge" || in != "" {
		t.Errorf("the grower's own words: %q (%q)", text, in)
	}
}
