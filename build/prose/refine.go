package prose

import (
	"bytes"

	"github.com/yuin/goldmark/ast"
	east "github.com/yuin/goldmark/extension/ast"
	"github.com/yuin/goldmark/parser"
	"github.com/yuin/goldmark/text"
)

var jobKey = parser.NewContextKey()

// job is the state of one call of Render or Check.
type job struct {
	place  Place
	draws  bool // figures are drawn
	source []byte
	ids    map[string]int // of headings, 1, or the last number given to its like
	names  []string       // the same in the order of the text
	tables int
	latest string // text of the heading passed last
	buffer bytes.Buffer
	doc    Document
}

// refiner is the step after parsing: it judges every link and image, numbers headings and tables,
// asks for figures and gathers what a Document tells.
type refiner struct{ tableLabel string }

func (r refiner) Transform(root *ast.Document, _ text.Reader, pc parser.Context) {
	j := pc.Get(jobKey).(*job) // Maker.parse is the only way here
	j.ids = map[string]int{}
	j.nameHeadings(root) // first, as a link may lead to a heading below it
	j.refine(root, r, false)
	j.summarise(root)
}

// refine visits the children of n. inLink is true within a link, where HTML allows no other.
func (j *job) refine(n node, r refiner, inLink bool) {
	for c := n.FirstChild(); c != nil; {
		next := c.NextSibling()
		j.visit(c, r, inLink)
		c = next
	}
}

func (j *job) visit(c node, r refiner, inLink bool) {
	switch c := c.(type) {
	case *ast.Link:
		a := j.anchor(c)
		replace(c, a, true)
		j.refine(a, r, true)
		return
	case *ast.AutoLink:
		replace(c, j.autoAnchor(c, inLink), false)
		return
	case *ast.Image:
		replace(c, j.picture(c), false)
		return
	case *ast.RawHTML:
		j.warnRaw(at(c.Pos()), c.Segments)
	case *ast.HTMLBlock:
		j.warnRaw(at(c.Pos()), c.Lines())
	case *ast.FencedCodeBlock:
		j.fence(c)
		return
	case *ast.Heading:
		j.latest = string(j.plain(c, true))
	case *east.Table:
		j.table(c, r.tableLabel)
	}
	j.refine(c, r, inLink)
}

// warnRaw tells of HTML in the text. A comment gets its own hint: its writer means to hide it.
func (j *job) warnRaw(where spot, segments *text.Segments) {
	hint := "write it in Markdown, or put code between backticks"
	if segments.Len() > 0 {
		first := segments.At(0)
		if bytes.HasPrefix(bytes.TrimSpace(first.Value(j.source)), []byte("<!--")) {
			hint = "this comment would be public; put notes to yourself in the head, under private"
		}
	}
	j.warnf(where, RuleRawHTML, hint, "HTML is shown as text")
}

// summarise takes the first paragraph that has words.
func (j *job) summarise(n node) bool {
	for c := n.FirstChild(); c != nil; c = c.NextSibling() {
		switch c.Kind() {
		case ast.KindParagraph:
			if s := string(oneLine(j.plain(c, false))); s != "" {
				j.doc.Summary = s
				return true
			}
		case ast.KindBlockquote, ast.KindList, ast.KindListItem:
			if j.summarise(c) {
				return true
			}
		}
	}
	return false
}
