package site

import (
	"bytes"
	"cmp"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"sync/atomic"
	"time"

	"slipleaf/build/disk"
	"slipleaf/build/facts"
	"slipleaf/build/fingerprint"
	"slipleaf/build/journal"
	"slipleaf/build/page"
)

// Published says what a publish did.
type Published struct {
	Placed
	Files, Pages int
	Bytes        int64
	Made         int                // files that had to be made, whether they came out differently or not
	Phases       map[string]float64 // seconds: read, make, write
}

// Publish reads a journal and puts its site at target. It makes only what would come out differently from what is
// there, by what the last publish left beside it; the site is the same as if all of it had been made. tell is given
// the complaints as soon as they are known; where they hold an error, nothing is published. The error is for what is no
// fault of the journal.
func Publish(ctx context.Context, fsys fs.FS, to string, o Options, tell func(journal.Complaints)) (Published, error) {
	for _, k := range o.Keep {
		if err := checkKeep(k); err != nil {
			return Published{}, err
		}
	}
	t, err := openTarget(to, o)
	if err != nil {
		return Published{}, err
	}
	defer t.close()
	p := &publishing{fsys: fsys, target: t, o: o, tell: tell, lap: time.Now(), done: Published{Phases: map[string]float64{}}}
	if p.o.Program == "" {
		p.o.Program = programPrint()
	}
	if p.o.Photos == nil {
		p.o.Photos = newPhotoCache(t)
	}
	if !o.Anew {
		p.was, _ = readStore(t) // none, or a damaged one, only costs time
	}
	still, err := p.asBefore(ctx)
	if err == nil && still {
		err = p.clearAway(ctx)
		return p.done, disk.Within(t.dir, err)
	}
	if err == nil {
		err = p.build(ctx)
	}
	return p.done, disk.Within(t.dir, err)
}

// publishing is one publish.
type publishing struct {
	fsys   fs.FS
	target *target
	o      Options
	tell   func(journal.Complaints)
	was    *store // what the last publish left; nil: nothing
	next   store
	lap    time.Time
	done   Published
}

func (p *publishing) phase(name string) {
	now := time.Now()
	p.done.Phases[name], p.lap = now.Sub(p.lap).Seconds(), now
}

// buildID is what Go writes near the beginning of a program: hashes of all that it was made from, and of itself. Where
// somebody had another one written there, or none, it tells nothing.
var buildID = regexp.MustCompile(`[\w-]{20}/[\w-]{20}/[\w-]{20}/[\w-]{20}`)

// programPrint is the fingerprint of the running program: another one may make other pages of the same journal. Where the
// program cannot be read, no two are taken for the same.
var programPrint = sync.OnceValue(func() string {
	name, _ := os.Executable() // "" cannot be opened
	f, err := os.Open(name)
	if err != nil {
		return time.Now().String()
	}
	defer f.Close()
	print, err := printOf(f)
	if err != nil {
		return time.Now().String()
	}
	return print
})

// printOf is the build ID of a program, or else the fingerprint of all of it, which takes longer.
func printOf(program io.Reader) (string, error) {
	head, err := io.ReadAll(io.LimitReader(program, 1<<15)) // as far as Go looks, too
	if id := buildID.Find(head); id != nil || err != nil {
		return string(id), err
	}
	print, err := fingerprint.From(io.MultiReader(bytes.NewReader(head), program))
	return fmt.Sprintf("%x", print), err
}

// asBefore reports whether the journal, the program and the site are all as the last publish left them, so that there is
// nothing to do. The inventory is taken before anything is read: a file that changes later is then other than noted, and
// the next publish looks again.
func (p *publishing) asBefore(ctx context.Context) (bool, error) {
	o := p.o
	p.next.Key = fingerprint.Of(fmt.Appendf(nil, "%s\x00%v\x00%t\x00%t\x00%d\x00%d", o.Program, o.On, o.OnDisk, o.Zone == nil, o.MaxFiles, o.MaxBytes))
	var err error
	if p.next.Look, err = themeHash(o.Theme, ""); err != nil {
		return false, err
	}
	if p.was != nil {
		p.next.Theme = p.was.Theme
	}
	if p.next.Journal, err = takeInventory(ctx, p.fsys, p.next.Theme, time.Now()); err != nil {
		if errors.Is(err, errFull) {
			err = nil
		}
		return false, err
	}
	if p.was == nil || len(p.o.Keep) > 0 || p.was.Key != p.next.Key || p.was.Look != p.next.Look || !p.next.Journal.same(p.fsys, p.was.Journal) || !p.was.intact(ctx, p.target) {
		return false, nil
	}
	p.tell(p.was.Complaints)
	for _, f := range p.was.Files {
		p.count(f.Path, f.Size)
	}
	p.done.Unchanged = len(p.was.Files)
	p.phase("read")
	return true, nil
}

