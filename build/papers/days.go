package papers

import (
	"bytes"
	"cmp"
	"html/template"
	"slices"
	"strings"
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
	Head              string
	Do, Normal, Alarm template.HTML
	All               template.HTML // head and do as sentences, for paper
	Tell              []TellLink
	Nothing           bool

	check sheet.CheckDay
}

// dayWord is a text of a check day: for the plant's course, else of all plants; "" when there is none.
func (w Papers) dayWord(day int, what string) string {
	rest := "-" + w.N(float64(day), 0) + "-" + what
	wait := w.s.Waits()
	if key := "day." + string(wait) + rest; wait != sheet.AtOnce && w.Has(key) {
		return w.Text(key)
	}
	if what == "do" && wait.In(day) {
		return ""
	}
	for _, who := range []string{w.s.Grown, string(w.s.Kind.Course()), string(w.s.Kind.Set()), "any"} {
		if key := "day." + who + rest; w.Has(key) {
			return w.Text(key)
		}
	}
	return ""
}

// dayHead is what to do, in one line.
func (w Papers) dayHead(day int) string {
	switch {
	case day == 30 && len(w.s.Hours) > 1:
		return w.Text("sheet.day-light", "hours", w.hoursFigure(w.s.Hours[1].Hours))
	case day == 7 && w.s.Water.Change > 0 && w.s.Waits() != sheet.InTub:
		return w.Text("sheet.day-change", "volume", w.bucket(w.s.Water.Change))
	}
	return w.dayWord(day, "head")
}

// dayDo is what else to do, sentence by sentence.
func (w Papers) dayDo(day int) []string {
	s := w.s
	out := strings.SplitAfter(w.dayWord(day, "do"), ". ")
	add := func(when bool, key string, pairs ...any) {
		if when {
			out = append(out, w.Text("sheet.day-"+key, pairs...))
		}
	}
	salts := s.Water.GH != nil || s.Water.KH != nil
	switch day {
	case 0:
		add(s.Parcel.Count > 1, "count")
	case 7:
		add(s.Waits() == sheet.InJar || s.Waits() == sheet.InBowl, "push-back")
		add(salts, "salts")
		add((s.Pests || s.CopperRisk()) && s.Waits() != sheet.InTub, "tub-water")
	case 14:
		add(s.Pests, "snails")
		add(s.Tabs.Needed && !s.Tabs.Maybe, "tabs", "n", s.Tabs.Number)
		add(true, "half-food")
	case 30:
		add(len(s.Hours) > 1, "rise")
		add(len(s.Hours) > 1, "food")
	}
	for i := range out {
		out[i] = template.HTMLEscapeString(strings.TrimSpace(out[i]))
	}
	return words.NonEmpty(out...)
}

// dayNormal is what is normal: in the first two weeks as the almanac says of its kind.
func (w Papers) dayNormal(day int) string {
	c := w.s.Species.Care
	if day == 7 && c != nil {
		return string(w.said(c.Normal.In(w.Lang)))
	}
	return template.HTMLEscapeString(w.dayWord(day, "normal"))
}

func (w Papers) dayAlarm(day int) string {
	if c := w.s.Species.Care; c != nil && (day == 7 || day == 60) {
		return string(w.said(c.Alarm.In(w.Lang)))
	}
	return template.HTMLEscapeString(w.dayWord(day, "alarm"))
}

// planted are the papers of the plants that have check days.
func (w Papers) planted() []Papers {
	return slices.DeleteFunc(w.plants(), func(one Papers) bool { return len(one.s.Days) == 0 || one.s.Melt.Seed })
}

// days are the check days; of several plants those that are planted, each named where its words are its own.
func (w Papers) days() []DayCard {
	planted := w.planted()
	if len(planted) == 0 {
		return nil
	}
	var out []DayCard
	for _, d := range planted[0].s.Days {
		c := DayCard{Day: w.Text("sheet.day", "n", d.Day), Nothing: d.Nothing, check: d}
		if !d.Date.IsZero() {
			c.Date, c.ISODate = w.shortDate(d.Date), d.Date.String()
		}
		var heads []string
		for _, one := range planted {
			if head := one.dayHead(d.Day); !slices.Contains(heads, head) {
				heads = append(heads, head)
			}
		}
		c.Head = strings.Join(heads, " · ")
		c.Do = w.each(planted, func(one Papers) []string { return one.dayDo(d.Day) })
		c.Normal = w.each(planted, func(one Papers) []string { return []string{one.dayNormal(d.Day)} })
		c.Alarm = w.each(planted, func(one Papers) []string { return []string{one.dayAlarm(d.Day)} })
		c.All = template.HTML(words.Sentences(string(w.each(planted, func(one Papers) []string { return []string{sentence(one.dayHead(d.Day))} })), string(c.Do)))
		if len(heads) > 1 { // the head does not say which is for which
			c.Do = c.All
		}
		for _, o := range d.Report {
			c.Tell = append(c.Tell, TellLink{Text: w.Text("outcome." + o), Href: w.tellShort(o, "")})
		}
		out = append(out, c)
	}
	return out
}

