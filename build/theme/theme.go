// Package theme turns typed models into pages: it parses a folder of templates, styles, scripts and words, and holds the
// frame that every page has around its main part.
package theme

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"html/template"
	"io/fs"
	"slices"
	"strings"
	"sync"

	"github.com/tdewolff/minify/v2"
	"github.com/tdewolff/minify/v2/css"

	"slipleaf/build/fingerprint"
	"slipleaf/build/words"
)

// Theme is a parsed theme in one language: templates, styles and scripts. It is safe for concurrent use.
type Theme struct {
	Words  *words.Words
	pages  func() (*template.Template, error)
	Styles File // every style sheet in one, minified, named by its content
	Sheet  File // the small style of care sheets: tokens, drawings and styles/sheet/*.css
	Label  File // that of labels, strips and cards: tokens, drawings, styles/sheet/*.css and styles/label/*.css
	Script File // the little script of offers, suit and search; its Path is "" when the theme has none
	// The form that writes entries without a network, and its style; TanksideWorker keeps it in the browser.
	Tankside, TanksideStyle File
	TanksideWorker          []byte

	Icon File            // what a browser shows on a tab; its Path is "" when the theme has none
	Sum  fingerprint.Sum // of the theme's files

	files  fs.FS
	spoken sync.Map // by language: func() (*Theme, error)
	parts  sync.Map // by name and model: template.HTML

	buffers sync.Pool // of *bytes.Buffer, to write on: what is kept of a page is no larger than the page
}

// File is a file of the site.
type File struct {
	Path string // slash path without a leading slash
	Data []byte
}

// The files of the styles of care sheets, which must be small, and of the other papers. Whoever makes a theme puts tokens first.
var (
	sheetStyles = []string{"styles/00-tokens.css", "styles/61-draw.css", "styles/sheet/*.css"}
	labelStyles = []string{"styles/00-tokens.css", "styles/61-draw.css", "styles/sheet/*.css", "styles/label/*.css"}
)

// Load parses a theme folder: templates/*.html, styles/*.css, scripts/*.js and words/*.yaml. more is style text of the
// program's own making (the colours of code).
func Load(fsys fs.FS, lang, more string) (*Theme, error) {
	w, err := words.Load(fsys, lang)
	if err != nil {
		return nil, err
	}
	t := &Theme{Words: w, files: fsys}
	t.pages = sync.OnceValues(t.parse)
	if _, err := t.pages(); err != nil {
		return nil, err
	}
	for _, f := range []struct {
		made            *File
		patterns        []string
		stem, ext, more string
	}{
		{&t.Styles, []string{"styles/*.css"}, "look", ".css", more},
		{&t.Sheet, sheetStyles, "sheet", ".css", ""},
		{&t.Label, labelStyles, "label", ".css", ""},
		{&t.Script, []string{"scripts/*.js"}, "help", ".js", ""},
		{&t.Icon, []string{"icon.svg"}, "icon", ".svg", ""},
		{&t.Tankside, []string{"tankside/compose.js", "tankside/form.js"}, "tankside", ".js", ""},
		{&t.TanksideStyle, []string{"styles/00-tokens.css", "desk/desk.css"}, "tankside", ".css", ""},
	} {
		if *f.made, err = bundle(fsys, f.patterns, f.stem, f.ext, f.more); err != nil {
			return nil, err
		}
	}
	if t.TanksideWorker, err = fs.ReadFile(fsys, "tankside/worker.js"); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, err
	}
	t.Sum, err = fingerprint.Files(fsys)
	return t, err
}

// Speaks is the error of [Theme.In]. Words that come with the program are not read for it: tests have read them.
func (t *Theme) Speaks(lang string) error {
	base, _, _ := strings.Cut(lang, "-")
	if len(words.Layers(t.files)) == 1 && slices.Contains(append(words.Languages(t.files), ""), base) {
		return nil
	}
	_, err := t.In(lang)
	return err
}

// In is the theme in another language, for the papers of who asked for it; an error where it has no words in it.
func (t *Theme) In(lang string) (*Theme, error) {
	if lang == "" || lang == t.Words.Lang {
		return t, nil
	}
	made, _ := t.spoken.LoadOrStore(lang, sync.OnceValues(func() (*Theme, error) {
		w, err := words.Load(t.files, lang)
		if err != nil {
			return nil, err
		}
		o := &Theme{Words: w, Styles: t.Styles, Sheet: t.Sheet, Label: t.Label, Icon: t.Icon, Sum: t.Sum, files: t.files}
		o.pages = sync.OnceValues(o.parse)
		return o, nil
	}))
	return made.(func() (*Theme, error))()
}

