package chart

import (
	"math"
	"strconv"
	"strings"
)

// The days that can be drawn: 1 January of year 1 to 31 December of year 9999.
const (
	firstDay = -719162
	lastDay  = 2932896
)

// Day is the number of days from 1970-01-01 to a date of the Gregorian calendar; months and days beyond their range
// run over into the next, as 14 months are a year and two. Method: years that begin in March, in eras of 400 years
// (common practice).
func Day(year, month, day int) int {
	month--
	year += floorDiv(month, 12)
	month = month - 12*floorDiv(month, 12) + 1
	if month <= 2 {
		year--
	}
	era := floorDiv(year, 400)
	yoe := year - era*400
	doy := (153*((month+9)%12)+2)/5 + day - 1
	return era*146097 + yoe*365 + yoe/4 - yoe/100 + doy - 719468
}

// civil is the date of a day number: the inverse of Day.
func civil(n int) (year, month, day int) {
	n += 719468
	era := floorDiv(n, 146097)
	doe := n - era*146097
	yoe := (doe - doe/1460 + doe/36524 - doe/146096) / 365
	doy := doe - (365*yoe + yoe/4 - yoe/100)
	mp := (5*doy + 2) / 153
	day = doy - (153*mp+2)/5 + 1
	month = (mp+2)%12 + 1
	year = yoe + era*400
	if month <= 2 {
		year++
	}
	return year, month, day
}

func floorDiv(a, b int) int {
	q := a / b
	if a%b != 0 && (a < 0) != (b < 0) {
		q--
	}
	return q
}

// Words is what a chart must know of a language. Months count from January. DayMonth and Date are patterns with {day},
// {month} and {year}: "{day} {month}" and "{day} {month} {year}" if empty. Decimal is the decimal mark ("." if
// empty), Minus the sign ("−" if empty).
type Words struct {
	Months      [12]string
	ShortMonths [12]string
	DayMonth    string
	DatePattern string
	Decimal     string
	Minus       string
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
	if w.Minus != "" {
		return w.Minus + s
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
	if pattern == "" {
		pattern = usual
	}
	y, m, d := civil(day)
	pattern = strings.ReplaceAll(pattern, "{day}", strconv.Itoa(d))
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
