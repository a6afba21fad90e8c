package journal

import (
	"context"
	"fmt"
	"io/fs"
	"slices"
	"time"

	"slipleaf/build/almanac"
	"slipleaf/build/fingerprint"
	"slipleaf/build/listing"
)

// Reader reads a journal again and again, and each file only when it has changed. Every journal that it gives is one of
// its own, to be read by any number of goroutines; the texts and heads of unchanged files are shared between them. Use it
// from one goroutine at a time. Make it with [NewReader].
type Reader struct {
	names  *almanac.Almanac
	limits Limits
	walked *listing.Listing
	kept   map[string]*kept // by path
	last   []*kept          // in the order of the files that were listed
	full   bool             // complaints were dropped with the last reading
	clean  clean
}

// kept is a file as it was read.
type kept struct {
	Stamp
	print fingerprint.Sum
	part  part
}

// NewReader makes a reader that knows nothing yet.
func NewReader(a *almanac.Almanac) *Reader {
	return &Reader{names: a, kept: map[string]*kept{}}
}

// Changes says what a reader need not look at again. The zero value asks it to look at everything.
type Changes struct {
	// Now is the moment at which reading begins, by the clock that stamps the files: a file whose size and time are as
	// they were, and which had settled when it was read, is taken as unchanged. Zero: every file's bytes are compared.
	Now time.Time
	// Only, where it is not nil, lists the paths of all files that may have changed since the last reading.
	Only []string
}

// Read reads the journal as [Read] does: the same files give the same journal and the same complaints, whatever was
// read before.
func (r *Reader) Read(ctx context.Context, fsys fs.FS, opts Options, changes Changes) (*Journal, Complaints, error) {
	opts.Limits = opts.Limits.orDefault()
	if r.limits != opts.Limits || r.full {
		r.limits, r.walked, r.kept = opts.Limits, nil, map[string]*kept{}
	}
	said := new(Pile)
	w, only, err := r.walk(ctx, fsys, changes.Only)
	if err != nil {
		return nil, nil, fmt.Errorf("reading the journal: %w", err)
	}
	parts, err := r.readAll(ctx, fsys, w.Files, only, opts, changes.Now, said)
	if err != nil {
		r.walked = nil // some of the files may be read and others not
		return nil, nil, fmt.Errorf("reading the journal: %w", err)
	}
	for _, x := range w.Problems {
		said.Add(complaint(listedRules[x.Wrong], x.File, 1, 1, x.Message, x.Hint))
	}
	slices.Sort(w.Photos)
	var j *Journal
	j, r.clean = newLinker(r.names, opts, w.Photos, said).link(parts, r.clean)
	r.full = said.Add()
	return j, said.List(), nil
}

// listedRules are the rules of what is wrong with names.
var listedRules = [...]rule{listing.NoJournal: ruleNoJournal, listing.TooMany: ruleLimit, listing.BadName: ruleBadName, listing.NameClash: ruleNameClash,
	listing.Symlink: ruleSymlink, listing.Stray: ruleStray, listing.TakenName: ruleTakenName, listing.Taken: ruleTaken}

// Seen is what the last reading found: the names in each folder that it listed, and the size and time of each file as it
// was when it was read. Both are nil where not all was listed.
func (r *Reader) Seen() (names map[string][]string, files map[string]Stamp) {
	if r.walked == nil {
		return nil, nil
	}
	files = make(map[string]Stamp, len(r.kept))
	for p, k := range r.kept {
		files[p] = k.Stamp
	}
	return r.walked.Names, files
}

// Listed reports whether the last reading found a photo of that name in photos/, which is all that it looks at of one.
func (r *Reader) Listed(photo string) bool {
	if r.walked == nil {
		return false
	}
	_, ok := slices.BinarySearch(r.walked.Photos, photo)
	return ok
}

// walk lists the journal's files: anew, or as they were listed last where only the bytes of some have changed. only are
// then those.
func (r *Reader) walk(ctx context.Context, fsys fs.FS, changed []string) (w *listing.Listing, only map[string]bool, err error) {
	if only, ok := r.within(fsys, changed); ok {
		return r.walked, only, nil
	}
	r.walked = nil
	if w, err = listing.Of(ctx, fsys, r.limits.Files); err != nil {
		return nil, nil, err
	}
	if w.Whole { // else it is not kept
		r.walked = w
	}
	return w, nil, nil
}

// within reports whether every changed path is that of a listed file which is a plain file still, so that no folder need be
// listed again.
func (r *Reader) within(fsys fs.FS, changed []string) (map[string]bool, bool) {
	if changed == nil || r.walked == nil {
		return nil, false
	}
	only := make(map[string]bool, len(changed))
	for _, p := range changed {
		if r.kept[p] == nil {
			return nil, false
		}
		if info, err := fs.Lstat(fsys, p); err != nil || !info.Mode().IsRegular() {
			return nil, false
		}
		only[p] = true
	}
	return only, true
}

// unchanged tells, by its size and time, whether a file is as it was when it was read.
func (k *kept) unchanged(f listing.File, now time.Time) bool {
	if now.IsZero() || f.Entry == nil {
		return false
	}
	info, err := f.Entry.Info()
	return err == nil && info.Mode().IsRegular() && k.Still(info)
}
