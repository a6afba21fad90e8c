package prose

import (
	"html/template"

	"github.com/yuin/goldmark/ast"
)

type node = ast.Node

var (
	kindAnchor  = ast.NewNodeKind("Anchor")
	kindPicture = ast.NewNodeKind("Picture")
	kindDrawing = ast.NewNodeKind("Drawing")
)

// anchor is a link that has been judged. Every link of a text becomes one, so that no address
// reaches the output but through judge.
type anchor struct {
	ast.BaseInline
	href  string // as printed; empty: leads nowhere, only the words are shown
	title []byte // as written
	away  bool   // leads out of the site
}

func (*anchor) Kind() ast.NodeKind               { return kindAnchor }
func (a *anchor) Dump(source []byte, level int)  { ast.DumpHelper(a, source, level, nil, nil) }
func (p *picture) Kind() ast.NodeKind            { return kindPicture }
func (p *picture) Dump(source []byte, level int) { ast.DumpHelper(p, source, level, nil, nil) }
func (*drawing) Kind() ast.NodeKind              { return kindDrawing }
func (*drawing) IsRaw() bool                     { return true }
func (d *drawing) Dump(source []byte, level int) { ast.DumpHelper(d, source, level, nil, nil) }

// picture is an image that has been judged. Without a photo its description is shown.
type picture struct {
	ast.BaseInline
	photo Photo
	alt   string // plain text
	title []byte // as written
}

// drawing is a figure. Without HTML, and with info, it could not be drawn.
type drawing struct {
	ast.BaseBlock
	html template.HTML
	info string
}

// replace puts fresh where old is, with old's children if it is to keep them.
func replace(old, fresh node, keep bool) {
	if keep {
		for c := old.FirstChild(); c != nil; {
			next := c.NextSibling()
			fresh.AppendChild(fresh, c) // takes c from old
			c = next
		}
	}
	parent := old.Parent()
	parent.ReplaceChild(parent, old, fresh)
}
