package words_test

import (
	"regexp"
	"testing"

	"slipleaf/build/quantity"
	"slipleaf/build/words"
	"slipleaf/themes"
)

// locale speaks lang with the words of the default theme.
func locale(t *testing.T, lang string, units quantity.System) words.Locale {
	t.Helper()
	w, err := words.Load(themes.Bench(), lang)
	if err != nil {
		t.Fatal(err)
	}
	return words.Locale{Words: w, Units: units}
}

func day(t *testing.T, s string) quantity.Date {
	t.Helper()
	d, err := quantity.ParseDate(s)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func TestDatesAreWrittenOut(t *testing.T) {
	d := day(t, "2026-04-18") // a Saturday
	for _, row := range []struct{ lang, full, dayMonth, weekday string }{
		{"en", "18 April 2026", "18 April", "Sat 18 April"},
		{"en-US", "April 18, 2026", "April 18", "Sat, April 18"},
		{"de", "18.\u00a0April 2026", "18.\u00a0April", "Sa., 18.\u00a0April"},
	} {
		v := locale(t, row.lang, quantity.Metric)
		if v.Date(d) != row.full || v.DayMonth(d) != row.dayMonth || v.WeekdayDate(d) != row.weekday {
			t.Errorf("%s: %q, %q, %q", row.lang, v.Date(d), v.DayMonth(d), v.WeekdayDate(d))
		}
		if got := v.Date(quantity.Date{}); got != "" {
			t.Errorf("%s: no date is written %q", row.lang, got)
		}
	}
}

func TestWindowsAreWrittenAsShortlyAsTheyCan(t *testing.T) {
	for _, row := range []struct{ lang, from, to, want string }{
		{"en", "2026-07-02", "2026-07-12", "2–12 July"},
		{"en", "2026-06-28", "2026-07-03", "28 June – 3 July"},
		{"en", "2026-12-28", "2027-01-03", "28 December 2026 – 3 January 2027"},
		{"en", "2026-07-02", "2026-07-02", "2 July"},
		{"en", "2026-07-02", "2027-07-12", "2 July 2026 – 12 July 2027"},
		{"en-US", "2026-07-02", "2026-07-12", "July 2–12"},
		{"en-US", "2026-06-28", "2026-07-03", "June 28 – July 3"},
		{"de", "2026-07-02", "2026-07-12", "2.–12.\u00a0Juli"},
		{"de", "2026-06-28", "2026-07-03", "28.\u00a0Juni – 3.\u00a0Juli"},
	} {
		if got := locale(t, row.lang, quantity.Metric).Dates(day(t, row.from), day(t, row.to)); got != row.want {
			t.Errorf("%s: %s to %s is written %q, want %q", row.lang, row.from, row.to, got, row.want)
		}
	}
}

func TestMonthsAndWeekdaysAreComplete(t *testing.T) {
	for _, lang := range words.Languages(themes.Bench()) {
		v := locale(t, lang, quantity.Metric)
		for list, n := range map[string]int{"date.months": 12, "date.short-months": 12, "date.weekdays": 7, "offers.numbers": 13} {
			if got := len(v.List(list)); got != n {
				t.Errorf("%s: %s has %d items, want %d", lang, list, got, n)
			}
		}
	}
	if got := locale(t, "en", quantity.Metric).Month(13); got != "?" {
		t.Errorf("a month beyond the year is %q", got)
	}
}

func TestFiguresTakeTheMarkOfTheLanguage(t *testing.T) {
	en, us, de := locale(t, "en", quantity.Metric), locale(t, "en-US", quantity.US), locale(t, "de", quantity.Metric)
	for _, row := range []struct{ name, got, want string }{
		{"a number", en.N(3.25, 2), "3.25"},
		{"a number", de.N(3.25, 2), "3,25"},
		{"no more places than it has", de.N(3, 2), "3"},
		{"a quantity", words.Q(en, quantity.Temperature(24.5)), "24.5\u00a0°C"},
		{"a quantity", words.Q(de, quantity.Temperature(24.5)), "24,5\u00a0°C"},
		{"a quantity", words.Q(us, quantity.Temperature(25)), "77\u00a0°F"},
		{"a range", words.QRange(de, quantity.Temperature(22.5), quantity.Temperature(26)), "22,5–26\u00a0°C"},
		{"a reading", words.R(en, quantity.Of(quantity.Temperature(24.5))), "24.5\u00a0°C"},
		{"no reading", words.R(en, quantity.Reading[quantity.Temperature]{}), ""},
	} {
		if row.got != row.want {
			t.Errorf("%s: %q, want %q", row.name, row.got, row.want)
		}
	}
}

func TestTaxonIsSetInItalics(t *testing.T) {
	for _, row := range []struct{ name, want string }{
		{"Anubias barteri var. nana", `Anubias barteri <b>var.</b> nana`},
		{"Rotala sp. 'Green Fan'", `Rotala <b>sp.</b> <b>&#39;Green</b> <b>Fan&#39;</b>`},
		{"Cryptocoryne x willisii", `Cryptocoryne <b>×</b> willisii`},
		{"<script> a", `&lt;script&gt; a`},
	} {
		if got, want := string(words.Taxon(row.name)), `<i lang="la" class="taxon-name">`+row.want+`</i>`; got != want {
			t.Errorf("%s: %s, want %s", row.name, got, want)
		}
	}
}

// A sentence is HTML: what is less than something is written &lt;.
func TestSentencesAreHTML(t *testing.T) {
	bare := regexp.MustCompile(`<[^a-z/]|<$|&[^a-z#]`)
	for _, lang := range words.Languages(themes.Bench()) {
		w, err := words.Load(themes.Bench(), lang)
		if err != nil {
			t.Fatal(err)
		}
		for _, key := range w.Keys() {
			if at := bare.FindString(w.Raw(key)); at != "" {
				t.Errorf("%s: %s has %q: %s", lang, key, at, w.Raw(key))
			}
		}
	}
}
