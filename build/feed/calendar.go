package feed

import (
	"bytes"
	"strings"
	"unicode/utf8"

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
	var w lines
	w.add("BEGIN:VCALENDAR")
	w.add("VERSION:2.0")
	w.add("PRODID:-//slipleaf//offers//EN")
	w.add("CALSCALE:GREGORIAN")
	w.text("X-WR-CALNAME", c.Name)
	for _, e := range c.Events {
		w.event(e)
	}
	w.add("END:VCALENDAR")
	return w.b.Bytes()
}

type lines struct{ b bytes.Buffer }

func (w *lines) event(e Event) {
	w.add("BEGIN:VEVENT")
	w.text("UID", e.UID)
	w.add("DTSTAMP:" + basic(e.Changed) + "T120000Z")
	w.add("DTSTART;VALUE=DATE:" + basic(e.First))
	w.add("DTEND;VALUE=DATE:" + basic(e.Last.Add(1))) // §3.6.1: the end is not part of the event
	w.text("SUMMARY", e.Title)
	if e.Text != "" {
		w.text("DESCRIPTION", e.Text)
	}
	if e.URL != "" {
		w.add("URL:" + oneLine(e.URL))
	}
	w.add("TRANSP:TRANSPARENT")
	if e.Tentative {
		w.add("STATUS:TENTATIVE")
	} else {
		w.add("STATUS:CONFIRMED")
	}
	w.add("END:VEVENT")
}

// basic writes a date as RFC 5545 §3.3.4 does.
func basic(d quantity.Date) string { return strings.ReplaceAll(d.String(), "-", "") }

// escapeText is §3.3.11.
var escapeText = strings.NewReplacer(`\`, `\\`, ";", `\;`, ",", `\,`, "\r\n", `\n`, "\n", `\n`, "\r", `\n`)

func (w *lines) text(name, value string) { w.add(name + ":" + oneLine(escapeText.Replace(value))) }

// oneLine drops control characters, which §3.1 does not allow.
func oneLine(s string) string {
	return strings.Map(func(r rune) rune {
		if r < ' ' && r != '\t' || r == 0x7f {
			return -1
		}
		return r
	}, strings.ToValidUTF8(s, ""))
}

// widest is the most octets of a line without its break (§3.1).
const widest = 75

// add writes one content line, folded by octets but never inside a character.
func (w *lines) add(s string) {
	room := widest
	for len(s) > room {
		n := room
		for !utf8.RuneStart(s[n]) {
			n--
		}
		w.b.WriteString(s[:n] + "\r\n ")
		s, room = s[n:], widest-1 // the space counts
	}
	w.b.WriteString(s + "\r\n")
}
