package site

import (
	"bytes"
	"cmp"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path"
	"runtime"
	"strings"
	"sync"
	"sync/atomic"
	"time"
	"unicode/utf8"

	"golang.org/x/sync/errgroup"
	"golang.org/x/sync/semaphore"

	"slipleaf/build/journal"
	"slipleaf/build/page"
	"slipleaf/build/picture"
	"slipleaf/build/prose"
)

// PhotoCache makes a journal's photos ready and remembers them, within the process and in a folder beside a target, which
// may be deleted at any moment. It is safe for concurrent use. Make it with [NewPhotoCache] or [OpenPhotoCache]; one serves
// any number of builds.
type PhotoCache struct {
	beside *target    // nil: nothing is kept on the disk
	again  sync.Mutex // held while a photo is made that was kept before, so that it is one at a time
	mu     sync.Mutex
	known  map[string]preparedPhoto // by the photo's name
	ahead  map[string]bool          // the keys of those that no journal names yet
}

// NewPhotoCache keeps what it makes in memory only.
func NewPhotoCache() *PhotoCache { return newPhotoCache(nil) }

func newPhotoCache(beside *target) *PhotoCache {
	return &PhotoCache{beside: beside, known: map[string]preparedPhoto{}, ahead: map[string]bool{}}
}

// OpenPhotoCache keeps what it makes beside a target too, for the next program. It refuses what [Publish] would refuse.
func OpenPhotoCache(to string, o Options) (*PhotoCache, error) {
	t, err := openTarget(to, o)
	if err != nil {
		return nil, err
	}
	return newPhotoCache(t), nil
}

// Ahead makes a photo ready before the journal names it. What is wrong with it is said when the journal does.
func (d *PhotoCache) Ahead(ctx context.Context, data []byte) {
	d.mu.Lock()
	d.ahead[printKey(data)] = true
	d.mu.Unlock()
	_ = d.print(ctx, new(preparedPhoto), "", data, semaphore.NewWeighted(photoMemory))
}

// preparedPhoto is what has become of a photo.
type preparedPhoto struct {
	journal.Stamp
	key    string
	made   []rendition
	faults []*picture.Fault // a refusal, or a warning
	gone   bool             // it was not there
}

// rendition is one of the pictures that a photo becomes.
type rendition struct {
	keptLine
	data []byte // nil: they lie in the cache on the disk
}

// refused reports whether there is no picture to show.
func (d preparedPhoto) refused() bool { return len(d.made) == 0 }

// naming is the first place of the journal that names a photo.
type naming struct {
	name   string
	source journal.Source
	key    string // where in the head; "": in the text
	record bool   // a parcel's record names it
}

// publicName is the photo's name as far as its address tells it. What a record shows is for its recipient: its name may be
// theirs, so that it is published under its hash alone.
func (n naming) publicName() string {
	if n.record {
		return ""
	}
	return addressName(n.name) + "-"
}

// complaint says a fault at that place.
func (n naming) complaint(at *journal.Places, s journal.Severity, f *picture.Fault) journal.Complaint {
	c := journal.Complaint{File: n.source.Path, Severity: s, Rule: f.Rule, Message: "photos/" + n.name + ": " + f.Why, Hint: f.Hint}
	if n.key != "" {
		c.Line, c.Column = at.At(n.source, n.key)
	} else {
		c.Line, c.Column = placeIn(n.source, n.name)
	}
	return c
}

// photoMemory is how many bytes all photos that are made at a time may take, by [picture.Info.Cost]: six ordinary
// ones, or a single one of the largest.
const photoMemory = picture.MaxCost

// prepare makes every photo ready that the journal names. No other file of photos/ is read, let alone published. listed
// reports whether a photo was there when the journal was read.
func (d *PhotoCache) prepare(ctx context.Context, fsys fs.FS, j *journal.Journal, listed func(name string) bool, o Options) (page.Options, journal.Complaints, error) {
	names := namings(j)
	out := make([]preparedPhoto, len(names))
	memory := semaphore.NewWeighted(photoMemory)
	g, ctx := errgroup.WithContext(ctx)
	g.SetLimit(cmp.Or(max(o.Workers, 0), runtime.GOMAXPROCS(0)))
	var done atomic.Int64
	all := newAmount(o)
	for i, n := range names {
		g.Go(func() error {
			var err error
			if out[i], err = d.one(ctx, fsys, n.name, memory); err != nil {
				return err
			}
			o.progress("photos", int(done.Add(1)), len(names))
			for _, r := range out[i].made {
				if err := all.add("photos/", int64(r.Bytes)); err != nil {
					return err
				}
			}
			return nil
		})
	}
	if err := g.Wait(); err != nil {
		return page.Options{}, nil, err
	}
	return d.gather(fsys, names, out, listed)
}

