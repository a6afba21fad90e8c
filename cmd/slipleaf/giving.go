package main

import (
	"context"
	"encoding/json"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"slipleaf/build/almanac"
	"slipleaf/build/block"
	"slipleaf/build/change"
	"slipleaf/build/journal"
	"slipleaf/build/page"
	"slipleaf/build/quantity"
	"slipleaf/build/spelling"
)

// giving are the flags of the commands that give plants to somebody.
type giving struct {
	From   string `placeholder:"FILE" help:"File with the recipient's message (- for standard input); tank details are read from it."`
	Water  string `placeholder:"LINES" help:"Their water, as in \"temperature: 24 C, gh: 8 dGH\"."`
	Tank   string `placeholder:"LINES" help:"Their tank, as in \"tank length: 60 cm, co2: no\"."`
	Units  string `enum:"metric,us," default:"" help:"Units for their care sheet: metric or us."`
	Region string `placeholder:"CODE" help:"Where they live: GB, US-OH."`
	How    string `enum:"post,by-hand," default:"" help:"post or by-hand."`
	In     string `placeholder:"DIR" help:"The journal (default: content, or the current folder)."`
	On     string `placeholder:"DATE" help:"Treat this date as today."`
	Law    bool   `name:"law-checked" help:"Go ahead even though the plant is on a list where they live, because you have checked that it is allowed."`
	More   bool   `help:"These plants are more, on top of what is recorded for them already."`
	JSON   bool   `name:"json" help:"Print what was done as JSON."`
}

// wanted is a count of a lot, as the command line names it.
type wanted struct {
	lot   string
	count int
}

// wantedOf reads LOT:COUNT.
func wantedOf(args []string) ([]wanted, error) {
	var out []wanted
	for _, a := range args {
		lot, count, ok := strings.Cut(a, ":")
		n, err := strconv.Atoi(count)
		switch {
		case !ok || lot == "" || err != nil:
			return nil, wrongUse("%q is not LOT:COUNT; write it like HZ-0418:6", a)
		case n < 1:
			return nil, wrongUse("%d is not a valid count; give at least one plant", n)
		case slices.ContainsFunc(out, func(w wanted) bool { return strings.EqualFold(w.lot, lot) }):
			return nil, wrongUse("lot %s is given twice; add the two counts up", lot)
		}
		out = append(out, wanted{lot, n})
	}
	return out, nil
}

// given is one parcel as it was written down, and the lot that it came from.
type given struct {
	Lot    string `json:"lot"`
	Count  int    `json:"count"`
	Left   int    `json:"left"`
	Code   string `json:"code"`
	Record string `json:"record"`
	Sheet  string `json:"sheet"`
	Label  string `json:"label"`

	what   string // in words
	byHand bool
}

// dispatch is what the commands print.
type dispatch struct {
	Parcels []given `json:"parcels"`
	Message string  `json:"message"`
}

func (c giving) print(w world, out dispatch) error {
	if c.JSON {
		return json.NewEncoder(w.Out).Encode(out)
	}
	for _, g := range out.Parcels {
		fmt.Fprintf(w.Out, "record  %s\nsheet   %s\nlabel   %s\n%s has %d left.\n\n", g.Record, g.Sheet, g.Label, g.Lot, g.Left)
	}
	fmt.Fprintf(w.Out, "To paste into your answer:\n\n%s", out.Message)
	return nil
}

// newParcel is a record of its own for a count of a lot.
func (d *desk) newParcel(r record, taken []change.File) (change.File, error) {
	code, err := mint(d.w.Random, codeLength)
	if err != nil {
		return change.File{}, err
	}
	r.code = code
	name, err := d.freeName(taken)
	d.counts[name] = r.count
	return change.File{Path: name, After: r.text()}, err
}

