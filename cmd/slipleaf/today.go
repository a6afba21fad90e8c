package main

import (
	"bytes"
	"cmp"
	"context"
	_ "embed"
	"fmt"
	"io"
	"os"
	"path/filepath"

	grower "slipleaf/build/desk"
	"slipleaf/build/disk"
	"slipleaf/build/growth"
	"slipleaf/build/journal"
	"slipleaf/build/page"
	"slipleaf/build/quantity"
	"slipleaf/build/site"
)

type todayCmd struct {
	Dir   string `arg:"" optional:"" help:"The journal (default: content, or the current folder)."`
	On    string `placeholder:"DATE" help:"Treat this date as today."`
	JSON  bool   `name:"json" help:"Print the list as JSON."`
	Print bool   `help:"Write it as a page for paper: Saturday's trim list and the page for whoever minds the tanks. Private: it names recipients."`
	To    string `placeholder:"FILE" help:"Where --print writes it (default: today.html)."`

	Messages bool `help:"Also print what to write to each of those who are asked for news."`
	NoNames  bool `help:"Name records instead of people, where others see the screen."`
}

// Run lists what to trim, what is ready and whom to ask for news.
func (c todayCmd) Run(ctx context.Context, w world) error {
	in, err := w.open(c.Dir, c.On)
	if err != nil {
		return err
	}
	defer in.close()
	b, cs, err := site.Load(ctx, in.fsys, site.Options{On: in.on, Zone: knownZone})
	if err != nil {
		return err
	}
	if b == nil {
		showComplaints(w, in.dir, in.fsys, cs, "what is due is not known")
		return errJournal
	}
	t := b.All.Growth.TodayOf(b.All.Journal, b.All.Ledger, b.Species)
	switch {
	case c.JSON:
		return w.printJSON(struct {
			growth.Today
			Waiting []todayWait `json:"waiting"`
		}{t, waitsOf(b)})
	case c.Print:
		return c.print(w, b, t)
	}
	c.writeToday(w.Out, b)
	return nil
}

// writeToday writes the list for a terminal, in the language of the journal.
func (c todayCmd) writeToday(to io.Writer, b *page.Site) {
	who := grower.NameIn
	if c.NoNames {
		who = recordOf
	}
	fmt.Fprintf(to, "%s\n", b.Locale().Date(b.All.On))
	parts := grower.Due(b, who)
	for _, p := range parts {
		fmt.Fprintln(to, p.Head)
		for _, l := range p.Lines {
			fmt.Fprintf(to, "  %s\n", plainSpaces(l.Text))
			if l.Message != "" && (p.Key != "ask" || c.Messages) {
				fmt.Fprintf(to, "    > %s\n", plainSpaces(l.Message))
			}
		}
	}
	if len(parts) == 0 {
		fmt.Fprintln(to, b.Locale().Text("desk.nothing-due"))
	}
}

// print writes the page for paper to a file that only its owner can read, and says where.
func (c todayCmd) print(w world, b *page.Site, t growth.Today) error {
	file := cmp.Or(c.To, "today.html")
	if file == "-" {
		return grower.Paper(w.Out, b, t)
	}
	var page bytes.Buffer
	if err := grower.Paper(&page, b, t); err != nil {
		return err
	}
	if err := putPrivate(file, page.Bytes()); err != nil {
		return err
	}
	w.note(file)
	fmt.Fprintf(w.Out, "%s: for paper; it names people\n", file)
	return nil
}

// putPrivate writes a file that only its owner can read. Of what lies there, a plain file alone is replaced: a link may come
// with a journal from elsewhere, and lead to a file of the grower's own.
func putPrivate(file string, data []byte) error {
	root, err := os.OpenRoot(filepath.Dir(file))
	if err != nil {
		return err
	}
	defer root.Close()
	name := filepath.Base(file)
	if info, err := root.Lstat(name); err == nil && !info.Mode().IsRegular() {
		return fmt.Errorf("%s is %s, and is left as it is: name another file with --to", file, disk.KindOf(info.Mode()))
	}
	return disk.Replace(root, name, data, disk.Private)
}

// todayWait is somebody on a waiting list, by the record.
type todayWait struct {
	Record string        `json:"record"`
	Plant  string        `json:"plant"`
	Asked  quantity.Date `json:"asked"`
	Count  int           `json:"count,omitempty"` // that they asked for
	Lot    string        `json:"lot,omitempty"`   // ready, and they are next for it
}

func waitsOf(b *page.Site) []todayWait {
	out := []todayWait{}
	for _, x := range b.Waits() {
		t := todayWait{Record: x.Parcel.Path, Plant: x.Parcel.Plant, Asked: x.Parcel.Asked, Count: x.Parcel.Count}
		if x.Lot != nil {
			t.Lot = x.Lot.ID
		}
		out = append(out, t)
	}
	return out
}

// recordOf names a recipient by the file of the record, for a terminal that others may see.
func recordOf(_ *journal.Journal, record string) string { return record }
