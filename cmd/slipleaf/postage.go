package main

import (
	"context"
	"strconv"
	"strings"

	"slipleaf/build/journal"
	"slipleaf/build/record"
	"slipleaf/build/spelling"
)

type postageCmd struct {
	Who     string `arg:"" help:"Who owes it: a name or part of one, or a record, code, link or lot of theirs."`
	Amount  string `arg:"" optional:"" help:"What they owe, as in '4.50 EUR'."`
	Settled bool   `help:"They have paid what they owed."`
	In      string `placeholder:"DIR" help:"The journal (default: content, or the current folder)."`
	On      string `placeholder:"DATE" help:"Treat this date as today."`
}

// longestAmount is how many letters an amount may have: it is no place for a letter.
const longestAmount = 40

// Run notes what somebody owes for postage, or that it is settled.
func (c postageCmd) Run(ctx context.Context, w world) error {
	c.Amount = strings.TrimSpace(spelling.Clean(c.Amount))
	switch {
	case c.Settled == (c.Amount != ""):
		return declined("said.postage-missing", `say what is owed, as in: slipleaf postage {arg} "4.50 EUR"; or --settled`, "arg", strconv.Quote(c.Who))
	case len(c.Amount) > longestAmount:
		return declined("said.postage-long", "an amount has at most {n} letters", "n", longestAmount)
	}
	return atDesk(ctx, w, c.In, c.On, func(d *desk) error {
		p, err := c.chosen(d)
		if err != nil {
			return err
		}
		key, value, said, as := journal.Postage, c.Amount, "said.postage", "{file}: postage owed: {amount}"
		if c.Settled {
			key, value, said, as = journal.PostageSettled, d.on.String(), "said.postage-settled", "{file}: postage settled"
		}
		_, settled := p.Private.Reveal(journal.PostageSettled)
		if had, _ := p.Private.Reveal(key); c.Settled && settled || !c.Settled && !settled && had == value {
			w.says("said.recorded", "{file}: that is recorded already; nothing was changed", "file", shownPath(d.dir, p.Path))
			return nil
		}
		private := map[string]string{key: value}
		for _, k := range p.Private.Keys() {
			if had, _ := p.Private.Reveal(k); private[k] == "" && (c.Settled || k != journal.PostageSettled) {
				private[k] = had
			}
		}
		x := newDraft(d)
		err = x.edit(p, p.Record(), "add "+journal.Postage+" to its private part by hand", record.Unremarked("private"), record.WithAll(record.Private(private)))
		if err != nil {
			return err
		}
		if err := x.commit(ctx, "postage", func(was, now *journal.Parcel) bool {
			same := stateOf(now) == stateOf(was) && len(now.Private.Keys()) == len(private)
			for k, v := range private {
				got, _ := now.Private.Reveal(k)
				same = same && got == v
			}
			return same
		}); err != nil {
			return err
		}
		w.says(said, as, "file", shownPath(d.dir, p.Path), "amount", c.Amount)
		return nil
	})
}

// chosen is the one record of WHO that owes postage, or is to.
func (c postageCmd) chosen(d *desk) (*journal.Parcel, error) {
	found := d.find(c.Who)
	if len(found) == 0 {
		return nil, nobody(c.Who)
	}
	of := those(found, func(p *journal.Parcel) bool {
		_, owed := p.Private.Reveal(journal.Postage)
		return owed || !c.Settled && p.Cancelled.IsZero()
	})
	if open := those(of, func(p *journal.Parcel) bool { return p.Owes() != "" }); c.Settled && len(open) > 0 {
		of = open
	}
	switch {
	case len(of) == 0:
		return nil, declined("said.postage-none", "nothing is owed by \"{who}\"", "who", c.Who)
	case !sameRecord(of):
		return nil, d.several(c.Who, of)
	}
	return of[0], nil
}
