package site

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
	"testing"

	"golang.org/x/net/html"
)

// Every page carries its policy before anything that the policy is about: nothing from elsewhere, nothing inline, no form
// that is sent, no base. A sheet runs no script, tells nobody where its reader comes from, and asks not to be listed.
func TestEveryPageCarriesItsPolicy(t *testing.T) {
	pages := 0
	for _, f := range demoFiles(t) {
		if !strings.HasSuffix(f.Path, ".html") {
			continue
		}
		pages++
		root, err := html.Parse(bytes.NewReader(f.Data))
		if err != nil {
			t.Fatalf("%s: %v", f.Path, err)
		}
		policies, metas := []string{}, map[string]string{}
		for n := range root.Descendants() {
			if n.Type != html.ElementNode {
				continue
			}
			if attribute(n, "http-equiv") == "Content-Security-Policy" {
				policies = append(policies, attribute(n, "content"))
			}
			if n.Data == "meta" && attribute(n, "name") != "" {
				metas[attribute(n, "name")] = attribute(n, "content")
			}
			if slices.Contains([]string{"link", "script", "style", "img", "svg", "form", "a", "iframe", "object", "base"}, n.Data) && len(policies) == 0 {
				t.Errorf("%s: <%s> stands before the policy", f.Path, n.Data)
			}
		}
		sheet := strings.HasPrefix(f.Path, "sheets/")
		for _, fault := range policyFaults(policies, metas, sheet) {
			t.Errorf("%s: %s", f.Path, fault)
		}
	}
	if pages < 250 {
		t.Errorf("only %d pages: the test shows little", pages)
	}
	t.Attr("figure", fmt.Sprintf("pages whose policy was looked at: %d", pages))
}

// policyFaults says what is wrong with the policies and other meta elements of a page.
func policyFaults(policies []string, metas map[string]string, sheet bool) []string {
	if len(policies) != 1 {
		return []string{fmt.Sprintf("%d policies", len(policies))}
	}
	var out []string
	allowed := map[string]string{}
	for part := range strings.SplitSeq(policies[0], "; ") {
		name, value, _ := strings.Cut(part, " ")
		if allowed[name] = value; value != "'none'" && value != "'self'" {
			out = append(out, "the policy allows "+part)
		}
	}
	for _, name := range []string{"default-src", "form-action", "base-uri"} {
		if name == "form-action" && !sheet && allowed[name] == "'self'" {
			continue // the search in the head of a public page
		}
		if allowed[name] != "'none'" {
			out = append(out, fmt.Sprintf("%s is %q", name, allowed[name]))
		}
	}
	if sheet && (allowed["script-src"] == "'self'" || allowed["connect-src"] == "'self'") {
		out = append(out, "a sheet may run or fetch: "+policies[0])
	}
	if sheet && (metas["referrer"] != "no-referrer" || !strings.Contains(metas["robots"], "noindex")) {
		out = append(out, fmt.Sprintf("a sheet says %v", metas))
	}
	return out
}
