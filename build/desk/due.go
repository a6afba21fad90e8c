package desk

import (
	"cmp"
	"strconv"

	"slipleaf/build/almanac"
	"slipleaf/build/growth"
	"slipleaf/build/journal"
	"slipleaf/build/page"
	"slipleaf/build/quantity"
	"slipleaf/build/spelling"
	"slipleaf/build/words"
)

// due puts what is due into words, in the language of the journal.
type due struct {
	b     *page.Site
	v     words.Locale
	today growth.Today
	who   func(j *journal.Journal, record string) string
	out   []Part
}

// Due lists what is due on the day of b; a part without anything in it is left out. who names the recipient of a record.
func Due(b *page.Site, who func(j *journal.Journal, record string) string) []Part {
	d := due{b: b, v: b.Locale(), today: b.All.Growth.TodayOf(b.All.Journal, b.All.Ledger, b.Species), who: who}
	now, week := d.trims()
	d.part("ended", d.ended())
	d.part("ends", d.reserved(true))
	d.part("waiting", d.waiting())
	d.part("water", d.water())
	d.part("now", now)
	d.part("week", week)
	d.part("count", d.counts())
	d.part("lots", d.lots())
	d.part("old", d.old())
	d.part("reserved", d.reserved(false))
	d.part("ask", d.ask())
	d.part("owed", d.owed())
	return d.out
}

func (d *due) part(key string, lines []Line) {
	if len(lines) > 0 {
		d.out = append(d.out, Part{key, d.v.Text("desk.due-" + key), lines})
	}
}

// species is a plant as the journal knows it, or the almanac where the journal has none of it.
func (d *due) species(id string) almanac.Species {
	s := d.b.Species(id)
	if s.Taxon == "" {
		s, _ = d.b.Almanac.Species(id)
	}
	s.ID = id
	return s
}

// plant is the plain name of a plant with the scientific one beside it.
func (d *due) plant(id string) string { return d.species(id).Called() }

// short is the plain name of a plant, for a message.
func (d *due) short(id string) string { return cmp.Or(words.PlantName(d.species(id)), id) }

func (d *due) at(plant, tank string) string {
	if k, ok := d.b.All.Journal.Tank(tank); ok {
		return words.Capital(d.plant(plant)) + ", " + k.Name
	}
	return words.Capital(d.plant(plant))
}

func to(plant, tank string) string { return tankAddr(tank) + "#plant-" + plant }

func (d *due) trims() (now, week []Line) {
	for _, t := range d.today.Trim {
		l := Line{Text: d.at(t.Plant, t.Tank) + ": " + d.v.Dates(t.Low, t.High), To: to(t.Plant, t.Tank), Do: d.v.Text("desk.do-cut")}
		if t.Wanted > 0 {
			l.Text += "; " + d.v.Text("desk.wanted", "n", t.Wanted)
		}
		if t.Now {
			now = append(now, l)
		} else {
			week = append(week, l)
		}
	}
	return now, week
}

func (d *due) counts() (out []Line) {
	for _, c := range d.today.Count {
		out = append(out, Line{Text: d.at(c.Plant, c.Tank) + ": " + d.v.Text("desk.counted-on", "day", d.v.DayMonth(c.Last), "n", c.Days), To: to(c.Plant, c.Tank), Do: d.v.Text("desk.do-count")})
	}
	return out
}

func (d *due) lots() (out []Line) {
	for _, x := range d.today.Lots {
		l := Line{Text: d.v.Text("desk.lot-due", "lot", x.Lot, "plant", d.plant(x.Plant), "day", d.v.DayMonth(x.Ready))}
		if lot, ok := d.b.All.Journal.Lot(x.Lot); ok {
			l.To, l.Do = to(x.Plant, lot.Tank), d.v.Text("desk.do-count")
		}
		out = append(out, l)
	}
	return out
}

// endsSoon is within how many days a reservation ends that is to be asked about: our choice.
const endsSoon = 3