// clearAway clears what a publish that was cut off left beside a site that is otherwise as it should be.
func (p *publishing) clearAway(ctx context.Context) error {
	if !p.target.leftovers() {
		return nil
	}
	pl := &placing{target: p.target, was: p.was}
	unlock, err := pl.begin(ctx)
	if err != nil {
		return err
	}
	unlock()
	return nil
}

// count adds a file of the site to the sums.
func (p *publishing) count(path string, size int64) {
	if path == marker {
		return
	}
	p.done.Files++
	p.done.Bytes += size
	if strings.HasSuffix(path, ".html") {
		p.done.Pages++
	}
}

// build reads the journal, makes what must be made, and puts it in place.
func (p *publishing) build(ctx context.Context) error {
	if p.o.Memory == nil {
		p.o.Memory = new(Memory)
	}
	if p.was != nil && p.was.Program == p.o.Program {
		p.o.Memory.recall(p.was)
	}
	book, complaints, err := Load(ctx, p.fsys, p.o)
	if err != nil {
		return err
	}
	p.phase("read")
	p.tell(complaints)
	if book == nil {
		return nil
	}
	if book.Journal.Look != p.next.Theme || !p.next.Journal.tells(p.o.Memory.reader, p.o.Photos) {
		p.next.Key = fingerprint.Sum{} // the next publish looks for itself
	}
	p.next.Program, p.next.Theme, p.next.Complaints = p.o.Program, book.Journal.Look, complaints
	p.o.Memory.leave(&p.next)
	return p.place(ctx, book)
}

// place makes the files that would not come out as they stand, and puts the site in place.
func (p *publishing) place(ctx context.Context, b *page.Site) error {
	outputs := outputsOf(b, p.o)
	pl := &placing{target: p.target, keep: p.o.Keep, replace: p.o.Replace, outputs: make([]output, len(outputs)), was: p.was, sum: b.All.SumOf, next: &p.next, roomy: cmp.Or(p.o.spareFrom, roomySite)}
	for i, out := range outputs {
		pl.outputs[i].Path = page.PathOf(out.Addr)
	}
	if p.o.Dir != "" {
		from, err := realPath(p.o.Dir)
		if err != nil {
			return err
		}
		if pl.journal, err = filepath.Abs(from); err != nil {
			return err
		}
	}
	unlock, err := pl.begin(ctx)
	if err != nil {
		return err
	}
	defer unlock()
	if pl.from, err = p.stays(ctx, pl.was, b.All.SumOf); err != nil {
		return err
	}
	var made atomic.Int64
	keep := func(i int) (int64, bool) {
		x := &pl.outputs[i]
		kept := pl.keepAsIs(x)
		return x.size, kept
	}
	take := func(i int, data []byte, read []facts.Key) error {
		made.Add(1)
		pl.outputs[i].read = read
		return pl.take(&pl.outputs[i], data)
	}
	if err := makeAll(ctx, outputs, p.o, keep, take); err != nil {
		return err
	}
	p.phase("make")
	p.done.Made = int(made.Load())
	for i := range pl.outputs {
		p.count(pl.outputs[i].Path, pl.outputs[i].size)
	}
	p.done.Placed, err = pl.finish(ctx)
	p.phase("write")
	return err
}

// stays tells which facts are as they were when a site was made.
func (p *publishing) stays(ctx context.Context, was *store, now func(facts.Key) fingerprint.Sum) (*facts.Made, error) {
	from := was.madeFrom()
	if from == nil {
		return nil, nil
	}
	return from, each(ctx, len(from.Keys), p.o.Workers, func(i int) error {
		from.Ask(i, now(from.Keys[i]))
		return nil
	})
}
