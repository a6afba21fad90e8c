package main

import (
	"bufio"
	"cmp"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"slipleaf/build/almanac"
	"slipleaf/build/block"
	"slipleaf/build/ledger"
	"slipleaf/build/page"
	"slipleaf/build/quantity"
	"slipleaf/build/spelling"
)

type sendCmd struct {
	Lot     string `arg:"" help:"The lot that the plants come from."`
	Count   int    `arg:"" help:"How many."`
	Promise bool   `help:"Promise them only; nothing goes out yet."`
	From    string `placeholder:"FILE" help:"The recipient's message, or - to read it from a pipe: its block tells of the tank."`
	Water   string `placeholder:"LINES" help:"Their water, as in \"temperature: 24 C, gh: 8 dGH\"."`
	Tank    string `placeholder:"LINES" help:"Their tank, as in \"tank length: 60 cm, co2: no\"."`
	Units   string `enum:"metric,us," default:"" help:"The units that they use: metric or us."`
	Region  string `placeholder:"CODE" help:"Where they live: GB, US-OH."`
	Name    string `help:"Whom they go to. It stays in the private part of the record."`
	How     string `enum:"post,by-hand," default:"" help:"post or by-hand."`
	In      string `placeholder:"DIR" help:"The journal (default: content, or the current folder)."`
	On      string `placeholder:"DATE" help:"The day to act for (default: today)."`
	Law     bool   `name:"law-checked" help:"Send even though the plant is on a list where they live, because you have checked that it is allowed."`
	JSON    bool   `name:"json" help:"Print what was done as JSON."`
}

// dispatch is what send prints.
type dispatch struct {
	Lot     string `json:"lot"`
	Count   int    `json:"count"`
	Left    int    `json:"left"`
	Code    string `json:"code"`
	Record  string `json:"record"`
	Sheet   string `json:"sheet"`
	Label   string `json:"label"`
	Message string `json:"message"`
}

// Run records plants going out.
func (c sendCmd) Run(ctx context.Context, w world) error {
	if c.Count < 1 {
		return wrongUse("%d is no count; at least one plant goes out", c.Count)
	}
	about, err := c.about(w)
	if err != nil {
		return err
	}
	var done dispatch
	err = atDesk(ctx, w, c.In, c.On, func(d *desk) error {
		done, err = c.record(ctx, d, about)
		return err
	})
	if err != nil {
		return err
	}
	if c.JSON {
		return json.NewEncoder(w.Out).Encode(done)
	}
	fmt.Fprintf(w.Out, "record  %s\nsheet   %s\nlabel   %s\n%s has %d left.\n\nTo paste into your answer:\n\n%s", done.Record, done.Sheet, done.Label, done.Lot, done.Left, done.Message)
	return nil
}

