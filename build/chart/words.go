package chart

import (
	"cmp"
	"math"
	"strconv"
	"strings"
	"time"
)

// Day is the number of days from 1970-01-01 to a date of the Gregorian calendar; months and days beyond their range
// run over into the next, as 14 months are a year and two.
func Day(year, month, day int) int {
	return int(time.Date(year, time.Month(month), day, 0, 0, 0, 0, time.UTC).Unix() / 86400)
}

// civil is the date of a day number: the inverse of Day.
func civil(n int) (year, month, day int) {
	y, m, d := time.Unix(int64(n)*86400, 0).UTC().Date()
	return y, int(m), d
}

func floorDiv(a, b int) int {
	q := a / b
	if a%b != 0 && (a < 0) != (b < 0) {
		q--
	}
	return q
}

// Words is what a chart must know of a language. Months count from January. DayMonth and Date are patterns with {day},
// {month} and {year}: "{day} {month}" and "{day} {month} {year}" if empty. Decimal is the decimal mark ("." if empty).
type Words struct {
	Months      [12]string
	ShortMonths [12]string
	DayMonth    string
	DatePattern string
	Decimal     string
}

// Number prints v with a fixed number of decimals, 0 to 9, never as minus nothing.
func (w Words) Number(v float64, decimals int) string {
	s := strconv.FormatFloat(v, 'f', min(max(decimals, 0), 9), 64)
	negative := strings.HasPrefix(s, "-")
	s = strings.TrimPrefix(s, "-")
	if w.Decimal != "" {
		s = strings.Replace(s, ".", w.Decimal, 1)
	}
	if !negative || strings.Trim(s, "0.,"+w.Decimal) == "" {
		return s
	}
	return "−" + s
}

// Date prints a day with the name of its month and its year.
func (w Words) Date(day int) string {
	return w.fill(w.DatePattern, "{day} {month} {year}", w.Months, day)
}

func (w Words) dayMonth(day int) string {
	return w.fill(w.DayMonth, "{day} {month}", w.ShortMonths, day)
}

func (w Words) fill(pattern, usual string, months [12]string, day int) string {
	y, m, d := civil(day)
	pattern = strings.ReplaceAll(cmp.Or(pattern, usual), "{day}", strconv.Itoa(d))
	pattern = strings.ReplaceAll(pattern, "{year}", strconv.Itoa(y))
	return strings.ReplaceAll(pattern, "{month}", months[m-1])
}

// span prints "low–high", both with the same decimals.
func (w Words) span(low, high float64, decimals int) string {
	return w.Number(low, decimals) + "–" + w.Number(high, decimals)
}

// decimalsOf is how many decimals tell multiples of step apart.
func decimalsOf(step float64) int {
	for d := range 9 {
		p := math.Pow(10, float64(d))
		if v := step * p; math.Abs(v-math.Round(v)) < 1e-6*v {
			return d
		}
	}
	return 9
}
