// Package page turns a linked journal into the pages of the site: typed models, filled here, and templates of the
// theme that only lay them out. It does no calculation, no I/O and reads no clock.
package page

import (
	"fmt"
	"html/template"
	"maps"
	"slices"
	"strings"
	"sync"

	"slipleaf/build/almanac"
	"slipleaf/build/facts"
	"slipleaf/build/growth"
	"slipleaf/build/journal"
	"slipleaf/build/plot"
	"slipleaf/build/prose"
	"slipleaf/build/quantity"
	"slipleaf/build/spelling"
	"slipleaf/build/theme"
	"slipleaf/build/words"
)

// Site is a journal with all that its pages are made from. Make it with [NewSite]; it is read-only afterwards and safe
// for concurrent use. A page is made by a copy of it that notes what is read.
type Site struct {
	// All is everything that was linked, for who is no page; nil in the copy that makes a page.
	All     *facts.Linked
	Journal *journal.Journal // the outline: what every page may read
	Almanac *almanac.Almanac
	Theme   *theme.Theme
	OnDisk  bool // links name index.html

	facts  *facts.Reader // lends the page all else of the journal
	prose  *prose.Maker
	photos map[string]prose.Photo
	memo   *memo
	links  *sync.Map // the links around pages, by place
	parts  *sync.Map // parts of pages that many share, by name and place

	photoFiles []PhotoFile
}

// Options for [NewSite]. The zero value is right for a site on a server.
type Options struct {
	OnDisk bool
	// Photos are the pictures of the journal that have been made ready, by the name in the journal.
	Photos map[string]prose.Photo
	// PhotoFiles are the files that Photos name.
	PhotoFiles []PhotoFile
	// Growth remembers the fits of the site before; nil: all are made anew.
	Growth *growth.Memory
	// Program tells one program from another, where outputs of two of them may meet.
	Program string
}

// PhotoFile is a file that a photo became. Its bytes are read when they are asked for, by any number at a time.
type PhotoFile struct {
	Path string // slash path without a leading slash
	Size int    // bytes
	Read func() ([]byte, error)
}

// NewSite links a journal to the almanac and a theme.
func NewSite(j *journal.Journal, a *almanac.Almanac, t *theme.Theme, on quantity.Date, o Options) *Site {
	b := &Site{Almanac: a, Theme: t, OnDisk: o.OnDisk, photos: o.Photos, photoFiles: o.PhotoFiles, memo: &memo{}, links: &sync.Map{}, parts: &sync.Map{}}
	b.prose = prose.New(prose.Options{Language: j.Language, TableLabel: t.Words.Text("prose.table")})
	b.All = facts.Link(j, a, on, facts.Options{Made: o.made(t), Growth: o.Growth})
	b.facts = b.All.Look()
	b.Journal = b.facts.Outline()
	return b
}

// made tells apart what pages are made with beside the journal.
func (o Options) made(t *theme.Theme) string {
	out := fmt.Appendf(nil, "%s\x00%x\x00%t\x00%s\x00%s\x00", o.Program, t.Sum, o.OnDisk, t.Styles.Path, t.Words.Lang)
	for _, f := range o.PhotoFiles {
		out = fmt.Appendf(out, "%s\x00%d\x00", f.Path, f.Size) // the path holds the hash of the original
	}
	for _, name := range slices.Sorted(maps.Keys(o.Photos)) {
		out = fmt.Appendf(out, "%s\x00%v\x00", name, o.Photos[name])
	}
	return string(out)
}

// reading is a copy of the site for making one thing: what it reads is noted.
func (b *Site) reading() *Site {
	own := *b
	own.All, own.facts = nil, b.facts.Again()
	return &own
}

// names reports whether an entry names a plant.
func names(e *journal.Entry, plant string) bool {
	for id := range e.Named() {
		if id == plant {
			return true
		}
	}
	return false
}

// PlantIDs lists the plants that have a page, sorted.
func (b *Site) PlantIDs() []string { return b.facts.PlantIDs() }

// Species is the plant as this journal knows it.
func (b *Site) Species(id string) almanac.Species { return b.facts.Species(id) }

