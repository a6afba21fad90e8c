package compose

import (
	"cmp"

	"slipleaf/build/format"
	"slipleaf/build/journal"
	"slipleaf/build/quantity"
)

// Usual are the parameters that every form and every new entry asks for.
func Usual() []string { return []string{"temperature", "ph", "gh", "kh", "nitrate"} }

// UnitOf is the unit of a reading that nobody has measured before.
func UnitOf(key string, units quantity.System) string {
	if key == "temperature" && units == quantity.US {
		return "F"
	}
	m, _ := format.Find("parameters")
	k, _ := m.Key(key)
	return quantity.Units(k.Is.Of)[0]
}

// LotLike is a lot that says what the last one of its plant said; where there was none, its form is that of plants which are
// counted in that measure.
func LotLike(last *journal.Lot, grown, measure string) Lot {
	l := Lot{Form: cmp.Or(map[string]string{"stems": "cuttings", "plantlets": "plantlets", "leaves": "divisions"}[measure], "portions"), Grown: grown}
	if last == nil {
		return l
	}
	was := LotOf(*last)
	l.ReceivedAs, l.Pests, l.Copper, l.Identity, l.Length = was.ReceivedAs, was.Pests, was.Copper, was.Identity, was.Length
	l.Form, l.Grown = cmp.Or(was.Form, l.Form), cmp.Or(was.Grown, l.Grown)
	return l
}
