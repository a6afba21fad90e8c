package main

import (
	"bytes"
	"context"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"

	"slipleaf/build/almanac"
	"slipleaf/build/change"
	"slipleaf/build/journal"
	"slipleaf/build/ledger"
	"slipleaf/build/quantity"
)

// desk is an open journal that a command writes to: read once, under a lock, so that what it decides still holds when
// it writes.
type desk struct {
	folder
	w       world
	today   quantity.Date // the day to judge changes by besides, with all that is recorded later
	files   *change.Desk
	names   *almanac.Almanac
	journal *journal.Journal
	ledger  *ledger.Ledger // of the day to act for
}

// atDesk opens the journal that --in names, waits for its turn, and calls f. A journal with errors is shown and left
// alone: an unread entry may hold the lot that is asked for.
func atDesk(ctx context.Context, w world, in, on string, f func(d *desk) error) error {
	o, err := w.open(in, on)
	if err != nil {
		return err
	}
	defer o.close()
	if err := notDemonstration(in, o.dir, "--in "); err != nil {
		return err
	}
	if asked, err := w.unheld(on, o.fsys); err == nil && on != "" && asked != o.on {
		return wrongUse("this journal is held at %s: to go on with it, take made-for out of journal.yaml", o.on)
	}
	today, err := w.day("", o.fsys)
	if err != nil {
		return err
	}
	return alone(ctx, o.dir, func(files *change.Desk) error {
		d := &desk{folder: o, w: w, today: today, files: files}
		if d.names, err = almanac.Open(); err != nil {
			return fmt.Errorf("almanac: %w", err)
		}
		j, complaints, err := journal.Read(ctx, o.fsys, d.names, journal.Options{On: o.on, Zone: knownZone})
		if err != nil {
			return err
		}
		if wrong := d.show(complaints, o.fsys); len(wrong) > 0 {
			fmt.Fprintln(w.Err, journalWrong)
			return useError{journalWrong, wrong}
		}
		d.journal = j
		d.account()
		return f(d)
	})
}

// show prints the errors among what is complained of, and gives them.
func (d *desk) show(cs journal.Complaints, fsys fs.FS) journal.Complaints {
	wrong := cs.Only(journal.Error)
	showAll(d.w.Err, d.dir, fsys, wrong, d.w.colour())
	return wrong
}

// account works out the lots of the journal as it is now.
func (d *desk) account() { d.ledger = ledger.New(d.journal, d.on, nil) }

// latest is the last day that a report may be of.
func (d *desk) latest() quantity.Date {
	if d.on.After(d.today) {
		return d.on
	}
	return d.today
}

// left is how many plants of a lot can be given: as many as are left on each of the days on which it is judged. What the
// parcel but holds is counted as left; nil: none.
func (d *desk) left(id string, but *journal.Parcel) int {
	lot, ok := d.journal.Lot(id)
	if !ok || lot.Expected {
		return 0
	}
	of := those(d.journal.Parcels, func(p *journal.Parcel) bool { return p.Lot == id })
	least := lot.Count
	for _, day := range lot.Judged(of, d.on, d.today) {
		left := lot.Count
		given, lost := lot.Hand(of, day, d.journal.HoldDays())
		for _, t := range slices.Concat(given, lost) {
			if but == nil || t.Parcel != but {
				left -= t.Takes
			}
		}
		least = min(least, left)
	}
	return least
}

// recordIn is the record of a file; nil for none.
func recordIn(j *journal.Journal, file string) *journal.Parcel {
	if i := slices.IndexFunc(j.Parcels, func(p *journal.Parcel) bool { return p.Path == file }); i >= 0 {
		return j.Parcels[i]
	}
	return nil
}

// notDemonstration refuses to write into the demonstration that lies beside the program's source, unless it was named.
func notDemonstration(named, dir, flag string) error {
	if named == "" && besideSource(dir) {
		return wrongUse("%s is the demonstration journal of this program's source; name your own with %sDIR, or %s%s to write into this one", dir, flag, flag, dir)
	}
	return nil
}

// besideSource reports whether a journal is the folder content beside this program's source, which is no diary of anybody.
func besideSource(dir string) bool {
	whole, err := filepath.Abs(dir)
	if err != nil || filepath.Base(whole) != "content" {
		return false
	}
	mod, err := os.ReadFile(filepath.Join(filepath.Dir(whole), "go.mod"))
	return err == nil && bytes.HasPrefix(mod, []byte("module slipleaf\n"))
}
