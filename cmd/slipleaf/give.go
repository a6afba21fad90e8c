package main

import (
	"bytes"
	"cmp"
	"context"
	"encoding/json"
	"fmt"
	"slices"
	"strings"

	"slipleaf/build/change"
	"slipleaf/build/journal"
	"slipleaf/build/page"
	"slipleaf/build/papers"
	"slipleaf/build/site"
	"slipleaf/build/words"
)

// given is one plant of a parcel: what its sheet says, and where the record, the sheet and the label are.
type given struct {
	Lot    string `json:"lot"`
	Count  int    `json:"count"`
	Left   int    `json:"left"`
	Code   string `json:"code,omitempty"`
	Record string `json:"record,omitempty"`
	Sheet  string `json:"sheet,omitempty"`
	Label  string `json:"label,omitempty"`
	papers.Outlook

	form, plant string // what kind of pieces, and the plant's name
	byHand      bool
	ownTank     bool // the sheet is made for a tank or water of theirs
}

// dispatch is what the commands print.
type dispatch struct {
	DryRun  bool    `json:"dry-run,omitempty"` // nothing was written
	Parcels []given `json:"parcels"`
	Message string  `json:"message,omitempty"`
}

// give judges the changes together, says what the sheets will say, writes the changes, and says what to tell the recipient.
func (c giving) give(ctx context.Context, d *desk, x *draft, sent bool) error {
	changes := x.files
	j, err := x.judged(ctx, func(was, now *journal.Parcel) bool { return d.asMeant(was, now, sent) })
	if err != nil {
		return err
	}
	if err := c.posted(d, j, changes, sent); err != nil {
		return err
	}
	b, err := site.Link(d.fsys, j, d.names, site.Options{On: d.on, Memory: d.w.memory})
	if err != nil {
		return err
	}
	before := d.journal
	d.journal = j
	out := dispatch{DryRun: c.DryRun}
	for _, f := range changes {
		if _, err := b.Theme.In(recordIn(j, f.Path).Language); err != nil {
			return declined("said.language", "--language: {why}", "why", err)
		}
		out.Parcels = append(out.Parcels, d.given(b, f)...)
	}
	if !c.JSON {
		sayOutlooks(d.w, b.Locale(), out.Parcels)
	}
	if c.DryRun {
		return c.print(d.w, out.unwritten())
	}
	d.journal = before
	if err := c.confirmed(d.w); err != nil {
		return err
	}
	verb := "reserve"
	if sent {
		verb = "send"
	}
	if err := d.write(ctx, verb+" "+countedLots(j, changes), x.all()); err != nil {
		return err
	}
	d.journal = j
	d.account()
	if j.Address == "" {
		fmt.Fprintln(d.w.Err, "note: the links are not whole yet: set address: in journal.yaml to where the site will be, as in https://bench.example/")
	}
	out.Message = answer(speech(b, recordIn(j, changes[0].Path)), out.Parcels, sent, d.on.Add(j.HoldDays()))
	return c.print(d.w, out)
}

// posted refuses to post in a month in which the grower posts nothing: it is too cold then, or too hot.
func (c giving) posted(d *desk, j *journal.Journal, changes []change.File, sent bool) error {
	if !sent || c.Anyway || len(j.PostMonths) == 0 || slices.Contains(j.PostMonths, int(d.on.Month)) {
		return nil
	}
	for _, f := range changes {
		if p := recordIn(j, f.Path); p.How == "post" && p.Sent == d.on && !bytes.Equal(f.Before, f.After) {
			return declined("said.no-post", "nothing was written: journal.yaml says that nothing is posted in {month}; hand them over (--how by-hand), or add --anyway", "month", d.on.Month)
		}
	}
	return nil
}

