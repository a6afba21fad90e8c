package preview

import (
	"bytes"
	"fmt"
	"html"
	"regexp"
	"slices"
	"strings"
)

var policyTag = regexp.MustCompile(`(<meta http-equiv="Content-Security-Policy" content=")([^"]*)(">)`)

// inject puts the preview's script and styles into a page, and the complaints over it. The page's own policy is kept; it
// is only widened where it would keep the preview's files of the same host out, as a care sheet's does.
func inject(data []byte, number int64, over []byte) (out []byte, policy string) {
	policy = "default-src 'none'; style-src 'self'; img-src 'self'; script-src 'self'; connect-src 'self'; form-action 'self'; base-uri 'none'"
	if m := policyTag.FindSubmatchIndex(data); m != nil {
		policy = widened(html.UnescapeString(string(data[m[4]:m[5]])))
		data = splice(data, m[4], m[5], []byte(html.EscapeString(policy)))
	}
	head := fmt.Appendf(nil, "<link rel=\"stylesheet\" href=\"%spreview.css\">\n<script src=\"%spreview.js\" defer data-edition=\"%d\"></script>\n", ownAddr, ownAddr, number)
	if i := bytes.Index(data, []byte("</head>")); i >= 0 {
		data = splice(data, i, i, head)
	} else {
		data = append(head, data...)
	}
	if len(over) > 0 {
		i := bytes.LastIndex(data, []byte("</body>"))
		if i < 0 {
			i = len(data)
		}
		data = splice(data, i, i, over)
	}
	return data, policy + "; frame-ancestors 'none'"
}

// splice replaces data[from:to] in a copy: pages are remembered and never written to.
func splice(data []byte, from, to int, with []byte) []byte {
	out := make([]byte, 0, len(data)-(to-from)+len(with))
	out = append(out, data[:from]...)
	out = append(out, with...)
	return append(out, data[to:]...)
}

// widened lets a policy load scripts, styles and events from its own host.
func widened(policy string) string {
	for _, name := range []string{"script-src", "connect-src", "style-src"} {
		if !hasDirective(policy, name) {
			policy += "; " + name + " 'self'"
		}
	}
	return policy
}

func hasDirective(policy, name string) bool {
	return slices.ContainsFunc(strings.Split(policy, ";"), func(d string) bool { return strings.HasPrefix(strings.TrimSpace(d)+" ", name+" ") })
}
