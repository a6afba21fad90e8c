// Package listing finds the files of a journal in its folders by their names, and says what is wrong with a name.
package listing

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"path"
	"regexp"
	"slices"
	"strings"

	"slipleaf/build/quantity"
	"slipleaf/build/spelling"
	"slipleaf/build/usual"
)

// Kind says which of the journal's files a file is.
type Kind uint8

// The kinds of files.
const (
	JournalFile Kind = iota
	TankFile
	EntryFile
	PlantFile
	ParcelFile
	PageFile
	FriendFile
)

// File is a file of the journal that is to be read.
type File struct {
	Path string
	Kind Kind
	ID   string // TANK, PLANT or NAME; the file's name for parcels and friends
	Date quantity.Date
	Slug string
	Name string // the usual form of its path, where that is another

	Entry fs.DirEntry // as its folder lists it
}

// Wrong is what may be wrong with a name or a folder.
type Wrong uint8

// What may be wrong.
const (
	NoJournal Wrong = iota
	TooMany
	BadName
	NameClash
	Symlink
	Stray
	TakenName
	Taken // nothing is wrong: the name was taken for its usual form
)

// Problem is something wrong with a name of a file or folder.
type Problem struct {
	Wrong               Wrong
	File, Message, Hint string // Hint may be ""
}

// folders are those of the format, at the top of a journal.
var folders = []string{"tanks", "plants", "sent", "pages", "photos", "friends"}

// Folders lists the folders at the top of a journal that are read, the theme's aside.
func Folders() []string { return slices.Clone(folders) }

// reserved are addresses of the site, which pages must not take: the site's own pages, its files for machines and the
// folders of its pictures, printed sheets and styles.
var reserved = []string{"404", "assets", "desk", "diary", "forecasts", "friends", "look", "offers", "pages", "pass-along", "photos",
	"plants", "review", "schema", "search", "sent", "sheets", "space", "suit", "tanks", "tankside", "theme"}

var (
	// ID is the name of a tank, plant or page.
	ID = regexp.MustCompile(`^[a-z0-9]+(-+[a-z0-9]+)*-*$|^-+[a-z0-9-]*$`)
	// device are the names that Windows keeps for devices, whatever their extension.
	device = regexp.MustCompile(`(?i)^(con|prn|aux|nul|com[0-9¹²³]|lpt[0-9¹²³])(\..*)?$`)
)

// Listing is what a journal's folders hold.
type Listing struct {
	Files    []File
	Photos   []string            // paths below photos/
	Names    map[string][]string // what each folder holds, sorted, hidden names left out
	Problems []Problem
	Whole    bool // all was listed

	fsys  fs.FS
	most  int
	seen  int
	usual map[string]string // the file that is read by a usual name
}

// Of lists the files of a journal, of at most so many files and folders. An error is the disk's, or a cancelled ctx.
func Of(ctx context.Context, fsys fs.FS, most int) (*Listing, error) {
	w := &Listing{fsys: fsys, most: most}
	switch err := w.all(ctx); {
	case errors.Is(err, errTooMany):
		return w, nil
	case err != nil:
		return nil, err
	}
	w.Whole = true
	return w, nil
}

// mostNested is how deep folders in photos/ may lie.
const mostNested = 16

func (w *Listing) complain(r Wrong, file, message, hint string) {
	w.Problems = append(w.Problems, Problem{r, file, message, hint})
}

// errTooMany stops a walk; it has been complained of.
var errTooMany = errors.New("too many files")

