package journal

import (
	"fmt"
	"strings"

	"slipleaf/build/head"
	"slipleaf/build/quantity"
	"slipleaf/build/spelling"
)

// entryFields are the keys of a diary entry.
var entryFields = []field[Entry]{
	{"title", func(d *decoder, n *head.Node, e *Entry) { e.Title = d.line(n) }},
	{"parameters", func(d *decoder, n *head.Node, e *Entry) { readMapping(d, n, parameterFields, &e.Parameters) }},
	{"counts", func(d *decoder, n *head.Node, e *Entry) { e.Counts = readList(d, n, countFields, checkCount) }},
	{"plantings", func(d *decoder, n *head.Node, e *Entry) { e.Plantings = readList(d, n, plantingFields, checkPlanting) }},
	{"trims", func(d *decoder, n *head.Node, e *Entry) { e.Trims = readList(d, n, trimFields, checkTrim) }},
	{"losses", func(d *decoder, n *head.Node, e *Entry) { e.Losses = readList(d, n, lossFields, checkLoss) }},
	{"doses", func(d *decoder, n *head.Node, e *Entry) { e.Doses = readList(d, n, doseFields, checkDose) }},
	{"water-change", func(d *decoder, n *head.Node, e *Entry) { readMapping(d, n, waterChangeFields, &e.WaterChange) }},
	{"lots", func(d *decoder, n *head.Node, e *Entry) { e.Lots = readList(d, n, lotFields, checkLot) }},
	{"photos", func(d *decoder, n *head.Node, e *Entry) { e.Photos = readList(d, n, photoFields, checkPhoto) }},
	{"private", func(d *decoder, n *head.Node, e *Entry) { e.Private = d.private(n) }},
}

var countFields = []field[Count]{
	{"plant", func(d *decoder, n *head.Node, c *Count) { c.Plant = d.line(n) }},
	{"stems", func(d *decoder, n *head.Node, c *Count) { c.Stems = d.count(n) }},
	{"plantlets", func(d *decoder, n *head.Node, c *Count) { c.Plantlets = d.count(n) }},
	{"leaves", func(d *decoder, n *head.Node, c *Count) { c.Leaves = d.count(n) }},
	{"length", func(d *decoder, n *head.Node, c *Count) { set(d, n, &c.Length) }},
	{"cover", func(d *decoder, n *head.Node, c *Count) { set(d, n, &c.Cover) }},
	{"mass", func(d *decoder, n *head.Node, c *Count) { set(d, n, &c.Mass) }},
	{"area", func(d *decoder, n *head.Node, c *Count) { set(d, n, &c.Area) }},
	{"where", func(d *decoder, n *head.Node, c *Count) { readMapping(d, n, whereFields, &c.Where) }},
	{"by", func(d *decoder, n *head.Node, c *Count) { c.By = d.line(n) }},
}

var plantingFields = []field[Planting]{
	{"plant", func(d *decoder, n *head.Node, p *Planting) { p.Plant = d.line(n) }},
	{"stems", func(d *decoder, n *head.Node, p *Planting) { p.Stems = d.count(n) }},
	{"plantlets", func(d *decoder, n *head.Node, p *Planting) { p.Plantlets = d.count(n) }},
	{"leaves", func(d *decoder, n *head.Node, p *Planting) { p.Leaves = d.count(n) }},
	{"length", func(d *decoder, n *head.Node, p *Planting) { set(d, n, &p.Length) }},
	{"cover", func(d *decoder, n *head.Node, p *Planting) { set(d, n, &p.Cover) }},
	{"mass", func(d *decoder, n *head.Node, p *Planting) { set(d, n, &p.Mass) }},
	{"area", func(d *decoder, n *head.Node, p *Planting) { set(d, n, &p.Area) }},
	{"from", func(d *decoder, n *head.Node, p *Planting) { p.From = d.line(n) }},
	{"where", func(d *decoder, n *head.Node, p *Planting) { readMapping(d, n, whereFields, &p.Where) }},
}

var whereFields = []field[Where]{
	{"along", func(d *decoder, n *head.Node, w *Where) { setFromZero(d, n, &w.Along) }},
	{"row", func(d *decoder, n *head.Node, w *Where) { w.Row = d.choice(n, "front", "middle", "back") }},
}

var trimFields = []field[Trim]{
	{"plant", func(d *decoder, n *head.Node, t *Trim) { t.Plant = d.line(n) }},
	{"cuttings", func(d *decoder, n *head.Node, t *Trim) { t.Cuttings = d.count(n) }},
	{"length", func(d *decoder, n *head.Node, t *Trim) { set(d, n, &t.Length) }},
	{"replanted", func(d *decoder, n *head.Node, t *Trim) { t.Replanted = d.count(n) }},
	{"removed", func(d *decoder, n *head.Node, t *Trim) { t.Removed = d.amount(n) }},
}

