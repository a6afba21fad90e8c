package chart

import (
	"testing"
	"time"

	"pgregory.net/rapid"
)

// The calendar of Go's time package is the reference.
func TestDayAgreesWithTheCalendar(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(firstDay, lastDay).Draw(t, "day")
		y, m, d := civil(n)
		want := time.Unix(0, 0).UTC().AddDate(0, 0, n)
		if y != want.Year() || m != int(want.Month()) || d != want.Day() {
			t.Fatalf("day %d is %d-%d-%d, not %s", n, y, m, d, want.Format(time.DateOnly))
		}
		if Day(y, m, d) != n {
			t.Fatalf("%d-%d-%d is day %d, not %d", y, m, d, Day(y, m, d), n)
		}
	})
	for n, want := range map[int][3]int{firstDay: {1, 1, 1}, lastDay: {9999, 12, 31}, 0: {1970, 1, 1}, 20569: {2026, 4, 26}} {
		if y, m, d := civil(n); [3]int{y, m, d} != want {
			t.Errorf("day %d is %d-%d-%d, not %v", n, y, m, d, want)
		}
	}
	if Day(2026, 14, 1) != Day(2027, 2, 1) || Day(2026, 0, 31) != Day(2025, 12, 31) {
		t.Error("months do not run over into the years beside")
	}
}

func TestNumber(t *testing.T) {
	comma := Words{Decimal: ","}
	for _, c := range []struct {
		w        Words
		v        float64
		decimals int
		want     string
	}{
		{Words{}, 6.25, 1, "6.2"},
		{Words{}, 0, 2, "0.00"},
		{Words{}, -0.004, 2, "0.00"},
		{Words{}, -3, 0, "−3"},
		{comma, -3.5, 1, "−3,5"},
		{comma, -0.01, 1, "0,0"},
		{Words{}, 12, -4, "12"},
		{Words{}, 1.0 / 3, 40, "0.333333333"},
	} {
		if got := c.w.Number(c.v, c.decimals); got != c.want {
			t.Errorf("%v with %d decimals is %q, want %q", c.v, c.decimals, got, c.want)
		}
	}
}

func TestDatesFollowTheirPattern(t *testing.T) {
	w := english()
	day := Day(2026, 7, 4)
	if got := w.Date(day) + "|" + w.dayMonth(day); got != "4 July 2026|4 Jul" {
		t.Error(got)
	}
	w.DatePattern, w.DayMonth = "{month} {day}, {year}", "{month} {day}"
	if got := w.Date(day) + "|" + w.dayMonth(day); got != "July 4, 2026|Jul 4" {
		t.Error(got)
	}
}

func TestDecimalsOf(t *testing.T) {
	for step, want := range map[float64]int{1: 0, 50: 0, 0.5: 1, 0.25: 2, 2.5: 1, 0.001: 3, 1e-12: 9} {
		if got := decimalsOf(step); got != want {
			t.Errorf("%v needs %d decimals, got %d", step, want, got)
		}
	}
}

// The marks that shut a name off from what is beside it stay in labels and take no room.
func TestIsolatesStay(t *testing.T) {
	const name = "\u2068עלה\u2069"
	if got := oneLine(" " + name + "\n\u200b"); got != name {
		t.Errorf("%q", got)
	}
	if textWidth(name) != textWidth("עלה") {
		t.Error("a mark that is not seen takes room")
	}
}
