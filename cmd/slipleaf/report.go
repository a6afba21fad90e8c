package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"slipleaf/build/block"
	"slipleaf/build/journal"
	"slipleaf/build/quantity"
)

type reportCmd struct {
	Code    string `arg:"" help:"The parcel's code, its first letters, or the sheet's link."`
	Outcome string `arg:"" help:"arrived, planted, melting, rooted, growing, established, trimmed, passed-on or lost."`
	Alive   *int   `placeholder:"N" help:"How many live."`
	Date    string `placeholder:"DATE" help:"The day of the report (default: the day to act for)."`
	Cause   string `help:"Why they were lost."`
	Water   string `placeholder:"LINES" help:"Their water now, as in \"gh: 8 dGH, kh: 5 dKH\"."`
	In      string `placeholder:"DIR" help:"The journal (default: content, or the current folder)."`
	On      string `placeholder:"DATE" help:"The day to act for (default: today)."`
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
		p, err := d.parcel(c.Code)
		if err != nil {
			return err
		}
		on := d.on
		if c.Date != "" {
			if on, err = quantity.ParseDate(c.Date); err != nil {
				return wrongUse("--date: %v", err)
			}
		}
		if err := c.sense(p, outcome, on, d.on); err != nil {
			return err
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
	if near := nearestOf(word, all); near != "" {
		hint = "; did you mean " + near + "?"
	}
	return "", wrongUse("%q is no outcome%s", word, hint)
}

// parcel finds a parcel by its code, by the beginning of it (six letters or more), or by a link to its sheet.
func (d *desk) parcel(code string) (*journal.Parcel, error) {
	if _, after, ok := strings.Cut(code, "/sheets/"); ok {
		code, _, _ = strings.Cut(after, "/")
	}
	code = strings.ToLower(strings.TrimSpace(code))
	if p, ok := d.journal.ParcelByCode(code); ok {
		return p, nil
	}
	var found []*journal.Parcel
	for _, p := range d.journal.Parcels {
		if len(code) >= 6 && strings.HasPrefix(p.Code, code) {
			found = append(found, p)
		}
	}
	switch len(found) {
	case 1:
		return found[0], nil
	case 0:
		return nil, wrongUse("no parcel has the code %s", code)
	}
	return nil, wrongUse("%d parcels have codes that begin with %s; give more of it", len(found), code)
}

// sense refuses what cannot be, in plainer words than the reader of files has.
func (c reportCmd) sense(p *journal.Parcel, outcome string, on, today quantity.Date) error {
	switch {
	case p.Sent.IsZero():
		return wrongUse("this parcel was promised, but not sent: give its record the date sent first")
	case on.Before(p.Sent):
		return wrongUse("%s is before the parcel was sent, on %s", on, p.Sent)
	case on.After(today):
		return wrongUse("%s is still to come", on)
	case c.Alive != nil && *c.Alive < 0:
		return wrongUse("--alive %d: fewer than none cannot live", *c.Alive)
	case c.Alive != nil && *c.Alive > p.Count && outcome != "passed-on" && outcome != "trimmed":
		return wrongUse("--alive %d: only %d were sent", *c.Alive, p.Count)
	case c.Alive != nil && *c.Alive > 0 && outcome == "lost":
		return wrongUse("lost means that none lives, and you say that %d do", *c.Alive)
	case c.Cause != "" && outcome != "lost":
		return wrongUse("--cause says why plants were lost, but the outcome is %s", outcome)
	}
	return nil
}

// line is the report as an item of a list.
func (c reportCmd) line(outcome string, on quantity.Date, water journal.Parameters) string {
	alive := ""
	if c.Alive != nil {
		alive = strconv.Itoa(*c.Alive)
	}
	return flow("date", on.String(), "outcome", outcome, "alive", alive, "cause", word(c.Cause), "water", waterYAML(water))
}

// append puts the report into the record, and writes it only if the record then says exactly one report more.
func (c reportCmd) append(ctx context.Context, d *desk, p *journal.Parcel, line string) error {
	file := filepath.Join(d.dir, filepath.FromSlash(p.Path))
	old, err := os.ReadFile(file)
	if err != nil {
		return err
	}
	data, ok := withReport(old, line)
	if !ok {
		return wrongUse("%s is written in a way that this command cannot add to; add by hand under reports:\n  - %s", shownPath(d.dir, p.Path), line)
	}
	j, err := d.holds(ctx, p.Path, data)
	if err != nil {
		return err
	}
	now, ok := j.ParcelByCode(p.Code)
	if !ok || len(now.Reports) != len(p.Reports)+1 {
		return wrongUse("%s is written in a way that this command cannot add to; add by hand under reports:\n  - %s", shownPath(d.dir, p.Path), line)
	}
	if now, err := os.ReadFile(file); err != nil || !bytes.Equal(now, old) { // an editor knows nothing of the lock
		return errors.Join(err, fmt.Errorf("%s was changed just now by another program, and nothing was added: try again", shownPath(d.dir, p.Path)))
	}
	if err := replaceFile(file, data); err != nil {
		return err
	}
	fmt.Fprintf(d.w.Out, "%s: %s\n", shownPath(d.dir, p.Path), line)
	return nil
}

var (
	reportsKey = regexp.MustCompile(`^reports[ \t]*:[ \t]*(.*?)[ \t]*$`)
	itemIndent = regexp.MustCompile(`^([ \t]*)-[ \t]`)
	topKey     = regexp.MustCompile(`^[^ \t#\r\n-]`)
)

// withReport adds a report to the text of a record and keeps every other byte. ok is false for a way of writing that it
// does not know.
func withReport(data []byte, line string) (out []byte, ok bool) {
	lines := bytes.SplitAfter(data, []byte("\n"))
	end := headEnd(lines)
	if end < 0 {
		return nil, false
	}
	ending := "\n"
	if bytes.HasSuffix(lines[0], []byte("\r\n")) {
		ending = "\r\n"
	}
	for i := 1; i < end; i++ {
		m := reportsKey.FindSubmatch(bytes.TrimRight(lines[i], "\r\n"))
		switch {
		case m == nil:
		case len(m[1]) == 0 || m[1][0] == '#':
			return inBlock(lines, i, end, line, ending)
		case m[1][0] == '[':
			return inFlow(lines, i, end, line)
		default:
			return nil, false
		}
	}
	return insert(lines, end, "reports:"+ending+"  - "+line+ending), true
}

// headEnd is the index of the line that closes the head; -1 for none.
func headEnd(lines [][]byte) int {
	if len(lines) == 0 || string(bytes.TrimRight(bytes.TrimPrefix(lines[0], []byte("\ufeff")), " \t\r\n")) != "---" {
		return -1
	}
	for i := 1; i < len(lines); i++ {
		if string(bytes.TrimRight(lines[i], " \t\r\n")) == "---" {
			return i
		}
	}
	return -1
}

// inBlock adds an item behind the last line of the list that begins under line at, in the way that its items are indented.
func inBlock(lines [][]byte, at, end int, line, ending string) ([]byte, bool) {
	indent, last := "", at
	for i := at + 1; i < end && !topKey.Match(lines[i]); i++ {
		m := itemIndent.FindSubmatch(lines[i])
		text := bytes.TrimSpace(lines[i])
		if m != nil && last == at {
			indent = string(m[1])
		}
		if len(text) > 0 && text[0] != '#' {
			last = i
		}
	}
	if last == at {
		return nil, false // a key without a value: the reader refuses it too
	}
	return insert(lines, last+1, indent+"- "+line+ending), true
}

// inFlow adds an item before the bracket that closes a list in flow style.
func inFlow(lines [][]byte, at, end int, line string) ([]byte, bool) {
	depth, quote, empty := 0, byte(0), true
	for i := at; i < end; i++ {
		from := 0
		if i == at {
			from = bytes.IndexByte(lines[i], '[')
		}
		for k := from; k < len(lines[i]); k++ {
			ch := lines[i][k]
			switch {
			case quote == '"' && ch == '\\':
				k++
			case quote != 0:
				if ch == quote {
					quote = 0
				}
			case ch == '#' && k > 0 && (lines[i][k-1] == ' ' || lines[i][k-1] == '\t'):
				k = len(lines[i])
			case ch == '"' || ch == '\'':
				quote, empty = ch, false
			case ch == '[' || ch == '{':
				empty = empty && depth == 0
				depth++
			case ch == ']' || ch == '}':
				depth--
				if depth == 0 {
					if !empty {
						line = ", " + line
					}
					return splice(lines, i, k, line), true
				}
			case ch != ' ' && ch != '\t' && ch != '\r' && ch != '\n':
				empty = false
			}
		}
	}
	return nil, false
}

// insert puts text before line at.
func insert(lines [][]byte, at int, text string) []byte {
	var b bytes.Buffer
	for i, l := range lines {
		if i == at {
			b.WriteString(text)
		}
		b.Write(l)
	}
	return b.Bytes()
}

// splice puts text before byte k of line i.
func splice(lines [][]byte, i, k int, text string) []byte {
	var b bytes.Buffer
	for n, l := range lines {
		if n == i {
			b.Write(l[:k])
			b.WriteString(text)
			l = l[k:]
		}
		b.Write(l)
	}
	return b.Bytes()
}
