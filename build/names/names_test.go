package names

import (
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"slipleaf/build/spelling"
)

// Misspellings and plurals that growers were seen or remembered to write (common practice). None may be taken for
// another plant.
func TestMisspellings(t *testing.T) {
	r := newResolver(t, "DE")
	rows := rowsOf(t, "testdata/misspelt.csv")
	right, asked, refused := 0, 0, 0
	for _, row := range rows {
		means := strings.Split(row[1], " | ")
		switch got := r.Resolve(row[0]); {
		case got.Known() && !slices.Contains(means, got.Plant.Taxon):
			t.Errorf("%q is taken for %s, is %s", row[0], got.Plant.Taxon, row[1])
		case got.Known():
			right++
		case slices.ContainsFunc(got.Asks, func(p Plant) bool { return slices.Contains(means, p.Taxon) }):
			asked++
		default:
			refused++
			t.Logf("%q: %+v, is %s", row[0], got, row[1])
		}
	}
	t.Logf("of %d: %d right, %d asked, %d refused", len(rows), right, asked, refused)
	if 20*refused > len(rows) {
		t.Errorf("%d of %d refused", refused, len(rows))
	}
}

// sureNames are the names that mean one plant, by taxon.
func sureNames(r *Resolver) []*entry {
	var out []*entry
	for i := range r.entries {
		e := &r.entries[i]
		if !e.several && !e.usual && e.kind != misapplied && len(e.plants) == 1 && len(e.compact) >= 6 && len(r.exact[e.compact]) == 1 {
			out = append(out, e)
		}
	}
	return out
}

// slipOf draws a slip of typing in a name.
func slipOf(t *rapid.T, s string) string {
	i := rapid.IntRange(0, len(s)-2).Draw(t, "at")
	letter := string(rune('a' + rapid.IntRange(0, 25).Draw(t, "letter")))
	switch rapid.IntRange(0, 3).Draw(t, "slip") {
	case 0:
		return s[:i] + s[i+1:]
	case 1:
		return s[:i] + letter + s[i:]
	case 2:
		return s[:i] + letter + s[i+1:]
	}
	return s[:i] + s[i+1:i+2] + s[i:i+1] + s[i+2:]
}

// A sure name with a slip or two is its plant, or a question, and never another plant; except where the slip makes
// another name that is known.
func TestASlipIsNeverAnotherPlant(t *testing.T) {
	r := newResolver(t, "DE", "US-OH")
	names := sureNames(r)
	rapid.Check(t, func(t *rapid.T) {
		e := rapid.SampledFrom(names).Draw(t, "name")
		typed := strings.Join(e.words, " ")
		for range rapid.IntRange(1, 2).Draw(t, "slips") {
			typed = slipOf(t, typed)
		}
		got := r.Resolve(typed)
		if got.Known() && got.Plant.Taxon != r.plants[e.plants[0]].Taxon && got.How == Misspelling {
			if best := r.candidates(compact(fold(typed).words), 2); len(best) == 0 || best[0].edits >= spelling.Within(compact(fold(typed).words), e.compact, 3) {
				t.Fatalf("%q, from %q, is taken for %s (%s of %s)", typed, e.name, got.Plant.Taxon, got.How, got.Of)
			}
		}
	})
}

// A plant that a list of the region names is resolved by an exact scientific name only, and never silently.
func TestListedPlantsAreNeverResolvedSilently(t *testing.T) {
	r := newResolver(t, "DE", "GB-ENG", "US-FL", "NZ")
	var listed []*entry
	for _, e := range sureNames(r) {
		if r.isListed(e.plants[0]) {
			listed = append(listed, e)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		e := rapid.SampledFrom(listed).Draw(t, "name")
		typed := e.name
		if rapid.Bool().Draw(t, "slip") {
			typed = slipOf(t, strings.Join(e.words, " "))
		}
		got := r.Resolve(typed)
		if !got.Known() {
			return
		}
		if i := r.at[got.Plant.Taxon]; r.isListed(i) && (!got.Say || got.How != AcceptedName && got.How != OlderName && got.How != Form) {
			t.Fatalf("%q is taken for %s: %+v", typed, got.Plant.Taxon, got)
		}
	})
}

