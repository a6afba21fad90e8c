package main

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"slipleaf/build/almanac"
	"slipleaf/build/change"
	"slipleaf/build/compose"
	"slipleaf/build/growth"
	"slipleaf/build/journal"
	"slipleaf/build/ledger"
	"slipleaf/build/quantity"
	"slipleaf/build/spelling"
)

type jotCmd struct {
	Tank  string `arg:"" help:"The tank that the entry is about."`
	Slug  string `placeholder:"NAME" help:"A name for the entry, where the day has one already."`
	In    string `placeholder:"DIR" help:"The journal (default: content, or the current folder)."`
	On    string `placeholder:"DATE" help:"Date of the entry (default: today)."`
	Edit  bool   `help:"Open it in $EDITOR."`
	Paste string `placeholder:"FILE" help:"Take the whole entry from a file, as a form composed it; - reads what is pasted."`
}

var slugName = regexp.MustCompile(`^[a-z0-9-]+$`)

// Run makes a new entry, with what was last measured and what is due in its head. It publishes as it stands: what is to
// be filled in stands behind #.
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
		data := []byte(d.entryText(t))
		if c.Paste != "" {
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
	from := w.In
	if name != "-" {
		f, err := os.Open(name)
		if err != nil {
			return nil, err
		}
		defer f.Close()
		from = f
	}
	data, err := io.ReadAll(io.LimitReader(from, mostPasted+1))
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

// inTitle is a tank's name within a line: "The shelf tank" loses its capital.
func inTitle(name string) string {
	if rest, ok := strings.CutPrefix(name, "The "); ok {
		return "the " + rest
	}
	return name
}

// entryText is the new entry.
func (d *desk) entryText(t *journal.Tank) string {
	var b strings.Builder
	fmt.Fprintf(&b, "---\ntitle: %s\n", compose.Quoted(d.on.Weekday().String()+", "+inTitle(t.Name)))
	if names, last := d.lastMeasured(t); names != "" {
		fmt.Fprintf(&b, "# Remove the # from lines you fill in. %s\n# parameters: {%s}\n", last, names)
	}
	if counts := d.countsDue(t); len(counts) > 0 {
		b.WriteString("# counts:\n")
		for _, c := range counts {
			b.WriteString("#   " + c + "\n")
		}
	}
	if tasks := d.tasks(t); len(tasks) > 0 {
		b.WriteString("# Due:\n")
		for _, s := range tasks {
			b.WriteString("#   - " + s + "\n")
		}
	}
	b.WriteString("---\n\n")
	return b.String()
}

// lastMeasured names the parameters that were measured, and says what was found last of each.
func (d *desk) lastMeasured(t *journal.Tank) (names, last string) {
	w := t.WaterOn(d.on)
	keys, values := w.Texts()
	if len(keys) == 0 {
		return "", ""
	}
	newest := w.Newest()
	for i, key := range keys {
		if values[i] = key + " " + values[i]; w.Days[key] != newest {
			values[i] += " (" + w.Days[key].String() + ")"
		}
	}
	return strings.Join(keys, ": , ") + ":", fmt.Sprintf("On %s: %s.", newest, strings.Join(values, ", "))
}

// countEvery is after how many days a plant is due for a count: our choice, so that a growth rate has its four dates in
// a month.
const countEvery = 7

// countsDue lists the plants that were not counted for a week, in the measure of their last count.
func (d *desk) countsDue(t *journal.Tank) []string {
	last := map[string]journal.Count{}
	when := map[string]quantity.Date{}
	for _, e := range t.Entries {
		for _, c := range e.Counts {
			if !e.Date.After(d.on) {
				last[c.Plant], when[c.Plant] = c, e.Date
			}
		}
	}
	var out []string
	for id, c := range last {
		if d.on.Since(when[id]) < countEvery || gone(c.Amount) {
			continue
		}
		blank, found := countKeys(c)
		out = append(out, fmt.Sprintf("- {plant: %s, %s}  # %s: %s", id, strings.Join(blank, ", "), when[id], strings.Join(found, ", ")))
	}
	slices.Sort(out)
	return out
}

// gone tells whether the last count found nothing.
func gone(a journal.Amount) bool {
	zero := func(n *int) bool { return n == nil || *n == 0 }
	return zero(a.Stems) && zero(a.Plantlets) && zero(a.Leaves) && a.Cover.High() == 0 && a.Mass.High() == 0
}

// countKeys lists the keys of a count without their values, and what the count found.
func countKeys(c journal.Count) (blank, found []string) {
	whole := func(key string, n *int) {
		if n != nil {
			blank, found = append(blank, key+": "), append(found, key+" "+strconv.Itoa(*n))
		}
	}
	whole("stems", c.Stems)
	whole("plantlets", c.Plantlets)
	whole("leaves", c.Leaves)
	for _, r := range []struct{ key, value string }{{"length", c.Length.String()}, {"cover", c.Cover.String()}, {"mass", c.Mass.String()}} {
		if r.value != "" {
			blank, found = append(blank, r.key+": "), append(found, r.key+" "+r.value)
		}
	}
	if c.Area.Known() {
		blank = append(blank, "area: "+c.Area.String())
	}
	for i := range blank {
		blank[i] = strings.TrimSpace(blank[i])
	}
	return blank, found
}

// tasks lists what is due at a tank: trims whose window has begun, lots that are to come, reservations that end soon.
func (d *desk) tasks(t *journal.Tank) []string {
	facts := growth.New(d.journal, d.species, d.on)
	var out []string
	for _, g := range facts.InTank(t.ID) {
		if w := g.Next; g.Standing() && w.Known() && !w.Low.After(d.on.Add(countEvery)) {
			out = append(out, fmt.Sprintf("trim %s: likely between %s and %s", g.Plant, w.Low, w.High))
		}
	}
	for _, l := range ledger.New(d.journal, d.on, facts.Forecast).Offered() {
		if l.Tank != t.ID {
			continue
		}
		if l.Expected && l.Window.Known() && !l.Window.Best.After(d.on.Add(countEvery)) {
			out = append(out, fmt.Sprintf("count lot %s, which was expected", l.ID))
		}
		for _, p := range l.Reservations {
			if !p.Lapses.After(d.on.Add(countEvery)) {
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
