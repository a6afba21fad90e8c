package papers

import (
	"bytes"
	"html/template"
	"time"

	ics "github.com/arran4/golang-ical"

	"slipleaf/build/quantity"
	"slipleaf/build/sheet"
	"slipleaf/build/words"
)

// DayCard is a check day with its words.
type DayCard struct {
	Date, ISODate     string
	Day               string
	Do, Normal, Alarm template.HTML
	Tell              []TellLink
	Nothing           bool
}

// dayWords finds what to do on a day, what is normal and what is not: the words for how the plant was grown, else its
// kind's own, else those of all plants.
func (w Papers) dayWords(day int, what string) string {
	rest := "-" + w.N(float64(day), 0) + "-" + what
	for _, who := range []string{w.s.Grown, string(w.s.Kind)} {
		if key := "day." + who + rest; w.Has(key) {
			return w.Text(key)
		}
	}
	return w.Text("day.any" + rest)
}

func (w Papers) days() []DayCard {
	var out []DayCard
	for _, d := range w.s.Days {
		c := DayCard{Day: w.Text("sheet.day", "n", d.Day), Nothing: d.Nothing}
		if !d.Date.IsZero() {
			c.Date, c.ISODate = w.WeekdayDate(d.Date), d.Date.String()
		}
		c.Do, c.Normal, c.Alarm = words.Escape(w.dayWords(d.Day, "do")), words.Escape(w.dayWords(d.Day, "normal")), words.Escape(w.dayWords(d.Day, "alarm"))
		for _, o := range d.Report {
			c.Tell = append(c.Tell, TellLink{Text: w.Text("outcome." + o), Href: w.tellHref(o)})
		}
		out = append(out, c)
	}
	return out
}

// fileDates are the check days for sheet.json.
func (w Papers) fileDates() []sheet.FileDate {
	out := []sheet.FileDate{}
	for _, d := range w.s.Days {
		out = append(out, sheet.FileDate{Day: d.Day, Date: d.Date.String(), What: w.dayWords(d.Day, "do"), Normal: w.dayWords(d.Day, "normal"), Alarm: w.dayWords(d.Day, "alarm"), Report: d.Report})
	}
	return out
}

// Calendar makes the check days of a sheet as a calendar (RFC 5545): whole days, stamped with the day of the record.
func (w Papers) Calendar() ([]byte, error) {
	plant := w.plant()
	cal := ics.NewCalendar()
	cal.SetProductId("-//slipleaf//sheet//EN")
	cal.SetMethod(ics.MethodPublish)
	cal.SetName(w.Text("sheet.ics-name", "plant", plant))
	stamp := w.stamp()
	days := w.s.Days
	if len(days) == 0 { // it is not planted: the day on which it comes
		days = []sheet.CheckDay{{Date: w.s.Day0}}
	}
	for _, d := range days {
		e := cal.AddEvent(w.s.Parcel.Code + "-" + w.N(float64(d.Day), 0) + "@slipleaf")
		e.SetDtStampTime(stamp)
		e.SetAllDayStartAt(d.Date.Time())
		e.SetAllDayEndAt(d.Date.Add(1).Time())
		e.SetSummary(w.Text("sheet.ics-title", "plant", plant, "n", d.Day))
		e.SetDescription(w.Text("sheet.ics-text", "do", w.dayWords(d.Day, "do"), "normal", w.dayWords(d.Day, "normal"), "alarm", w.dayWords(d.Day, "alarm")))
		e.SetTimeTransparency(ics.TransparencyTransparent)
		if addr := w.kit.Absolute(w.addr); addr != "" {
			e.SetURL(addr)
		}
	}
	var out bytes.Buffer
	err := cal.SerializeTo(&out, ics.WithNewLine("\r\n"))
	return out.Bytes(), err
}

// stamp is the time of the record: its newest day by then, so that the same journal gives the same bytes.
func (w Papers) stamp() time.Time {
	d := w.parcel.Leaves
	for _, r := range w.s.Parcel.Reports {
		if r.Date.After(d) {
			d = r.Date
		}
	}
	return d.Time()
}

// JSON makes sheet.json.
func (w Papers) JSON() ([]byte, error) {
	w.Units = quantity.Metric
	return w.s.File(w.fileDates(), w.fileNotices()).JSON()
}
