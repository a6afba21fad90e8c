package main

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"slipleaf/build/almanac"
	"slipleaf/build/block"
	"slipleaf/build/journal"
	"slipleaf/build/message"
	"slipleaf/build/spelling"
)

// giving are the flags of the commands that give plants to somebody.
type giving struct {
	From   string `placeholder:"FILE" help:"File with the recipient's message, in any wording (- for standard input); what was understood and guessed is shown before anything is written."`
	Water  string `placeholder:"LINES" help:"Their water, as in \"temperature: 24 C, gh: 8 dGH\"."`
	Tank   string `placeholder:"LINES" help:"Their tank, as in \"tank length: 60 cm, co2: no\"."`
	Units  string `enum:"metric,us," default:"" placeholder:"SYSTEM" help:"Units for their care sheet: metric or us."`
	Speech string `name:"language" placeholder:"CODE" help:"Language of their care sheet: en or de (default: that of their message, else the journal's)."`
	Region string `placeholder:"CODE" help:"Where they live: GB, US-OH."`
	How    string `enum:"post,by-hand," default:"" placeholder:"WAY" help:"How it travels: post or by-hand."`
	In     string `placeholder:"DIR" help:"The journal (default: content, or the current folder)."`
	On     string `placeholder:"DATE" help:"Treat this date as today."`
	Law    bool   `name:"law-checked" help:"Go ahead even though the plant is on a list where they live, because you have checked that it is allowed."`
	More   bool   `help:"These plants are more, on top of what is recorded for them already."`
	DryRun bool   `help:"Print what the care sheet would say of each plant, and write nothing."`
	Yes    bool   `help:"With --from: write what was read out of the message without being asked."`
	Anyway bool   `help:"Post in a month in which the journal says that nothing is posted."`
	JSON   bool   `name:"json" help:"Print what was done as JSON."`

	unsure bool // a message was read in which not all was plain
	said   message.Reading
}

// itemsOf reads LOT:COUNT.
func itemsOf(args []string) ([]journal.Item, error) {
	var out []journal.Item
	for _, a := range args {
		lot, count, ok := strings.Cut(a, ":")
		n, err := strconv.Atoi(count)
		switch {
		case !ok || lot == "" || err != nil:
			return nil, declined("said.count", "\"{arg}\" is not LOT:COUNT; write it like HZ-0418:6", "arg", a, "lot", lot, "n", count)
		case n < 1:
			return nil, declined("said.count", "{n} is not a valid count; give at least one plant", "lot", lot, "n", n)
		case slices.ContainsFunc(out, func(i journal.Item) bool { return strings.EqualFold(i.Lot, lot) }):
			return nil, wrongUse("lot %s is given twice; add the two counts up", lot)
		}
		out = append(out, journal.Item{Lot: lot, Count: n})
	}
	return out, nil
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
		return nil, declined("said.lot-unknown", "there is no lot {lot}{hint}", "lot", id, "hint", hint)
	}
	if p, ok := d.journal.Plant(lot.Plant); ok && p.Withhold {
		return nil, declined("said.lot-withheld", "lot {lot} is not for giving away: plants/{plant}.md says withhold: true", "lot", lot.ID, "plant", lot.Plant)
	}
	switch left := d.left(lot.ID, but); {
	case lot.Expected && sent:
		return nil, declined("said.lot-early", "lot {lot} is not ready yet; add its count in an entry first, or reserve plants of it: slipleaf reserve WHO {lot}:{n}", "lot", lot.ID, "n", count)
	case !lot.Expected && count > left:
		key, kept, reserved := "said.lot-short", "", 0
		if a, ok := d.ledger.Lot(lot.ID); ok && a.Reserved > 0 && but == nil {
			key, kept, reserved = "said.lot-short-kept", ", and {kept} reserved (to send those: slipleaf send WHO)", a.Reserved
		}
		return nil, declined(key, "{lot} has {left} left of {count}"+kept+"; you ask for {n}", "lot", lot.ID, "left", left, "count", lot.Count, "kept", reserved, "n", count)
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

// lawful refuses to give a plant to a region with a list that forbids it, unless the grower says to know.
func (c giving) lawful(d *desk, lot *journal.Lot, region string) error {
	if c.Law || !almanac.KnownRegion(region) {
		return nil
	}
	forbidden := false
	for _, n := range d.names.Notices(d.taxon(lot.Plant), region) {
		if n.Forbids {
			fmt.Fprintf(d.w.Err, "law: %s\n     %s\n", n.Text(region), n.Source)
		}
		forbidden = forbidden || n.Forbids
	}
	if !forbidden {
		return nil
	}
	return declined("said.banned", "{plant} is on a banned list in {region}: check with the authority there; if it is allowed, add --law-checked", "plant", d.species(lot.Plant), "region", region)
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

// about gathers what is known of the recipient: the message, and over it the flags.
func (c *giving) about(w world, wants []journal.Item) (block.Block, error) {
	var b block.Block
	if c.From != "" {
		read, err := c.read(w, wants)
		if err != nil {
			return b, err
		}
		b = read
	}
	for _, f := range []struct{ flag, lines string }{
		{"water", c.Water}, {"tank", c.Tank}, {"units", prefixed("units: ", c.Units)}, {"language", prefixed("language: ", c.Speech)}, {"region", prefixed("region: ", c.Region)}, {"how", prefixed("how: ", c.How)},
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

func prefixed(key, value string) string {
	if value == "" {
		return ""
	}
	return key + value
}
