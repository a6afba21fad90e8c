package journal

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"slipleaf/build/almanac"
	"slipleaf/build/quantity"
)

// lots indexes the lots and checks them against each other and the law.
func (l *linker) lots() {
	for _, d := range l.dates {
		for i := range d.entry.Lots {
			lot := &d.entry.Lots[i]
			lot.Tank, lot.Entry, lot.Date = d.tank.ID, d.entry.ID(), d.entry.Date
			lot.Index, lot.Path = i, d.entry.Path
			l.forbidden(d.entry, lot)
			if lot.ID != "" {
				l.indexLot(d.entry, lot)
			}
		}
	}
}

// indexLot takes a lot in, in the order of dates: announced first, counted later, and that once.
func (l *linker) indexLot(e *Entry, lot *Lot) {
	known, seen := l.journal.lots[lot.ID]
	at := fmt.Sprintf("lots[%d]", lot.Index)
	switch {
	case !seen:
		if lot.Expected {
			lot.Announced = lot.Date
		}
		l.journal.lots[lot.ID] = lot
		return
	case known.Plant != lot.Plant && known.Plant != "" && lot.Plant != "":
		l.complain(ruleLotChanged, e.Source, at+".plant", fmt.Sprintf("lot %s is of %s here, but of %s in %s", lot.ID, lot.Plant, known.Plant, known.Path), "")
		return
	case !known.Expected && lot.Expected:
		l.complain(ruleDuplicateLot, e.Source, at+".lot", fmt.Sprintf("lot %s has its count already, in %s", lot.ID, known.Path), "give the new lot a name of its own")
		return
	case !known.Expected:
		l.complain(ruleDuplicateLot, e.Source, at+".lot", fmt.Sprintf("lot %s is given a count twice: first in %s", lot.ID, known.Path), "give the new lot a name of its own")
		return
	}
	lot.Announced = known.Announced
	l.journal.lots[lot.ID] = lot
}

// forbidden complains of a lot that must not be given away where the grower lives. Rows that were not read at their
// source, or that may mean another plant, only ask.
func (l *linker) forbidden(e *Entry, lot *Lot) {
	region := l.journal.Region
	if region == "" || lot.Plant == "" || l.withheld(lot.Plant) || !l.known(lot.Plant) {
		return
	}
	n, ok := l.worst(lot.Plant, region)
	if !ok {
		return
	}
	r, hint := ruleForbidden, "set withhold: true in plants/"+lot.Plant+".md, and ask your local authority what to do with the plants"
	if n.Doubtful || !n.Seen {
		r, hint = ruleMaybeForbidden, "ask your local authority, or set withhold: true in plants/"+lot.Plant+".md"
	} else if n.InParts {
		hint += "; where you live outside that part, let region name your own"
	}
	l.complain(r, e.Source, fmt.Sprintf("lots[%d].plant", lot.Index), aboutNotice(n, region), hint)
}

func (l *linker) withheld(id string) bool {
	p, ok := l.journal.plants[id]
	return ok && p.Withhold
}

// worst is the notice that weighs most of those that forbid giving a plant away in region.
func (l *linker) worst(plant, region string) (almanac.Notice, bool) {
	notices := slices.DeleteFunc(slices.Clone(l.notices(plant, region)), func(n almanac.Notice) bool { return !n.Forbids })
	if len(notices) == 0 {
		return almanac.Notice{}, false
	}
	weight := func(n almanac.Notice) int {
		w := 0
		for i, bad := range []bool{n.InParts, !n.Seen, n.Doubtful} {
			if bad {
				w += 1 << i
			}
		}
		return w
	}
	return slices.MinFunc(notices, func(a, b almanac.Notice) int { return cmp.Compare(weight(a), weight(b)) }), true
}

// notices asks the almanac, once for each plant and region.
func (l *linker) notices(plant, region string) []almanac.Notice {
	key := [2]string{plant, region}
	n, asked := l.noticed[key]
	if !asked {
		n = l.names.Notices(l.taxon(plant), region)
		l.noticed[key] = n
	}
	return n
}

