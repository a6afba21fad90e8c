package main

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"slipleaf/build/block"
	"slipleaf/build/journal"
	"slipleaf/build/message"
	"slipleaf/build/page"
	"slipleaf/build/quantity"
	"slipleaf/build/record"
	"slipleaf/build/words"
)

// read reads the recipient's message, says what was understood, what was guessed and what is missing, and notes where it
// asks for something else. What was not written in plain lines is written down only when somebody has looked at it.
func (c *giving) read(w world, wants []journal.Item) (block.Block, error) {
	text, err := typed(w, "--from", c.From, block.MaxBytes)
	if err != nil {
		return block.Block{}, err
	}
	r, err := message.Read(string(text))
	if err != nil {
		return r.Block, wrongUse("--from %s: %v", c.From, err)
	}
	r.For(c.languageIn(w))
	for _, n := range r.Notes {
		fmt.Fprintf(w.Err, "note: line %d of the message: %s\n", n.Line, n.Text)
	}
	b := r.Block
	i := slices.IndexFunc(wants, func(x journal.Item) bool { return strings.EqualFold(x.Lot, b.Lot) })
	switch {
	case b.Lot == "" || len(wants) == 0:
	case i < 0:
		fmt.Fprintf(w.Err, "note: the message asks for %s, but you give %s\n", b.Lot, wants[0].Lot)
	case b.Count > 0 && b.Count != wants[i].Count:
		fmt.Fprintf(w.Err, "note: the message asks for %d of %s, but you give %d\n", b.Count, b.Lot, wants[i].Count)
	}
	if c.unsure = r.Asks(); c.unsure {
		sayRead(w, r)
	}
	c.said = r
	return b, nil
}

// languageIn is the language of the journal that was named or lies here; "" where none can be read, of which is complained later.
func (c giving) languageIn(w world) string {
	in, err := w.open(c.In, c.On)
	if err != nil {
		return ""
	}
	defer in.close()
	return journal.Language(in.fsys)
}

// sayRead prints what was read out of a message in words of its own.
func sayRead(w world, r message.Reading) {
	fmt.Fprintln(w.Err, "Understood:")
	for _, f := range r.Said {
		fmt.Fprintf(w.Err, "  %s: %s%s\n", f.Key, f.Is, outOf(f.From))
	}
	if len(r.Guessed) > 0 {
		fmt.Fprintln(w.Err, "Guessed:")
	}
	for _, f := range r.Guessed {
		fmt.Fprintf(w.Err, "  %s: %s?%s\n", f.Key, f.Is, outOf(f.From))
	}
	if len(r.Doubts) > 0 {
		fmt.Fprintln(w.Err, "Not taken:")
	}
	for _, d := range r.Doubts {
		sayDoubt(w, "  ", d)
	}
	fmt.Fprintf(w.Err, "Missing: %s\n\n", strings.Join(r.Missing, ", "))
}

func sayDoubt(w world, before string, d message.Doubt) {
	fmt.Fprintf(w.Err, "%s%s: %s%s\n", before, d.Key, strings.TrimSpace(strings.Join(d.Of, " or ")+" ("+message.Whys[d.Why]+")"), outOf(d.From))
}

func outOf(words string) string {
	if words == "" {
		return ""
	}
	return "   (" + words + ")"
}

// confirmed asks whether what was read out of a message may be written.
func (c giving) confirmed(w world) error {
	ok, err := w.agreed(!c.unsure || c.Yes, !c.JSON && w.terminal(w.In), "Write this?",
		"nothing was written: look at what was read out of the message, and add --yes; --water, --tank, --region, --language and --how correct it")
	if err == nil && !ok {
		return wrongUse("nothing was written")
	}
	return err
}

// errNothing is for whoever reserves nothing.
var errNothing = declined("said.nothing", "say what is set aside, as in HZ-0418:6")