// give judges the changes together, writes them, and says what to tell the recipient.
func (d *desk) give(ctx context.Context, changes []change.File, sent bool) (dispatch, error) {
	j, err := d.holds(ctx, changes...)
	if err != nil {
		return dispatch{}, err
	}
	for _, c := range changes {
		if !d.asMeant(recordIn(j, c.Path), d.counts[c.Path], sent) {
			return dispatch{}, wrongUse("I can't edit %s safely; set by hand: count: %d and sent: %s", shownPath(d.dir, c.Path), d.counts[c.Path], d.on)
		}
	}
	verb := "reserve"
	if sent {
		verb = "send"
	}
	if err := d.write(ctx, verb+" "+countedLots(j, changes), changes); err != nil {
		return dispatch{}, err
	}
	d.journal = j
	d.account()
	var out dispatch
	for _, c := range changes {
		p := recordIn(j, c.Path)
		sheet := strings.TrimSuffix(j.Address, "/") + page.SheetAddr(p.Code)
		g := given{Lot: p.Lot, Count: p.Count, Left: d.left(p.Lot, nil), Code: p.Code, Record: shownPath(d.dir, c.Path), Sheet: sheet, Label: sheet + "label/"}
		g.byHand = p.How == "by-hand"
		if lot, ok := j.Lot(p.Lot); ok {
			g.what = fmt.Sprintf("%d %s of %s (lot %s)", p.Count, formWord(lot.Form, p.Count), d.plantName(lot.Plant), lot.ID)
		}
		out.Parcels = append(out.Parcels, g)
	}
	out.Message = message(out.Parcels, sent, d.on.Add(j.HoldDays()))
	return out, nil
}

// asMeant tells whether a record says what it was written for: a text may hold lines that look like keys.
func (d *desk) asMeant(p *journal.Parcel, count int, sent bool) bool {
	if p == nil || p.Count != count || p.Code == "" {
		return false
	}
	return !sent && p.Reserved == d.on || sent && p.Sent == d.on
}

// countedLots names the plants of some records: "6 of HZ-0418, 1 of AB-1115".
func countedLots(j *journal.Journal, files []change.File) string {
	var out []string
	for _, f := range files {
		if p := recordIn(j, f.Path); p != nil {
			out = append(out, fmt.Sprintf("%d of %s", p.Count, p.Lot))
		}
	}
	return strings.Join(out, ", ")
}

// message is what the grower pastes into the answer.
func message(parcels []given, sent bool, until quantity.Date) string {
	var what, sheets []string
	for _, g := range parcels {
		what, sheets = append(what, g.what), append(sheets, g.Sheet)
	}
	are := "are"
	if len(parcels) == 1 && parcels[0].Count == 1 {
		are = "is"
	}
	fate := are + " on the way to you. Open the bag as soon as it arrives."
	if !slices.ContainsFunc(parcels, func(g given) bool { return !g.byHand }) {
		fate = are + " yours from today. Unpack as soon as you are at home."
	}
	if !sent {
		fate = are + " reserved for you until " + longDate(until) + "."
	}
	sheet := "The care sheet, made for your tank, is at"
	if len(parcels) > 1 {
		sheet = "The care sheets, made for your tank, are at"
	}
	s := fmt.Sprintf("%s %s\n%s\n%s\nPlease keep the link to yourself.", strings.Join(what, " and "), fate, sheet, strings.Join(sheets, "\n"))
	if sent {
		s += " Tell me how they get on, even if some die."
	}
	return s + "\n"
}

// lot finds a lot that so many plants can be taken from; those that the record but holds of it are free for it.
func (d *desk) lot(id string, count int, but *journal.Parcel, sent bool) (*journal.Lot, error) {
	lot, ok := d.journal.Lot(id)
	if !ok {
		ids := d.lotIDs()
		if i := slices.IndexFunc(ids, func(x string) bool { return strings.EqualFold(x, id) }); i >= 0 {
			return d.lot(ids[i], count, but, sent)
		}
		hint := spelling.Hint(id, ids)
		if hint != "" {
			hint = "; " + hint
		}
		return nil, wrongUse("there is no lot %s%s", id, hint)
	}
	if p, ok := d.journal.Plant(lot.Plant); ok && p.Withhold {
		return nil, wrongUse("lot %s is not for giving away: plants/%s.md says withhold: true", lot.ID, lot.Plant)
	}
	switch left := d.left(lot.ID, but); {
	case lot.Expected && sent:
		return nil, wrongUse("lot %s is not ready yet; add its count in an entry first, or reserve plants of it: slipleaf reserve WHO %s:%d", lot.ID, lot.ID, count)
	case !lot.Expected && count > left:
		kept := ""
		if a, ok := d.ledger.Lot(lot.ID); ok && a.Reserved > 0 && but == nil {
			kept = fmt.Sprintf(", and %d reserved (to send those: slipleaf send WHO)", a.Reserved)
		}
		return nil, wrongUse("%s has %d left of %d%s; you ask for %d", lot.ID, left, lot.Count, kept, count)
	}
	return lot, nil
}