// gather puts the photos together in the order of their naming. Two names for the same bytes share no file, since the
// name is part of the address, unless they differ in letters that an address has not.
func (d *PhotoCache) gather(fsys fs.FS, names []naming, out []preparedPhoto, listed func(name string) bool) (page.Options, journal.Complaints, error) {
	o := page.Options{Photos: map[string]prose.Photo{}}
	var cs journal.Complaints
	var places journal.Places
	needed, paths := map[string]bool{}, map[string]bool{}
	whole := true
	for i, n := range names {
		for _, f := range out[i].faults {
			severity := journal.Error
			if !out[i].refused() {
				severity = journal.Warning
			}
			cs = append(cs, n.complaint(&places, severity, f))
		}
		if out[i].gone {
			if listed(n.name) { // else it is said by who looked for it
				cs = append(cs, n.complaint(&places, journal.Error, &picture.Fault{Rule: picture.RuleUnreadable, Why: "it disappeared before it could be read", Hint: "try again"}))
			}
			continue
		}
		needed[out[i].key] = true
		whole = whole && !out[i].refused()
		photo := addressed(n.publicName(), out[i])
		if o.Photos[n.name] = photo; out[i].refused() {
			o.Photos[n.name] = prose.Photo{Src: "photos/"} // it is there: that a text shows it is no second fault
		}
		for _, r := range out[i].made {
			if p := r.path(n.publicName(), out[i].key); !paths[p] {
				paths[p] = true
				read := func() ([]byte, error) { return d.bytesOf(fsys, n.name, out[i].key, r) }
				o.PhotoFiles = append(o.PhotoFiles, page.PhotoFile{Path: p, Size: r.Bytes, Read: read})
			}
		}
	}
	if whole {
		d.clear(needed)
	}
	return o, cs, nil
}

// asRead reports whether all photos that are known were read as same finds them.
func (d *PhotoCache) asRead(same func(p string, as journal.Stamp) bool) bool {
	d.mu.Lock()
	defer d.mu.Unlock()
	for name, k := range d.known {
		if !same("photos/"+name, k.Stamp) {
			return false
		}
	}
	return true
}

// one makes a photo ready, or finds that it is. The error is for what is no fault of the photo.
func (d *PhotoCache) one(ctx context.Context, fsys fs.FS, name string, memory *semaphore.Weighted) (preparedPhoto, error) {
	if err := ctx.Err(); err != nil {
		return preparedPhoto{}, err
	}
	file, info, err := original(fsys, name)
	if errors.Is(err, fs.ErrNotExist) || errors.Is(err, fs.ErrInvalid) {
		return preparedPhoto{gone: true}, nil
	}
	if err != nil {
		return notReadable(err), nil
	}
	defer file.Close()
	d.mu.Lock()
	old, ok := d.known[name]
	d.mu.Unlock()
	if ok && old.Still(info) {
		return old, nil
	}
	made := preparedPhoto{Stamp: journal.StampOf(info, time.Now())}
	if info.Size() > picture.MaxBytes {
		made.faults = []*picture.Fault{picture.TooManyBytes(info.Size())}
		return made, nil
	}
	data, err := bytesIn(file)
	if err != nil {
		return notReadable(err), nil
	}
	if err := d.print(ctx, &made, name, data, memory); err != nil {
		return preparedPhoto{}, err
	}
	d.mu.Lock()
	d.known[name] = made
	d.mu.Unlock()
	return made, nil
}

// original opens a photo of the journal.
func original(fsys fs.FS, name string) (fs.File, fs.FileInfo, error) {
	file, err := fsys.Open("photos/" + name)
	if err != nil {
		return nil, nil, err
	}
	info, err := file.Stat()
	if err == nil && !info.Mode().IsRegular() {
		err = errNotPlain
	}
	if err != nil {
		_ = file.Close()
		return nil, nil, err
	}
	return file, info, nil
}

// bytesIn reads an original, but no more than one that is too large.
func bytesIn(file io.Reader) ([]byte, error) {
	return io.ReadAll(io.LimitReader(file, picture.MaxBytes+1))
}

var errNotPlain = errors.New("it is no plain file")

func notReadable(err error) preparedPhoto {
	why := "it cannot be read: " + err.Error()
	if errors.Is(err, errNotPlain) {
		why = errNotPlain.Error()
	}
	return preparedPhoto{faults: []*picture.Fault{{Rule: picture.RuleUnreadable, Why: why}}}
}

