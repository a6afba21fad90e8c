package feed

import (
	"bytes"
	"strings"
	"time"

	ics "github.com/arran4/golang-ical"

	"slipleaf/build/quantity"
)

// Calendar is a calendar of whole days.
type Calendar struct {
	Name   string
	Events []Event
}

// Event is something on one or more whole days. It does not make its reader busy.
type Event struct {
	UID         string
	Changed     quantity.Date // the day of the journal that last changed it
	First, Last quantity.Date // both among the days of the event
	Title       string
	Text        string
	URL         string // "" for none
	Tentative   bool   // forecast, not told by the grower
}

// Write gives the calendar by RFC 5545. Its stamps come from the journal, not from a clock.
func (c Calendar) Write() []byte {
	cal := ics.NewCalendar()
	cal.SetProductId("-//slipleaf//offers//EN")
	cal.SetCalscale("GREGORIAN")
	cal.SetXWRCalName(printable(c.Name))
	for _, e := range c.Events {
		v := cal.AddEvent(e.UID)
		v.SetDtStampTime(e.Changed.Time().Add(12 * time.Hour))
		v.SetAllDayStartAt(e.First.Time())
		v.SetAllDayEndAt(e.Last.Add(1).Time()) // §3.6.1: the end is not part of the event
		v.SetSummary(printable(e.Title))
		if e.Text != "" {
			v.SetDescription(printable(e.Text))
		}
		if e.URL != "" {
			v.SetURL(e.URL)
		}
		v.SetTimeTransparency(ics.TransparencyTransparent)
		v.SetStatus(ics.ObjectStatusConfirmed)
		if e.Tentative {
			v.SetStatus(ics.ObjectStatusTentative)
		}
	}
	var out bytes.Buffer
	_ = cal.SerializeTo(&out, ics.WithNewLine("\r\n")) // a buffer takes all
	return out.Bytes()
}

// breaks are line breaks as the writer of calendars knows them.
var breaks = strings.NewReplacer("\r\n", "\n", "\r", "\n")

// printable drops control characters, which §3.1 does not allow, but for line breaks.
func printable(s string) string {
	return strings.Map(func(r rune) rune {
		if r < ' ' && r != '\t' && r != '\n' || r == 0x7f {
			return -1
		}
		return r
	}, breaks.Replace(strings.ToValidUTF8(s, "")))
}
