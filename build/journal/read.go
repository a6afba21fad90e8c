package journal

import (
	"bytes"
	"cmp"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"runtime"
	"sync/atomic"
	"time"
	"unicode/utf8"

	"golang.org/x/sync/errgroup"

	"slipleaf/build/almanac"
	"slipleaf/build/fingerprint"
	"slipleaf/build/head"
	"slipleaf/build/listing"
	"slipleaf/build/quantity"
)

// Options says how a journal is read.
type Options struct {
	On      quantity.Date // the day that the site is made for; zero: no date is in the future, no reservation lapses
	Also    quantity.Date // a further day on which no lot may be overdrawn, nor on any later one on which something of it is recorded
	Workers int           // files read at once; 0: GOMAXPROCS
	Limits  Limits
	// Progress gets how many of the files are read; nil: silent. It may be called from several goroutines.
	Progress func(done, all int)
	// Zone reports whether there is a timezone of that name; nil: only the name's shape is looked at.
	Zone func(name string) bool
}

// workers is how many work at once. Parsing and checking are bound by the processor, the files being small.
func (o Options) workers() int {
	if o.Workers > 0 {
		return o.Workers
	}
	return runtime.GOMAXPROCS(0)
}

// Limits bounds what is read. A zero field stands for its default.
type Limits struct {
	FileBytes int // of one file; 1 MiB
	HeadBytes int // of one head, and of journal.yaml; 64 KiB
	Text      int // characters of one text in a head; 4,000
	Files     int // files and folders of the whole journal; 200,000
}

func (l Limits) orDefault() Limits {
	return Limits{cmp.Or(l.FileBytes, 1<<20), cmp.Or(l.HeadBytes, 64<<10), cmp.Or(l.Text, 4000), cmp.Or(l.Files, 200_000)}
}

// Read reads a journal and finds everything that is wrong with it. The journal is never nil unless err is set: what
// could not be read is missing from it, so that it can be shown while it is being corrected. The result depends on the
// files and options alone, whatever the workers do. An error is a failing disk or a cancelled ctx, never a fault of the
// journal.
func Read(ctx context.Context, fsys fs.FS, names *almanac.Almanac, opts Options) (*Journal, Complaints, error) {
	return NewReader(names).Read(ctx, fsys, opts, Changes{})
}

// part is what one file gave. It depends on that file and the limits alone. Exactly one pointer is set, or none where
// nothing could be read.
type part struct {
	listing.File
	journal    *Journal
	tank       *Tank
	entry      *Entry
	plant      *Plant
	parcel     *Parcel
	page       *Page
	friend     *GatheredFile
	words      []longWord // those that would be published
	usual      []byte     // its text in the form in which it was read
	whole      bool       // no byte of it was left out
	complaints Complaints
}

// readAll reads the files, each into its own place; those that have not changed since they were read are taken from
// there. Only lists the files that may have changed; nil: any.
func (r *Reader) readAll(ctx context.Context, fsys fs.FS, files []listing.File, only map[string]bool, opts Options, now time.Time, said *Pile) ([]*part, error) {
	have := make([]*kept, len(files))
	errs := make([]error, len(files))
	var next, done atomic.Int64
	g, ctx := errgroup.WithContext(ctx)
	for range min(opts.workers(), len(files)) {
		g.Go(func() error {
			scan := new(head.Scanner) // each worker its own
			for ctx.Err() == nil {
				i := int(next.Add(1)) - 1
				if i >= len(files) {
					return nil
				}
				if opts.Progress != nil {
					opts.Progress(int(done.Add(1)), len(files))
				}
				f := files[i]
				if only != nil && !only[f.Path] {
					have[i] = r.last[i]
				} else if old := r.kept[f.Path]; only == nil && old != nil && old.unchanged(f, now) {
					have[i] = old
				} else if have[i], errs[i] = readFile(fsys, f, opts.Limits, scan, old, now); errs[i] != nil {
					continue
				}
				if cs := have[i].part.complaints; len(cs) > 0 && said.Add(cs...) {
					have[i].part.complaints = nil // the next reading begins anew
				}
			}
			return ctx.Err()
		})
	}
	if err := cmp.Or(g.Wait(), errors.Join(errs...)); err != nil {
		return nil, err
	}
	r.keep(files, have)
	parts := make([]*part, len(have))
	for i := range have {
		parts[i] = &have[i].part
	}
	return parts, nil
}

// keep remembers what the files hold, and forgets those that are gone.
func (r *Reader) keep(files []listing.File, have []*kept) {
	if len(files) != len(r.kept) {
		r.kept, r.last = make(map[string]*kept, len(files)), nil
	}
	for i, f := range files {
		if r.last == nil || i >= len(r.last) || r.last[i] != have[i] {
			r.kept[f.Path] = have[i]
		}
	}
	r.last = have
	if len(r.kept) > len(files) { // as many came as went
		r.kept = map[string]*kept{}
		r.keep(files, have)
	}
}

