package journal

import (
	"cmp"
	"fmt"
	"net/mail"
	"net/url"
	"regexp"
	"slices"
	"strings"

	"golang.org/x/text/language"

	"slipleaf/build/almanac"
	"slipleaf/build/head"
	"slipleaf/build/listing"
	"slipleaf/build/spelling"
	"slipleaf/build/usual"
)

func checkFriend(d *decoder, n *head.Node, f *Friend) {
	if d.need(n, "name", "a friend") {
		d.need(n, "offers", "a friend")
	}
}

// months reads the months in which plants are posted, 1 to 12, in any order.
func (d *decoder) months(n *head.Node) []int {
	if n.Shape != head.Sequence {
		d.at(n, ruleWrongShape, "months must be a list, but this is "+n.Describe(), "write it as in [3, 4, 5]")
		return nil
	}
	var out []int
	for i := range n.Kids {
		kid := &n.Kids[i]
		kid.Key = "a month"
		if m, ok := d.whole(kid, 1, 12); ok {
			out = append(out, m)
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// address reads an absolute address of one of the schemes.
func (d *decoder) address(n *head.Node, schemes ...string) string {
	s := d.line(n)
	if s == "" {
		return ""
	}
	u, err := url.Parse(s)
	bad := err != nil || !slices.Contains(schemes, u.Scheme) || strings.ContainsAny(s, " <>\"") || u.User != nil
	if !bad && u.Scheme == "mailto" {
		_, err = mail.ParseAddress(u.Opaque)
		bad = err != nil
	} else if !bad {
		bad = u.Host == ""
	}
	if bad {
		d.at(n, ruleBadAddress, fmt.Sprintf("%q is not a valid address; it must begin with %s", spelling.Clip(s), strings.Join(schemes, ": or ")+":"), wholeAddress(s, schemes))
		return ""
	}
	return s
}

var hostFirst = regexp.MustCompile(`^[a-z0-9-]+(\.[a-z0-9-]+)+(/[^ <>"]*)?$`)

// wholeAddress asks whether an address without its beginning was meant; "" where it is none.
func wholeAddress(s string, schemes []string) string {
	_, err := mail.ParseAddress(s)
	switch {
	case strings.ContainsAny(s, " <>\"") && slices.Contains(schemes, strings.SplitN(s, ":", 2)[0]):
		return "write a space in it as %20, and leave out quotation marks and < >"
	case err == nil && slices.Contains(schemes, "mailto"):
		return "did you mean mailto:" + s + "?"
	case hostFirst.MatchString(s) && slices.Contains(schemes, "https"):
		return "did you mean https://" + s + "?"
	}
	return ""
}

// siteAddress reads the address of the site, and ends it in a slash.
func (d *decoder) siteAddress(n *head.Node) string {
	s := d.address(n, "https", "http")
	if s == "" || strings.ContainsAny(s, "?#") {
		if s != "" {
			d.at(n, ruleBadAddress, "the site's address has no ? or #", "")
		}
		return ""
	}
	return strings.TrimSuffix(s, "/") + "/"
}

var placeholder = regexp.MustCompile(`\{[^{}]*\}`)

// filledIn reads an address in which two placeholders are filled in later.
func (d *decoder) filledIn(n *head.Node, one, other string, schemes ...string) string {
	for _, p := range placeholder.FindAllString(n.Text, -1) {
		if p != one && p != other {
			d.at(n, ruleBadAddress, fmt.Sprintf("%s can only contain %s and %s, not %s", n.Key, one, other, spelling.Clip(p)), "")
			return ""
		}
	}
	bare := *n
	bare.Text = placeholder.ReplaceAllString(n.Text, "x")
	if d.address(&bare, schemes...) == "" {
		return ""
	}
	return strings.TrimSpace(n.Text)
}

// region reads a code of ISO 3166: a country, or a country and its subdivision.
func (d *decoder) region(n *head.Node) string {
	s, ok := d.scalar(n, "a region such as GB or US-FL")
	if !ok {
		return ""
	}
	if almanac.KnownRegion(s) {
		return s
	}
	up := strings.ToUpper(strings.ReplaceAll(s, "_", "-"))
	if up == "UK" {
		up = "GB"
	}
	if almanac.KnownRegion(up) {
		d.takeAs(n, up)
		return up
	}
	d.at(n, ruleBadRegion, fmt.Sprintf("unknown region %q; use a code of ISO 3166, such as GB, DE or US-FL", spelling.Clip(s)), "")
	return ""
}

// language reads a tag of BCP 47.
func (d *decoder) language(n *head.Node) string {
	s, ok := d.scalar(n, "a language such as en")
	if !ok {
		return ""
	}
	named := usual.Language(s)
	tag, err := language.Parse(cmp.Or(named, s))
	if as := tag.String(); err == nil && as != s && (strings.EqualFold(as, s) || named != "") {
		d.takeAs(n, as)
		s = as
	}
	if err != nil || tag == language.Und {
		d.at(n, ruleBadLanguage, fmt.Sprintf("unknown language %q; write en, en-GB or de", spelling.Clip(s)), "")
		return ""
	}
	return s
}

var zoneName = regexp.MustCompile(`^(UTC|[A-Z][A-Za-z]+(/[A-Z][A-Za-z0-9_+-]+){1,2})$`)

// timezone reads an IANA name, by its shape; [Options.Zone] knows whether there is one.
func (d *decoder) timezone(n *head.Node) string {
	s, ok := d.scalar(n, "a timezone such as Europe/London")
	if ok && !zoneName.MatchString(s) {
		d.at(n, ruleBadTimezone, fmt.Sprintf("unknown timezone %q; write it like Europe/London", spelling.Clip(s)), "")
		return ""
	}
	return s
}

// folder reads the name of a folder at the top of the journal.
func (d *decoder) folder(n *head.Node) string {
	s := d.line(n)
	if s != "" && (!listing.ID.MatchString(s) || slices.Contains(listing.Folders(), s)) {
		d.at(n, ruleBadText, fmt.Sprintf("%q can't be the folder of a look: use a-z, 0-9 and hyphens, and no folder that the journal already uses", spelling.Clip(s)), "")
		return ""
	}
	return s
}