// parse parses all templates into one set. A name that two files define would be whichever was read last.
func (t *Theme) parse() (*template.Template, error) {
	names, err := fs.Glob(t.files, "templates/*.html")
	if err != nil || len(names) == 0 {
		return nil, fmt.Errorf("the theme has no templates/*.html")
	}
	set := template.New("theme").Option("missingkey=error").Funcs(template.FuncMap{"say": t.Words.HTML, "text": t.Words.Text, "taxon": words.Taxon, "once": t.shared, "kept": t.kept})
	definedIn := map[string]string{}
	for _, n := range names {
		if _, err := set.ParseFS(t.files, n); err != nil {
			return nil, err
		}
		for _, p := range set.Templates() {
			if p.Tree == nil { // of the set itself
				continue
			}
			if was, ok := definedIn[p.Name()]; ok && was != p.Tree.ParseName {
				return nil, fmt.Errorf("templates/%s and templates/%s both define %q", was, p.Tree.ParseName, p.Name())
			}
			definedIn[p.Name()] = p.Tree.ParseName
		}
	}
	return set, nil
}

// Render executes the template of kind with its model into bytes.
func (t *Theme) Render(kind string, model any) ([]byte, error) { return t.Part(kind+".html", model) }

// Part executes a named part with its model.
func (t *Theme) Part(name string, model any) ([]byte, error) {
	set, err := t.pages()
	if err != nil {
		return nil, err
	}
	if set.Lookup(name) == nil {
		return nil, fmt.Errorf("the theme has no templates/%s", name)
	}
	b, ok := t.buffers.Get().(*bytes.Buffer)
	if !ok {
		b = new(bytes.Buffer)
	}
	b.Reset()
	defer t.buffers.Put(b)
	if err := set.ExecuteTemplate(b, name, model); err != nil {
		return nil, explain(err, strings.TrimSuffix(name, ".html"), model)
	}
	return bytes.Clone(b.Bytes()), nil
}

// bundle joins the files of each pattern in name order and names the result by its content.
func bundle(fsys fs.FS, patterns []string, stem, ext, more string) (File, error) {
	var names []string
	for _, p := range patterns {
		found, err := fs.Glob(fsys, p)
		if err != nil {
			return File{}, err
		}
		names = append(names, found...)
	}
	var b bytes.Buffer
	for _, n := range names {
		text, err := fs.ReadFile(fsys, n)
		if err != nil {
			return File{}, err
		}
		b.Write(text)
		b.WriteByte('\n')
	}
	b.WriteString(more)
	if b.Len() == 0 {
		return File{}, nil
	}
	data := b.Bytes()
	if ext == ".css" {
		m := minify.New()
		m.AddFunc("text/css", css.Minify)
		var err error
		if data, err = m.Bytes("text/css", data); err != nil {
			return File{}, fmt.Errorf("styles: %w", err)
		}
	}
	sum := sha256.Sum256(data)
	return File{"look/" + stem + "-" + hex.EncodeToString(sum[:5]) + ext, data}, nil
}

// shared executes a named part with a frame, once for all pages at whose place its links and styles are the same: what begins
// the document, its top and its foot say nothing of the page itself.
func (t *Theme) shared(name string, f Frame) (template.HTML, error) {
	if f.parts == nil {
		return t.html(name, f)
	}
	key := name + " " + f.place + " " + f.Lang + " " + f.Styles + " " + f.OnDate()
	if f.Unlisted {
		key += " unlisted"
	}
	return keep(f.parts, key, func() (template.HTML, error) { return t.html(name, f) })
}

// kept executes a named part once for each model, of which the pages must hold few that differ, as of the names of plants.
func (t *Theme) kept(name string, model any) (template.HTML, error) {
	return keep(&t.parts, [2]any{name, model}, func() (template.HTML, error) { return t.html(name, model) })
}

func keep(parts *sync.Map, key any, made func() (template.HTML, error)) (template.HTML, error) {
	if known, ok := parts.Load(key); ok {
		return known.(template.HTML), nil
	}
	h, err := made()
	if err == nil {
		parts.Store(key, h)
	}
	return h, err
}

func (t *Theme) html(name string, model any) (template.HTML, error) {
	made, err := t.Part(name, model)
	return template.HTML(made), err
}
