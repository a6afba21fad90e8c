package change

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path"
	"slices"
	"strings"
	"time"

	"slipleaf/build/disk"
)

// undoDir holds the last changes, newest name last, with what the files held before and after.
const undoDir = ".undo"

// kept is how many changes can be taken back.
const kept = 20

// mostNames is how many files .undo/ may hold: more than a killed program leaves, and few enough to look at each.
const mostNames = 1000

// record is a change as it is kept. One that is not Done was under way when its program ended: being made or, with Undoing,
// being taken back.
type record struct {
	What    string    `json:"what"`
	At      time.Time `json:"at"`
	Files   []File    `json:"files"`
	Done    bool      `json:"done"`
	Undoing bool      `json:"undoing,omitempty"`
}

// Past is a change that can be taken back.
type Past struct {
	What  string
	At    time.Time
	Files []File // as they were before and after it
	name  string
}

// Last is the newest change that can be taken back; [ErrNothing] when there is none.
func (d *Desk) Last() (Past, error) {
	names, err := d.names()
	if err != nil {
		return Past{}, err
	}
	if len(names) == 0 {
		return Past{}, ErrNothing
	}
	name := names[len(names)-1]
	r, err := d.load(name)
	return Past{r.What, r.At, r.Files, name}, err
}

// Undo takes a change back that [Desk.Last] gave: files get back what they held. A [*MeanwhileError] names a file
// that was changed since; then nothing is done.
func (d *Desk) Undo(ctx context.Context, p Past) error {
	if err := ctx.Err(); err != nil {
		return err
	}
	return d.located(d.undo(p))
}

// Back is the change that would take this one back.
func (p Past) Back() []File {
	var back []File
	for _, f := range p.Files {
		back = append(back, File{f.Path, f.After, f.Before})
	}
	return back
}

func (d *Desk) undo(p Past) error {
	back := p.Back()
	if err := d.asBefore(back); err != nil {
		return err
	}
	r := record{What: p.What, At: p.At, Files: p.Files, Undoing: true}
	if err := d.keep(p.name, r); err != nil {
		return err
	}
	if err := d.carryOut(back); err != nil {
		return errors.Join(err, d.restore(p.name, r))
	}
	return d.remove(p.name)
}

// Forget drops all kept changes with a file that is meant, by its path or what it held, so that nothing of it stays. It
// returns how many went.
func (d *Desk) Forget(meant func(File) bool) (int, error) {
	names, err := d.names()
	if err != nil {
		return 0, err
	}
	gone := 0
	for _, n := range names {
		r, err := d.load(n)
		if err != nil {
			return gone, err
		}
		if !slices.ContainsFunc(r.Files, meant) {
			continue
		}
		if err := d.remove(n); err != nil {
			return gone, err
		}
		gone++
	}
	return gone, nil
}

// names lists the kept changes, oldest first.
func (d *Desk) names() ([]string, error) {
	f, err := d.root.Open(undoDir)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	defer f.Close()
	entries, err := f.ReadDir(mostNames + 1)
	if err != nil && !errors.Is(err, io.EOF) {
		return nil, err
	}
	if len(entries) > mostNames {
		return nil, fmt.Errorf("%s holds more than %d files, and only %d are ever kept: move it away", undoDir, mostNames, kept)
	}
	slices.SortFunc(entries, func(a, b fs.DirEntry) int { return strings.Compare(a.Name(), b.Name()) })
	var out []string
	for _, e := range entries {
		if strings.HasSuffix(e.Name(), ".json") && !strings.HasPrefix(e.Name(), ".") && e.Type().IsRegular() {
			out = append(out, path.Join(undoDir, e.Name()))
		}
	}
	return out, nil
}

// begin keeps a change that is about to be made and gives its name, which sorts after all others.
func (d *Desk) begin(r record) (string, error) {
	names, err := d.names()
	if err != nil {
		return "", err
	}
	n := 0
	if len(names) > 0 {
		if _, err := fmt.Sscanf(path.Base(names[len(names)-1]), "%d.json", &n); err != nil {
			return "", fmt.Errorf("%s: not a change of ours: move it away", names[len(names)-1])
		}
	}
	name := path.Join(undoDir, fmt.Sprintf("%08d.json", n+1))
	return name, d.keep(name, r)
}

func (d *Desk) keep(name string, r record) error {
	data, err := json.Marshal(r)
	if err != nil {
		return err
	}
	return d.write(name, data, disk.Private)
}

func (d *Desk) load(name string) (record, error) {
	var r record
	data, err := d.read(name)
	if err != nil {
		return r, err
	}
	err = json.Unmarshal(data, &r)
	for _, f := range r.Files { // it may have come with the journal
		if err == nil && !ofJournal(f.Path) {
			err = fmt.Errorf("%q is no name for a file of the journal", f.Path)
		}
	}
	if err != nil {
		return record{}, fmt.Errorf("%s: %w: it is damaged; delete it, and that change can no longer be taken back", name, err)
	}
	return r, nil
}

// trim drops the oldest changes beyond those that are kept.
func (d *Desk) trim() error {
	names, err := d.names()
	if err != nil {
		return err
	}
	for _, n := range names[:max(len(names)-kept, 0)] {
		if err := d.remove(n); err != nil {
			return err
		}
	}
	return nil
}

// recover takes back what was under way when a program ended, and clears what was left half written: nobody was told that
// it was done.
func (d *Desk) recover() error {
	for _, dir := range []string{undoDir, "sent", "friends", "."} { // where one file alone is put, which no change is kept of
		disk.ClearTemp(d.root, dir)
	}
	names, err := d.names()
	if err != nil {
		return err
	}
	for _, n := range names {
		r, err := d.load(n)
		if err != nil || r.Done {
			continue // a damaged one is said when it is to be taken back
		}
		if err := d.restore(n, r); err != nil {
			return err
		}
	}
	return nil
}

// restore brings the files of a change that was under way back to how they were before it began. Where somebody has gone on
// from what was there, it is theirs and stays.
func (d *Desk) restore(name string, r record) error {
	var back []File
	for _, f := range r.Files {
		disk.ClearTemp(d.root, path.Dir(f.Path))
		from, to := f.After, f.Before
		if r.Undoing {
			from, to = to, from
		}
		now, err := d.read(f.Path)
		if err != nil {
			return err
		}
		if same(now, from) && !same(now, to) {
			back = append(back, File{f.Path, from, to})
		}
	}
	if err := d.carryOut(back); err != nil {
		return err
	}
	if !r.Undoing {
		return d.remove(name)
	}
	r.Done, r.Undoing = true, false
	return d.keep(name, r)
}
