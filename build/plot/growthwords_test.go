package plot

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

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
	begun, due := window(on, day(6, 12), day(6, 15)), window(on, on, on)
	begun.Sure, due.Sure = 0.9, 0.8
	over := window(day(4, 2), day(4, 8), day(4, 15))
	over.Overdue = true
	for _, c := range []struct {
		what   string
		g      *growth.Growth
		en, de string
	}{
		{"a window", &growth.Growth{Next: window(day(6, 14), day(6, 18), day(6, 25))},
			"It should reach trimming size (40 stems) between 14 June and 25 June (80%).", "Die Schnittgröße (40 Triebe) sollte zwischen 14. Juni und 25. Juni (80 %) erreicht sein."},
		{"of a window that has begun, its end is told", &growth.Growth{Next: begun}, "It should reach trimming size (40 stems) by 15 June (90%).", "Die Schnittgröße (40 Triebe) sollte bis 15. Juni (90 %) erreicht sein."},
		{"nobody knows that the day is today", &growth.Growth{Next: due}, "It should reach trimming size (40 stems) by today (80%).", "Die Schnittgröße (40 Triebe) sollte bis heute (80 %) erreicht sein."},
		{"an open window has its own level", &growth.Growth{Next: open}, "It should reach trimming size (40 stems) on 20 June 2026 or later (90%).", ""},
		{"an open window that has begun has none", &growth.Growth{Next: now}, "It should reach trimming size (40 stems) any day from now on; until when these counts cannot say.", ""},
		{"a window that is over was due", &growth.Growth{Next: over}, "It was due for trimming (40 stems) between 2 April and 15 April, if nothing held it up. It was last counted on 28 March.",
			"Die Schnittgröße (40 Triebe) war zwischen dem 2. April und dem 15. April zu erwarten, falls nichts dazwischenkam. Gezählt wurde zuletzt am 28. März."},
		{"odds", &growth.Growth{NextWhy: &dynamics.TooFar{Days: 35, Chance: 0.38}}, "These counts see as far as 2 May 2026: the chance that it reaches trimming size (40 stems) by then is about 40%.", ""},
		{"one in five is not unlikely", &growth.Growth{NextWhy: &dynamics.TooFar{Days: 35, Chance: 0.2}}, "These counts see as far as 2 May 2026: the chance that it reaches trimming size (40 stems) by then is about 20%.", ""},
		{"less is", &growth.Growth{NextWhy: &dynamics.TooFar{Days: 35, Chance: 0.19}}, "These counts see as far as 2 May 2026: it is unlikely to reach trimming size (40 stems) by then.", ""},
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

// What a stand did that is gone is told as past, and a best yield as one among trims of a size.
func TestWhatIsGoneIsToldAsPast(t *testing.T) {
	w, err := words.Load(themes.Bench(), "en")
	if err != nil {
		t.Fatal(err)
	}
	v := words.Locale{Words: w}
	s := dynamics.Series{}
	for i := range 12 {
		s.Counts = append(s.Counts, dynamics.Count{Day: float64(7 * i), Size: 20 * math.Exp(0.2*float64(i))})
	}
	fit, err := dynamics.FitGrowth(s, 0.95)
	if err != nil {
		t.Fatal(err)
	}
	for _, standing := range []bool{true, false} {
		g := &growth.Growth{Series: &growth.Series{Measure: growth.Stems, Points: []growth.Point{{Date: day(3, 28), Size: 20}}, Left: !standing}, Fit: fit}
		said := doublingText(v, g)
		for _, f := range paceFigures(v, g) {
			said += " " + string(f)
		}
		if now := strings.Contains(said, "oubles in") || strings.Contains(said, "Grows"); now != standing {
			t.Errorf("standing %v: %s", standing, said)
		}
	}
	g := &growth.Growth{Series: &growth.Series{Measure: growth.Stems}, HarvestPlan: dynamics.HarvestPlan{Every: 24, Leave: 20, TrimAt: 40, OfBest: 0.7}, LeastCut: 12}
	for _, known := range []bool{true, false} {
		if g.CapacityKnown = known; !strings.Contains(keepText(v, g), "mong trims of 12 stems or more") {
			t.Errorf("a yield of 70 %% of the best is called the best: %s", keepText(v, g))
		}
	}
}

// A rate whose whole interval lies below nothing is a decline, and is said as one; one whose interval holds nothing is no clear
// growth; and never is it said that a stand grows by less than nothing.
func TestADeclineIsCalledOne(t *testing.T) {
	w, err := words.Load(themes.Bench(), "en")
	if err != nil {
		t.Fatal(err)
	}
	v := words.Locale{Words: w}
	rapid.Check(t, func(t *rapid.T) {
		var s dynamics.Series
		size, rate := 200.0, rapid.Float64Range(-0.06, 0.06).Draw(t, "rate")
		for i := range rapid.IntRange(4, 14).Draw(t, "counts") {
			s.Counts = append(s.Counts, dynamics.Count{Day: float64(7 * i), Size: size * math.Exp(rapid.Float64Range(-0.1, 0.1).Draw(t, "error"))})
			size *= math.Exp(7 * rate)
		}
		fit, err := dynamics.FitGrowth(s, 0.95)
		if err != nil {
			t.Fatal(err)
		}
		g := &growth.Growth{Series: &growth.Series{Measure: growth.Mass, Points: []growth.Point{{Date: day(3, 28), Size: 20}}}, Fit: fit}
		said, figures := doublingText(v, g), fmt.Sprint(paceFigures(v, g))
		declines := fit.StateSpace.Rate.High < 0
		if strings.Contains(said, "decline") != declines || strings.Contains(figures, "Decline of") != declines || declines && strings.Contains(said+figures, "\u2212") {
			t.Fatalf("%+v: %s %s", fit.StateSpace.Rate, said, figures)
		}
	})
}
