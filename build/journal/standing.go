package journal

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"slipleaf/build/quantity"
)

// Stand is what the diary last said of a plant that is in a tank.
type Stand struct {
	Count                 // the last count; what was planted, where nothing was counted since
	On      quantity.Date // of the count or planting
	Planted bool          // not counted yet

	lost [3]int // stems, plantlets and leaves since then
}

// Standing lists the plants in a tank on a day, by id: those that were counted or planted, until a count finds none of
// them or all are lost. Entries come by date.
func Standing(entries []*Entry, on quantity.Date) []Stand {
	last := map[string]Stand{}
	for _, e := range entries {
		if !on.IsZero() && e.Date.After(on) {
			continue
		}
		for _, c := range e.Counts {
			last[c.Plant] = Stand{Count: c, On: e.Date}
		}
		for _, l := range e.Losses {
			if s, ok := last[l.Plant]; ok && s.losesAll(l) {
				delete(last, l.Plant)
			} else if ok {
				last[l.Plant] = s
			}
		}
		for _, p := range e.Plantings {
			if s, ok := last[p.Plant]; !ok || s.Nothing() {
				last[p.Plant] = Stand{Count: Count{Plant: p.Plant, Amount: p.Amount, Area: p.Area, Where: p.Where}, On: e.Date, Planted: true}
			}
		}
	}
	var out []Stand
	for _, s := range last {
		if !s.Nothing() {
			out = append(out, s)
		}
	}
	slices.SortFunc(out, func(a, b Stand) int { return cmp.Compare(a.Plant, b.Plant) })
	return out
}

// Nothing reports whether a count found none of the plant.
func (a Amount) Nothing() bool {
	zero := func(n *int) bool { return n == nil || *n == 0 }
	return zero(a.Stems) && zero(a.Plantlets) && zero(a.Leaves) && !(a.Cover.High() > 0) && !(a.Mass.High() > 0)
}

// losesAll books a loss, and reports whether nothing is left of what was counted or planted.
func (s *Stand) losesAll(l Loss) bool {
	all := l.All != ""
	for i, m := range [3][2]*int{{l.Stems, s.Stems}, {l.Plantlets, s.Plantlets}, {l.Leaves, s.Leaves}} {
		if m[0] != nil {
			s.lost[i] += *m[0]
			all = all || m[1] != nil && s.lost[i] >= *m[1]
		}
	}
	return all
}

// NewestLot is the last lot of a plant, up to a day; nil where there was none.
func (j *Journal) NewestLot(plant string, on quantity.Date) *Lot {
	var last *Lot
	for _, l := range j.Lots() {
		if l.Plant == plant && !l.Date.After(on) && (last == nil || !l.Date.Before(last.Date)) {
			last = l
		}
	}
	return last
}

// FreeLot is a name for a lot that no other has: the first letters of the plant's names, and the day.
func (j *Journal) FreeLot(plant string, on quantity.Date) string {
	letters := ""
	for part := range strings.SplitSeq(plant, "-") {
		if part != "" && len(letters) < 2 {
			letters += strings.ToUpper(part[:1])
		}
	}
	base := fmt.Sprintf("%s-%02d%02d", letters, int(on.Month), on.Day)
	name := base
	for n := 2; ; n++ {
		if _, taken := j.lots[name]; !taken {
			return name
		}
		name = base + "-" + strconv.Itoa(n)
	}
}
