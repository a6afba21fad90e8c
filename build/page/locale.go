package page

import (
	"html/template"
	"strings"
	"time"

	"slipleaf/build/quantity"
)

// Locale is how pages speak: a language's words and a system of units.
type Locale struct {
	*Words
	Units quantity.System
}

// Q prints a quantity.
func Q[T quantity.Scalar](v Locale, x T) string { return v.Figure(quantity.Format(x, v.Units)) }

// R prints a reading; "" when there is no figure.
func R[T quantity.Scalar](v Locale, r quantity.Reading[T]) string {
	if r.Below() {
		return v.Text("figure.below", "limit", v.Figure(quantity.Format(r.High(), v.Units)))
	}
	return v.Figure(r.Print(v.Units))
}

// QRange prints "22–26 °C".
func QRange[T quantity.Scalar](v Locale, lo, hi T) string {
	return v.Figure(quantity.FormatRange(lo, hi, v.Units))
}

// N prints a pure number with at most places decimals.
func (v Locale) N(f float64, places int) string { return v.Figure(quantity.Number(f, places)) }

// inch is how a figure in inches is printed.
const inch = "\u00a0in"

// Figure gives a printed figure the decimal mark of the language, its gap before a percent sign, and its word for
// inches: "in" is another word in most.
func (v Locale) Figure(s string) string {
	if _, sign, _ := strings.Cut(v.table["figure.percent"], "}"); sign != "" && sign != "%" {
		s = strings.ReplaceAll(s, "%", sign)
	}
	if word := v.table["figure.inch"]; word != "" {
		s = strings.ReplaceAll(s, inch, "\u00a0"+word)
	}
	if mark := v.table["figure.decimal"]; mark != "" && mark != "." {
		return strings.ReplaceAll(s, ".", mark)
	}
	return s
}

// Date writes a date out: 18 April 2026.
func (v Locale) Date(d quantity.Date) string {
	if d.IsZero() {
		return ""
	}
	return v.Text("date.full", "day", d.Day, "month", v.Month(d.Month), "year", d.Year)
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
func (v Locale) Month(m time.Month) string { return item(v.List("date.months"), int(m)-1) }

// ShortMonth is the month's name as a chart's axis has room for.
func (v Locale) ShortMonth(m time.Month) string { return item(v.List("date.short-months"), int(m)-1) }

func item(list []string, i int) string {
	if i < 0 || i >= len(list) {
		return "?"
	}
	return list[i]
}

// Taxon writes a scientific name: italic, with "var.", "spp.", the hybrid sign and a cultivar's name upright
// (International Code of Nomenclature for algae, fungi, and plants, recommendations on typography: common practice).
func Taxon(name string) template.HTML {
	var b strings.Builder
	b.WriteString(`<i lang="la" class="taxon-name">`)
	for i, word := range taxonWords(name) {
		if i > 0 {
			b.WriteByte(' ')
		}
		esc := template.HTMLEscapeString(word.text)
		if word.upright {
			b.WriteString("<b>" + esc + "</b>")
		} else {
			b.WriteString(esc)
		}
	}
	b.WriteString("</i>")
	return template.HTML(b.String())
}

// typesetTaxon is a scientific name as plain text, with the hybrid sign.
func typesetTaxon(name string) string { return strings.ReplaceAll(name, " x ", " × ") }

// taxonWord is a word of a scientific name.
type taxonWord struct {
	text    string
	upright bool // else italic
}

// taxonWords takes a scientific name apart.
func taxonWords(name string) []taxonWord {
	var out []taxonWord
	cultivar := false
	for _, word := range strings.Fields(name) {
		upright := cultivar
		switch strings.Trim(word, "'‘’") {
		case "var.", "subsp.", "f.", "cf.", "sp.", "spp.", "x", "×":
			upright = true
		}
		if strings.HasPrefix(word, "'") || strings.HasPrefix(word, "‘") {
			upright, cultivar = true, true
		}
		if word == "x" {
			word = "×"
		}
		out = append(out, taxonWord{word, upright})
	}
	return out
}