// all walks the whole journal.
func (w *Listing) all(ctx context.Context) error {
	top, err := w.list(ctx, ".")
	if err != nil {
		return err
	}
	for _, e := range top {
		name := e.Name()
		switch {
		case name == "journal.yaml" && !e.IsDir():
			w.add(File{Path: name, Kind: JournalFile}, e)
		case slices.Contains(folders, name) && e.IsDir():
			if err := w.folder(ctx, name); err != nil {
				return err
			}
		case slices.Contains(folders, name) && e.Type()&fs.ModeSymlink != 0:
			w.refuse(name, e)
		default:
			w.stray(e)
		}
	}
	if !slices.ContainsFunc(w.Files, func(f File) bool { return f.Kind == JournalFile }) {
		w.complain(NoJournal, "journal.yaml", "there is no journal.yaml here", "run slipleaf start DIR to create one")
	}
	return nil
}

// stray notes an entry at the top, and a folder that looks like a misspelt one; a journal may hold files and folders of other
// kinds there.
func (w *Listing) stray(e fs.DirEntry) {
	near := spelling.Nearest(e.Name(), folders)
	_, there := slices.BinarySearch(w.Names["."], near)
	switch hint := toTank(e.Name()); {
	case e.IsDir() && near != "" && !there:
		w.complain(Stray, e.Name(), fmt.Sprintf("the folder %q is not read", spelling.Clip(e.Name())), "did you mean "+near+"?")
	case !e.IsDir() && hint != "":
		w.complain(Stray, e.Name(), "an entry is not read here", hint)
	}
}

func (w *Listing) folder(ctx context.Context, name string) error {
	switch name {
	case "tanks":
		return w.tanks(ctx)
	case "photos":
		return w.pictures(ctx, name, 0)
	}
	entries, err := w.list(ctx, name)
	if err != nil {
		return err
	}
	w.clashes(name, entries)
	for _, e := range entries {
		w.one(name, e)
	}
	return nil
}

// one takes a file of plants, sent, pages or friends.
func (w *Listing) one(dir string, e fs.DirEntry) {
	file := path.Join(dir, e.Name())
	base, isMarkdown := strings.CutSuffix(e.Name(), ".md")
	plain, note := usual.TextName(e.Name()), ""
	if low := strings.ToLower(e.Name()); plain != "" && strings.HasSuffix(low, ".txt") && !strings.HasSuffix(low, ".md.txt") { // it may be a mail, or a list
		plain, note = "", "if it belongs here, name it "+plain+".md; else move it out of the journal"
	}
	if dir != "friends" && !e.IsDir() && plain != "" {
		if k := map[string]Kind{"plants": PlantFile, "sent": ParcelFile, "pages": PageFile}[dir]; dir == "sent" || w.named(file, plain) && !slices.Contains(reserved, plain) {
			w.renamed(File{Path: file, Kind: k, ID: plain}, path.Join(dir, plain+".md"), e)
		}
		return
	}
	switch {
	case dir == "friends" && path.Ext(e.Name()) == ".json":
		w.add(File{Path: file, Kind: FriendFile, ID: e.Name()}, e)
	case dir == "friends" || !isMarkdown || e.IsDir():
		w.complain(Stray, file, "this file is not used here", note)
	case dir == "sent":
		if w.portable(file, e.Name()) {
			w.add(File{Path: file, Kind: ParcelFile, ID: base}, e)
		}
	case w.named(file, base):
		k := PlantFile
		if dir == "pages" {
			k = PageFile
			if slices.Contains(reserved, base) {
				w.complain(TakenName, file, fmt.Sprintf("/%s/ is already a page of the site", base), "rename this page")
				return
			}
		}
		w.add(File{Path: file, Kind: k, ID: base}, e)
	}
}

func (w *Listing) tanks(ctx context.Context) error {
	entries, err := w.list(ctx, "tanks")
	if err != nil {
		return err
	}
	for _, e := range entries {
		file := path.Join("tanks", e.Name())
		switch {
		case e.Type()&fs.ModeSymlink != 0:
			w.refuse(file, e)
		case !e.IsDir():
			w.complain(Stray, file, "this file is not used here; a tank is a folder with a tank.md", toTank(e.Name()))
		case w.named(file, e.Name()):
			if err := w.tank(ctx, e.Name()); err != nil {
				return err
			}
		}
	}
	return nil
}