// What is asked is one to six plants, each once; an answer is a plant, or a question, or neither, and the same each time.
func TestAnswersAreWhole(t *testing.T) {
	r := newResolver(t)
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.OneOf(rapid.String(), rapid.StringMatching(`([a-zäöüß]{1,12}[ '.-]){1,4}(x|cf\.|sp\.|\?)?`),
			rapid.Custom(func(t *rapid.T) string { return rapid.SampledFrom(r.entries).Draw(t, "entry").name })).Draw(t, "text")
		got := r.Resolve(text)
		seen := map[string]bool{}
		for _, p := range got.Asks {
			if seen[p.Taxon] || p.Taxon == "" {
				t.Fatalf("%q: %+v", text, got)
			}
			seen[p.Taxon] = true
		}
		if len(got.Asks) > maxAsks || got.Known() && len(got.Asks) > 0 || got.How == "" || got.Typed != text ||
			(got.How == Unknown || got.How == Hybrid) != (!got.Known() && len(got.Asks) == 0) {
			t.Fatalf("%q: %+v", text, got)
		}
	})
}

func TestRules(t *testing.T) {
	r := newResolver(t, "DE", "GB-ENG", "US-WY")
	for _, c := range []struct{ name, typed, taxon, form, how string }{
		{"accepted wins over misapplied, and says so", "Cryptocoryne willisii", "Cryptocoryne x willisii", "", AcceptedName},
		{"an author is no form", "Bacopa monnieri (L.) Wettst.", "Bacopa monnieri", "", AcceptedName},
		{"nor one in one word", "Hydrocharis morsus-ranae L.", "Hydrocharis morsus-ranae", "", AcceptedName},
		{"a cultivar keeps its name", "Anubias barteri 'Petite'", "Anubias barteri", "Petite", Form},
		{"without quotes too", "anubias nana petite", "Anubias barteri", "Petite", Form},
		{"a colour of a genus as one name", "Brauner Wasserkelch", "Cryptocoryne wendtii", "", EverydayName},
		{"umlauts written out", "Zwergspeerblaetter", "Anubias barteri", "", EverydayName},
		{"a listed plant under its scientific name", "Cabomba caroliniana", "Cabomba caroliniana", "", AcceptedName},
		{"a variety with two slips is not its species with a form", "Sagittaria graminea platphyylla", "Sagittaria platyphylla", "", Misspelling},
		{"a hybrid of two species", "Ludwigia repens x Ludwigia arcuata", "", "", Hybrid},
		{"an unknown species of a genus", "Anubias nobodyi", "", "", GenusAlone},
		{"nothing", "  ", "", "", Unknown},
		{"quotes alone", "''", "", "", Unknown},
	} {
		got := r.Resolve(c.typed)
		if got.Plant.Taxon != c.taxon || got.How != c.how || got.Form != c.form {
			t.Errorf("%s: %q: %+v", c.name, c.typed, got)
		}
	}
	if got := r.Resolve("Cryptocoryne willisii"); !got.Say {
		t.Errorf("accepted beside misapplied is silent: %+v", got)
	}
}

// The region decides what is guarded: a list elsewhere asks nobody.
func TestRegions(t *testing.T) {
	r := newResolver(t)
	if r.With("DE").Resolve("fanwort").Known() {
		t.Error("fanwort is resolved in the Union, whose list names Cabomba caroliniana")
	}
	if got := r.With("JP").Resolve("guppy grass"); !got.Known() || got.Say {
		t.Errorf("guppy grass in Japan: %+v", got)
	}
	if got := r.Resolve("fanwort"); got.Known() {
		t.Errorf("without a region every list counts: %+v", got)
	}
}

// tenThousand are names as growers type them: the vectors and the misspellings over and over.
func tenThousand(t testing.TB) []string {
	var all []string
	for _, name := range []string{"testdata/names.csv", "testdata/misspelt.csv"} {
		for _, row := range rowsOf(t, name) {
			all = append(all, row[0])
		}
	}
	out := make([]string, 10_000)
	for i := range out {
		out[i] = all[i%len(all)]
	}
	return out
}

func BenchmarkTenThousandNames(b *testing.B) {
	r := newResolver(b, "DE", "US-OH")
	names := tenThousand(b)
	for b.Loop() {
		for _, n := range names {
			r.Resolve(n)
		}
	}
}

func BenchmarkNew(b *testing.B) {
	r := newResolver(b)
	for b.Loop() {
		New(r.almanac, "DE")
	}
}

func FuzzResolve(f *testing.F) {
	r := newResolver(f, "DE")
	for _, n := range tenThousand(f)[:300] {
		f.Add(n)
	}
	f.Fuzz(func(t *testing.T, text string) {
		got := r.Resolve(text)
		if got.Known() && len(got.Asks) > 0 || len(got.Asks) > maxAsks {
			t.Fatalf("%q: %+v", text, got)
		}
	})
}