// taxon is the scientific name of a plant: its own file's, else the almanac's.
func (l *linker) taxon(id string) string {
	if t, ok := l.taxa[id]; ok {
		return t
	}
	t := ""
	if p, ok := l.journal.plants[id]; ok {
		t = p.Taxon
	}
	if t == "" {
		if s, ok := l.names.Species(id); ok {
			t = s.Taxon
		}
	}
	l.taxa[id] = cmp.Or(t, strings.ReplaceAll(id, "-", " "))
	return l.taxa[id]
}

func aboutNotice(n almanac.Notice, region string) string {
	s := fmt.Sprintf("%s names %s: %s", n.List, n.ListedAs, n.What)
	if n.InParts {
		s = fmt.Sprintf("in parts of %s (%s), %s", region, n.Place, s)
	} else {
		s = fmt.Sprintf("%s: %s", n.Place, s)
	}
	if n.Doubtful {
		s += "; it may be meant: " + n.Why
	}
	if !n.Seen {
		s += " (reported from memory, not checked)"
	}
	return s
}

// parcels checks every parcel against its lot, and every lot against its parcels.
func (l *linker) parcels() {
	of := map[string][]*Parcel{}
	for _, p := range l.journal.Parcels {
		l.parcelDates(p)
		l.code(p)
		l.nameKept(p)
		if p.Lot == "" {
			continue
		}
		lot, ok := l.journal.lots[p.Lot]
		if !ok {
			l.unknownLot(p)
			continue
		}
		l.listedThere(p, lot)
		of[p.Lot] = append(of[p.Lot], p)
	}
	for _, id := range sortedKeys(of) {
		l.give(l.journal.lots[id], of[id])
	}
}

func (l *linker) parcelDates(p *Parcel) {
	l.future(p.Asked, p.Source, "asked")
	l.future(p.Promised, p.Source, "promised")
	l.future(p.Sent, p.Source, "sent")
	l.future(p.Withdrawn, p.Source, "withdrawn")
	for i, r := range p.Reports {
		l.future(r.Date, p.Source, fmt.Sprintf("reports[%d].date", i))
	}
}

func (l *linker) code(p *Parcel) {
	if p.Code == "" {
		return
	}
	if first, ok := l.journal.parcel[p.Code]; ok {
		l.complain(ruleDuplicateCode, p.Source, "code", fmt.Sprintf("%s has the same code", first.Path), "send mints a code for each parcel")
		return
	}
	l.journal.parcel[p.Code] = p
}

func (l *linker) unknownLot(p *Parcel) {
	hint := ""
	if near := nearest(p.Lot, sortedKeys(l.journal.lots)); near != "" {
		hint = "did you mean " + near + "?"
	}
	l.complain(ruleUnknownLot, p.Source, "lot", fmt.Sprintf("no entry has a lot %q", p.Lot), hint)
}

// listedThere warns of a list that names the plant where the parcel goes.
func (l *linker) listedThere(p *Parcel, lot *Lot) {
	if p.Region == "" || lot.Plant == "" || !l.known(lot.Plant) || !p.Withdrawn.IsZero() {
		return
	}
	notices := l.notices(lot.Plant, p.Region)
	if len(notices) == 0 {
		return
	}
	n := notices[0]
	if w, ok := l.worst(lot.Plant, p.Region); ok {
		n = w
	}
	l.complain(ruleListedThere, p.Source, "region", aboutNotice(n, p.Region), "ask the authority there before you send; the sheet carries the notice")
}

// Lapsed tells whether p is a promise that no longer holds on a day, lapse days after it was given.
func (p *Parcel) Lapsed(on quantity.Date, lapse int) bool {
	return p.Sent.IsZero() && p.Withdrawn.IsZero() && !p.Promised.IsZero() && !on.IsZero() && on.Since(p.Promised) > lapse
}