// print makes the renditions of a photo's bytes, or takes them from the cache.
func (d *PhotoCache) print(ctx context.Context, to *preparedPhoto, name string, data []byte, memory *semaphore.Weighted) error {
	info, err := picture.Plan(name, data)
	if err != nil {
		return to.refuse(err)
	}
	to.key = printKey(data)
	rs, ok := d.kept(to.key)
	if !ok {
		if err := memory.Acquire(ctx, info.Cost); err != nil {
			return err
		}
		rs, err = picture.Make(ctx, data, picture.Wanted())
		memory.Release(info.Cost)
		if err != nil {
			return to.refuse(err)
		}
		ok = d.keep(to.key, rs)
	}
	if info.Profile.Unknown() {
		to.faults = append(to.faults, &picture.Fault{Rule: picture.RuleColours, Why: "its colour profile is of a kind that is not converted, so colours may look different", Hint: "export it with the profile sRGB"})
	}
	for _, r := range rs {
		made := rendition{lineOf(r), r.Data}
		if ok { // all of a journal's photos would take much memory until the site is written
			made.data = nil
		}
		to.made = append(to.made, made)
	}
	return nil
}

func (d *preparedPhoto) refuse(err error) error {
	var f *picture.Fault
	if !errors.As(err, &f) {
		return err
	}
	d.faults = append(d.faults, f)
	return nil
}

// shownWidth is the width in pixels of the rendition for a browser that does not choose.
const shownWidth = 960

// photoSizes is how wide a photo is: the text's measure, or the whole of a small screen.
const photoSizes = "(min-width: 40rem) 36rem, 100vw"

// path is a rendition's place in the site: photos/NAME-HASH-960.jpg. Other bytes get another one, so that a browser may
// keep what it has for ever.
func (r rendition) path(name, key string) string {
	return fmt.Sprintf("photos/%s%s-%d%s", name, key[:min(len(key), 10)], r.Width, r.Kind.Extension())
}

// addressed is a photo as pages name it, by addresses relative to the site.
func addressed(name string, made preparedPhoto) prose.Photo {
	var p prose.Photo
	var set []string
	for i, r := range made.made {
		at := r.path(name, made.key)
		set = append(set, fmt.Sprintf("%s %dw", at, r.Width))
		if i == 0 || r.Width <= shownWidth {
			p.Src, p.Width, p.Height = at, r.Width, r.Height
		}
	}
	if len(set) > 1 {
		p.Srcset, p.Sizes = strings.Join(set, ", "), photoSizes
	}
	return p
}

// addressName is a photo's name as an address: a-z, 0-9 and hyphens, without its ending; at most 60 letters.
func addressName(name string) string {
	var b strings.Builder
	for _, r := range strings.ToLower(strings.TrimSuffix(name, path.Ext(name))) {
		switch {
		case r >= 'a' && r <= 'z' || r >= '0' && r <= '9':
			b.WriteRune(r)
		case b.Len() > 0 && !strings.HasSuffix(b.String(), "-"):
			b.WriteByte('-')
		}
	}
	s := b.String()
	return strings.Trim(s[:min(len(s), 60)], "-")
}

// namings lists the photos that heads and texts name, each once, at the first place.
func namings(j *journal.Journal) []naming {
	var out []naming
	seen := map[string]int{}
	add := func(n naming) {
		if at, ok := seen[n.name]; ok {
			out[at].record = out[at].record || n.record
		} else if n.name != "" {
			seen[n.name] = len(out)
			out = append(out, n)
		}
	}
	head := func(s journal.Source, photos []journal.Photo) {
		for i, p := range photos {
			add(naming{name: p.File, source: s, key: fmt.Sprintf("photos[%d].file", i)})
		}
	}
	maker := sync.OnceValue(func() *prose.Maker { return prose.New(prose.Options{Language: j.Language}) })
	body := func(s journal.Source, record bool) {
		if !s.Shows { // few texts do, and the others are not parsed
			return
		}
		for _, name := range photosIn(maker(), s.Body) {
			add(naming{name: name, source: s, record: record})
		}
	}
	for _, t := range j.Tanks {
		body(t.Source, false)
		for _, e := range t.Entries {
			head(e.Source, e.Photos)
			body(e.Source, false)
		}
	}
	for _, p := range j.Plants {
		head(p.Source, p.Photos)
		body(p.Source, false)
	}
	for _, p := range j.Pages {
		head(p.Source, p.Photos)
		body(p.Source, false)
	}
	for _, p := range j.Parcels {
		body(p.Source, true)
	}
	return out
}

// photosIn lists the photos that a text shows.
func photosIn(m *prose.Maker, text []byte) []string {
	return m.Render(text, prose.Place{}).Photos
}

// placeIn finds a name in a text: its line in the file, and its column in characters.
func placeIn(s journal.Source, name string) (line, column int) {
	at := max(bytes.Index(s.Body, []byte(name)), 0)
	before := s.Body[:at]
	start := bytes.LastIndexByte(before, '\n') + 1
	return s.BodyLine + bytes.Count(before, []byte("\n")), utf8.RuneCount(before[start:]) + 1
}
