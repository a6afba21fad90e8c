package journal

import (
	"fmt"
	"strings"

	"slipleaf/build/format"
	"slipleaf/build/head"
	"slipleaf/build/quantity"
	"slipleaf/build/spelling"
)

// lotName reads a lot's name: letters, digits and hyphens, at most 40 of them, since it is in addresses.
func (d *decoder) lotName(n *head.Node) string {
	s, ok := d.scalar(n, "a lot such as HZ-0418")
	if !ok {
		return ""
	}
	plain := func(r rune) bool {
		return r == '-' || r >= '0' && r <= '9' || r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z'
	}
	if s == "" || len(s) > 40 || strings.Trim(s, "-") != s || strings.ContainsFunc(s, func(r rune) bool { return !plain(r) }) {
		d.at(n, ruleBadLot, fmt.Sprintf("%q can't be a lot name: use letters, digits and hyphens only", spelling.Clip(s)), "")
		return ""
	}
	return s
}

func (d *decoder) needAmount(n *head.Node, a Amount, of string) {
	for _, key := range format.Measures {
		if n.Child(key) != nil {
			if a.Length.Written() && n.Child("stems") == nil {
				d.at(n, ruleNoMeasure, "length is per stem, but stems is missing", "add stems")
			}
			return
		}
	}
	d.at(n, ruleNoMeasure, of+" needs an amount: stems (with length), plantlets, leaves, cover or mass", "")
}

func checkCount(d *decoder, n *head.Node, c *Count) {
	if d.need(n, "plant", "a count") {
		d.needAmount(n, c.Amount, "a count")
	}
}

func checkPlanting(d *decoder, n *head.Node, p *Planting) {
	if d.need(n, "plant", "a planting") {
		d.needAmount(n, p.Amount, "a planting")
	}
}

// checkLoss tells a loss in the tank from one of a lot's stock, which has a count of its own and no measures.
func checkLoss(d *decoder, n *head.Node, l *Loss) {
	if n.Child("lot") != nil || n.Child("count") != nil {
		if !d.need(n, "lot", "a loss with a count") || !d.need(n, "count", "a loss of a lot") {
			return
		}
		for _, key := range [...]string{"plant", "stems", "plantlets", "leaves", "length", "cover", "mass", "area"} {
			if both := n.Child(key); both != nil {
				d.at(both, ruleContradiction, "a loss is either from a lot or from the tank, not both", "delete "+key+", or add it as another loss")
				return
			}
		}
		return
	}
	if d.need(n, "plant", "a loss") {
		d.needAmount(n, l.Amount, "a loss")
	}
}

func checkTrim(d *decoder, n *head.Node, t *Trim) {
	if !d.need(n, "plant", "a trim") {
		return
	}
	if n.Child("cuttings") == nil && n.Child("removed") == nil {
		d.at(n, ruleNoMeasure, "a trim needs an amount: cuttings or removed", "")
	}
	if t.Replanted != nil && t.Cuttings != nil && *t.Replanted > *t.Cuttings {
		d.at(n.Child("replanted"), ruleContradiction, fmt.Sprintf("%d replanted of %d cuttings", *t.Replanted, *t.Cuttings), "")
	}
}

func checkDose(d *decoder, n *head.Node, s *Dose) {
	if d.need(n, "salt", "a dose") {
		d.need(n, "mass", "a dose")
	}
}

func checkPhoto(d *decoder, n *head.Node, p *Photo) {
	if d.need(n, "file", "a photo") {
		alt := n.Child("alt")
		if alt == nil || alt.Shape != head.Nothing && p.Alt == "" {
			d.at(n, ruleMissingKey, "a photo needs alt: a description for people who can't see it", `as in alt: "The trough from the front"`)
		}
	}
}

func checkLot(d *decoder, n *head.Node, l *Lot) {
	if !d.need(n, "lot", "a lot") || !d.need(n, "plant", "a lot") {
		return
	}
	count := n.Child("count")
	switch {
	case l.Expected && count != nil:
		d.at(count, ruleContradiction, "an expected lot has no count yet", "remove expected once it is counted")
	case !l.Expected && count == nil:
		d.at(n, ruleMissingKey, "a lot needs count, or expected: true", "")
	}
}

// amount reads what a trim removed: a share of the cover, a mass, a length of stems, or a number of parts.
func (d *decoder) amount(n *head.Node) (a Amount) {
	s, ok := d.scalar(n, "an amount such as 10 %, 6 plantlets or 12 g")
	if !ok {
		return a
	}
	number, unit := splitUnit(s)
	part := *n
	part.Text = number
	switch unit {
	case "plantlets", "plantlet":
		a.Plantlets = d.count(&part)
	case "leaves", "leaf":
		a.Leaves = d.count(&part)
	case "stems", "stem":
		a.Stems = d.count(&part)
	case "%":
		set[quantity.Share](d, n, &a.Cover, false)
	default:
		d.removedQuantity(n, s, unit, &a)
	}
	return a
}

func (d *decoder) removedQuantity(n *head.Node, s, unit string, a *Amount) {
	if _, ok := quantity.From[quantity.Mass](1, unit); ok {
		set[quantity.Mass](d, n, &a.Mass, false)
		return
	}
	if _, ok := quantity.From[quantity.Length](1, unit); ok {
		set[quantity.Length](d, n, &a.Length, false)
		return
	}
	hint := spelling.Hint(unit, []string{"plantlets", "leaves", "stems", "g", "cm"})
	d.at(n, ruleBadQuantity, fmt.Sprintf("can't read %q as an amount; write 10 %%, 6 plantlets, 4 leaves, 3 stems, 12 g or 60 cm", spelling.Clip(s)), hint)
}

// splitUnit parts "6 plantlets" into number and unit.
func splitUnit(s string) (number, unit string) {
	i := strings.LastIndexAny(s, "0123456789") + 1
	return strings.TrimSpace(s[:i]), strings.TrimSpace(s[i:])
}