func (d *desk) lotIDs() []string {
	var out []string
	for _, l := range d.journal.Lots() {
		out = append(out, l.ID)
	}
	return out
}

// lawful refuses to give a plant to a region with a list that forbids it, unless the grower says to know. A list that
// may mean it, or names it without a ban, is shown, and so is what was not read of the law there and whom to ask.
func (c giving) lawful(d *desk, lot *journal.Lot, region string) error {
	if !almanac.KnownRegion(region) {
		return nil
	}
	notices := d.names.Notices(d.taxon(lot.Plant), region)
	for _, n := range notices {
		fmt.Fprintf(d.w.Err, "law: %s\n     %s\n", n.Text(region), n.Source)
	}
	for _, place := range d.names.Coverage(region) {
		if place.Held != "whole" {
			fmt.Fprintf(d.w.Err, "law: %s\n", place.Text())
		}
		if place.Held != "whole" && place.Address != "" {
			fmt.Fprintf(d.w.Err, "     ask: %s\n", place.Address)
		}
	}
	if c.Law || !slices.ContainsFunc(notices, func(n almanac.Notice) bool { return n.Forbids }) {
		return nil
	}
	return wrongUse("%s is on a banned list in %s: check with the authority there; if it is allowed, add --law-checked", d.plantName(lot.Plant), region)
}

// taxon is the scientific name of a plant as the journal knows it.
func (d *desk) taxon(id string) string {
	if s := d.species(id); s.Taxon != "" {
		return s.Taxon
	}
	return strings.ReplaceAll(id, "-", " ")
}

// plantName is the common name with the scientific one beside it, or that alone.
func (d *desk) plantName(id string) string { return d.species(id).Called() }

func formWord(form string, n int) string {
	if n == 1 {
		return strings.TrimSuffix(form, "s")
	}
	return form
}

func longDate(d quantity.Date) string { return fmt.Sprintf("%d %s %d", d.Day, d.Month, d.Year) }

// about gathers what is known of the recipient: the message, and over it the flags.
func (c giving) about(w world, wants []wanted) (block.Block, error) {
	var b block.Block
	if c.From != "" {
		read, err := c.read(w, wants)
		if err != nil {
			return b, err
		}
		b = read
	}
	for _, f := range []struct{ flag, lines string }{
		{"water", c.Water}, {"tank", c.Tank}, {"units", prefixed("units: ", c.Units)}, {"region", prefixed("region: ", c.Region)}, {"how", prefixed("how: ", c.How)},
	} {
		said, notes, err := block.Lines(f.lines)
		if err != nil {
			return b, wrongUse("--%s: %v", f.flag, err)
		}
		if len(notes) > 0 {
			return b, wrongUse("--%s: %s", f.flag, notes[0].Text)
		}
		b = b.ReplaceOver(said)
	}
	return b, nil
}

// read reads the block in the recipient's message, and notes where it asks for something else.
func (c giving) read(w world, wants []wanted) (block.Block, error) {
	text, err := messageText(w, c.From)
	if err != nil {
		return block.Block{}, err
	}
	b, notes, err := block.Parse(text)
	if err != nil {
		return b, wrongUse("--from %s: %v", c.From, err)
	}
	for _, n := range notes {
		fmt.Fprintf(w.Err, "note: line %d of the message: %s\n", n.Line, n.Text)
	}
	i := slices.IndexFunc(wants, func(x wanted) bool { return strings.EqualFold(x.lot, b.Lot) })
	switch {
	case b.Lot == "" || len(wants) == 0:
	case i < 0:
		fmt.Fprintf(w.Err, "note: the message asks for %s, but you give %s\n", b.Lot, wants[0].lot)
	case b.Count > 0 && b.Count != wants[i].count:
		fmt.Fprintf(w.Err, "note: the message asks for %d of %s, but you give %d\n", b.Count, b.Lot, wants[i].count)
	}
	return b, nil
}

func prefixed(key, value string) string {
	if value == "" {
		return ""
	}
	return key + value
}
