package page

import (
	"net/url"
	"strings"

	"slipleaf/build/feed"
	"slipleaf/build/journal"
)

// reportHref is the address at which a report is given: a mail with subject and text to the claims address, or that
// address itself when it is a page.
func reportHref(j *journal.Journal, lot, taxon, subject, body string) string {
	to, isMail := strings.CutPrefix(j.Requests, "mailto:")
	switch {
	case j.Requests == "":
		return ""
	case !isMail:
		return feed.Request(j, lot, taxon)
	}
	to, _, _ = strings.Cut(to, "?")
	body = strings.ReplaceAll(body, "\n", "\r\n") // RFC 6068: lines end in CRLF
	return "mailto:" + to + "?subject=" + mailEscaped(subject) + "&body=" + mailEscaped(body)
}

func mailEscaped(s string) string { return strings.ReplaceAll(url.QueryEscape(s), "+", "%20") }