// about gathers what is known of the recipient: the message, over it the flags, and on a terminal the answers.
func (c sendCmd) about(w world) (block.Block, error) {
	var b block.Block
	if c.From != "" {
		text, err := message(w, c.From)
		if err != nil {
			return b, err
		}
		read, notes, err := block.Parse(text)
		if err != nil {
			return b, wrongUse("--from %s: %v", c.From, err)
		}
		b = read
		for _, n := range notes {
			fmt.Fprintf(w.Err, "note: line %d of the message: %s\n", n.Line, n.Text)
		}
		if b.Lot != "" && !strings.EqualFold(b.Lot, c.Lot) {
			fmt.Fprintf(w.Err, "note: the message asks for %s, and you send %s\n", b.Lot, c.Lot)
		}
		if b.Count > 0 && b.Count != c.Count {
			fmt.Fprintf(w.Err, "note: the message asks for %d, and you send %d\n", b.Count, c.Count)
		}
	}
	for _, f := range []struct{ flag, lines string }{
		{"water", c.Water}, {"tank", c.Tank}, {"units", prefixed("units: ", c.Units)}, {"region", prefixed("region: ", c.Region)},
		{"name", prefixed("name: ", c.Name)}, {"how", prefixed("how: ", c.How)},
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
	if c.From != "-" && !c.JSON && w.terminal(w.In) && w.terminal(w.Err) {
		return ask(w, b)
	}
	return b, nil
}

func prefixed(key, value string) string {
	if value == "" {
		return ""
	}
	return key + value
}

// message reads the recipient's message, up to what a block may hold.
func message(w world, from string) (string, error) {
	in := w.In
	if from != "-" {
		f, err := os.Open(from)
		if err != nil {
			return "", wrongUse("--from: %v", err)
		}
		defer f.Close()
		in = f
	}
	b, err := io.ReadAll(io.LimitReader(in, block.MaxBytes+1))
	return string(b), err
}

// askedKeys are the keys that a terminal is asked for, those that a sheet needs most.
var askedKeys = []string{"how", "region", "temperature", "gh", "kh", "ph", "tank length", "tank width", "water depth", "co2", "name"}

// ask asks on a terminal for what was not given. An empty answer leaves it open.
func ask(w world, b block.Block) (block.Block, error) {
	lines := bufio.NewScanner(w.In)
	given := b.String()
	fmt.Fprintln(w.Err, "What you do not know, leave empty.")
	for _, key := range askedKeys {
		if strings.Contains(given, "\n"+key+": ") {
			continue
		}
		for {
			fmt.Fprintf(w.Err, "%s? ", key)
			if !lines.Scan() {
				return b, lines.Err()
			}
			said, notes, err := block.Parse(strings.Replace(block.Block{}.String(), "\n", "\n"+key+": "+lines.Text()+"\n", 1))
			if err != nil {
				return b, err
			}
			if len(notes) == 0 {
				b = b.ReplaceOver(said)
				break
			}
			fmt.Fprintln(w.Err, notes[0].Text)
		}
	}
	return b, nil
}

// record writes the parcel down and says what to tell the recipient.
func (c sendCmd) record(ctx context.Context, d *desk, about block.Block) (dispatch, error) {
	lot, err := c.lot(d)
	if err != nil {
		return dispatch{}, err
	}
	if err := c.lawful(d, lot, about.Region); err != nil {
		return dispatch{}, err
	}
	code, err := mint(d.w.Random, 25)
	if err != nil {
		return dispatch{}, err
	}
	r := record{lot: lot.ID, count: c.Count, on: d.on, sent: !c.Promise, code: code, about: about}
	name, err := d.writeParcel(ctx, r)
	if err != nil {
		return dispatch{}, err
	}
	out := dispatch{Lot: lot.ID, Count: c.Count, Left: max(0, lot.Left-c.Count), Code: code, Record: shownPath(d.dir, name)}
	base := strings.TrimSuffix(d.journal.Address, "/")
	out.Sheet = base + page.SheetAddr(code)
	out.Label = out.Sheet + "label/"
	out.Message = c.message(d, lot, out.Sheet)
	return out, nil
}

// lot finds the lot and refuses what the ledger does not have.
func (c sendCmd) lot(d *desk) (*ledger.Lot, error) {
	lot, ok := d.ledger.Lot(c.Lot)
	switch {
	case !ok:
		hint := ""
		if near := nearestOf(c.Lot, lotIDs(d.ledger)); near != "" {
			hint = "; did you mean " + near + "?"
		}
		return nil, wrongUse("there is no lot %s%s", c.Lot, hint)
	case lot.Withheld:
		return nil, wrongUse("%s is withheld: plants/%s.md says that it is given to nobody", lot.Plant, lot.Plant)
	case lot.Expected && !c.Promise:
		return nil, wrongUse("lot %s is only expected; give its count in an entry first, or promise it with --promise", lot.ID)
	case lot.Expected:
	case c.Count > lot.Left:
		kept := ""
		if lot.Reserved > 0 {
			kept = fmt.Sprintf(", and %d promised (to send what was promised, add sent: %s to its record)", lot.Reserved, d.on)
		}
		return nil, wrongUse("%s has %d left of %d%s; you ask for %d", lot.ID, lot.Left, lot.Count, kept, c.Count)
	}
	return lot, nil
}

func lotIDs(l *ledger.Ledger) []string {
	var out []string
	for _, a := range l.Lots {
		out = append(out, a.ID)
	}
	return out
}

// lawful refuses to send a plant to a region with a list that forbids it, unless the grower says to know. A list that
// may mean it, or names it without a ban, is told of.
func (c sendCmd) lawful(d *desk, lot *ledger.Lot, region string) error {
	if region == "" {
		return nil
	}
	notices := d.names.Notices(d.taxon(lot.Plant), region)
	for _, n := range notices {
		fmt.Fprintf(d.w.Err, "law: %s: the list %q names %s: %s\n     %s\n", n.Place, n.List, n.ListedAs, n.What, n.Source)
		if n.Doubtful {
			fmt.Fprintf(d.w.Err, "     in doubt: %s\n", n.Why)
		}
		if !n.Seen {
			fmt.Fprintln(d.w.Err, "     (from memory, not checked)")
		}
	}
	if c.Law || !slices.ContainsFunc(notices, func(n almanac.Notice) bool { return n.Forbids }) {
		return nil
	}
	return wrongUse("a list forbids %s in %s: ask the authority there; if it is allowed, add --law-checked", lot.Plant, region)
}

// taxon is the scientific name of a plant as the journal knows it.
func (d *desk) taxon(id string) string {
	own := ""
	if p, ok := d.journal.Plant(id); ok {
		own = p.Taxon
	}
	s, _ := d.names.Species(id)
	return cmp.Or(own, s.Taxon, strings.ReplaceAll(id, "-", " "))
}

// writeParcel checks the record against the whole journal and writes it under a name of its day that was free.
func (d *desk) writeParcel(ctx context.Context, r record) (string, error) {
	data := r.text()
	for letters := 2; ; letters++ {
		tail, err := mint(d.w.Random, letters)
		if err != nil {
			return "", err
		}
		name := path.Join("sent", r.on.String()+"-"+tail+".md")
		if _, err := os.Lstat(filepath.Join(d.dir, filepath.FromSlash(name))); err == nil && letters < 12 {
			continue
		}
		if letters == 2 {
			if err := makeFolder(filepath.Join(d.dir, "sent")); err != nil {
				return "", err
			}
		}
		if _, err := d.holds(ctx, name, data); err != nil {
			return "", err
		}
		err = writeNew(filepath.Join(d.dir, filepath.FromSlash(name)), data)
		if errors.Is(err, errTaken) && letters < 12 {
			continue
		}
		return name, err
	}
}

// message is what the grower pastes into the answer.
func (c sendCmd) message(d *desk, lot *ledger.Lot, sheet string) string {
	what := fmt.Sprintf("%d %s of %s (lot %s)", c.Count, formWord(lot.Form, c.Count), d.taxon(lot.Plant), lot.ID)
	if c.Promise {
		return fmt.Sprintf("%s are kept for you until %s.\nTheir care sheet, reckoned for your tank, is at\n%s\nThe link is yours alone.\n", what, longDate(d.on.Add(d.journal.HoldDays())), sheet)
	}
	return fmt.Sprintf("%s are on their way to you. Open the bag as soon as it comes.\nTheir care sheet, reckoned for your tank, is at\n%s\nThe link is yours alone. Tell me how they do; a dead one is worth reporting too.\n", what, sheet)
}

func formWord(form string, n int) string {
	if n == 1 {
		return strings.TrimSuffix(form, "s")
	}
	return form
}

func longDate(d quantity.Date) string { return fmt.Sprintf("%d %s %d", d.Day, d.Month, d.Year) }

// nearestOf gives the word that differs least from s, if that is by at most a third of its letters.
func nearestOf(s string, all []string) string {
	best, at := len(s)/3+1, ""
	for _, w := range all {
		if n := spelling.Edits(strings.ToLower(s), strings.ToLower(w)); n < best {
			best, at = n, w
		}
	}
	return at
}