// askedFor are the plants that a message asks for, by lot or by name, where the command line names none.
func (c *giving) askedFor(d *desk, wants []journal.Item) ([]journal.Item, error) {
	if len(wants) > 0 {
		return wants, nil
	}
	found, doubts := c.said.Wants(message.Offers(d.ledger.Offered(), d.names, d.species))
	for _, x := range doubts {
		sayDoubt(d.w, "Not taken: ", x)
	}
	if len(found) == 0 && slices.ContainsFunc(doubts, func(x message.Doubt) bool { return x.Why == message.Gone }) {
		return nil, declined("said.all-gone", "nothing that is asked for is left; for the waiting list: slipleaf wait WHO PLANT")
	}
	if len(found) == 0 {
		return nil, errNothing
	}
	for _, x := range found {
		id, plant := x.Lot, ""
		if lot, ok := d.journal.Lot(id); ok {
			plant = ", " + d.plantName(lot.Plant)
		}
		if x.From != "" {
			c.unsure = true
			fmt.Fprintf(d.w.Err, "Asked for: %s of %s%s?%s\n", cmp.Or(strings.TrimPrefix(strconv.Itoa(x.Count), "0"), "some"), id, plant, outOf(x.From))
		}
		wants = append(wants, journal.Item{Lot: id, Count: x.Count})
	}
	for _, x := range wants {
		if x.Count == 0 {
			return nil, declined("said.how-many", "how many of {lot}? write {lot}:COUNT", "lot", x.Lot)
		}
	}
	return wants, nil
}

// corrected are the keys that a message says otherwise than the record that is kept of the recipient.
func corrected(p *journal.Parcel, about block.Block) []record.Key {
	was := knownIn(p)
	have := record.About(was)
	return slices.DeleteFunc(record.About(was.ReplaceOver(about)), func(k record.Key) bool { return slices.Contains(have, k) })
}

// knownIn is what a record says of its recipient, as a message would.
func knownIn(p *journal.Parcel) block.Block {
	b := block.Block{How: p.How, Region: p.Region, Language: p.Language, Water: p.Water, Units: p.Units, UnitsSaid: p.UnitsSaid}
	if p.Tank != nil {
		t := *p.Tank
		t.Light, t.Substrate, t.Livestock = slices.Clone(t.Light), slices.Clone(t.Substrate), slices.Clone(t.Livestock)
		b.Tank = &t
	}
	return b
}

// corrects is a record of a person whose corrected message has come; changed is false where it says nothing new.
func (x *draft) corrects(p *journal.Parcel, about block.Block) (changed bool, err error) {
	said := corrected(p, about)
	if len(said) == 0 {
		return false, nil
	}
	return true, x.edit(p, p.Record(), "correct it there by hand", record.WithAll(said...))
}

// answer is what the grower pastes into the answer, in the recipient's language.
func answer(v words.Locale, parcels []given, sent bool, until quantity.Date) string {
	var what, sheets []string
	count, own, byHand := 0, false, true
	for _, g := range parcels {
		what = append(what, g.what(v))
		count, own, byHand = count+g.Count, own || g.ownTank, byHand && g.byHand
		if !slices.Contains(sheets, g.Sheet) {
			sheets = append(sheets, g.Sheet)
		}
	}
	key := map[[2]bool]string{{true, true}: "given", {true, false}: "sent", {false, true}: "reserved", {false, false}: "reserved"}[[2]bool{sent, byHand}]
	lines := []string{v.Text("message."+key, "what", words.And(v, what), "n", count, "day", v.Date(until))}
	sheet := "message.sheet"
	if own {
		sheet = "message.sheet-own"
	}
	lines = append(append(lines, v.Text(sheet, "n", len(sheets))), sheets...)
	last := v.Text("message.keep", "n", len(sheets))
	if sent {
		last += " " + v.Text("message.tell")
	}
	return plainSpaces(strings.Join(append(lines, last), "\n") + "\n")
}

// plainSpaces makes spaces that keep words together plain ones, for a terminal and a letter.
func plainSpaces(s string) string {
	return strings.NewReplacer("\u00a0", " ", "\u202f", " ").Replace(s)
}

// what is one plant of a parcel in words.
func (g given) what(v words.Locale) string {
	return plainSpaces(v.Text("message.part", "form", v.Text("form."+g.form, "n", g.Count), "plant", g.plant, "lot", g.Lot))
}

// speech is the locale of a recipient.
func speech(b *page.Site, p *journal.Parcel) words.Locale {
	v := b.Locale()
	if t, err := b.Theme.In(p.Language); err == nil {
		v.Words = t.Words
	}
	return v
}