// tank lists the files of one tank.
func (w *Listing) tank(ctx context.Context, id string) error {
	dir := path.Join("tanks", id)
	entries, err := w.list(ctx, dir)
	if err != nil {
		return err
	}
	for _, e := range entries {
		file := path.Join(dir, e.Name())
		base, isMarkdown := strings.CutSuffix(e.Name(), ".md")
		plain := usual.TextName(e.Name())
		switch {
		case !isMarkdown && !e.IsDir() && plain == "tank":
			w.renamed(File{Path: file, Kind: TankFile, ID: id}, path.Join(dir, "tank.md"), e)
		case !isMarkdown && !e.IsDir() && isEntry(e.Name()):
			w.entry(file, plain, id, e)
		case e.IsDir():
			w.complain(Stray, file, "this folder is not read: the entries of a tank lie beside its tank.md", "move the entries in it up, and all else out of the journal")
		case !isMarkdown:
			w.complain(Stray, file, "this file is not used here; pictures go in photos/", "")
		case base == "tank":
			w.add(File{Path: file, Kind: TankFile, ID: id}, e)
		default:
			w.entry(file, base, id, e)
		}
	}
	return nil
}

func (w *Listing) entry(file, base, tank string, e fs.DirEntry) {
	m := usual.Entry.FindStringSubmatch(base)
	if full := usual.EntryName(base); m == nil && full != "" {
		f := File{Path: file, Kind: EntryFile, ID: tank}
		m = usual.Entry.FindStringSubmatch(full)
		f.Date, _ = quantity.ParseDate(m[1])
		f.Slug = m[2]
		w.renamed(f, path.Join("tanks", tank, full+".md"), e)
		return
	}
	if m == nil {
		hint := w.dayHint(path.Dir(file), base)
		if spelling.Nearest(base, []string{"tank"}) != "" {
			hint = "did you mean tank.md?"
		}
		w.complain(BadName, file, fmt.Sprintf("%q is not a valid entry name; use 2026-04-18.md or 2026-04-18-slug.md", spelling.Clip(e.Name())), hint)
		return
	}
	date, err := quantity.ParseDate(m[1])
	if err != nil {
		w.complain(BadName, file, err.Error(), "correct the day in its name")
		return
	}
	f := File{Path: file, Kind: EntryFile, ID: tank, Date: date, Slug: m[2]}
	if full := path.Join("tanks", tank, base+".md"); full != file {
		w.renamed(f, full, e)
		return
	}
	w.add(f, e)
}

// toTank says where a file belongs that has the name of an entry; "" for others.
func toTank(name string) string {
	if isEntry(name) {
		return "move it into the folder of its tank, as in tanks/shelf/"
	}
	return ""
}

// isEntry reports whether a file has the name of an entry, in its usual form or nearly.
func isEntry(name string) bool {
	base := cmp.Or(usual.TextName(name), strings.TrimSuffix(name, ".md"))
	return base != name && (usual.Entry.MatchString(base) || usual.EntryName(base) != "")
}

// pictures lists the files below photos/. They are looked at later, by name only here.
func (w *Listing) pictures(ctx context.Context, dir string, depth int) error {
	entries, err := w.list(ctx, dir)
	if err != nil {
		return err
	}
	w.clashes(dir, entries)
	for _, e := range entries {
		file := path.Join(dir, e.Name())
		switch {
		case e.IsDir() && depth < mostNested:
			if err := w.pictures(ctx, file, depth+1); err != nil {
				return err
			}
		case e.IsDir():
			w.complain(TooMany, file, fmt.Sprintf("folders in photos/ are nested more than %d deep", mostNested), "move its photos further up")
		case !e.Type().IsRegular():
			w.refuse(file, e)
		case !w.clean(file, e.Name()):
		default:
			w.Photos = append(w.Photos, strings.TrimPrefix(file, "photos/"))
		}
	}
	return nil
}
