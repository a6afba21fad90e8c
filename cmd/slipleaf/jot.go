package main

import (
	"bytes"
	"cmp"
	"context"
	"fmt"
	"os"
	"os/exec"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strings"

	"slipleaf/build/almanac"
	"slipleaf/build/change"
	"slipleaf/build/compose"
	"slipleaf/build/growth"
	"slipleaf/build/interview"
	"slipleaf/build/journal"
	"slipleaf/build/ledger"
	"slipleaf/build/spelling"
)

type jotCmd struct {
	Tank  string `arg:"" help:"The tank that the entry is about."`
	Slug  string `placeholder:"NAME" help:"A name for the entry, where the day has one already."`
	In    string `placeholder:"DIR" help:"The journal (default: content, or the current folder)."`
	On    string `placeholder:"DATE" help:"Date of the entry (default: today)."`
	Edit  bool   `help:"Open it in $EDITOR."`
	Ask   bool   `help:"Ask for each reading, count, cut and offer in turn; Enter leaves a blank."`
	Paste string `placeholder:"FILE" help:"Take the whole entry from a file, as a form composed it; - reads what is pasted."`
}

var slugName = regexp.MustCompile(`^[a-z0-9-]+$`)

// Run makes a new entry with blanks for what may be said of the tank, and says what was found last and what is due.
func (c jotCmd) Run(ctx context.Context, w world) error {
	if c.Slug != "" && !slugName.MatchString(c.Slug) {
		return wrongUse("--slug %s: an entry's name is made of a-z, 0-9 and hyphens", c.Slug)
	}
	var file string
	err := atDesk(ctx, w, c.In, c.On, func(d *desk) error {
		t, ok := d.journal.Tank(c.Tank)
		if !ok {
			return d.noTank(c.Tank)
		}
		name := d.on.String()
		if c.Slug != "" {
			name += "-" + c.Slug
		}
		rel := path.Join("tanks", t.ID, name+".md")
		data := []byte(compose.Blank(d.journal, t, d.on))
		if c.Ask {
			e := interview.Entry(w.In, w.Err, d.journal, t, d.on, func(id string) string { return cmp.Or(d.species(id).Common, id) })
			if e.Empty() {
				fmt.Fprintln(w.Err, "nothing was filled in, and nothing written")
				return nil
			}
			data = []byte(e.Text())
		} else if c.Paste != "" {
			var err error
			if data, err = pasted(w, c.Paste); err != nil {
				return err
			}
		}
		file = filepath.Join(d.dir, filepath.FromSlash(rel))
		if _, err := os.Lstat(file); err == nil {
			return wrongUse("%s already exists; name this one with --slug", shownPath(d.dir, rel))
		}
		entry := change.File{Path: rel, After: data}
		if _, err := d.holds(ctx, entry); err != nil {
			return err
		}
		if err := d.write(ctx, "jot "+t.ID, []change.File{entry}); err != nil {
			return err
		}
		fmt.Fprintln(w.Out, shownPath(d.dir, rel))
		if c.Paste == "" && !c.Ask {
			d.sayLast(t)
		}
		return nil
	})
	if err != nil || !c.Edit {
		return err
	}
	return edit(ctx, w, file)
}

// mostPasted is the most that an entry may hold, as the reader of journals has it.
const mostPasted = 1 << 20

// pasted is an entry that was composed elsewhere. The journal's reader judges it like any other.
func pasted(w world, name string) ([]byte, error) {
	data, err := typed(w, "--paste", name, mostPasted)
	switch data = bytes.TrimSpace(bytes.ReplaceAll(data, []byte("\r\n"), []byte("\n"))); {
	case err != nil:
		return nil, err
	case len(data) > mostPasted:
		return nil, wrongUse("--paste: that is more than an entry may hold: 1 MB")
	case !bytes.HasPrefix(data, []byte("---\n")):
		return nil, wrongUse("--paste: an entry begins with a line of ---")
	}
	return append(data, '\n'), nil
}