// plantLink names a plant with the link to its page from the page at addr.
func (b *Site) plantLink(from, id string) theme.PlantName {
	s, ok := b.facts.Species(id), b.facts.Knows(id)
	if !ok {
		if s, ok = b.Almanac.Species(id); !ok {
			return theme.PlantName{First: words.Taxon(id)}
		}
		first, second := b.names(s.Spoken(b.Journal.Language))
		return theme.PlantName{First: first, Second: second}
	}
	first, second := b.names(s)
	return theme.PlantName{First: first, Second: second, Href: b.href(from, PlantAddr(id))}
}

// plantName is a plant's plain name for titles: its common name, or the scientific one.
func (b *Site) plantName(id string) string {
	s, ok := b.facts.Species(id), b.facts.Knows(id)
	if !ok {
		return id
	}
	return words.PlantName(s)
}

func (b *Site) tankName(id string) string {
	if t, ok := b.Journal.Tank(id); ok && t.Name != "" {
		return t.Name
	}
	return id
}

func (b *Site) href(from, to string) string { return Relative(from, to, b.OnDisk) }

// writtenPages are the pages of pages/ in the order of the navigation.
func (b *Site) writtenPages() []*journal.Page {
	ps := slices.Clone(b.Journal.Pages)
	slices.SortStableFunc(ps, func(x, y *journal.Page) int {
		if x.Order != y.Order {
			return x.Order - y.Order
		}
		return strings.Compare(x.ID, y.ID)
	})
	return ps
}

// mail is the address to write to, without what a claim fills in; "" when there is none.
func (b *Site) mail() string {
	if !strings.HasPrefix(b.Journal.Requests, "mailto:") {
		return ""
	}
	addr, _, _ := strings.Cut(strings.TrimPrefix(b.Journal.Requests, "mailto:"), "?")
	return addr
}

// text renders the Markdown of a file for the page at addr. Faults were complained about when the journal was
// read, so what is left of them shows as the words of the link.
func (b *Site) text(from string, src journal.Source) prose.Document {
	body := b.facts.Text(src)
	if len(body) == 0 {
		return prose.Document{}
	}
	return b.prose.Render(body, prose.Place{Links: linker{b, from}, Figures: figures{b, from}, Photos: b.pictures(from)})
}

// entryText is the text of an entry on its own page, rendered once.
func (b *Site) entryText(e *journal.Entry) prose.Document {
	return b.memo.texts.of(b, e, textOf(e))
}

func textOf(e *journal.Entry) func(b *Site) prose.Document {
	return func(b *Site) prose.Document { return b.text(EntryAddr(e), e.Source) }
}

// summary is the first paragraph of an entry's text, which nothing else of it changes.
func (b *Site) summary(e *journal.Entry) string {
	b.facts.Brief(e)
	return b.memo.texts.find(b, e, textOf(e)).value.Summary
}

// Ref is what a text leads to or shows: a plant, tank, lot or entry by its name, or a photo.
type Ref struct{ Scheme, Name string }

// photoRef is the scheme of a photo among what a text refers to.
const photoRef = "photo"

// Check lists what is wrong with the links and figures of a file's prose, and what it refers to. A text without faults has
// none as long as it stays the same and all that it refers to is there.
func (b *Site) Check(from string, src journal.Source) ([]prose.Fault, []Ref) {
	seen := &recorder{linker: linker{b, from}}
	faults := b.prose.Check(b.facts.Text(src), seen)
	return faults, seen.refs
}

// Stands reports whether all that a text refers to is there.
func (b *Site) Stands(refs []Ref) bool {
	for _, r := range refs {
		if _, ok := b.find(r); !ok {
			return false
		}
	}
	return true
}

