package compose

import (
	"slices"
	"strconv"

	"slipleaf/build/journal"
	"slipleaf/build/quantity"
)

// Of is an entry as a form would have said it. What no form says is not in it: an entry is a form's where the [Entry.Text]
// of this is the entry's file, byte for byte.
func Of(e *journal.Entry) Entry {
	out := Entry{Title: e.Title, Words: string(e.Body), WaterChange: Change{e.WaterChange.Share.String(), e.WaterChange.With}}
	keys, values := e.Parameters.Texts()
	for i, key := range keys {
		out.Parameters = append(out.Parameters, Reading{key, values[i]})
	}
	for _, c := range e.Counts {
		out.Counts = append(out.Counts, Count{c.Plant, amount(c.Amount, c.Area)})
	}
	for _, p := range e.Plantings {
		out.Plantings = append(out.Plantings, Planting{p.Plant, amount(p.Amount, p.Area), p.From})
	}
	for _, t := range e.Trims {
		out.Trims = append(out.Trims, Trim{t.Plant, whole(t.Cuttings), t.Length.String(), whole(t.Replanted), removed(t.Removed)})
	}
	for _, l := range e.Losses {
		loss := Loss{Plant: l.Plant, Amount: amount(l.Amount, l.Area), Lot: l.Lot, Cause: l.Cause}
		if l.All == "count" {
			loss.Count = "all"
		} else if l.Lot != "" {
			loss.Count = strconv.Itoa(l.Count)
		}
		if at := loss.at(l.All); at != nil {
			*at = "all"
		}
		out.Losses = append(out.Losses, loss)
	}
	for _, l := range e.Lots {
		out.Lots = append(out.Lots, LotOf(l))
	}
	out.StillThere = slices.Clone(e.StillThere)
	for _, p := range e.Photos {
		out.Photos = append(out.Photos, Photo{p.File, p.Alt})
	}
	return out
}

// at is the field of a measure; nil for none.
func (a *Amount) at(measure string) *string {
	return map[string]*string{"stems": &a.Stems, "plantlets": &a.Plantlets, "leaves": &a.Leaves, "cover": &a.Cover, "mass": &a.Mass}[measure]
}

// Set puts a value at its measure.
func (a *Amount) Set(measure, value string) {
	switch measure {
	case "length":
		a.Length = value
	default:
		if at := a.at(measure); at != nil {
			*at = value
		}
	}
}

// LotOf is a lot as a form says it.
func LotOf(l journal.Lot) Lot {
	out := Lot{Lot: l.ID, Plant: l.Plant, Form: l.Form, ReceivedAs: l.ReceivedAs, Identity: l.Identity, Grown: l.Grown,
		SubmersedFor: l.SubmersedFor.String(), Length: l.Length.String(), Pests: l.Pests, Dips: l.Dips, Copper: l.Copper}
	if l.Count > 0 {
		out.Count = strconv.Itoa(l.Count)
	}
	if !l.Ready.IsZero() {
		out.Ready = l.Ready.String()
	}
	out.Rooted = map[journal.Tristate]string{journal.Yes: "true", journal.No: "false"}[l.Rooted]
	return out
}

func amount(a journal.Amount, area quantity.Reading[quantity.Area]) Amount {
	return Amount{whole(a.Stems), whole(a.Plantlets), whole(a.Leaves), a.Length.String(), a.Cover.String(), a.Mass.String(), area.String()}
}

// Amounts are the measures of an amount that are given, by key.
func Amounts(a journal.Amount) []Reading {
	var out []Reading
	for _, p := range pairs(amount(a, quantity.Reading[quantity.Area]{})) {
		if p.value != "" {
			out = append(out, Reading{p.key, p.value})
		}
	}
	return out
}

func whole(n *int) string {
	if n == nil {
		return ""
	}
	return strconv.Itoa(*n)
}

// removed is what a trim took, in the plant's own measure.
func removed(a journal.Amount) string {
	for _, p := range []struct {
		n    *int
		unit string
	}{{a.Stems, " stems"}, {a.Plantlets, " plantlets"}, {a.Leaves, " leaves"}} {
		if p.n != nil {
			return whole(p.n) + p.unit
		}
	}
	return a.Cover.String() + a.Mass.String() + a.Length.String()
}

// Join adds a form to an entry that a form made. ok is false where that would not say both: a reading, a count or a water
// change that is there already is another look at the tank, and belongs into an entry of its own.
func Join(old, add Entry) (joined Entry, ok bool) {
	for _, r := range add.Parameters {
		if slices.ContainsFunc(old.Parameters, func(was Reading) bool { return was.Key == r.Key }) {
			return old, false
		}
	}
	for _, c := range add.Counts { // a count comes before the cutting, so that one after it is no count of this entry
		counted := slices.ContainsFunc(old.Counts, func(was Count) bool { return was.Plant == c.Plant })
		if counted || slices.ContainsFunc(old.Trims, func(was Trim) bool { return was.Plant == c.Plant }) {
			return old, false
		}
	}
	switch {
	case old.WaterChange == Change{}:
		old.WaterChange = add.WaterChange
	case add.WaterChange != Change{}:
		return old, false
	}
	old.Parameters = InOrder(append(old.Parameters[:len(old.Parameters):len(old.Parameters)], add.Parameters...))
	old.Counts = append(old.Counts[:len(old.Counts):len(old.Counts)], add.Counts...)
	old.Plantings = append(old.Plantings[:len(old.Plantings):len(old.Plantings)], add.Plantings...)
	old.Trims = append(old.Trims[:len(old.Trims):len(old.Trims)], add.Trims...)
	old.Losses = append(old.Losses[:len(old.Losses):len(old.Losses)], add.Losses...)
	old.Lots = append(old.Lots[:len(old.Lots):len(old.Lots)], add.Lots...)
	for _, lot := range add.StillThere {
		if !slices.Contains(old.StillThere, lot) {
			old.StillThere = append(old.StillThere[:len(old.StillThere):len(old.StillThere)], lot)
		}
	}
	old.Photos = append(old.Photos[:len(old.Photos):len(old.Photos)], add.Photos...)
	if w := body(add.Words); w != "" {
		old.Words = body(old.Words + "\n\n" + w)
	}
	return old, true
}
