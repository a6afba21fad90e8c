package compose

import (
	"cmp"
	"slipleaf/build/journal"
	"slipleaf/build/quantity"
)

// Usual are the parameters that every form and every new entry asks for.
func Usual() []string { return []string{"temperature", "ph", "gh", "kh", "nitrate"} }

// UnitOf is the unit of a reading that nobody has measured before.
func UnitOf(key string, units quantity.System) string {
	switch key {
	case "temperature":
		if units == quantity.US {
			return "F"
		}
		return "C"
	case "ph":
		return ""
	case "gh":
		return "dGH"
	case "kh":
		return "dKH"
	case "conductivity":
		return "uS/cm"
	case "light":
		return "umol/m2/s"
	case "lux":
		return "lux"
	}
	return "mg/L"
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
	if was.Form != "" {
		l.Form = was.Form
	}
	if was.Grown != "" {
		l.Grown = was.Grown
	}
	return l
}
