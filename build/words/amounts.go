package words

import (
	"strings"

	"slipleaf/build/journal"
	"slipleaf/build/quantity"
)

// Place says where along the glass and in which row.
func Place(v Locale, w journal.Where) string {
	var out []string
	if w.Along.Known() {
		out = append(out, v.Text("where.along", "range", R(v, w.Along)))
	}
	if w.Row != "" {
		out = append(out, v.Text("where."+w.Row))
	}
	return strings.Join(out, ", ")
}

// Amount puts how much of a plant into words.
func Amount(v Locale, a journal.Amount) []string {
	var out []string
	count := func(key string, n *int) {
		if n != nil {
			out = append(out, v.Text("amount."+key, "n", *n))
		}
	}
	count("stems", a.Stems)
	count("plantlets", a.Plantlets)
	count("leaves", a.Leaves)
	if a.Length.Known() {
		out = append(out, v.Text("amount.length", "length", R(v, a.Length)))
	}
	if a.Cover.Known() {
		out = append(out, v.Text("amount.cover", "share", R(v, a.Cover)))
	}
	if a.Mass.Known() {
		out = append(out, v.Text("amount.mass", "mass", R(v, a.Mass)))
	}
	return out
}

// Trimmed says what a trim took and what was put back.
func Trimmed(v Locale, t journal.Trim) []string {
	var out []string
	if t.Cuttings != nil {
		s := v.Text("amount.cuttings", "n", *t.Cuttings)
		if t.Length.Known() {
			s = v.Text("amount.of-length", "what", s, "length", R(v, t.Length))
		}
		out = append(out, s)
	}
	out = append(out, removed(v, t.Removed)...)
	if t.Replanted != nil {
		out = append(out, v.Text("amount.replanted", "n", *t.Replanted))
	}
	return out
}

// removed is what was taken out; a share that is removed is no cover that is left.
func removed(v Locale, a journal.Amount) []string {
	share := a.Cover
	a.Cover = quantity.Reading[quantity.Share]{}
	out := Amount(v, a)
	if share.Known() {
		out = append(out, v.Text("tank-text.share-cut", "share", R(v, share)))
	}
	return out
}
