package plot

import (
	"strings"
	"testing"
	"time"

	"slipleaf/build/dynamics"
	"slipleaf/build/growth"
	"slipleaf/build/quantity"
	"slipleaf/build/words"
	"slipleaf/themes"
)

func day(month time.Month, d int) quantity.Date {
	return quantity.Date{Year: 2026, Month: month, Day: d}
}

// What a page says of the next trim is no more than is known.
func TestNextTrimInWords(t *testing.T) {
	on := day(6, 10)
	window := func(low, best, high quantity.Date) growth.Window {
		return growth.Window{Low: low, Best: best, High: high}
	}
	open := growth.Window{Low: day(6, 20), Best: day(7, 1), High: day(8, 9), Open: true}
	now := open
	now.Low = on
	over := window(day(4, 2), day(4, 8), day(4, 15))
	over.Overdue = true
	for _, c := range []struct {
		what   string
		g      *growth.Growth
		en, de string
	}{
		{"a window", &growth.Growth{Next: window(day(6, 14), day(6, 18), day(6, 25))},
			"It should reach trimming size (40 stems) between 14 June and 25 June (80%).", "Die Schnittgröße (40 Triebe) sollte zwischen 14. Juni und 25. Juni (80 %) erreicht sein."},
		{"a window that has begun", &growth.Growth{Next: window(on, day(6, 12), day(6, 15))}, "It should reach trimming size (40 stems) between today and 15 June (80%).", ""},
		{"an open window has its own level", &growth.Growth{Next: open}, "It should reach trimming size (40 stems) on 20 June 2026 or later (90%).", ""},
		{"an open window that has begun has none", &growth.Growth{Next: now}, "It should reach trimming size (40 stems) any day from now on; until when these counts cannot say.", ""},
		{"a window that is over was due", &growth.Growth{Next: over}, "It was due for trimming (40 stems) between 2 April and 15 April, if nothing held it up. It was last counted on 28 March.",
			"Die Schnittgröße (40 Triebe) war zwischen dem 2. April und dem 15. April zu erwarten, falls nichts dazwischenkam. Gezählt wurde zuletzt am 28. März."},
		{"odds", &growth.Growth{NextWhy: &dynamics.TooFar{Days: 35, Chance: 0.38}}, "There is a chance of about 40% that it reaches trimming size (40 stems) within 35 days; these counts cannot see further ahead.", ""},
		{"one in five is not unlikely", &growth.Growth{NextWhy: &dynamics.TooFar{Days: 35, Chance: 0.2}}, "There is a chance of about 20% that it reaches trimming size (40 stems) within 35 days; these counts cannot see further ahead.", ""},
		{"less is", &growth.Growth{NextWhy: &dynamics.TooFar{Days: 35, Chance: 0.19}}, "It is unlikely to reach trimming size (40 stems) within 35 days; these counts cannot see further ahead.", ""},
		{"a first estimate", &growth.Growth{Early: &dynamics.StateSpace{Counts: 3, PriorShare: 0.31}, Next: window(day(6, 14), day(6, 18), day(6, 25))},
			"It should reach trimming size (40 stems) between 14 June and 25 June (80%). First estimate: about 30% of it is how such plants usually grow, the rest comes from 3 counts.", ""},
		{"and from another tank", &growth.Growth{Early: &dynamics.StateSpace{Counts: 3, PriorShare: 0.42}, Kin: 1, Next: window(day(6, 14), day(6, 18), day(6, 25))},
			"It should reach trimming size (40 stems) between 14 June and 25 June (80%). First estimate: about 40% of it is how this plant grows in 1 other tank and how such plants usually do, the rest comes from 3 counts.", ""},
	} {
		c.g.Series = &growth.Series{Measure: growth.Stems, Points: []growth.Point{{Date: day(3, 28), Size: 20}}}
		c.g.Goal = 40
		if c.g.Early == nil {
			c.g.Fit = &dynamics.Growth{}
		}
		for lang, want := range map[string]string{"en": c.en, "de": c.de} {
			w, err := words.Load(themes.Bench(), lang)
			if err != nil {
				t.Fatal(err)
			}
			if got := strings.NewReplacer("\u00a0", " ", "\u202f", " ").Replace(nextText(words.Locale{Words: w}, c.g, on)); want != "" && got != want {
				t.Errorf("%s, %s:\n%s\nwant\n%s", c.what, lang, got, want)
			}
		}
	}
}
