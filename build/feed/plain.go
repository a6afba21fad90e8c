package feed

import (
	"net/url"
	"slices"
	"strings"

	"golang.org/x/net/html"
	"golang.org/x/net/html/atom"
)

// kept are the elements that feed readers show well. Others are replaced by what they hold.
var kept = []atom.Atom{atom.P, atom.A, atom.Em, atom.Strong, atom.B, atom.I, atom.Code, atom.Pre, atom.Blockquote, atom.Ul, atom.Ol, atom.Li, atom.H2, atom.H3,
	atom.H4, atom.H5, atom.H6, atom.Table, atom.Thead, atom.Tbody, atom.Tr, atom.Th, atom.Td, atom.Caption, atom.Img, atom.Br, atom.Hr, atom.Sup, atom.Sub,
	atom.Del, atom.Dl, atom.Dt, atom.Dd, atom.Time, atom.Abbr}

// dropped are the elements that go with all that they hold: drawings need the site's styles.
var dropped = []atom.Atom{atom.Svg, atom.Script, atom.Style, atom.Noscript, atom.Template, atom.Iframe, atom.Object, atom.Form, atom.Input, atom.Button, atom.Math}

var keptAttributes = []string{"alt", "title", "width", "height", "lang", "colspan", "rowspan", "scope", "start", "datetime"}

// Plain turns the HTML of a page into HTML that is complete in itself: few elements, no classes, every address absolute
// by base. With an empty base, links within the site become their words and its pictures are left out.
func Plain(text, base string) string {
	context := &html.Node{Type: html.ElementNode, Data: "div", DataAtom: atom.Div}
	nodes, _ := html.ParseFragment(strings.NewReader(text), context) // any text is HTML
	p := plainer{}
	if base != "" {
		p.base, _ = url.Parse(base) // nil for what is none
	}
	root := &html.Node{Type: html.ElementNode, Data: "div", DataAtom: atom.Div}
	for _, n := range nodes {
		p.copy(n, root)
	}
	var b strings.Builder
	for c := root.FirstChild; c != nil; c = c.NextSibling {
		_ = html.Render(&b, c) // a builder takes all
	}
	return strings.TrimSpace(b.String())
}

type plainer struct{ base *url.URL }

// copy puts what is kept of n under to.
func (p plainer) copy(n, to *html.Node) {
	if n.Type == html.TextNode {
		to.AppendChild(&html.Node{Type: html.TextNode, Data: n.Data})
		return
	}
	if n.Type != html.ElementNode || slices.Contains(dropped, n.DataAtom) {
		return
	}
	if e := p.element(n); e != nil {
		to.AppendChild(e)
		to = e
	}
	for c := n.FirstChild; c != nil; c = c.NextSibling {
		p.copy(c, to)
	}
}

// element is n without what is not kept; nil where only its content is kept.
func (p plainer) element(n *html.Node) *html.Node {
	if n.Namespace != "" || !slices.Contains(kept, n.DataAtom) {
		return nil
	}
	e := &html.Node{Type: html.ElementNode, Data: n.Data, DataAtom: n.DataAtom}
	address := ""
	for _, a := range n.Attr {
		switch {
		case slices.Contains(keptAttributes, a.Key):
			e.Attr = append(e.Attr, html.Attribute{Key: a.Key, Val: a.Val})
		case a.Key == "href" && n.DataAtom == atom.A, a.Key == "src" && n.DataAtom == atom.Img:
			if address = p.absolute(a.Val); address != "" {
				e.Attr = append(e.Attr, html.Attribute{Key: a.Key, Val: address})
			}
		}
	}
	if address == "" && (n.DataAtom == atom.A || n.DataAtom == atom.Img) {
		return nil
	}
	return e
}

// absolute resolves an address; "" for one that cannot be followed from a feed.
func (p plainer) absolute(s string) string {
	u, err := url.Parse(s)
	if err != nil {
		return ""
	}
	if p.base != nil {
		u = p.base.ResolveReference(u)
	}
	switch u.Scheme {
	case "http", "https", "mailto":
		return u.String()
	}
	return ""
}
