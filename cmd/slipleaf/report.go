package main

import (
	"context"
	"path"
	"slices"
	"strconv"
	"strings"

	"slipleaf/build/block"
	"slipleaf/build/journal"
	"slipleaf/build/quantity"
	"slipleaf/build/record"
	"slipleaf/build/spelling"
)

type reportCmd struct {
	Who     string `arg:"" help:"Who reports: a name or part of one, the parcel's code (or the start of it), its record or the care-sheet link."`
	Outcome string `arg:"" help:"arrived, planted, melting, rooted, growing, established, trimmed, passed-on, lost or lost-in-post."`
	Alive   *int   `placeholder:"N" help:"How many are alive."`
	Date    string `placeholder:"DATE" help:"The day of the report (default: the day to act for)."`
	Lot     string `placeholder:"LOT" help:"Which plant of a parcel that holds several (default: all of them)."`
	Cause   string `help:"Why they died."`
	Water   string `placeholder:"LINES" help:"Their water now, as in \"gh: 8 dGH, kh: 5 dKH\"."`
	In      string `placeholder:"DIR" help:"The journal (default: content, or the current folder)."`
	On      string `placeholder:"DATE" help:"Treat this date as today."`
}

// Run appends a report to a parcel's record.
func (c reportCmd) Run(ctx context.Context, w world) error {
	outcome, err := knownOutcome(c.Outcome)
	if err != nil {
		return err
	}
	water, notes, err := block.Lines(c.Water)
	if err != nil {
		return wrongUse("--water: %v", err)
	}
	if len(notes) > 0 {
		return wrongUse("--water: %s", notes[0].Text)
	}
	return atDesk(ctx, w, c.In, c.On, func(d *desk) error {
		p, err := d.sentTo(c.Who)
		if err != nil {
			return err
		}
		if c.Lot != "" {
			if p = plantOf(p, c.Lot); !strings.EqualFold(p.Lot, c.Lot) {
				return declined("said.not-in-parcel", "{lot} is not in that parcel", "lot", c.Lot)
			}
			c.Lot = p.Lot // as it is written there
		}
		on := d.on
		if c.Date != "" {
			if on, err = quantity.ParseDate(c.Date); err != nil {
				return wrongUse("--date: %v", err)
			}
		}
		if err := c.sense(p, outcome, on, d.latest()); err != nil {
			return err
		}
		if slices.ContainsFunc(p.Reports, func(r journal.Report) bool { return c.same(r, outcome, on) }) && c.Water == "" {
			w.says("said.recorded", "{file}: {outcome} on {day} is recorded already; nothing was changed", "file", shownPath(d.dir, p.Path), "outcome", outcome, "day", on)
			return nil
		}
		return c.append(ctx, d, p, c.line(outcome, on, water.Water))
	})
}

// knownOutcome refuses a word that is no outcome, with the nearest one.
func knownOutcome(word string) (string, error) {
	all := journal.Outcomes()
	if slices.Contains(all, strings.ToLower(word)) {
		return strings.ToLower(word), nil
	}
	hint := "; it is one of " + strings.Join(all, ", ")
	if near := spelling.Hint(word, all); near != "" {
		hint = "; " + near
	}
	return "", wrongUse("%q is not an outcome%s", word, hint)
}

// sentTo is the parcel that WHO reports on.
func (d *desk) sentTo(who string) (*journal.Parcel, error) {
	found := d.find(who)
	sent := those(found, func(p *journal.Parcel) bool { return !p.Sent.IsZero() })
	switch {
	case len(found) == 0:
		return nil, nobody(who)
	case len(sent) == 0:
		return nil, declined("said.not-sent", "what fits \"{who}\" is reserved, but not sent; when it goes out: slipleaf send {arg}", "who", who, "arg", strconv.Quote(who))
	case len(sent) > 1 && !sameRecord(sent):
		return nil, d.several(who, sent)
	}
	return sent[0], nil
}

// sameRecord reports whether all are plants of one parcel: a report is then for all of them, or for the one that --lot names.
func sameRecord(of []*journal.Parcel) bool {
	return !slices.ContainsFunc(of, func(p *journal.Parcel) bool { return p.Path != of[0].Path })
}

// plantOf is the plant of a lot in a parcel of several; the parcel itself where it holds one.
func plantOf(p *journal.Parcel, lot string) *journal.Parcel {
	if p == nil {
		return nil
	}
	for _, one := range p.Together {
		if strings.EqualFold(one.Lot, lot) {
			return one
		}
	}
	return p
}

// sense refuses what cannot be, in plainer words than the reader of files has.
func (c reportCmd) sense(p *journal.Parcel, outcome string, on, today quantity.Date) error {
	switch {
	case on.Before(p.Sent):
		return declined("said.report-early", "{day} is before the parcel was sent, on {sent}", "day", on, "sent", p.Sent)
	case on.After(today):
		return wrongUse("%s is in the future", on)
	case c.Alive != nil && *c.Alive < 0:
		return declined("said.alive-negative", "--alive cannot be negative")
	case c.Alive != nil && c.Lot == "" && len(p.Together) > 1:
		return declined("said.alive-which", "--alive counts one plant; the parcel holds {plants}: say which with --lot", "plants", countedPlants(p.Together))
	case c.Alive != nil && *c.Alive > p.Count && outcome != "passed-on" && outcome != "trimmed":
		return declined("said.alive-many", "--alive {alive}: only {n} were sent", "alive", *c.Alive, "n", p.Count)
	case c.Alive != nil && *c.Alive > 0 && (outcome == "lost" || outcome == journal.LostInPost):
		return declined("said.alive-lost", "\"{outcome}\" means none are alive, but you gave --alive {alive}", "outcome", outcome, "alive", *c.Alive)
	case c.Cause != "" && outcome != "lost":
		return wrongUse("--cause is only for lost, but the outcome is %s", outcome)
	}
	return nil
}

// same reports whether a recorded report says what this one does.
func (c reportCmd) same(r journal.Report, outcome string, on quantity.Date) bool {
	alive := c.Alive == nil && r.Alive == nil || c.Alive != nil && r.Alive != nil && *c.Alive == *r.Alive
	return alive && r.Outcome == outcome && r.Date == on && r.Cause == strings.TrimSpace(c.Cause)
}

// line is the report as an item of a list.
func (c reportCmd) line(outcome string, on quantity.Date, water journal.Parameters) string {
	alive := ""
	if c.Alive != nil {
		alive = strconv.Itoa(*c.Alive)
	}
	return record.ReportLine(on, c.Lot, outcome, alive, c.Cause, water)
}

// append puts the report into the record, and writes it only if the record then says exactly one report more.
func (c reportCmd) append(ctx context.Context, d *desk, p *journal.Parcel, line string) error {
	x := newDraft(d)
	if err := x.edit(p, p.Record(), "add this line by hand under reports:\n  - "+line, record.WithReport(line)); err != nil {
		return err
	}
	if err := x.commit(ctx, "report of "+path.Base(p.Path), func(_, now *journal.Parcel) bool {
		return len(plantOf(now, p.Lot).Reports) == len(p.Reports)+1
	}); err != nil {
		return err
	}
	d.w.says("said.reported", "{file}: {line}", "file", shownPath(d.dir, p.Path), "line", line)
	return nil
}
