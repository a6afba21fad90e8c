package journal

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"slipleaf/build/almanac"
)

// lots indexes the lots and checks them against each other and the law. What the journal as a whole says of a lot is in a
// copy of its own: an entry's lots say what its file says.
func (l *linker) lots() {
	for _, d := range l.dates {
		for i, lot := range d.entry.Lots {
			lot := &lot
			lot.Tank, lot.Entry, lot.Date = d.tank.ID, d.entry.ID(), d.entry.Date
			lot.Index, lot.Path = i, d.entry.Path
			l.forbidden(d.entry, lot)
			if lot.ID != "" {
				l.indexLot(d.entry, lot)
			}
		}
	}
	for _, d := range l.dates {
		for i := range d.entry.Losses {
			l.lotLoss(d.entry, i)
		}
		for i, id := range d.entry.StillThere {
			l.stillThere(d.entry, i, id)
		}
	}
}

// stillThere notes that a lot was seen, once all lots are known.
func (l *linker) stillThere(e *Entry, i int, id string) {
	at := fmt.Sprintf("still-there[%d]", i)
	lot, ok := l.journal.lots[id]
	switch {
	case id == "": // said already
	case !ok:
		l.unknownLot(e.Source, at, id)
	case e.Date.Before(lot.Date):
		l.complain(ruleDateOrder, e.Source, at, fmt.Sprintf("lot %s seen on %s, before it was there on %s", id, e.Date, lot.Date), "")
	default:
		lot.Seen = append(lot.Seen, e.Date)
	}
}

// lotLoss books a loss with the lot of which it is, once all lots are known.
func (l *linker) lotLoss(e *Entry, i int) {
	loss := e.Losses[i]
	if loss.Lot == "" || loss.Count == 0 && loss.All == "" {
		return
	}
	at := fmt.Sprintf("losses[%d].lot", i)
	lot, ok := l.journal.lots[loss.Lot]
	switch {
	case !ok:
		l.unknownLot(e.Source, at, loss.Lot)
		return
	case lot.Expected:
		l.complain(ruleNotCounted, e.Source, at, fmt.Sprintf("lot %s is not ready yet (expected: true), so it can't have losses", lot.ID), "add its count in an entry and remove expected")
	case e.Date.Before(lot.Date):
		l.complain(ruleDateOrder, e.Source, at, fmt.Sprintf("lost on %s, before the lot was ready on %s", e.Date, lot.Date), "")
	}
	lot.Losses = append(lot.Losses, LotLoss{Entry: e, Index: i, On: e.Date, Count: loss.Count, All: loss.All != ""})
}

// indexLot takes a lot in, in the order of dates: announced first, counted later, and that once.
func (l *linker) indexLot(e *Entry, lot *Lot) {
	known, seen := l.journal.lots[lot.ID]
	at := fmt.Sprintf("lots[%d]", lot.Index)
	if first := l.spelt[strings.ToLower(lot.ID)]; first != nil && first.ID != lot.ID {
		l.complain(ruleDuplicateLot, e.Source, at+".lot", fmt.Sprintf("lots %s and %s differ only in capitals; the first is in %s", first.ID, lot.ID, first.Path), "use "+first.ID+", or a new lot name")
		return
	}
	if !seen {
		l.spelt[strings.ToLower(lot.ID)] = lot
	}
	switch {
	case !seen:
		if lot.Expected {
			lot.Announced = lot.Date
		}
		l.journal.lots[lot.ID] = lot
		return
	case known.Plant != lot.Plant && known.Plant != "" && lot.Plant != "":
		l.complain(ruleLotChanged, e.Source, at+".plant", fmt.Sprintf("lot %s is %s here but %s in %s", lot.ID, l.called(lot.Plant), l.called(known.Plant), known.Path), "")
		return
	case !known.Expected:
		l.complain(ruleDuplicateLot, e.Source, at+".lot", fmt.Sprintf("lot %s already has a count, in %s", lot.ID, known.Path), "use a new lot name")
		return
	}
	lot.Announced = known.Announced
	l.journal.lots[lot.ID] = lot
}

// forbidden complains of a lot that must not be given away where the grower lives. Rows that were not read at their
// source, that may mean another plant, or that ban something else only ask.
func (l *linker) forbidden(e *Entry, lot *Lot) {
	region, own := l.journal.Region, l.journal.plants[lot.Plant]
	if region == "" || lot.Plant == "" || own != nil && own.Withhold || !l.known(lot.Plant) {
		return
	}
	notices := l.notices(lot.Plant, region)
	if len(notices) == 0 {
		return
	}
	n := worst(notices)
	r, hint := ruleForbidden, "set withhold: true in plants/"+lot.Plant+".md, and ask your local authority what to do with the plants"
	if n.Doubtful || !n.Seen || !n.Forbids {
		r, hint = ruleMaybeForbidden, "check with your local authority, or set withhold: true in plants/"+lot.Plant+".md"
	} else if n.InParts {
		hint += "; if you live elsewhere in that country, set region to your own part"
	}
	l.complain(r, e.Source, fmt.Sprintf("lots[%d].plant", lot.Index), n.Text(region)+others(notices, n), hint+l.toAsk(region))
}

// others names the other lists on which a plant is.
func others(notices []almanac.Notice, said almanac.Notice) string {
	var out []string
	for _, n := range notices {
		if list := n.Place + ": " + n.List; list != said.Place+": "+said.List && !slices.Contains(out, list) {
			out = append(out, list)
		}
	}
	if len(out) == 0 {
		return ""
	}
	return ". See also " + strings.Join(out, "; ")
}

// toAsk says whom to ask in a region.
func (l *linker) toAsk(region string) string {
	for _, c := range l.names.Coverage(region) {
		return "; ask " + c.Ask()
	}
	return ""
}

// worst is the notice that weighs most: what bans giving a plant away before what does not, and what is sure before what
// is not.
func worst(notices []almanac.Notice) almanac.Notice {
	weight := func(n almanac.Notice) int {
		w := 0
		for i, bad := range []bool{n.InParts, !n.Seen, n.Doubtful, !n.Forbids} {
			if bad {
				w += 1 << i
			}
		}
		return w
	}
	return slices.MinFunc(notices, func(a, b almanac.Notice) int { return cmp.Compare(weight(a), weight(b)) })
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

// called is the plain name of a plant with the scientific one beside it.
func (l *linker) called(id string) string {
	s, _ := l.names.Species(id)
	s.ID, s.Taxon = id, l.taxon(id)
	if p, ok := l.journal.plants[id]; ok {
		s.Common = cmp.Or(p.Common, s.Common)
	}
	return s.Called()
}

// taxon is the scientific name of a plant: its own file's, else the almanac's.
func (l *linker) taxon(id string) string {
	if t, ok := l.taxa[id]; ok {
		return t
	}
	s, _ := l.names.Species(id)
	if p, ok := l.journal.plants[id]; ok {
		s.Taxon = cmp.Or(p.Taxon, s.Taxon)
	}
	l.taxa[id] = cmp.Or(s.Taxon, strings.ReplaceAll(id, "-", " "))
	return l.taxa[id]
}