// sentence is a head as a sentence of a page.
func sentence(head string) string {
	if !strings.HasSuffix(head, "?") {
		head += "."
	}
	return template.HTMLEscapeString(head)
}

// shortDate is a date with its weekday and a short month, for a narrow column: Sat 18 Apr.
func (w Papers) shortDate(d quantity.Date) string {
	return w.Text("date.weekday", "weekday", words.Item(w.List("date.weekdays"), int(d.Weekday())), "day", d.Day, "month", w.ShortMonth(d.Month))
}

// each says every sentence once: first what goes for all plants, then after their names what goes for some.
func (w Papers) each(all []Papers, say func(Papers) []string) template.HTML {
	var order []string
	of := map[string][]int{} // which plants a sentence is said of
	for i, one := range all {
		for _, s := range words.NonEmpty(say(one)...) {
			if of[s] == nil {
				order = append(order, s)
			}
			if !slices.Contains(of[s], i) {
				of[s] = append(of[s], i)
			}
		}
	}
	slices.SortStableFunc(order, func(a, b string) int { return cmp.Compare(len(of[b]), len(of[a])) })
	var out []template.HTML
	for len(order) > 0 {
		who := of[order[0]]
		var said, names []string
		order = slices.DeleteFunc(order, func(s string) bool {
			same := slices.Equal(of[s], who)
			if same {
				said = append(said, s)
			}
			return same
		})
		what := template.HTML(words.Sentences(said...))
		if len(who) < len(all) {
			for _, i := range who {
				names = append(names, string(all[i].called()))
			}
			what = w.HTML("sheet.of-plant", "plant", template.HTML(words.And(w.Locale, names)), "what", what)
		}
		out = append(out, what)
	}
	return words.JoinHTML(out)
}

// fileDates are the check days for sheet.json.
func (w Papers) fileDates() []sheet.FileDate {
	out := []sheet.FileDate{}
	for _, d := range w.s.Days {
		out = append(out, sheet.FileDate{Day: d.Day, Date: d.Date.String(), What: w.dayHead(d.Day), Normal: words.Plain(template.HTML(w.dayNormal(d.Day))),
			Alarm: words.Plain(template.HTML(w.dayAlarm(d.Day))), Report: d.Report})
	}
	return out
}

// Calendar makes the check days of a sheet as a calendar (RFC 5545): whole days, stamped with the day of the record. A plant
// that is not planted has the day on which it comes.
func (w Papers) Calendar() ([]byte, error) {
	cal := ics.NewCalendar()
	cal.SetProductId("-//slipleaf//sheet//EN")
	cal.SetMethod(ics.MethodPublish)
	cal.SetName(w.Text("sheet.ics-name", "plant", w.names()))
	add := func(day int, on quantity.Date, text string) {
		e := cal.AddEvent(w.s.Parcel.Code + "-" + w.N(float64(day), 0) + "@slipleaf")
		e.SetDtStampTime(w.stamp())
		e.SetAllDayStartAt(on.Time())
		e.SetAllDayEndAt(on.Add(1).Time())
		e.SetSummary(w.Text("sheet.ics-title", "plant", w.names(), "n", day))
		e.SetDescription(text)
		e.SetTimeTransparency(ics.TransparencyTransparent)
		if addr := w.kit.Absolute(w.addr); addr != "" {
			e.SetURL(addr)
		}
	}
	cards := w.days()
	for _, c := range cards {
		add(c.check.Day, c.check.Date, w.Text("sheet.ics-text", "do", words.Plain(c.All), "normal", words.Plain(c.Normal), "alarm", words.Plain(c.Alarm)))
	}
	if len(cards) == 0 {
		add(0, w.s.Day0, w.plainVerdict())
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
	f := w.s.File(w.fileDates(), w.fileNotices())
	for _, one := range w.rest {
		one.Units = quantity.Metric
		f.Others = append(f.Others, one.s.File(one.fileDates(), one.fileNotices()))
	}
	return f.JSON()
}
