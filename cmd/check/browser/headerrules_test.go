//go:build browser

package browser

import (
	"testing"

	"github.com/google/go-cmp/cmp"
)

func TestHeaderRules(t *testing.T) {
	got, err := headerRules("[build]\n  publish = \"www\"\n[[headers]]\n  for = \"/*\"\n  [headers.values]\n    X-One = \"a = \\\"b\\\"\"\n# words\n[[headers]]\nfor = '/sheets/*'\n[headers.values]\n\"X-Two\" = 'c'\n[[redirects]]\nstatus = 404\n")
	if err != nil {
		t.Fatal(err)
	}
	want := []headerRule{{"/*", map[string]string{"X-One": `a = "b"`}}, {"/sheets/*", map[string]string{"X-Two": "c"}}}
	if d := cmp.Diff(want, got, cmp.AllowUnexported(headerRule{})); d != "" {
		t.Error(d)
	}
	for _, bad := range []string{"[[headers]]\nfor = \"/x\"\n", "[headers.values]\nA = \"b\"\n", "[[headers]]\nfor = \"/x\"\n[headers.values]\nA = [1]\n"} {
		if _, err := headerRules(bad); err == nil {
			t.Errorf("%q was taken", bad)
		}
	}
}

func TestRuleMatches(t *testing.T) {
	for _, c := range []struct {
		rule, path string
		want       bool
	}{
		{"/*", "/", true}, {"/*", "/a/b", true}, {"/sheets/*", "/sheets/x/", true}, {"/sheets/*", "/sheets", false},
		{"/feed.atom", "/Feed.atom", true}, {"/feed.atom", "/feed.atom/", false},
		{"/tanks/:tank/feed.atom", "/tanks/nano/feed.atom", true}, {"/tanks/:tank/feed.atom", "/tanks//feed.atom", false},
		{"/tanks/:tank/feed.atom", "/tanks/nano/x/feed.atom", false},
	} {
		if got := (headerRule{path: c.rule}).matches(c.path); got != c.want {
			t.Errorf("%s for %s: %v", c.rule, c.path, got)
		}
	}
}

// The real file must be readable to the checks, or they would serve the site without its policy.
func TestOwnHeaderRules(t *testing.T) {
	rules, err := readHeaderRules("netlify.toml")
	if err != nil {
		t.Fatal(err)
	}
	found := false
	for _, r := range rules {
		found = found || r.matches("/sheets/x/") && r.values["Referrer-Policy"] == "no-referrer"
	}
	if !found {
		t.Error("no rule keeps the address of a sheet from other sites")
	}
}