// reserved lists the reservations that end soon, with what to ask, or the others.
func (d *due) reserved(soon bool) (out []Line) {
	for _, r := range d.today.Reservations {
		if soon != (d.b.All.On.Add(endsSoon).Compare(r.Lapses) >= 0) {
			continue
		}
		l := Line{Text: d.v.Text("desk.reserved-until", "n", r.Count, "plant", d.plant(r.Plant), "lot", r.Lot, "who", d.who(d.b.All.Journal, r.Record), "day", d.v.DayMonth(r.Lapses))}
		l.Record, l.Settle = r.Record, []Settle{{Act: "sent", Do: d.v.Text("desk.sent")}, {Act: "cancel", Do: d.v.Text("desk.cancel")}}
		if soon {
			l.Message = d.message("ends", r.Record, "n", r.Count, "plant", d.short(r.Plant), "day", d.v.Date(r.Lapses))
		}
		out = append(out, l)
	}
	return out
}

// endedFor is for how many days a reservation that has ended is listed: our choice.
const endedFor = 30

// ended lists the reservations that have ended and were neither sent nor cancelled.
func (d *due) ended() (out []Line) {
	j := d.b.All.Journal
	for _, p := range j.Parcels {
		last := p.Reserved.Add(j.HoldDays())
		if p.Lot == "" || !p.Lapsed(d.b.All.On, j.HoldDays()) || d.b.All.On.Since(last) > endedFor {
			continue
		}
		lot, ok := j.Lot(p.Lot)
		if !ok {
			continue
		}
		out = append(out, Line{Record: p.Path, Settle: []Settle{{Act: "sent", Do: d.v.Text("desk.sent")}, {Act: "cancel", Do: d.v.Text("desk.cancel")}}, Text: d.v.Text("desk.reserved-ended", "n", p.Count, "plant", d.plant(lot.Plant), "lot", p.Lot, "who", d.who(j, p.Path), "day", d.v.DayMonth(last)),
			Message: d.message("ended", p.Path, "n", p.Count, "plant", d.short(lot.Plant), "day", d.v.Date(last))})
	}
	return out
}

// owed lists who owes postage.
func (d *due) owed() (out []Line) {
	for _, p := range d.b.All.Journal.Parcels {
		if owes := p.Owes(); owes != "" && p.First() && p.Cancelled.IsZero() {
			out = append(out, Line{Record: p.Path, Settle: []Settle{{Act: "settled", Do: d.v.Text("desk.settled")}}, Text: d.who(d.b.All.Journal, p.Path) + ": " + spelling.Clean(owes)})
		}
	}
	return out
}

// waiting lists who waits for what; who is next for a lot that is ready comes with what to write.
func (d *due) waiting() (out []Line) {
	for _, w := range d.b.Waits() {
		who, wanted := d.who(d.b.All.Journal, w.Parcel.Path), d.plant(w.Parcel.Plant)
		if w.Parcel.Count > 0 {
			wanted = strconv.Itoa(w.Parcel.Count) + " " + wanted
		}
		if w.Lot == nil {
			out = append(out, Line{Record: w.Parcel.Path, Settle: []Settle{{Act: "cancel", Do: d.v.Text("desk.cancel")}}, Text: d.v.Text("desk.waits", "who", who, "plant", wanted, "day", d.v.DayMonth(w.Parcel.Asked))})
			continue
		}
		out = append(out, Line{Record: w.Parcel.Path, Lot: w.Lot.ID, Settle: []Settle{{Act: "next", Do: d.v.Text("desk.reserve"), Count: w.Count}}, Text: d.v.Text("desk.waits-next", "who", who, "plant", wanted, "day", d.v.DayMonth(w.Parcel.Asked), "n", w.Lot.Left, "lot", w.Lot.ID, "says", w.Says),
			Message: d.message("ready", w.Parcel.Path, "n", w.Count, "plant", d.short(w.Parcel.Plant))})
	}
	return out
}

