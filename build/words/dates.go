package words

import (
	"time"

	"slipleaf/build/quantity"
)

// Date writes a date out: 18 April 2026.
func (v Locale) Date(d quantity.Date) string {
	if d.IsZero() {
		return ""
	}
	return v.Text("date.full", "day", d.Day, "month", v.Month(d.Month), "year", d.Year)
}

// Written writes out a day or a month that a table or a grower has as figures, 2026-04-18 or 2026-04; what is neither stays.
func (v Locale) Written(figures string) string {
	if d, err := quantity.ParseDate(figures); err == nil {
		return v.Date(d)
	}
	if d, err := quantity.ParseDate(figures + "-01"); err == nil {
		return MonthYear(v, d)
	}
	return figures
}

// DayMonth writes a date without its year: 18 April.
func (v Locale) DayMonth(d quantity.Date) string {
	return v.Text("date.day-month", "day", d.Day, "month", v.Month(d.Month))
}

// WeekdayDate writes a date with its weekday, without the year: Sat 18 April.
func (v Locale) WeekdayDate(d quantity.Date) string {
	days := v.List("date.weekdays")
	if len(days) != 7 {
		return v.DayMonth(d)
	}
	return v.Text("date.weekday", "weekday", days[d.Weekday()], "day", d.Day, "month", v.Month(d.Month))
}

// Dates writes a window as shortly as it can: 2–12 July, 28 June – 3 July.
func (v Locale) Dates(from, to quantity.Date) string {
	switch {
	case from == to:
		return v.DayMonth(from)
	case from.Year == to.Year && from.Month == to.Month:
		return v.Text("date.within-month", "from", from.Day, "to", to.Day, "month", v.Month(from.Month))
	case from.Year == to.Year:
		return v.Text("date.window", "from", v.DayMonth(from), "to", v.DayMonth(to))
	}
	return v.Text("date.window", "from", v.Date(from), "to", v.Date(to))
}

// Month is the month's name.
func (v Locale) Month(m time.Month) string { return Item(v.List("date.months"), int(m)-1) }

// ShortMonth is the month's name as a chart's axis has room for.
func (v Locale) ShortMonth(m time.Month) string { return Item(v.List("date.short-months"), int(m)-1) }

// Item is one of a list; "?" outside of it.
func Item(list []string, i int) string {
	if i < 0 || i >= len(list) {
		return "?"
	}
	return list[i]
}

// MonthYear writes "April 2026".
func MonthYear(v Locale, d quantity.Date) string {
	return v.Text("pass.month", "month", v.Month(d.Month), "year", d.Year)
}
