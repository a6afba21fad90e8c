package listing

import (
	"context"
	"fmt"
	"io/fs"
	"path"
	"regexp"
	"slices"
	"strings"
	"unicode/utf8"

	"slipleaf/build/spelling"
	"slipleaf/build/usual"
)

// Hidden reports whether a name is one that a reader of journals passes over: of a hidden file, or of what editors leave.
func Hidden(name string) bool {
	return strings.HasPrefix(name, ".") || strings.HasPrefix(name, "#") || strings.HasSuffix(name, "~")
}

// list reads a folder, without what is hidden.
func (w *Listing) list(ctx context.Context, dir string) ([]fs.DirEntry, error) {
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	entries, err := fs.ReadDir(w.fsys, dir)
	if err != nil {
		return nil, err
	}
	entries = slices.DeleteFunc(entries, func(e fs.DirEntry) bool { return Hidden(e.Name()) })
	if w.seen += len(entries); w.seen > w.most {
		w.complain(TooMany, dir, fmt.Sprintf("the journal has more than %d files and folders", w.most), "is this the right folder? if so, move past years into a separate journal")
		return nil, errTooMany
	}
	if w.Names == nil {
		w.Names = map[string][]string{}
	}
	names := make([]string, len(entries)) // a folder in which nothing was found is told of too
	for i, e := range entries {
		names[i] = e.Name()
	}
	w.Names[dir] = names
	return slices.DeleteFunc(entries, func(e fs.DirEntry) bool { return w.copied(dir, e.Name()) }), nil
}

// madeCopy is what programs add to a name when a file was changed in two places, or is there already.
var madeCopy = regexp.MustCompile(`(?i)^( ?\([0-9]+\)|[ ._(-].*(conflict|konflikt|copy|kopie).*)$`)

// copied complains of what a program seems to have made of another file or folder: read as one of its own, all in it would
// count twice. A name in the letters of the format is meant, and photos may be numbered so.
func (w *Listing) copied(dir, name string) bool {
	ext := path.Ext(name)
	base := strings.TrimSuffix(name, ext)
	if ID.MatchString(base) || strings.HasPrefix(dir+"/", "photos/") {
		return false
	}
	for i := len(base) - 1; i > 0; i-- {
		of := base[:i] + ext
		if !madeCopy.MatchString(base[i:]) || dir == "." && of != "journal.yaml" && !slices.Contains(folders, of) {
			continue
		}
		if _, there := slices.BinarySearch(w.Names[dir], of); there {
			w.complain(NameClash, path.Join(dir, name), fmt.Sprintf("this looks like a copy of %q that a program made", spelling.Clip(of)), "take over there what only the copy says, and delete it; or give it a name of its own")
			return true
		}
	}
	return false
}

func (w *Listing) add(f File, e fs.DirEntry) {
	if !e.Type().IsRegular() {
		w.refuse(f.Path, e)
		return
	}
	f.Entry = e
	w.Files = append(w.Files, f)
}

// refuse complains of links, which could lead out of the journal, and of what is no plain file.
func (w *Listing) refuse(file string, e fs.DirEntry) {
	if e.Type()&fs.ModeSymlink != 0 {
		w.complain(Symlink, file, "this is a symbolic link; links are not followed", "put the file itself here")
		return
	}
	w.complain(Symlink, file, "this is not an ordinary file", "replace it with a file, or remove it")
}

// named checks the name of a tank, plant or page.
func (w *Listing) named(file, id string) bool {
	if len(id) > 100 || !ID.MatchString(id) {
		w.complain(BadName, file, fmt.Sprintf("%q can't be a name here: use only a-z, 0-9 and hyphens", spelling.Clip(id)), idHint(id))
		return false
	}
	return w.portable(file, id)
}

// idHint is the name that would do in place of one that cannot be.
func idHint(id string) string {
	s := Slug(id)
	if s == "" || s == id {
		return ""
	}
	return "rename it " + s
}

// days are the ways in which people write a day, with its year, month and day, and what is written around it.
var days = []struct {
	form             *regexp.Regexp
	year, month, day int
}{
	{regexp.MustCompile(`^(|.*?[^0-9])([0-9]{4})[-._ ]?([0-9]{2})[-._ ]?([0-9]{2})([^0-9].*)?$`), 2, 3, 4},
	{regexp.MustCompile(`^(|.*?[^0-9])([0-9]{1,2})\.([0-9]{1,2})\.([0-9]{4})([^0-9].*)?$`), 4, 3, 2}, // points: DIN 5008
	{regexp.MustCompile(`^(|.*?[^0-9])(1[3-9]|2[0-9]|3[01])[-_ ]([0-9]{1,2})[-_ ]([0-9]{4})([^0-9].*)?$`), 4, 3, 2},
	{regexp.MustCompile(`^(|.*?[^0-9])([0-9]{1,2})[-_ ](1[3-9]|2[0-9]|3[01])[-_ ]([0-9]{4})([^0-9].*)?$`), 4, 2, 3},
}

// dayHint is the name of an entry that would do in place of one that cannot be, if only one day can be meant.
func (w *Listing) dayHint(dir, base string) string {
	for _, d := range days {
		m := d.form.FindStringSubmatch(base)
		if m == nil {
			continue
		}
		full := usual.Date(m[d.year] + "-" + m[d.month] + "-" + m[d.day])
		if full == "" {
			continue
		}
		if what := Slug(m[1] + " " + m[5]); what != "" {
			full += "-" + what
		}
		free := full
		for n := 2; slices.Contains(w.Names[dir], free+".md"); n++ {
			free = fmt.Sprintf("%s-%d", full, n)
		}
		return "rename it " + free + ".md"
	}
	return "name it by its day"
}

// portable refuses names that cannot be on some system that the journal may be moved to.
func (w *Listing) portable(file, name string) bool {
	if device.MatchString(name) || !utf8.ValidString(name) || strings.ContainsAny(name, `<>:"|?*\`) || strings.TrimRight(name, ". ") != name {
		w.complain(BadName, file, fmt.Sprintf("%q can't be a file name on Windows", spelling.Clip(name)), "rename it")
		return false
	}
	return w.clean(file, name)
}

// clean refuses names with characters that do not show, which could steer a terminal or pass for another name.
func (w *Listing) clean(file, name string) bool {
	if spelling.Clean(name) == name {
		return true
	}
	w.complain(BadName, spelling.Clean(file), fmt.Sprintf("the name %q holds a character that does not show", spelling.Clip(name)), "rename it")
	return false
}

// clashes complains of names that are one name where case does not count.
func (w *Listing) clashes(dir string, entries []fs.DirEntry) {
	first := make(map[string]string, len(entries))
	for _, e := range entries {
		folded := strings.ToLower(e.Name())
		if other, ok := first[folded]; ok {
			w.complain(NameClash, path.Join(dir, e.Name()), fmt.Sprintf("%q and %q differ only in capitals; many systems treat them as one file", spelling.Clip(other), spelling.Clip(e.Name())), "rename one of them")
			continue
		}
		first[folded] = e.Name()
	}
}
