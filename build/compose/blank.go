package compose

import (
	"slices"
	"strings"

	"slipleaf/build/journal"
	"slipleaf/build/quantity"
)

// Blank is the text of a new entry that offers what may be said of a tank on a day, with the keys of what was measured before
// and nothing behind them. What stays blank is not there; the measures, names and days that are filled in already are those
// of last time.
func Blank(j *journal.Journal, t *journal.Tank, on quantity.Date) string {
	var b strings.Builder
	b.WriteString("---\ntitle:\n")
	var water []string
	for _, key := range ReadingKeys(t, on) {
		water = append(water, key+": ")
	}
	b.WriteString("parameters: {" + strings.Join(water, ", ") + "}\n")
	stand := journal.Standing(t.Entries, on)
	offer(&b, "counts", stand, func(s journal.Stand) []pair {
		return append(append([]pair{{"plant", s.Plant, false}}, blankMeasures(s.Amount)...), pair{"area", s.Area.String(), false})
	})
	offer(&b, "trims", stand, func(s journal.Stand) []pair { return blankTrim(t, s, on) })
	b.WriteString("losses:\n  - {plant: , stems: , cause: }\nplantings:\n  - {plant: , stems: , length: , from: }\nwater-change: {share: , with: tap}\n")
	offer(&b, "lots", stand, func(s journal.Stand) []pair { return blankLot(j, t, s, on) })
	b.WriteString("photos:\n  - {file: , alt: }\n---\n\n")
	return b.String()
}

// ReadingKeys are the usual parameters and those that were measured in a tank before, in the order of the format.
func ReadingKeys(t *journal.Tank, on quantity.Date) []string {
	water := t.WaterOn(on)
	have, _ := water.Texts()
	return slices.DeleteFunc(AllReadings(), func(key string) bool { return !slices.Contains(Usual(), key) && !slices.Contains(have, key) })
}

// offer writes a list with an item for each plant; keys without a value stay, to be filled in, and those that are known only
// sometimes are left out where they are not.
func offer(b *strings.Builder, key string, stand []journal.Stand, item func(journal.Stand) []pair) {
	lines := ""
	for _, s := range stand {
		if pairs := item(s); len(pairs) > 0 {
			lines += "  - " + offered(pairs) + "\n"
		}
	}
	if lines != "" {
		b.WriteString(key + ":\n" + lines)
	}
}

// toFill stands for a value that is to be filled in.
const toFill = "\x00"

func offered(pairs []pair) string {
	var parts []string
	for _, p := range pairs {
		if p.value == toFill {
			parts = append(parts, p.key+": ")
		} else if text := flow([]pair{p}); text != "" {
			parts = append(parts, text[1:len(text)-1])
		}
	}
	return "{" + strings.Join(parts, ", ") + "}"
}

// blankMeasures are the keys of the measures of the last count, or of what was planted.
func blankMeasures(a journal.Amount) []pair {
	var out []pair
	for _, p := range pairs(amount(a, quantity.Reading[quantity.Area]{})) {
		if p.value != "" || p.key == "length" && a.Stems != nil {
			out = append(out, pair{p.key, toFill, false})
		}
	}
	return out
}

// TrimLike is a trim in the way in which the plant was trimmed last: with the length that cuttings had, or in the plant's own
// measure, as the last amount that was taken.
func TrimLike(t *journal.Tank, s journal.Stand, on quantity.Date) Trim {
	var last journal.Trim
	for _, e := range t.Entries {
		for _, x := range e.Trims {
			if x.Plant == s.Plant && !e.Date.After(on) {
				last = x
			}
		}
	}
	trim := Trim{Plant: s.Plant, Length: last.Length.String()}
	switch {
	case last.Cuttings != nil || last.Plant == "" && s.Stems != nil:
	case last.Plant != "":
		trim.Removed = removed(last.Removed)
	default:
		for _, m := range Amounts(s.Amount) {
			trim.Removed = "0 " + m.Key
			break
		}
	}
	return trim
}

// blankTrim offers a trim in the way in which the plant was trimmed last.
func blankTrim(t *journal.Tank, s journal.Stand, on quantity.Date) []pair {
	trim := TrimLike(t, s, on)
	if trim.Removed != "" {
		return []pair{{"plant", s.Plant, false}, {"removed", toFill, false}}
	}
	return []pair{{"plant", s.Plant, false}, {"cuttings", toFill, false}, {"length", trim.Length, false}, {"replanted", toFill, false}}
}

// NewLot is a lot like the plant's last, with a free name and the day.
func NewLot(j *journal.Journal, t *journal.Tank, s journal.Stand, on quantity.Date) Lot {
	measure := ""
	if all := Amounts(s.Amount); len(all) > 0 {
		measure = all[0].Key
	}
	l := LotLike(j.NewestLot(s.Plant, on), t.Grown, measure)
	l.Lot, l.Plant, l.Ready = j.FreeLot(s.Plant, on), s.Plant, on.String()
	return l
}

// blankLot offers a lot; none of a plant that is given to nobody.
func blankLot(j *journal.Journal, t *journal.Tank, s journal.Stand, on quantity.Date) []pair {
	if p, ok := j.Plant(s.Plant); ok && p.Withhold {
		return nil
	}
	l := NewLot(j, t, s, on)
	l.Count = toFill
	return pairs(l)
}
