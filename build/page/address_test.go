package page_test

import (
	"net/url"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"slipleaf/build/page"
)

// siteAddress draws an address of the site: a folder, or a file in one.
func siteAddress(t *rapid.T, label string) string {
	parts := rapid.SliceOfN(rapid.StringMatching(`[a-z0-9][a-z0-9-]{0,8}`), 0, 4).Draw(t, label)
	addr := "/" + strings.Join(parts, "/")
	if len(parts) == 0 {
		return addr
	}
	return addr + rapid.SampledFrom([]string{"/", ".html", ".atom"}).Draw(t, label+" ends in")
}

// A browser resolves a relative link against the page's own address (RFC 3986, section 5.3). Whatever folder the
// site lies in, that gives the target.
func TestRelativeLeadsToItsTarget(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		from, to := siteAddress(t, "from"), siteAddress(t, "to")
		frag := rapid.SampledFrom([]string{"", "#lot-w1"}).Draw(t, "fragment")
		for _, root := range []string{"https://grower.example", "https://grower.example/some/folder"} {
			base, err := url.Parse(root + from)
			if err != nil {
				t.Fatal(err)
			}
			link, err := base.Parse(page.Relative(from, to+frag, false))
			if err != nil {
				t.Fatal(err)
			}
			if link.String() != root+to+frag {
				t.Errorf("from %s the link %q leads to %s, not to %s", from, page.Relative(from, to+frag, false), link, root+to+frag)
			}
		}
	})
}

// On a disk every link names a file, and it is the file that serves the address.
func TestRelativeOnDiskNamesFiles(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		from, to := siteAddress(t, "from"), siteAddress(t, "to")
		base := url.URL{Scheme: "file", Path: "/home/site/" + page.PathOf(from)}
		link, err := base.Parse(page.Relative(from, to, true))
		if err != nil {
			t.Fatal(err)
		}
		if want := "/home/site/" + page.PathOf(to); link.Path != want {
			t.Errorf("from %s the link %q names %s, not %s", from, page.Relative(from, to, true), link.Path, want)
		}
	})
}

func TestRelative(t *testing.T) {
	for _, row := range []struct {
		from, to string
		onDisk   bool
		want     string
	}{
		{"/", "/", false, "./"},
		{"/", "/", true, "index.html"},
		{"/", "/tanks/", false, "tanks/"},
		{"/tanks/cube/", "/", false, "../../"},
		{"/tanks/cube/", "/tanks/cube/2026-04-18/", true, "../../tanks/cube/2026-04-18/index.html"},
		{"/offers/", "/offers/#lot-w1", false, "#lot-w1"},
		{"/plants/x/", "/offers/#lot-w1", true, "../../offers/index.html#lot-w1"},
		{"/404.html", "/offers/", false, "offers/"},
		{"/offers/", "/feed.atom", true, "../feed.atom"},
	} {
		if got := page.Relative(row.from, row.to, row.onDisk); got != row.want {
			t.Errorf("from %s to %s (on disk: %v): %q, want %q", row.from, row.to, row.onDisk, got, row.want)
		}
	}
}
