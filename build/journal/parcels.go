package journal

import (
	"fmt"
	"slices"

	"slipleaf/build/quantity"
)

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
