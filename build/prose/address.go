package prose

import (
	"io/fs"
	"net/url"
	"slices"
	"strings"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/util"

	"slipleaf/build/spelling"
)

// ownSchemes lead to pages of the journal, foreignSchemes out of it. Nothing else passes.
var (
	ownSchemes     = []string{"plant", "tank", "lot", "entry"}
	foreignSchemes = []string{"http", "https", "mailto", "tel"}
)

// anchor judges a link.
func (j *job) anchor(l *ast.Link) *anchor {
	href, away := j.judge(unescape(l.Destination), spot{l.Pos(), l.Destination})
	return &anchor{href: href, away: away, title: l.Title}
}

// autoAnchor judges a link in angle brackets. Within another link only its words remain.
func (j *job) autoAnchor(l *ast.AutoLink, inLink bool) node {
	label := string(l.Label(j.source))
	words := ast.NewString([]byte(label))
	words.SetRaw(true) // nothing in it is an escape, but HTML's own characters are escaped in print
	if inLink {
		return words
	}
	address := string(l.URL(j.source))
	if l.AutoLinkType == ast.AutoLinkEmail && !strings.HasPrefix(strings.ToLower(address), "mailto:") {
		address = "mailto:" + address
	}
	a := &anchor{}
	a.href, a.away = j.judge(address, at(l.Pos()+1))
	if scheme, name, _ := strings.Cut(label, ":"); slices.Contains(ownSchemes, strings.ToLower(scheme)) {
		words.Value = []byte(name) // a reader does not care for our schemes
	}
	a.AppendChild(a, words)
	return a
}

// judge returns the address to print for one that is in the text, or "" with a fault noted. It is
// the allow list: what it does not know does not pass. address is free of escapes and references.
// Browsers skip control characters and read a back slash as a slash (WHATWG URL Standard, section
// 4.4); escapeAddress leaves neither, and a scheme that holds one is on no list.
func (j *job) judge(address string, where spot) (href string, away bool) {
	if address == "" {
		j.errorf(where, RuleLinkForm, "write an address between the brackets", "the link has no address")
		return "", false
	}
	scheme, rest, hasScheme := cutScheme(address)
	switch {
	case hasScheme && slices.Contains(ownSchemes, scheme):
		return j.own(scheme, rest, where), false
	case hasScheme && slices.Contains(foreignSchemes, scheme):
		return j.foreign(scheme, address, rest, where), scheme == "http" || scheme == "https"
	case hasScheme:
		j.errorf(where, RuleLinkScheme, schemeHint(scheme, rest), "this link is not allowed: %q", address)
		return "", false
	case strings.HasPrefix(address, "//"):
		j.errorf(where, RuleLinkScheme, "put https: before it", "this link is not allowed: %q", address)
		return "", false
	case address[0] == '#':
		return j.fragment(address[1:], where), false
	}
	return j.path(address, where), false
}

// cutScheme splits off what is before a colon in the first segment of an address.
func cutScheme(address string) (scheme, rest string, ok bool) {
	i := strings.IndexAny(address, ":/?#")
	if i < 0 || address[i] != ':' {
		return "", address, false
	}
	return strings.ToLower(address[:i]), address[i+1:], true
}

func schemeHint(scheme, rest string) string {
	if own := spelling.Nearest(scheme, ownSchemes); own != "" {
		return "did you mean " + own + ":" + rest + "?"
	}
	return ""
}

// own asks for the page behind one of our schemes; a fragment after the name stays.
func (j *job) own(scheme, rest string, where spot) string {
	name, fragment, _ := strings.Cut(rest, "#")
	if name == "" {
		j.errorf(where, RuleLinkForm, "write a name after the colon", "no name after %q", scheme+":")
		return ""
	}
	if j.place.Links == nil {
		return ""
	}
	addr, ok := j.place.Links.Href(scheme, name)
	if !ok {
		j.errorf(where, RuleLinkNowhere, j.ownHint(scheme, name), "there is no %s %q", scheme, name)
		return ""
	}
	if fragment != "" {
		addr += "#" + fragment
	}
	return j.printable(addr, where)
}