// find gives the address of what a text refers to; that of a photo is "".
func (b *Site) find(r Ref) (addr string, ok bool) {
	switch r.Scheme {
	case photoRef:
		_, ok = b.photos[r.Name]
		return "", ok
	case "plant":
		id := r.Name
		if ok = b.facts.Knows(id); !ok {
			id = b.Journal.Meant(b.Almanac, id).ID
			ok = id != "" && b.facts.Knows(id)
		}
		return PlantAddr(id), ok
	case "tank":
		_, ok = b.Journal.Tank(r.Name)
		return TankAddr(r.Name), ok
	case "lot":
		_, ok = b.facts.Lot(r.Name)
		return LotAddr(r.Name), ok
	case "entry":
		tank, id, _ := strings.Cut(r.Name, "/")
		e, known := b.facts.FindEntry(tank, id)
		if !known {
			return "", false
		}
		return EntryAddr(e), true
	}
	return "", false
}

// recorder notes what is looked up.
type recorder struct {
	linker
	refs []Ref
}

// Href implements prose.Links.
func (r *recorder) Href(scheme, name string) (string, bool) {
	r.refs = append(r.refs, Ref{scheme, name})
	return r.linker.Href(scheme, name)
}

// Photo implements prose.Photos.
func (r *recorder) Photo(name string) (prose.Photo, bool) {
	r.refs = append(r.refs, Ref{photoRef, name})
	return r.linker.Photo(name)
}

// linker resolves the journal's own links from one page.
type linker struct {
	b    *Site
	from string
}

// Href implements prose.Links.
func (l linker) Href(scheme, name string) (string, bool) {
	if scheme == photoRef {
		return "", false
	}
	addr, ok := l.b.find(Ref{scheme, name})
	if !ok {
		return "", false
	}
	return l.b.href(l.from, addr), true
}

// Photo implements prose.Photos, so that a text's photos are looked up when its links are.
func (l linker) Photo(name string) (prose.Photo, bool) { return l.b.pictures(l.from).Photo(name) }

// Near implements prose.Nearest.
func (l linker) Near(scheme, name string) string {
	var all []string
	j := l.b.Journal
	switch scheme {
	case "plant":
		if asks := j.Meant(l.b.Almanac, name).Apart(""); len(asks) > 0 {
			return strings.Join(asks, " or "+scheme+":")
		}
		all = l.b.PlantIDs()
	case "tank":
		for _, t := range j.Tanks {
			all = append(all, t.ID)
		}
	case "lot":
		for _, e := range l.b.facts.Entries() {
			for _, lot := range e.Lots {
				all = append(all, lot.ID)
			}
		}
	case "entry":
		for _, e := range l.b.facts.Entries() {
			all = append(all, e.Tank+"/"+e.ID())
		}
	}
	return spelling.Nearest(name, all)
}

// photoSet finds the photos of the page at from.
type photoSet struct {
	b    *Site
	from string
}

func (b *Site) pictures(from string) prose.Photos { return photoSet{b, from} }

// Photo implements prose.Photos.
func (p photoSet) Photo(name string) (prose.Photo, bool) {
	ph, ok := p.b.photos[name]
	if ok {
		ph.Src = p.b.href(p.from, "/"+ph.Src)
		ph.Srcset = p.srcset(ph.Srcset)
	}
	return ph, ok
}

// srcset makes every address of a srcset relative to the page. Addresses of photos hold neither spaces nor commas.
func (p photoSet) srcset(set string) string {
	if set == "" {
		return ""
	}
	all := strings.Split(set, ", ")
	for i, candidate := range all {
		all[i] = p.b.href(p.from, "/"+candidate)
	}
	return strings.Join(all, ", ")
}

// figures draws the fenced figures of prose.
type figures struct {
	b    *Site
	from string
}

// Figure implements prose.Figures.
func (f figures) Figure(kind string, args []string) (template.HTML, error) {
	return f.b.figure(f.from, kind, args)
}

// plots draws the charts of the page that b makes.
func (b *Site) plots() plot.Kit {
	return plot.Kit{Locale: b.Locale(), Facts: b.facts, Href: b.href, PlantAddr: PlantAddr, TankAddr: TankAddr, PlantName: b.plantName, TankName: b.tankName, ForecastsAddr: ForecastsAddr,
		Standing: func(t *journal.Tank) []string {
			var ids []string
			for _, s := range b.standing(t) {
				ids = append(ids, s.Plant)
			}
			return ids
		}}
}
