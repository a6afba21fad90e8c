// Package prose turns the Markdown of a journal into HTML that is safe to print.
//
// The language is CommonMark 0.31.2 with the tables of GitHub Flavored Markdown 0.29, read by
// goldmark. On top of it come the journal's own links (plant:, tank:, lot:, entry:), figures drawn
// from fenced blocks, coloured code and the quotation marks of the writer's language. Raw HTML is
// shown as text. What a page needs besides the text (addresses, figures, photos) it asks through
// small interfaces, so the package knows no page, no file and no address of its own.
//
// The HTML uses a few classes that a theme styles: "sideways" (the scrolling frame of a table),
// "to-left", "to-middle", "to-right" (cells), "markup" (raw HTML shown as text), "unlinked" (the
// words of a link that leads nowhere), "undrawn" (a figure that could not be drawn) and the
// "c-…" classes of CodeCSS. No style attribute is ever written.
package prose

import (
	"bytes"
	"cmp"
	"html/template"
	"slices"
	"unicode/utf8"

	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/extension"
	"github.com/yuin/goldmark/parser"
	"github.com/yuin/goldmark/text"
	"github.com/yuin/goldmark/util"
)

// Options says how a Maker writes; the zero value suits a page in English whose title is its h1.
type Options struct {
	// Language is a BCP 47 tag, such as "en-GB" or "de". It chooses the quotation marks; in a
	// language that the package does not know they stay straight. Empty: English.
	Language string
	// TableLabel is the word that names a table to a screen reader. Empty: "Table".
	TableLabel string
}

// Links turns the name behind one of our schemes into an address as the page is to print it.
// ok is false if there is no such page. The scheme is "plant", "tank", "lot" or "entry".
//
// A Links may also be a Nearest, a Pages and (for Check) a Photos.
type Links interface {
	Href(scheme, name string) (addr string, ok bool)
}

// Nearest is a Links or a Photos that knows the name most like a wrong one; "" if none is near.
// The scheme of a photo is "photo".
type Nearest interface {
	Near(scheme, name string) string
}

// Pages is a Links that also judges an address written out as a path within the site, such as
// "../../offers/" or "/offers/", without query and fragment. Without it relative paths are printed as written, and paths from
// the root are faults, as they fail in a sub-folder and from a disk.
type Pages interface {
	Page(path string) (addr string, ok bool)
}

// Figures draws the figure of a fenced block. kind is "growth", "parameter", "water" or "keys", args are the
// words after it. The HTML is printed as it is. An error is told to the writer; if it has a method
// Hint() string, so is the hint.
type Figures interface {
	Figure(kind string, args []string) (template.HTML, error)
}

// Photos finds a photo by the relative name that is in the text; ok is false if there is none.
type Photos interface {
	Photo(name string) (photo Photo, ok bool)
}

// Photo is what an image element needs besides its words. Only Src must be given.
type Photo struct {
	Src           string // address as printed
	Srcset, Sizes string // as in HTML; empty: left out
	Width, Height int    // CSS pixels; 0: left out
}

// Place is what a text may draw on where it is printed. What is nil is left out without a fault:
// a link becomes its words, a figure nothing, a photo its description. A feed may want that.
type Place struct {
	Links   Links
	Figures Figures
	Photos  Photos
}

// Document is a text made ready, with what was seen on the way.
type Document struct {
	HTML    template.HTML
	Summary string   // the first paragraph as plain text on one line, photos left out
	Photos  []string // names of photos, sorted, each once, also those not found
	Faults  []Fault  // sorted by line, column and rule
}

// Maker makes documents. It is built once and may be used by many goroutines at a time.
type Maker struct{ markdown goldmark.Markdown }

// New builds a Maker.
func New(o Options) *Maker {
	o.TableLabel = cmp.Or(o.TableLabel, "Table")
	return &Maker{goldmark.New(goldmark.WithExtensions(
		extension.NewTable(extension.WithTableCellAlignMethod(extension.TableCellAlignNone)),
		ours{o},
	))}
}

// Render makes the HTML of body. Faults are part of the document, and all of it where the text is beyond its bounds.
func (m *Maker) Render(body []byte, in Place) Document {
	j := &job{place: in, draws: true, source: valid(body)}
	if f := bounded(j.source); f != nil {
		return Document{Faults: []Fault{*f}}
	}
	root := m.parse(j)
	var out bytes.Buffer
	out.Grow(len(body) + len(body)/2)
	_ = m.markdown.Renderer().Render(&out, j.source, root) // a buffer takes all, and no writer of a node fails
	doc := j.finish()
	doc.HTML = template.HTML(out.String())
	return doc
}

// Check returns the faults of body without rendering it or drawing a figure; the plant and the tank
// of a figure are looked up through links. Photos are looked up if links is also a Photos.
func (m *Maker) Check(body []byte, links Links) []Fault {
	j := &job{place: Place{Links: links}, source: valid(body)}
	if photos, ok := links.(Photos); ok {
		j.place.Photos = photos
	}
	if f := bounded(j.source); f != nil {
		return []Fault{*f}
	}
	m.parse(j)
	return j.finish().Faults
}

func (m *Maker) parse(j *job) node {
	pc := parser.NewContext()
	pc.Set(jobKey, j)
	return m.markdown.Parser().Parse(text.NewReader(j.source), parser.WithContext(pc))
}

// valid replaces what HTML cannot hold: bytes that are no UTF-8, and U+0000 as CommonMark asks for
// (section 2.3). Lines and, but for runs of wrong bytes, columns keep their numbers.
func valid(body []byte) []byte {
	replacement := []byte("\uFFFD")
	if !utf8.Valid(body) {
		body = bytes.ToValidUTF8(body, replacement)
	}
	if bytes.IndexByte(body, 0) >= 0 {
		body = bytes.ReplaceAll(body, []byte{0}, replacement)
	}
	return body
}

// ours is the goldmark extension that adds all of this package.
type ours struct{ Options }

func (o ours) Extend(m goldmark.Markdown) {
	m.Parser().AddOptions(
		parser.WithInlineParsers(util.Prioritized(newPunctuation(o.Language), 9999)), // after all others
		parser.WithASTTransformers(util.Prioritized(refiner{o.TableLabel}, 900)),     // after the tables'
	)
	m.Renderer().AddOptions(withRenderer(newWriter()))
}

func (j *job) finish() Document {
	d := j.doc
	slices.Sort(d.Photos)
	d.Photos = slices.Compact(d.Photos)
	slices.SortStableFunc(d.Faults, compareFaults)
	return d
}