// LapseDays is how long a promise holds, in days; 14 where the journal does not say.
func (j *Journal) LapseDays() int { return daysOr(j.PromisesLapse, 14) }

func daysOr(r quantity.Reading[quantity.Span], absent int) int {
	if !r.Known() {
		return absent
	}
	return int(r.High())
}

// Taken is the day from which p takes plants from its lot: sent, else promised; zero while it was only asked for.
func (p *Parcel) Taken() quantity.Date {
	if p.Sent.IsZero() {
		return p.Promised
	}
	return p.Sent
}

// Taking is what one parcel takes of its lot.
type Taking struct {
	Parcel *Parcel
	Takes  int  // 0 for a parcel that asks for more than is left, and from a lot without a count
	Left   int  // what the lot has left before it
	Over   bool // it asks for more than is left
}

// Hand hands the plants of lot out to its parcels by date: every parcel that was sent, and every promise that stands on
// the day, lapse days being how long one holds. A parcel that asks for too many takes none, so that no lot is overdrawn
// and one slip of the pen makes one complaint. An expected lot has nothing to hand out, yet its promises are listed.
func (lot *Lot) Hand(parcels []*Parcel, on quantity.Date, lapse int) []Taking {
	var out []Taking
	for _, p := range parcels {
		if p.Withdrawn.IsZero() && !p.Taken().IsZero() && !p.Lapsed(on, lapse) {
			out = append(out, Taking{Parcel: p})
		}
	}
	slices.SortStableFunc(out, func(a, b Taking) int { return a.Parcel.Taken().Compare(b.Parcel.Taken()) })
	left := 0
	if !lot.Expected {
		left = lot.Count
	}
	for i := range out {
		t := &out[i]
		t.Left = left
		switch n := t.Parcel.Count; {
		case lot.Expected || lot.Count == 0 || n <= 0:
		case n > left:
			t.Over = true
		default:
			t.Takes = n
			left -= n
		}
	}
	return out
}

// give hands a lot's plants out by date and complains where there are too few.
func (l *linker) give(lot *Lot, parcels []*Parcel) {
	for _, t := range lot.Hand(parcels, l.opts.On, l.journal.LapseDays()) {
		p := t.Parcel
		switch {
		case lot.Expected && !p.Sent.IsZero():
			l.complain(ruleNotCounted, p.Source, "lot", fmt.Sprintf("lot %s is only expected: nothing can have been sent from it", lot.ID), "give its count in an entry, without expected")
		case t.Over:
			l.complain(ruleOvergiven, p.Source, "count", fmt.Sprintf("the parcel takes %d, but %s has %d left of %d", p.Count, lot.ID, t.Left, lot.Count), "")
		}
		if !p.Sent.IsZero() && !lot.Expected && p.Sent.Before(lot.Date) {
			l.complain(ruleDateOrder, p.Source, "sent", fmt.Sprintf("sent on %s, before the lot was there on %s", p.Sent, lot.Date), "")
		}
	}
}

// NameKeptDays is how long the private part of p is kept, in days; 180 where neither says.
func (j *Journal) NameKeptDays(p *Parcel) int { return daysOr(p.NameKept, daysOr(j.NameKept, 180)) }

// nameKept asks to erase what is private and no longer needed.
func (l *linker) nameKept(p *Parcel) {
	last := p.Taken()
	if !p.Withdrawn.IsZero() {
		last = p.Withdrawn
	}
	if last.IsZero() {
		last = p.Asked
	}
	days := l.journal.NameKeptDays(p)
	if p.Private.Empty() || last.IsZero() || l.opts.On.IsZero() || l.opts.On.Since(last) <= days {
		return
	}
	line, column := p.AtKey("private")
	l.place(ruleNameKept, p.Source, line, column, fmt.Sprintf("the private part is kept for %d days, which ended on %s", days, last.Add(days)), "erase it")
}