// sayLast says what was found last, and what is due, to whoever fills an entry in.
func (d *desk) sayLast(t *journal.Tank) {
	for _, part := range []struct {
		head  string
		lines []string
	}{{"Last time:", d.last(t)}, {"Due:", d.tasks(t)}} {
		if len(part.lines) > 0 {
			fmt.Fprintf(d.w.Err, "%s\n  %s\n", part.head, strings.Join(part.lines, "\n  "))
		}
	}
}

func (d *desk) noTank(id string) error {
	var ids []string
	for _, t := range d.journal.Tanks {
		ids = append(ids, t.ID)
	}
	if hint := spelling.Hint(id, ids); hint != "" {
		return wrongUse("there is no tank %s; %s", id, hint)
	}
	return wrongUse("there is no tank %s; there are: %s", id, strings.Join(ids, ", "))
}

// edit opens the file in the editor that the environment names.
func edit(ctx context.Context, w world, file string) error {
	words := strings.Fields(w.Env("EDITOR"))
	if len(words) == 0 {
		return wrongUse("--edit: EDITOR is not set; the entry is written")
	}
	cmd := exec.CommandContext(ctx, words[0], append(words[1:], file)...)
	cmd.Stdin, cmd.Stdout, cmd.Stderr = os.Stdin, w.Out, w.Err
	return cmd.Run()
}

// last says on the terminal what was found last, beside an entry whose blanks are to be filled in.
func (d *desk) last(t *journal.Tank) []string {
	var out []string
	water := t.WaterOn(d.on)
	keys, values := water.Texts()
	newest := water.Newest()
	for i, key := range keys {
		if values[i] = key + " " + values[i]; water.Days[key] != newest {
			values[i] += " (" + water.Days[key].String() + ")"
		}
	}
	if len(values) > 0 {
		out = append(out, fmt.Sprintf("water on %s: %s", newest, strings.Join(values, ", ")))
	}
	for _, s := range journal.Standing(t.Entries, d.on) {
		what := "counted"
		if s.Planted {
			what = "planted"
		}
		var found []string
		for _, p := range compose.Amounts(s.Amount) {
			found = append(found, p.Key+" "+p.Value)
		}
		out = append(out, fmt.Sprintf("%s, %s on %s: %s", s.Plant, what, s.On, strings.Join(found, ", ")))
	}
	return out
}

// dueDays is within how many days what is due is said: a week, which is how often a tank is looked at.
const dueDays = 7

// tasks lists what is due at a tank: trims whose window has begun, lots that are to come, reservations that end soon.
func (d *desk) tasks(t *journal.Tank) []string {
	facts := growth.New(d.journal, d.species, d.on)
	var out []string
	for _, g := range facts.InTank(t.ID) {
		if w := g.Next; g.Standing() && w.Known() && !w.Low.After(d.on.Add(dueDays)) {
			out = append(out, fmt.Sprintf("trim %s: likely between %s and %s", g.Plant, w.Low, w.High))
		}
	}
	for _, l := range ledger.New(d.journal, d.on, facts.Forecast).Offered() {
		if l.Tank != t.ID {
			continue
		}
		if l.Expected && l.Window.Known() && !l.Window.Best.After(d.on.Add(dueDays)) {
			out = append(out, fmt.Sprintf("count lot %s, which was expected", l.ID))
		}
		for _, p := range l.Reservations {
			if !p.Lapses.After(d.on.Add(dueDays)) {
				out = append(out, fmt.Sprintf("send %d of lot %s, reserved on %s; the reservation ends on %s", p.Count, l.ID, p.On, p.Lapses))
			}
		}
	}
	slices.Sort(out)
	return out
}

// species is a plant as the journal knows it.
func (d *desk) species(id string) almanac.Species {
	if own, ok := d.journal.Plant(id); ok {
		s := d.names.Introduce(id, own.Taxon, own.Common, own.Profile)
		s.ID = id
		return s
	}
	s, _ := d.names.Species(id)
	s.ID = id
	return s
}