// readFile reads one file, and decodes it unless it holds the same bytes as before. The error is the disk's.
func readFile(fsys fs.FS, f listing.File, limits Limits, scan *head.Scanner, old *kept, now time.Time) (*kept, error) {
	d := &decoder{file: f.Path, limits: limits, scan: scan}
	data, info, whole, err := slurp(fsys, f.Path, limits.FileBytes)
	if err != nil {
		return nil, err
	}
	k := &kept{print: fingerprint.Of(data), part: part{File: f}}
	if info != nil {
		k.Stamp = StampOf(info, now)
	}
	if old != nil && old.print == k.print && whole && old.part.whole {
		k.part = old.part
		return k, nil
	}
	p := &k.part
	p.whole = whole
	if f.Kind != listing.ParcelFile && f.Kind != listing.FriendFile {
		p.words = wordsIn(f.Path, 1)
	}
	if !whole && f.Kind == listing.FriendFile {
		d.complain(ruleFriendFile, 1, 1, fmt.Sprintf("the file has more than %d bytes; it is ignored", limits.FileBytes), "")
	} else if !whole {
		d.complain(ruleLimit, 1, 1, fmt.Sprintf("the file has more than %d bytes", limits.FileBytes), "split it into several files; pictures go in photos/")
	} else if clean, ok := d.clean(data); ok {
		p.meant(d, clean)
		p.words = append(p.words, longWords(f, clean)...)
	}
	if len(d.out) > 0 {
		lines := linesOf(data)
		for i, c := range d.out {
			d.out[i].Line, d.out[i].Column = inFile(lines, c.Line, c.Column)
		}
	}
	if d.more > 0 {
		d.out[maxComplaints].Message = fmt.Sprintf("%d more problems in this file are not listed", d.more)
	}
	unsaid(f.Path, data, d.out)
	p.complaints = d.out
	return k, nil
}

// inFile moves a place to the nearest in a file. The parser's columns are off in places, and a fault inside a text of
// several lines is computed from its first: a complaint points into its file all the same.
func inFile(lines []string, line, column int) (int, int) {
	line = min(max(line, 1), len(lines))
	return line, min(max(column, 1), utf8.RuneCountInString(lines[line-1])+1)
}

// slurp reads a file of at most limit bytes; whole is false for a longer one. info is of before it was read, nil where it
// cannot be had.
func slurp(fsys fs.FS, path string, limit int) (data []byte, info fs.FileInfo, whole bool, err error) {
	f, err := fsys.Open(path)
	if err != nil {
		return nil, nil, false, err
	}
	defer f.Close()
	size := 0
	if info, err = f.Stat(); err != nil {
		info = nil
	} else if info.Size() <= int64(limit) {
		size = int(info.Size())
	}
	data = make([]byte, size+1) // one more, so that the end is found without growing
	n := 0
	for n <= limit {
		if n == len(data) {
			data = append(data, make([]byte, min(len(data), limit+1-n))...)
		}
		k, err := f.Read(data[n:])
		n += k
		if err == io.EOF {
			break
		}
		if err != nil {
			return nil, nil, false, err
		}
	}
	return data[:min(n, limit)], info, n <= limit, nil
}

// once reads the file's text into what it is. Where a head fails as a whole, the thing itself is still there, so that
// its name is known and no second complaint follows from the first.
func (p *part) once(d *decoder, data []byte) {
	switch p.Kind {
	case listing.FriendFile:
		p.friend = d.gathered(p.ID, data)
		return
	case listing.JournalFile:
		p.journal = &Journal{Source: Source{Path: p.Path, head: seal(string(data)), HeadLine: 1, BodyLine: 1, HeadSum: fingerprint.Of(data)}}
		if d.headFits(p.journal.Source) {
			readHead(d, p.journal.Source, bindings["journal"], p.journal)
		}
		return
	}
	source, ok := d.split(p.Path, data)
	source.HeadSum, source.BodySum = fingerprint.Of([]byte(source.head.open())), fingerprint.Of(source.Body)
	source.Shows = bytes.Contains(source.Body, []byte("!["))
	switch p.Kind {
	case listing.TankFile:
		p.tank = &Tank{Source: source, ID: p.ID}
		readIf(ok, d, source, bindings["tank"], p.tank)
	case listing.EntryFile:
		p.entry = &Entry{Source: source, Tank: p.ID, Date: p.Date, Slug: p.Slug}
		d.blanks, d.blank = true, false
		readIf(ok, d, source, bindings["entry"], p.entry)
		p.entry.untouched = d.untouched(p.entry)
	case listing.PlantFile:
		p.plant = &Plant{Source: source, ID: p.ID}
		readIf(ok, d, source, bindings["plant"], p.plant)
	case listing.ParcelFile:
		p.parcel = &Parcel{Source: source, Name: p.ID}
		readIf(ok, d, source, bindings["sent"], p.parcel)
	case listing.PageFile:
		p.page = &Page{Source: source, ID: p.ID}
		readIf(ok, d, source, bindings["page"], p.page)
	}
}

func readIf(ok bool, d *decoder, s Source, b *binding, t any) {
	if ok {
		readHead(d, s, b, t)
	}
}

func checkJournal(d *decoder, n *head.Node, j *Journal) { d.need(n, "title", "a journal") }

func checkTank(d *decoder, n *head.Node, t *Tank) {
	if !t.Ended.IsZero() && t.Ended.Before(t.Began) {
		d.at(n.Child("ended"), ruleDateOrder, fmt.Sprintf("ended on %s, before it began on %s", t.Ended, t.Began), "")
	}
}

func checkPage(d *decoder, n *head.Node, p *Page) { d.need(n, "title", "a page") }