func (d *due) water() (out []Line) {
	v := d.v
	for _, w := range d.today.Water {
		tank, ok := d.b.All.Journal.Tank(w.Tank)
		if !ok {
			continue
		}
		should := v.Text("desk.wanted-value", "value", d.reading(w.Wanted, 2, w.Unit))
		if w.High != 0 || w.Low != 0 {
			should = v.Text("desk.tolerated", "low", d.reading(w.Low, 2, w.Unit), "high", d.reading(w.High, 2, w.Unit))
		}
		text := tank.Name + ": " + v.Text("parameter."+w.Parameter) + " " + d.reading(w.Value, 2, w.Unit)
		text += " (" + v.DayMonth(w.On) + "), " + should
		if cure := d.cure(w); cure != "" {
			text += ". " + cure
		}
		out = append(out, Line{Text: text, To: tankAddr(tank.ID) + "#p-" + w.Parameter, Do: v.Text("desk.do-measure")})
	}
	return out
}

// reading is a figure of a parameter as the grower's pages print it: its unit is that of the format.
func (d *due) reading(value float64, places int, unit string) string {
	if unit == "C" {
		return words.Q(d.v, quantity.Temperature(value))
	}
	return d.v.Figure(quantity.Printed{Number: quantity.Number(value, places), Unit: quantity.Sign(unit)}.String())
}

// cure says what puts a reading right.
func (d *due) cure(w growth.WaterOff) string {
	v, c := d.v, w.Cure
	to := d.reading(c.To, 1, w.Unit)
	switch c.How {
	case "":
		return ""
	case "salt":
		key := "desk.cure-salt"
		if !c.Tank {
			key = "desk.cure-salt-10"
		}
		return v.Text(key, "mass", v.N(c.Grams, 1), "salt", v.Text("sheet.salt-"+c.Salt), "to", to)
	}
	return v.Text("desk.cure-"+c.How, "n", c.Times, "share", words.Percent(v, c.Share), "to", to)
}

// oldDays is after how many days an offer is asked about: our choice.
const oldDays = 28

// old lists offers that have been there for long, so that nobody asks for plants that are no more.
func (d *due) old() (out []Line) {
	for _, l := range d.b.All.Ledger.Offered() {
		if l.Left > 0 && l.Unseen >= oldDays {
			out = append(out, Line{Text: d.v.Text("desk.offered-for", "n", l.Left, "plant", d.plant(l.Plant), "lot", l.ID, "days", l.Waiting),
				Lot: l.ID, Settle: []Settle{{Act: "there", Do: d.v.Text("desk.lot-there"), Count: l.Left}, {Act: "gone", Do: d.v.Text("desk.lot-gone"), Count: l.Left}}})
		}
	}
	return out
}

func (d *due) ask() (out []Line) {
	for _, a := range d.today.Ask {
		text := d.v.Text("desk.ask", "who", d.who(d.b.All.Journal, a.Record), "plant", d.plant(a.Plant), "sent", d.v.DayMonth(a.Sent), "n", a.Day)
		if !a.Reported.IsZero() {
			text += ", " + d.v.Text("desk.last-news", "day", d.v.DayMonth(a.Reported))
		}
		out = append(out, Line{Record: a.Record, Settle: []Settle{{Act: "report", Do: d.v.Text("desk.report"), Report: true}}, Text: text, Message: d.message("how", a.Record, "plant", d.short(a.Plant), "day", d.v.Date(a.Sent))})
	}
	return out
}

// message is what to write to the recipient of a record: a greeting, a sentence or two, and a name below.
func (d *due) message(key, record string, pairs ...any) string {
	name := ""
	if d.who(d.b.All.Journal, record) != record {
		name = " " + NameIn(d.b.All.Journal, record)
	}
	s := d.v.Text("message."+key, append([]any{"name", name}, pairs...)...)
	if g := d.b.Journal.Grower; g != "" {
		s += " " + d.v.Text("message.from", "grower", g)
	}
	return s
}
