package page_test

import (
	"fmt"
	"strings"
	"testing"
	"testing/fstest"

	"slipleaf/build/almanac"
	"slipleaf/build/journal"
	"slipleaf/build/page"
	"slipleaf/build/prose"
	"slipleaf/build/theme"
	"slipleaf/themes"
)

// renamed is a tank that was called kitchen, then sill, with two photos of one view and one of another.
func renamed(head string) fstest.MapFS {
	files := fstest.MapFS{
		"journal.yaml":        {Data: []byte("title: A\naddress: https://a.example/\n")},
		"tanks/bath/tank.md":  {Data: []byte("---\nname: The bath\n" + head + "\n---\n")},
		"tanks/other/tank.md": {Data: []byte("---\nname: Other\n---\n")},
	}
	for i, photos := range []string{"front-2026-01-04.jpg", "front-2026-02-01.jpg", "top-2026-02-02.jpg"} {
		files[fmt.Sprintf("tanks/bath/2026-0%d-04.md", i+1)] = &fstest.MapFile{Data: []byte("---\ntitle: A day\nphotos:\n  - {file: " + photos + ", alt: Day " + fmt.Sprint(i) + "}\n---\n\nWords.\n")}
		files["photos/"+photos] = &fstest.MapFile{Data: []byte("a photo")}
	}
	return files
}

func TestAnAddressOfBeforeLeadsOn(t *testing.T) {
	b, err := bookOf(renamed("formerly: [kitchen, sill]"), day(t, "2026-06-01"))
	if err != nil {
		t.Fatal(err)
	}
	for _, old := range []string{"kitchen", "sill"} {
		for from, to := range map[string]string{page.TankAddr(old): "../../tanks/bath/", page.TankAddr(old) + "2026-01-04/": "../../../tanks/bath/2026-01-04/"} {
			text := file(t, b, from)
			wants(t, from, text, `http-equiv="refresh" content="0; url=`+to+`"`, `<a href="`+to+`">`, `rel="canonical" href="https://a.example/`+strings.TrimLeft(to, "./")+`"`)
		}
		if file(t, b, page.TankAtomAddr(old)) != file(t, b, page.TankAtomAddr("bath")) {
			t.Errorf("the feed of %s is not that of today", old)
		}
	}
	if sitemap := file(t, b, page.SitemapAddr); strings.Contains(sitemap, "kitchen") || !strings.Contains(sitemap, "/tanks/bath/") {
		t.Error("the map of the site lists an address of before")
	}
	for _, bad := range []string{"formerly: [other]", "formerly: [bath]", "formerly: [kitchen, kitchen]", "formerly: [Kitchen Sink]", "formerly: [../sent]"} {
		if _, err := bookOf(renamed(bad), day(t, "2026-06-01")); err == nil {
			t.Errorf("%s is taken", bad)
		}
	}
}

// A view that was photographed twice is shown by its first and last photo with a handle between them, and by all of its photos.
func TestAViewHasItsBeforeAndAfter(t *testing.T) {
	a, err := almanac.Open()
	if err != nil {
		t.Fatal(err)
	}
	on := day(t, "2026-06-01")
	j, complaints, err := journal.Read(t.Context(), renamed(""), a, journal.Options{On: on})
	if err != nil || complaints.Errors() > 0 {
		t.Fatal(err, complaints)
	}
	look, err := theme.Load(themes.Bench(), "en", "")
	if err != nil {
		t.Fatal(err)
	}
	photos := map[string]prose.Photo{}
	for _, name := range []string{"front-2026-01-04.jpg", "front-2026-02-01.jpg", "top-2026-02-02.jpg"} {
		photos[name] = prose.Photo{Src: "photos/" + name, Width: 800, Height: 500}
	}
	text := file(t, page.NewSite(j, a, look, on, page.Options{Photos: photos}), page.TankAddr("bath"))
	wants(t, "the tank", text, `<h3 class="view">front</h3>`, `<figure class="pair" hidden>`, `aria-label="Before and after: front"`, `data-first="4 January 2026" data-last="1 February 2026"`)
	if n := strings.Count(text, `class="pair"`); n != 1 {
		t.Errorf("%d views have a before and after, want that of two photos alone", n)
	}
	if n := strings.Count(text, "front-2026-01-04.jpg"); n != 2 {
		t.Errorf("the first photo is there %d times: want it under the handle and in the row", n)
	}
}
