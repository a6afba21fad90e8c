package journal

import (
	"cmp"
	"fmt"
	"maps"
	"slices"

	"slipleaf/build/quantity"
	"slipleaf/build/spelling"
)

// parcels checks every parcel against its lot, and every lot against its parcels.
func (l *linker) parcels() {
	of, known, told := map[string][]*Parcel{}, l.now.records, len(l.told)
	for _, p := range l.journal.Parcels {
		if !p.First() {
			continue
		}
		l.code(p)
		if !known {
			l.parcelDates(p)
			l.eraseNames(p)
			l.doubtAll(p.Source, "water", &p.Water)
		}
	}
	l.now.records = len(l.told) == told // of no record was anything said before
	for _, p := range l.journal.Parcels {
		if p.Lot == "" {
			l.waited(p)
			continue
		}
		lot, ok := l.journal.lots[p.Lot]
		if !ok {
			l.unknownLot(p.Source, p.key("lot"), p.Lot)
			continue
		}
		l.listedThere(p, lot)
		of[p.Lot] = append(of[p.Lot], p)
	}
	for _, id := range slices.Sorted(maps.Keys(l.journal.lots)) {
		l.give(l.journal.lots[id], of[id])
	}
}

// waited finds the plant that somebody waits for.
func (l *linker) waited(p *Parcel) {
	if p.Plant == "" {
		return
	}
	line, column := l.at(p.Source, "plant")
	if l.unnamed(p.Plant) {
		p.Plant = l.idOf(p.Source, line, column, p.Plant, p.Region)
	}
	if !l.known(p.Plant) {
		l.unknownPlant(p.Source, line, column, p.Plant)
	}
}

// Waits reports whether p is somebody who waits for a plant on a day.
func (p *Parcel) Waits(on quantity.Date) bool {
	return p.Lot == "" && p.Plant != "" && happened(p.Asked, on) && !happened(p.Cancelled, on)
}

// Waiting lists who waits for a plant on a day, whoever asked first first.
func (j *Journal) Waiting(plant string, on quantity.Date) []*Parcel {
	out := slices.DeleteFunc(slices.Clone(j.Parcels), func(p *Parcel) bool { return p.Plant != plant || !p.Waits(on) })
	slices.SortStableFunc(out, func(a, b *Parcel) int { return a.Asked.Compare(b.Asked) })
	return out
}

