package quantity

import (
	"encoding/json"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"
)

func TestParseDate(t *testing.T) {
	for s, want := range map[string]Date{
		"2026-04-18": {2026, time.April, 18}, "1900-01-01": {1900, time.January, 1}, "2200-12-31": {2200, time.December, 31},
		"2000-02-29": {2000, time.February, 29}, "2024-02-29": {2024, time.February, 29}, // Gregorian leap years
	} {
		if got, err := ParseDate(s); err != nil || got != want || got.String() != s {
			t.Errorf("%q: %v, %v", s, got, err)
		}
	}
	for s, message := range map[string]string{
		"2026-02-29": "is no date", "1900-02-29": "is no date", "2100-02-29": "is no date", "2026-04-31": "is no date", "2026-13-01": "is no date",
		"2026-4-18": "is no date", "18.4.2026": "is no date", "2026-04-18T10:00": "is no date", " 2026-04-18": "is no date", "": "is no date",
		"1899-12-31": "out of range", "2201-01-01": "out of range", "0000-01-01": "out of range",
	} {
		d, err := ParseDate(s)
		if err == nil || !strings.Contains(err.Error(), message) || !d.IsZero() {
			t.Errorf("%q: %v, %v", s, d, err)
		}
	}
}

// span is every day from 1900-01-01 to 2200-12-31 as a count from 1970-01-01.
var firstDay, lastDay = Date{1900, time.January, 1}.Days(), Date{2200, time.December, 31}.Days()

func TestDaysOfKnownDates(t *testing.T) {
	for s, want := range map[string]int{
		"1970-01-01": 0, "1970-01-02": 1, "1969-12-31": -1,
		"2000-03-01": 11017,  // 10957 days to 2000-01-01 (30 years with 7 leap days), and 31 + 29
		"1900-01-01": -25567, // 70 years with 17 leap days
	} {
		if d, err := ParseDate(s); err != nil || d.Days() != want {
			t.Errorf("%s is day %d, want %d (%v)", s, d.Days(), want, err)
		}
	}
}

func TestDaysAndFromDaysInvert(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(firstDay, lastDay).Draw(t, "day")
		d := FromDays(n)
		if d.Days() != n {
			t.Fatalf("day %d is %v, which is day %d", n, d, d.Days())
		}
		if back, err := ParseDate(d.String()); err != nil || back != d {
			t.Fatalf("%v came back as %v, %v", d, back, err)
		}
		if want := time.Date(1970, time.January, 1+n, 0, 0, 0, 0, time.UTC); d != DateOf(want) || d.Weekday() != want.Weekday() {
			t.Fatalf("day %d is %v, a %v", n, d, d.Weekday())
		}
		m := rapid.IntRange(firstDay, lastDay).Draw(t, "other day")
		e := FromDays(m)
		if d.Since(e) != n-m || e.Add(n-m) != d || d.Add(0) != d {
			t.Fatalf("%v and %v are %d days apart", d, e, d.Since(e))
		}
		if d.Before(e) != (n < m) || d.After(e) != (n > m) || (d.Compare(e) == 0) != (n == m) {
			t.Fatalf("%v and %v compare as %d", d, e, d.Compare(e))
		}
	})
}

// Every day of three centuries, one after the other.
func TestEveryDayFollows(t *testing.T) {
	at := time.Date(1900, time.January, 1, 0, 0, 0, 0, time.UTC)
	for n := firstDay; n <= lastDay; n++ {
		if d := FromDays(n); d != DateOf(at) || d.Days() != n || !d.Time().Equal(at) {
			t.Fatalf("day %d is %v, want %v", n, d, at)
		}
		at = at.AddDate(0, 0, 1)
	}
}

func TestWeekdays(t *testing.T) {
	for s, want := range map[string]time.Weekday{"2026-04-18": time.Saturday, "2000-01-01": time.Saturday, "1900-01-01": time.Monday} { // a wall calendar
		if d, err := ParseDate(s); err != nil || d.Weekday() != want {
			t.Errorf("%s is a %v (%v)", s, d.Weekday(), err)
		}
	}
}

func TestDateOfKeepsTheZonesDay(t *testing.T) {
	at := time.Date(2026, time.April, 18, 23, 30, 0, 0, time.FixedZone("five behind", -5*3600))
	if got := DateOf(at); got.String() != "2026-04-18" {
		t.Errorf("got %v", got)
	}
}

func TestDateAsJSON(t *testing.T) {
	type doc struct{ On, None Date }
	b, err := json.Marshal(doc{On: Date{2026, time.April, 18}})
	if err != nil || string(b) != `{"On":"2026-04-18","None":""}` {
		t.Fatalf("%s, %v", b, err)
	}
	var back doc
	if err := json.Unmarshal(b, &back); err != nil || back.On.String() != "2026-04-18" || !back.None.IsZero() {
		t.Errorf("%+v, %v", back, err)
	}
	if err := json.Unmarshal([]byte(`{"On":"yesterday"}`), &back); err == nil {
		t.Error("yesterday was read as a date")
	}
}

func FuzzParseDate(f *testing.F) {
	for _, s := range []string{"2026-04-18", "2024-02-29", "1900-01-01", "2200-12-31", "2026-02-30", "", "２０２６-04-18"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		d, err := ParseDate(s)
		if err == nil && d.String() != s {
			t.Fatalf("%q is read as %v", s, d)
		}
		if err != nil && !d.IsZero() {
			t.Fatalf("%q: %v and %v", s, d, err)
		}
	})
}
