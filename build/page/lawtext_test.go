package page_test

import (
	"strings"
	"testing"

	"slipleaf/build/almanac"
	"slipleaf/build/quantity"
	"slipleaf/build/words"
	"slipleaf/themes"
)

// What pages and sheets say of the law of a place, in both languages and for every country: what was read and what was not,
// whom to ask where nothing is known, how old it is after two years; and never that anything is allowed.
func TestWhatIsSaidOfTheLaw(t *testing.T) {
	a, err := almanac.Open()
	if err != nil {
		t.Fatal(err)
	}
	on := quantity.Date{Year: 2026, Month: 11, Day: 28}
	for lang, is := range map[string]struct{ old, unknown, none, ask string }{
		"en": {"over two years old", "unknown age", "They were not read here", "Ask its environment ministry"},
		"de": {"älter als zwei Jahre", "Stand unbekannt", "Sie wurden hier nicht gelesen", "Frag das Umweltministerium"},
	} {
		w, err := words.Load(themes.Bench(), lang)
		if err != nil {
			t.Fatal(err)
		}
		v := words.Locale{Words: w}
		old := 0
		for x := 'A'; x <= 'Z'; x++ {
			for y := 'A'; y <= 'Z'; y++ {
				for _, code := range []string{string(x) + string(y), "US-" + string(x) + string(y), "CA-" + string(x) + string(y)} {
					if !almanac.KnownRegion(code) {
						continue
					}
					for _, c := range a.Coverage(code) {
						text := words.Plain(words.Coverage(v, c, c.Age(on)))
						for _, never := range []string{"allowed", "erlaubt", "safe to send", "not listed", "nicht gelistet"} {
							if strings.Contains(text, never) {
								t.Errorf("%s: %s", code, text)
							}
						}
						age := map[almanac.Age]string{almanac.Old: is.old, almanac.AgeUnknown: is.unknown}[c.Age(on)]
						if !strings.Contains(text, age) || c.Held == "" && !strings.Contains(text, is.ask) || c.Held == "none" && !strings.Contains(text, is.none) {
							t.Errorf("%s in %s: %s (%s, %d)", code, lang, text, c.Held, c.Age(on))
						}
						if c.Age(on) == almanac.Old {
							old++
						}
					}
				}
			}
		}
		if old == 0 {
			t.Error("nothing is old")
		}
	}
}