// given are the plants of a record as it will be.
func (d *desk) given(b *page.Site, f change.File) []given {
	first := recordIn(d.journal, f.Path)
	sheet := strings.TrimSuffix(d.journal.Address, "/") + page.SheetAddr(first.Code)
	looks := b.Papers(first).Outlooks()
	var out []given
	for i, p := range first.Plants() {
		g := given{Lot: p.Lot, Count: p.Count, Left: d.left(p.Lot, nil), Code: p.Code, Record: shownPath(d.dir, f.Path), Sheet: sheet, Label: sheet + "label/", Outlook: looks[i]}
		if i > 0 {
			g.Label += p.Lot + "/"
		}
		g.byHand, g.ownTank = p.How == "by-hand", p.Tank != nil || p.Water != (journal.Parameters{})
		if lot, ok := d.journal.Lot(p.Lot); ok {
			g.form, g.plant = cmp.Or(lot.Form, "portions"), d.plantName(lot.Plant)
		}
		out = append(out, g)
	}
	return out
}

// unwritten is what a dry run has to say: a code that nobody wrote down is none.
func (out dispatch) unwritten() dispatch {
	for i := range out.Parcels {
		g := &out.Parcels[i]
		g.Code, g.Record, g.Sheet, g.Label = "", "", "", ""
	}
	return out
}

// sayOutlooks prints what the sheet says of each plant; what it says of several is once.
func sayOutlooks(w world, v words.Locale, plants []given) {
	said := map[string]bool{}
	once := func(kind, text, source string) {
		if !said[text] {
			fmt.Fprintf(w.Out, "  %s: %s\n", kind, strings.TrimSpace(text+" "+source))
		}
		said[text] = true
	}
	for _, g := range plants {
		fmt.Fprintf(w.Out, "%s: %s\n", g.what(v), g.Sentence)
		for _, l := range g.Law {
			once("law", l.Text, l.Source)
		}
		for _, rule := range g.Post {
			once("post", rule, "")
		}
		for _, warning := range g.Warnings {
			once("note", warning, "")
		}
	}
	fmt.Fprintln(w.Out)
}

func (c giving) print(w world, out dispatch) error {
	if c.JSON {
		return json.NewEncoder(w.Out).Encode(out)
	}
	for i, g := range out.Parcels {
		if g.Record != "" && (i == 0 || out.Parcels[i-1].Record != g.Record) {
			fmt.Fprintf(w.Out, "record  %s\nsheet   %s\n", g.Record, g.Sheet)
		}
		if g.Label != "" {
			fmt.Fprintf(w.Out, "label   %s\n", g.Label)
		}
		would := "has"
		if out.DryRun {
			would = "would have"
		}
		fmt.Fprintf(w.Out, "%s %s %d left.\n", g.Lot, would, g.Left)
	}
	if out.DryRun {
		fmt.Fprintln(w.Out, "\nNothing was written.")
		return nil
	}
	fmt.Fprintf(w.Out, "\nTo paste into your answer:\n\n%s", out.Message)
	return nil
}

// asMeant reports whether a record has a code and, where it is no correction of what is known of the recipient, the day.
func (d *desk) asMeant(was, now *journal.Parcel, sent bool) bool {
	if now.Code == "" || was != nil && was.Reserved == now.Reserved && was.Sent == now.Sent {
		return now.Code != ""
	}
	return !sent && now.Reserved == d.on || sent && now.Sent == d.on
}

func stateKey(sent bool) string {
	if sent {
		return "sent"
	}
	return "reserved"
}

// countedLots names the plants of some records: "6 of HZ-0418, 1 of AB-1115".
func countedLots(j *journal.Journal, files []change.File) string {
	var all []*journal.Parcel
	for _, f := range files {
		if p := recordIn(j, f.Path); p != nil {
			all = append(all, p.Plants()...)
		}
	}
	return countedPlants(all)
}

func countedPlants(all []*journal.Parcel) string {
	var out []string
	for _, p := range all {
		switch {
		case p.Lot != "":
			out = append(out, fmt.Sprintf("%d of %s", p.Count, p.Lot))
		case p.Count > 0:
			out = append(out, fmt.Sprintf("%d %s", p.Count, p.Plant))
		default: // who waits may not say how many
			out = append(out, p.Plant)
		}
	}
	return strings.Join(out, ", ")
}