// WaitedFor lists the plants that somebody waits for on a day, by id.
func (j *Journal) WaitedFor(on quantity.Date) []string {
	var out []string
	for _, p := range j.Parcels {
		if p.Waits(on) {
			out = append(out, p.Plant)
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

func (l *linker) parcelDates(p *Parcel) {
	l.future(p.Asked, p.Source, "asked")
	l.future(p.Reserved, p.Source, "reserved")
	l.future(p.Sent, p.Source, "sent")
	l.future(p.Cancelled, p.Source, "cancelled")
	for i, r := range p.Reports {
		l.future(r.Date, p.Source, fmt.Sprintf("reports[%d].date", i))
	}
}

func (l *linker) code(p *Parcel) {
	if p.Code == "" {
		return
	}
	if first, ok := l.journal.parcel[p.Code]; ok {
		l.complain(ruleDuplicateCode, p.Source, "code", fmt.Sprintf("%s has the same code", first.Path), "slipleaf send makes a new code for each parcel")
		return
	}
	l.journal.parcel[p.Code] = p
}

// unknownLot complains of a lot that a parcel, or a loss, names in vain.
func (l *linker) unknownLot(s Source, path, id string) {
	if l.lotIDs == nil { // all are known by now
		l.lotIDs = slices.Sorted(maps.Keys(l.journal.lots))
	}
	hint := l.hint(s, func() string { return spelling.Hint(id, l.lotIDs) })
	l.complain(ruleUnknownLot, s, path, fmt.Sprintf("no lot %q in any entry", id), hint)
}

// warnedFor is how many days a parcel that went where its plant is listed is warned of. After that the proof could only
// repeat what is on its sheet: nothing can be held back any more.
const warnedFor = 60

// listedThere warns of a list that names the plant where the parcel goes.
func (l *linker) listedThere(p *Parcel, lot *Lot) {
	if on := l.opts.On; !on.IsZero() && !p.Sent.IsZero() && on.Since(p.Sent) > warnedFor {
		return
	}
	if p.Region == "" || lot.Plant == "" || !l.known(lot.Plant) || !p.Cancelled.IsZero() {
		return
	}
	notices := l.notices(lot.Plant, p.Region)
	if len(notices) == 0 {
		return
	}
	n := worst(notices)
	l.complain(ruleListedThere, p.Source, "region", n.Text(p.Region)+others(notices, n), "check with the authority there before you send; the care sheet will say so too"+l.toAsk(p.Region))
}

// happened reports whether something dated at had come to pass by the end of a day. What lies in the day's future has not
// happened on it; without a day, all that is written has.
func happened(at, on quantity.Date) bool { return !at.IsZero() && (on.IsZero() || !at.After(on)) }

// Lapsed reports whether p is a reservation that no longer holds on a day, more than hold days after it was made. It is still
// lapsed on that day if it was sent or cancelled only later.
func (p *Parcel) Lapsed(on quantity.Date, hold int) bool {
	return !happened(p.Sent, on) && !happened(p.Cancelled, on) && !p.Reserved.IsZero() && !on.IsZero() && on.Since(p.Reserved) > hold
}

// takenBy is the day from which p takes plants from its lot, as far as that is known on a day, and whether they had gone
// out by then. The day is zero while p takes nothing.
func (p *Parcel) takenBy(on quantity.Date, hold int) (from quantity.Date, sent bool) {
	switch {
	case happened(p.Cancelled, on):
		return quantity.Date{}, false
	case happened(p.Sent, on):
		return p.Sent, true
	case happened(p.Reserved, on) && !p.Lapsed(on, hold):
		return p.Reserved, false
	}
	return quantity.Date{}, false
}

// HoldDays is how long a reservation holds, in days; 14 where the journal does not say.
func (j *Journal) HoldDays() int { return daysOr(j.HoldFor, 14) }

func daysOr(r quantity.Reading[quantity.Span], absent int) int {
	if !r.Known() {
		return absent
	}
	return int(r.High())
}

// Lost reports whether p was reported lost in the post by a day; without a day, by any.
func (p *Parcel) Lost(on quantity.Date) bool {
	return slices.ContainsFunc(p.Reports, func(r Report) bool { return r.Outcome == LostInPost && happened(r.Date, on) })
}

// Taken is the day from which p takes plants from its lot: sent, else reserved; zero while it was only asked for.
func (p *Parcel) Taken() quantity.Date { return cmp.Or(p.Sent, p.Reserved) }

// Taking is what one parcel, or one loss, takes of its lot.
type Taking struct {
	Parcel *Parcel       // nil in a loss
	Loss   *LotLoss      // nil in a parcel
	On     quantity.Date // the day from which it takes
	Sent   bool          // the parcel had gone out by the day of the account
	Takes  int           // 0 where more is asked for than is left, and from a lot without a count
	Left   int           // what the lot has left before it
	Over   bool          // it asks for more than is left
}

// asks is how many plants are asked for; all that are left in a loss of all.
func (t Taking) asks() int {
	if t.Loss != nil && t.Loss.All {
		return t.Left
	}
	if t.Loss != nil {
		return t.Loss.Count
	}
	return t.Parcel.Count
}

// Hand hands the plants of lot out to its parcels and losses by date: every parcel that was sent by the day, every
// reservation that holds on it, hold days being how long one does, and every loss up to it; of one date, parcels come
// first. What asks for too many takes none, so that no lot is overdrawn and one mistake makes one complaint.
// An expected lot has nothing to hand out, yet its reservations are listed.
func (lot *Lot) Hand(parcels []*Parcel, on quantity.Date, hold int) (given, lost []Taking) {
	all := lot.takings(parcels, on, hold)
	left := 0
	if !lot.Expected {
		left = lot.Count
	}
	for _, t := range all {
		t.Left = left
		switch n := t.asks(); {
		case lot.Expected || lot.Count == 0 || n <= 0:
		case n > left:
			t.Over = true
		default:
			t.Takes = n
			left -= n
		}
		if t.Loss != nil {
			lost = append(lost, t)
			continue
		}
		given = append(given, t)
	}
	return given, lost
}

// Judged are the days on which lot may not be overdrawn by its parcels: one, another, and every later day than that on which
// something of the lot is recorded. A change that is dated back is judged by what has happened since and what is planned, one
// that is dated ahead by what its record takes today. A zero second day: the first alone.
func (lot *Lot) Judged(parcels []*Parcel, on, also quantity.Date) []quantity.Date {
	if also.IsZero() {
		return []quantity.Date{on}
	}
	days := []quantity.Date{on, also}
	see := func(all ...quantity.Date) {
		for _, day := range all {
			if day.After(also) {
				days = append(days, day)
			}
		}
	}
	for _, p := range parcels {
		see(p.Reserved, p.Sent, p.Cancelled)
	}
	for _, loss := range lot.Losses {
		see(loss.On)
	}
	slices.SortFunc(days, quantity.Date.Compare)
	return slices.Compact(days)
}

// takings lists what wants plants of lot by a day, in the order in which it gets them.
func (lot *Lot) takings(parcels []*Parcel, on quantity.Date, hold int) []Taking {
	var out []Taking
	for _, p := range parcels {
		if from, sent := p.takenBy(on, hold); !from.IsZero() {
			out = append(out, Taking{Parcel: p, On: from, Sent: sent})
		}
	}
	for i := range lot.Losses {
		if loss := &lot.Losses[i]; happened(loss.On, on) {
			out = append(out, Taking{Loss: loss, On: loss.On})
		}
	}
	slices.SortStableFunc(out, func(a, b Taking) int { return a.On.Compare(b.On) })
	return out
}

// give hands a lot's plants out by date and complains where there are too few.
func (l *linker) give(lot *Lot, parcels []*Parcel) {
	first := cmp.Or(lot.Announced, lot.Date)
	for _, p := range parcels {
		if !p.Reserved.IsZero() && p.Reserved.Before(first) {
			l.complain(ruleDateOrder, p.Source, "reserved", fmt.Sprintf("reserved on %s, before the lot was in an entry on %s", p.Reserved, first), "")
		}
		switch {
		case p.Sent.IsZero() || !p.Cancelled.IsZero():
		case lot.Expected:
			l.complain(ruleNotCounted, p.Source, p.key("lot"), fmt.Sprintf("lot %s is not ready yet (expected: true), so nothing can be sent from it", lot.ID), "add its count in an entry and remove expected")
		case p.Sent.Before(lot.Date):
			l.complain(ruleDateOrder, p.Source, "sent", fmt.Sprintf("sent on %s, before the lot was ready on %s", p.Sent, lot.Date), "")
		}
	}
	l.overdrawn(lot, parcels)
}

// overdrawn complains, once of each, of what takes more of a lot than is left on one of the days that are looked at.
func (l *linker) overdrawn(lot *Lot, parcels []*Parcel) {
	parcel, loss := map[*Parcel]bool{}, map[*LotLoss]bool{}
	for _, on := range lot.Judged(parcels, l.opts.On, l.opts.Also) {
		given, lost := lot.Hand(parcels, on, l.journal.HoldDays())
		for _, t := range given {
			if t.Over && !parcel[t.Parcel] {
				parcel[t.Parcel] = true
				l.complain(ruleOvergiven, t.Parcel.Source, t.Parcel.key("count"), fmt.Sprintf("this parcel takes %d, but %s has only %d of %d left", t.asks(), lot.ID, t.Left, lot.Count), "")
			}
		}
		for _, t := range lost {
			if t.Over && !loss[t.Loss] {
				loss[t.Loss] = true
				at := fmt.Sprintf("losses[%d].count", t.Loss.Index)
				l.complain(ruleOvergiven, t.Loss.Entry.Source, at, fmt.Sprintf("%d are lost, but %s has only %d of %d left", t.asks(), lot.ID, t.Left, lot.Count), "if reserved plants died, reduce the count or cancel the reservation")
			}
		}
	}
}

// NameKeptDays is how long the private part of p is kept, in days; 180 where neither says.
func (j *Journal) EraseNamesDays(p *Parcel) int {
	return daysOr(p.EraseNamesAfter, daysOr(j.EraseNamesAfter, 180))
}

// nameKept asks to erase what is private and no longer needed.
func (l *linker) eraseNames(p *Parcel) {
	last := cmp.Or(p.Cancelled, p.Taken(), p.Asked)
	days := l.journal.EraseNamesDays(p)
	if p.Private.Empty() || last.IsZero() || l.opts.On.IsZero() || l.opts.On.Since(last) <= days {
		return
	}
	line, column := l.places.AtKey(p.Source, "private")
	l.place(ruleEraseNames, p.Source, line, column, fmt.Sprintf("the private part was to be kept for %d days, until %s", days, last.Add(days)), "delete it")
}