func (j *job) ownHint(scheme, name string) string {
	if n := nearest(j.place.Links, scheme, name); n != "" {
		return "did you mean " + scheme + ":" + n + "?"
	}
	if scheme == "entry" && !strings.Contains(name, "/") {
		return "write entry:TANK/DATE, or entry:TANK/DATE-SLUG"
	}
	return ""
}

// nearest asks who, if it can be asked, for the name most like a wrong one.
func nearest(who any, scheme, name string) string {
	if n, ok := who.(Nearest); ok {
		return n.Near(scheme, name)
	}
	return ""
}

// foreign lets an address out of the site pass if it says where it goes.
func (j *job) foreign(scheme, address, rest string, where spot) string {
	web := scheme == "http" || scheme == "https"
	host := strings.TrimPrefix(rest, "//")
	if rest == "" || web && (host == rest || host == "" || strings.ContainsAny(host[:1], "/?#")) {
		j.errorf(where, RuleLinkForm, "write it in full, as in https://example.org/", "the address %q is not complete", address)
		return ""
	}
	return escapeAddress(address)
}

// fragment leads to a heading of the same text, or else to a part of the page that only the theme knows.
func (j *job) fragment(name string, where spot) string {
	if plain, err := url.PathUnescape(name); err == nil {
		name = plain
	}
	if j.ids[name] > 0 {
		return escapeAddress("#" + name)
	}
	hint := ""
	if n := spelling.Nearest(name, j.names); n != "" {
		hint = "did you mean #" + n + "?"
	}
	j.warnf(where, RuleLinkFragment, hint, "no heading of this text is called %q", name)
	return escapeAddress("#" + name)
}

// path leads to a page of the site by its address.
func (j *job) path(address string, where spot) string {
	if pages, ok := j.place.Links.(Pages); ok {
		page, rest := address, ""
		if i := strings.IndexAny(address, "?#"); i >= 0 {
			page, rest = address[:i], address[i:]
		}
		if page == "" { // a query to the page itself
			return escapeAddress(address)
		}
		addr, ok := pages.Page(page)
		if !ok {
			j.errorf(where, RuleLinkNowhere, "", "there is no page %q", page)
			return ""
		}
		return j.printable(addr+rest, where)
	}
	if address[0] == '/' {
		j.errorf(where, RuleLinkForm, "write plant:, tank:, lot: or entry: and a name, or a relative address",
			"the address %q breaks if the site is in a sub-folder", address)
		return ""
	}
	return escapeAddress(address)
}

// printable holds what Links and Pages return to the same list, as a second lock on the door.
func (j *job) printable(addr string, where spot) string {
	scheme, _, has := cutScheme(addr)
	if addr == "" || strings.HasPrefix(addr, "//") || has && !slices.Contains(foreignSchemes, scheme) {
		j.errorf(where, RuleLinkScheme, "", "this link is not allowed: %q", addr)
		return ""
	}
	return escapeAddress(addr)
}

func escapeAddress(address string) string { return string(util.URLEscape([]byte(address), false)) }

// picture judges an image: a relative name without "..", which Photos knows.
func (j *job) picture(i *ast.Image) *picture {
	p := &picture{title: i.Title, alt: string(oneLine(j.plain(i, true)))}
	name := unescape(i.Destination)
	where := spot{i.Pos(), i.Destination}
	if _, _, scheme := cutScheme(name); scheme || !fs.ValidPath(name) || strings.ContainsAny(name, "\\?#") {
		j.errorf(where, RulePhotoName, "write the name of a photo beside the text, as in trough-front.jpg", "%q is not the name of a photo", name)
		return p
	}
	if p.alt == "" {
		j.errorf(at(i.Pos()), RulePhotoAlt, "say between the square brackets what can be seen", "the photo %q has no description", name)
	}
	j.doc.Photos = append(j.doc.Photos, name)
	if j.place.Photos == nil {
		return p
	}
	photo, ok := j.place.Photos.Photo(name)
	if !ok || photo.Src == "" {
		hint := ""
		if n := nearest(j.place.Photos, "photo", name); n != "" {
			hint = "did you mean " + n + "?"
		}
		j.errorf(where, RulePhotoMissing, hint, "there is no photo %q", name)
		return p
	}
	if photo.Src = j.printable(photo.Src, where); photo.Src != "" {
		p.photo = photo
	}
	return p
}
