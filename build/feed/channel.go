package feed

import (
	"crypto/sha1"
	"fmt"
	"net/url"
	"strings"

	"slipleaf/build/quantity"
)

// Channel is a feed before it is written: finished words, in the order in which they are listed, newest first.
type Channel struct {
	ID       string // of the feed; never changes
	Title    string
	Subtitle string
	Language string
	Author   string // never empty: RFC 4287 §4.1.1 wants one
	// Self, JSON and Home are the absolute addresses of the Atom feed, the JSON feed and the page; "" for a journal
	// without an address.
	Self, JSON, Home string
	Updated          quantity.Date
	Items            []Item
}

// Item is an entry of a feed.
type Item struct {
	ID, Title          string
	URL                string // absolute; "" for a journal without an address
	Published, Updated quantity.Date
	HTML               string // [Plain] HTML
	Summary            string
	Tags               []string
}

// At is when something of a day happened, as feeds want it: the journal knows days, and noon in UTC is the same day
// nearly everywhere. It comes from the journal, so that the same journal makes the same bytes.
func At(d quantity.Date) string { return d.String() + "T12:00:00Z" }

// Mint makes the ids of a journal's feeds: tag: URIs (RFC 4151) of the host of its address, or of the mail address
// that claims go to. Where there is neither, ids are UUIDs of version 5 (RFC 9562) over title and grower. An id is
// made of keys of the journal alone; it outlives titles and a rebuild, and changes only with address or tank.
type Mint struct{ authority, before, seed string }

// NewMint makes a mint. address ends in a slash or is empty; mail is an address or empty.
func NewMint(address, mail, title, grower string) Mint {
	if u, err := url.Parse(address); err == nil && u.Hostname() != "" && !strings.Contains(u.Hostname(), ":") {
		return Mint{authority: strings.ToLower(u.Hostname()), before: strings.Trim(u.EscapedPath(), "/")}
	}
	if mail != "" && !strings.ContainsAny(mail, " ,:<>\"") {
		return Mint{authority: strings.ToLower(mail)}
	}
	return Mint{seed: title + "\n" + grower}
}

// ID is the id of key, which is as old as since: a day on which the authority was the journal's.
func (m Mint) ID(since quantity.Date, key string) string {
	if m.authority == "" || since.IsZero() {
		return m.uuid(key)
	}
	if m.before != "" {
		key = m.before + "/" + key
	}
	return "tag:" + m.authority + "," + since.String() + ":" + key
}

// UID is an id for a calendar, which has no use for a date in it.
func (m Mint) UID(key string) string {
	if m.authority == "" {
		return strings.TrimPrefix(m.uuid(key), "urn:uuid:")
	}
	_, host, mail := strings.Cut(m.authority, "@")
	if !mail {
		host = m.authority
	}
	return strings.Trim(m.before+"/"+key, "/") + "@" + host
}

// uuid is a UUID of version 5 in the namespace of URLs (RFC 9562, appendix A).
func (m Mint) uuid(key string) string {
	namespace := [16]byte{0x6b, 0xa7, 0xb8, 0x11, 0x9d, 0xad, 0x11, 0xd1, 0x80, 0xb4, 0x00, 0xc0, 0x4f, 0xd4, 0x30, 0xc8}
	sum := sha1.Sum(append(namespace[:], m.authority+m.seed+"\n"+key...))
	sum[6], sum[8] = sum[6]&0x0f|0x50, sum[8]&0x3f|0x80
	return fmt.Sprintf("urn:uuid:%x-%x-%x-%x-%x", sum[:4], sum[4:6], sum[6:8], sum[8:10], sum[10:16])
}
