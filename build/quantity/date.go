package quantity

import (
	"cmp"
	"fmt"
	"time"

	"slipleaf/build/spelling"
)

// Date is a day of the Gregorian calendar without a clock or a zone. The zero Date means none. Dates compare
// with ==; [Date.Compare] orders them.
type Date struct {
	Year  int
	Month time.Month
	Day   int
}

// ParseDate reads a full-date of RFC 3339: 2026-04-18. Years run from 1900 to 2200: anything else is a slip.
func ParseDate(s string) (Date, error) {
	t, err := time.Parse("2006-01-02", s)
	if err != nil || len(s) != len("2006-01-02") {
		return Date{}, fmt.Errorf("%q is no date; a date is written 2026-04-18", spelling.Clip(s))
	}
	if t.Year() < 1900 || t.Year() > 2200 {
		return Date{}, fmt.Errorf("the year of %s is out of range (1900 to 2200)", s)
	}
	return DateOf(t), nil
}

// DateOf is the day of t in t's own zone.
func DateOf(t time.Time) Date {
	y, m, d := t.Date()
	return Date{y, m, d}
}

// FromDays is the date that many days after 1970-01-01.
func FromDays(days int) Date { return DateOf(time.Unix(int64(days)*86400, 0).UTC()) }

// IsZero reports whether there is no date.
func (d Date) IsZero() bool { return d == Date{} }

// Time is midnight UTC at the start of d.
func (d Date) Time() time.Time { return time.Date(d.Year, d.Month, d.Day, 0, 0, 0, 0, time.UTC) }

// Days counts the days from 1970-01-01 to d.
func (d Date) Days() int { return int(d.Time().Unix() / 86400) }

// Add is the date n days later.
func (d Date) Add(n int) Date { return FromDays(d.Days() + n) }

// Since counts the days from e to d.
func (d Date) Since(e Date) int { return d.Days() - e.Days() }

// Compare is negative when d is before e, positive when after, 0 when they are the same day.
func (d Date) Compare(e Date) int {
	return cmp.Or(d.Year-e.Year, int(d.Month-e.Month), d.Day-e.Day)
}

// Before reports whether d comes before e.
func (d Date) Before(e Date) bool { return d.Compare(e) < 0 }

// After reports whether d comes after e.
func (d Date) After(e Date) bool { return d.Compare(e) > 0 }

// Weekday is the day of the week.
func (d Date) Weekday() time.Weekday { return d.Time().Weekday() }

// String is the full-date 2026-04-18; "" for the zero Date.
func (d Date) String() string {
	if d.IsZero() {
		return ""
	}
	if d.Year < 0 || d.Year > 9999 {
		return fmt.Sprintf("%04d-%02d-%02d", d.Year, d.Month, d.Day)
	}
	month := int(d.Month)
	digit := func(n int) byte { return byte('0' + n%10) } // addresses are made of dates by the ten thousand
	return string([]byte{digit(d.Year / 1000), digit(d.Year / 100), digit(d.Year / 10), digit(d.Year), '-',
		digit(month / 10), digit(month), '-', digit(d.Day / 10), digit(d.Day)})
}

// MarshalText writes the full-date.
func (d Date) MarshalText() ([]byte, error) { return []byte(d.String()), nil }

// UnmarshalText reads a full-date; empty text is the zero Date.
func (d *Date) UnmarshalText(b []byte) error {
	if len(b) == 0 {
		*d = Date{}
		return nil
	}
	p, err := ParseDate(string(b))
	*d = p
	return err
}
