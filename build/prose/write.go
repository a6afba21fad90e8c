package prose

import (
	"strconv"
	"strings"

	"github.com/yuin/goldmark/ast"
	east "github.com/yuin/goldmark/extension/ast"
	"github.com/yuin/goldmark/renderer"
	"github.com/yuin/goldmark/renderer/html"
	"github.com/yuin/goldmark/util"

	"slipleaf/build/lexer"
)

// writer prints the nodes that this package adds or prints differently from goldmark.
type writer struct {
	languages lexer.Languages
	words     html.Writer
}

func newWriter() *writer { return &writer{languages: lexer.New(), words: html.NewWriter()} }

func withRenderer(w *writer) renderer.Option {
	return renderer.WithNodeRenderers(util.Prioritized(w, 100)) // before goldmark's own
}

func (w *writer) RegisterFuncs(reg renderer.NodeRendererFuncRegisterer) {
	reg.Register(kindAnchor, w.anchor)
	reg.Register(kindPicture, w.picture)
	reg.Register(kindDrawing, w.drawing)
	reg.Register(ast.KindRawHTML, w.rawHTML)
	reg.Register(ast.KindHTMLBlock, w.htmlBlock)
	reg.Register(ast.KindFencedCodeBlock, w.fencedCode)
	reg.Register(ast.KindCodeBlock, w.plainCode)
	reg.Register(east.KindTable, w.table)
}

// anchor prints a link. Links out of the site carry rel="noreferrer": the address of a care sheet is
// the only key to it, and must not be told to a stranger's server when its reader follows a link.
// noopener is left out: noreferrer implies it (HTML Standard, section 4.6.7.14), and no link of ours
// opens a window.
func (w *writer) anchor(out util.BufWriter, _ []byte, n ast.Node, entering bool) (ast.WalkStatus, error) {
	a := n.(*anchor)
	switch {
	case a.href == "" && entering:
		out.WriteString(`<span class="unlinked">`)
	case a.href == "":
		out.WriteString("</span>")
	case entering:
		attribute(out, `<a href`, a.href)
		w.title(out, a.title)
		if a.away {
			out.WriteString(` rel="noreferrer"`)
		}
		out.WriteByte('>')
	default:
		out.WriteString("</a>")
	}
	return ast.WalkContinue, nil
}

func (w *writer) title(out util.BufWriter, title []byte) {
	if len(title) > 0 {
		out.WriteString(` title="`)
		w.words.Write(out, title)
		out.WriteByte('"')
	}
}

func attribute(out util.BufWriter, name, value string) {
	out.WriteString(name)
	out.WriteString(`="`)
	out.Write(util.EscapeHTML([]byte(value)))
	out.WriteByte('"')
}

func (w *writer) picture(out util.BufWriter, _ []byte, n ast.Node, entering bool) (ast.WalkStatus, error) {
	if !entering {
		return ast.WalkContinue, nil
	}
	p := n.(*picture)
	if p.photo.Src == "" {
		out.Write(util.EscapeHTML([]byte(p.alt)))
		return ast.WalkSkipChildren, nil
	}
	attribute(out, `<img src`, p.photo.Src)
	if p.photo.Srcset != "" {
		attribute(out, ` srcset`, p.photo.Srcset)
	}
	if p.photo.Sizes != "" {
		attribute(out, ` sizes`, p.photo.Sizes)
	}
	attribute(out, ` alt`, p.alt)
	w.title(out, p.title)
	if p.photo.Width > 0 && p.photo.Height > 0 {
		attribute(out, ` width`, strconv.Itoa(p.photo.Width))
		attribute(out, ` height`, strconv.Itoa(p.photo.Height))
	}
	out.WriteString(` loading="lazy">`)
	return ast.WalkSkipChildren, nil
}

func (w *writer) drawing(out util.BufWriter, _ []byte, n ast.Node, entering bool) (ast.WalkStatus, error) {
	if d := n.(*drawing); entering && d.info != "" {
		out.WriteString(`<p class="undrawn"><code>`)
		out.Write(util.EscapeHTML([]byte(d.info)))
		out.WriteString("</code></p>\n")
	} else if entering && d.html != "" {
		out.WriteString(string(d.html))
		out.WriteByte('\n')
	}
	return ast.WalkSkipChildren, nil
}

func (w *writer) rawHTML(out util.BufWriter, source []byte, n ast.Node, entering bool) (ast.WalkStatus, error) {
	if entering {
		segments := n.(*ast.RawHTML).Segments
		for i := range segments.Len() {
			segment := segments.At(i)
			w.words.RawWrite(out, segment.Value(source))
		}
	}
	return ast.WalkSkipChildren, nil
}

func (w *writer) htmlBlock(out util.BufWriter, source []byte, n ast.Node, entering bool) (ast.WalkStatus, error) {
	if !entering {
		return ast.WalkContinue, nil
	}
	b := n.(*ast.HTMLBlock)
	var text strings.Builder
	for i := range b.Lines().Len() {
		line := b.Lines().At(i)
		text.Write(line.Value(source))
	}
	if b.HasClosure() {
		text.Write(b.ClosureLine.Value(source))
	}
	out.WriteString(`<pre class="markup">`)
	w.words.RawWrite(out, []byte(strings.TrimRight(text.String(), "\r\n")))
	out.WriteString("</pre>\n")
	return ast.WalkSkipChildren, nil
}

// table puts a table into a frame that scrolls by itself and can be reached by keyboard.
func (w *writer) table(out util.BufWriter, _ []byte, n ast.Node, entering bool) (ast.WalkStatus, error) {
	if !entering {
		out.WriteString("</table>\n</div>\n")
		return ast.WalkContinue, nil
	}
	label, _ := n.AttributeString("aria-label")
	name, _ := label.([]byte)
	attribute(out, `<div class="sideways" role="region" tabindex="0" aria-label`, string(name))
	out.WriteString(">\n<table>\n")
	return ast.WalkContinue, nil
}