var lossFields = []field[Loss]{
	{"plant", func(d *decoder, n *head.Node, l *Loss) { l.Plant = d.line(n) }},
	{"stems", func(d *decoder, n *head.Node, l *Loss) { l.Stems = d.count(n) }},
	{"plantlets", func(d *decoder, n *head.Node, l *Loss) { l.Plantlets = d.count(n) }},
	{"leaves", func(d *decoder, n *head.Node, l *Loss) { l.Leaves = d.count(n) }},
	{"length", func(d *decoder, n *head.Node, l *Loss) { set(d, n, &l.Length) }},
	{"cover", func(d *decoder, n *head.Node, l *Loss) { set(d, n, &l.Cover) }},
	{"mass", func(d *decoder, n *head.Node, l *Loss) { set(d, n, &l.Mass) }},
	{"area", func(d *decoder, n *head.Node, l *Loss) { set(d, n, &l.Area) }},
	{"lot", func(d *decoder, n *head.Node, l *Loss) { l.Lot = d.lotName(n) }},
	{"count", func(d *decoder, n *head.Node, l *Loss) { l.Count, _ = d.whole(n, 1, most) }},
	{"cause", func(d *decoder, n *head.Node, l *Loss) { l.Cause = d.line(n) }},
}

var doseFields = []field[Dose]{
	{"salt", func(d *decoder, n *head.Node, s *Dose) { s.Salt = d.line(n) }},
	{"mass", func(d *decoder, n *head.Node, s *Dose) { set(d, n, &s.Mass) }},
}

var waterChangeFields = []field[WaterChange]{
	{"share", func(d *decoder, n *head.Node, w *WaterChange) { set(d, n, &w.Share) }},
	{"with", func(d *decoder, n *head.Node, w *WaterChange) { w.With = d.line(n) }},
}

var photoFields = []field[Photo]{
	{"file", func(d *decoder, n *head.Node, p *Photo) { p.File = d.line(n) }},
	{"alt", func(d *decoder, n *head.Node, p *Photo) { p.Alt = d.line(n) }},
}

var lotFields = []field[Lot]{
	{"lot", func(d *decoder, n *head.Node, l *Lot) { l.ID = d.lotName(n) }},
	{"plant", func(d *decoder, n *head.Node, l *Lot) { l.Plant = d.line(n) }},
	{"form", func(d *decoder, n *head.Node, l *Lot) {
		l.Form = d.choice(n, "cuttings", "plantlets", "divisions", "portions", "seeds")
	}},
	{"count", func(d *decoder, n *head.Node, l *Lot) { l.Count, _ = d.whole(n, 1, most) }},
	{"expected", func(d *decoder, n *head.Node, l *Lot) { l.Expected = d.yes(n) == Yes }},
	{"ready", func(d *decoder, n *head.Node, l *Lot) { l.Ready = d.date(n) }},
	{"pests", func(d *decoder, n *head.Node, l *Lot) { l.Pests = d.text(n) }},
	{"received-as", func(d *decoder, n *head.Node, l *Lot) { l.ReceivedAs = d.line(n) }},
	{"identity", func(d *decoder, n *head.Node, l *Lot) { l.Identity = d.choice(n, "certain", "likely", "unsure") }},
	{"grown", func(d *decoder, n *head.Node, l *Lot) {
		l.Grown = d.choice(n, "submersed", "emersed", "culture", "mixed")
	}},
	{"submersed-for", func(d *decoder, n *head.Node, l *Lot) { set(d, n, &l.SubmersedFor) }},
	{"length", func(d *decoder, n *head.Node, l *Lot) { set(d, n, &l.Length) }},
	{"rooted", func(d *decoder, n *head.Node, l *Lot) { l.Rooted = d.yes(n) }},
	{"dips", func(d *decoder, n *head.Node, l *Lot) { l.Dips = d.text(n) }},
	{"copper", func(d *decoder, n *head.Node, l *Lot) { l.Copper = d.line(n) }},
	{"grown-from", func(d *decoder, n *head.Node, l *Lot) { l.GrownFrom = d.address(n, "https", "http") }},
}

// lotName reads a lot's name: letters, digits and hyphens, at most 40 of them, since it stands in addresses.
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
	for _, key := range [...]string{"stems", "plantlets", "leaves", "cover", "mass"} {
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
		set(d, n, &a.Cover)
	default:
		d.removedQuantity(n, s, unit, &a)
	}
	return a
}

func (d *decoder) removedQuantity(n *head.Node, s, unit string, a *Amount) {
	if _, ok := quantity.From[quantity.Mass](1, unit); ok {
		set(d, n, &a.Mass)
		return
	}
	if _, ok := quantity.From[quantity.Length](1, unit); ok {
		set(d, n, &a.Length)
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
