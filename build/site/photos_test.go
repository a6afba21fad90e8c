package site

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"image"
	"image/jpeg"
	"image/png"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"strings"
	"sync/atomic"
	"testing"
	"testing/fstest"
	"time"

	"slipleaf/build/journal"
)

// photographed is a small journal: an entry, a page and a plant name photos, and one photo is named by nobody.
func photographed(t *testing.T) fstest.MapFS {
	t.Helper()
	m := image.NewRGBA(image.Rect(0, 0, 1200, 200))
	for i := range m.Pix {
		m.Pix[i] = uint8(i>>8) | 0x0f
	}
	text := func(s string) *fstest.MapFile { return &fstest.MapFile{Data: []byte(s)} }
	shot := func(seed uint8) *fstest.MapFile {
		for i := range 4 * 1200 * 32 {
			m.Pix[i] = seed * 40
		}
		var b bytes.Buffer
		if err := jpeg.Encode(&b, m, nil); err != nil {
			t.Fatal(err)
		}
		return &fstest.MapFile{Data: b.Bytes(), ModTime: time.Date(2026, 4, 1, 0, 0, 0, 0, time.UTC)}
	}
	return fstest.MapFS{
		"journal.yaml":         text("title: Bench\ngrower: Wren\naddress: https://bench.example/\nlanguage: en\nunits: metric\n"),
		"tanks/trough/tank.md": text("---\nname: The trough\nbegan: 2026-01-10\n---\n"),
		"tanks/trough/2026-04-18.md": text("---\ntitle: One\nphotos:\n  - {file: front-2026-04-18.jpg, alt: The front in April}\n---\n" +
			"Look:\n\n![A leaf](<deep/Leaf One.jpg>)\n"),
		"tanks/trough/2026-05-18.md":       text("---\ntitle: Two\nphotos:\n  - {file: front-2026-05-18.jpg, alt: The front in May}\n---\n"),
		"plants/anubias-nana.md":           text("---\ntaxon: Anubias barteri var. nana\ncommon: dwarf anubias\nphotos: [{file: nana.jpg, alt: A rhizome}]\n---\n"),
		"photos/front-2026-04-18.jpg":      shot(1),
		"photos/front-2026-05-18.jpg":      shot(2),
		"photos/deep/Leaf One.jpg":         shot(3),
		"photos/nana.jpg":                  shot(4),
		"photos/not-for-other-peoples.jpg": shot(5),
	}
}

func build(t *testing.T, fsys fs.FS, room *PhotoCache) (map[string][]byte, journal.Complaints) {
	t.Helper()
	o := Options{On: demoDay, Photos: room}
	b, cs, err := Load(context.Background(), fsys, o)
	if err != nil {
		t.Fatal(err)
	}
	if b == nil {
		return nil, cs
	}
	files, err := Make(context.Background(), b, o)
	if err != nil {
		t.Fatal(err)
	}
	out := map[string][]byte{}
	for _, f := range files {
		out[f.Path] = f.Data
	}
	return out, cs
}

func TestPhotosReachTheirPages(t *testing.T) {
	files, cs := build(t, photographed(t), nil)
	if len(cs) > 0 {
		t.Fatal(cs)
	}
	var photos []string
	for name := range files {
		if strings.HasPrefix(name, "photos/") {
			photos = append(photos, name)
		}
		if strings.Contains(name, "not-for") {
			t.Errorf("%s is published, though nobody names it", name)
		}
	}
	if len(photos) != 4*3 { // 480, 960 and 1200 pixels
		t.Errorf("photos: %v", photos)
	}
	for page, want := range map[string][]string{
		"tanks/trough/2026-04-18/index.html": {`src="../../../photos/front-2026-04-18-`, `-960.jpg" srcset="../../../photos/front-2026-04-18-`, ` 480w, ../../../photos/front`, `-1200.jpg 1200w"`, `sizes="(min-width`, `width="960" height="160"`,
			`src="../../../photos/deep-leaf-one-`, `alt="A leaf"`},
		"plants/anubias-nana/index.html": {`src="../../photos/nana-`, `alt="A rhizome"`},
	} {
		for _, w := range want {
			if !bytes.Contains(files[page], []byte(w)) {
				t.Errorf("%s has no %s", page, w)
			}
		}
	}
	everyCandidateIsThere(t, files)
}

// everyCandidateIsThere follows each address of each srcset.
func everyCandidateIsThere(t *testing.T, files map[string][]byte) {
	t.Helper()
	seen := 0
	for name, data := range files {
		for _, part := range strings.Split(string(data), `srcset="`)[1:] {
			set, _, _ := strings.Cut(part, `"`)
			for _, candidate := range strings.Split(set, ", ") {
				addr, _, _ := strings.Cut(candidate, " ")
				if to := path.Join(path.Dir(name), addr); files[to] == nil {
					t.Errorf("%s: %s leads nowhere", name, addr)
				}
				seen++
			}
		}
	}
	if seen < 12 {
		t.Errorf("only %d candidates", seen)
	}
}

func TestBadPhotosAreComplainedAbout(t *testing.T) {
	room := NewPhotoCache()
	for _, c := range []struct {
		name, file string
		data       []byte
		want       string
	}{
		{"an SVG", "photos/nana.jpg", []byte("<svg/>"), "plants/anubias-nana.md:4:17: error: photos/nana.jpg: it is an SVG"},
		{"one cut off", "photos/front-2026-05-18.jpg", photographed(t)["photos/nana.jpg"].Data[:5000], "tanks/trough/2026-05-18.md:4:12: error: photos/front-2026-05-18.jpg: it cannot be read as JPEG"},
		{"one in a text", "photos/deep/Leaf One.jpg", []byte("GIF89a"), "tanks/trough/2026-04-18.md:8:12: error: photos/deep/Leaf One.jpg: it is a GIF"},
		{"one too large", "photos/nana.jpg", make([]byte, 33<<20), "plants/anubias-nana.md:4:17: error: photos/nana.jpg: the file has 33 MB"},
	} {
		t.Run(c.name, func(t *testing.T) {
			fsys := photographed(t)
			fsys[c.file] = &fstest.MapFile{Data: c.data}
			files, cs := build(t, fsys, room)
			if files != nil || len(cs) != 1 || !strings.HasPrefix(cs[0].String(), c.want) {
				t.Errorf("%v; want %s", cs, c.want)
			}
		})
	}
	fsys := photographed(t)
	delete(fsys, "photos/deep/Leaf One.jpg")
	if _, cs := build(t, fsys, room); len(cs) != 1 || cs[0].Rule != "photo-missing" {
		t.Errorf("a photo that a text shows and that is not there: %v", cs)
	}
}

func openCache(t *testing.T, target string) *PhotoCache {
	t.Helper()
	c, err := OpenPhotoCache(target, Options{Named: true})
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func TestCacheIsOnlyACache(t *testing.T) {
	www := filepath.Join(t.TempDir(), "www")
	dir := beside(www, photoCache)
	fsys := photographed(t)
	want, _ := build(t, fsys, openCache(t, www))
	kept, _ := filepath.Glob(filepath.Join(dir, "*"))
	if len(kept) != 4 {
		t.Fatalf("kept: %v", kept)
	}
	same := func(what string) {
		t.Helper()
		got, _ := build(t, fsys, openCache(t, www))
		if len(got) != len(want) {
			t.Errorf("%s: %d files, before %d", what, len(got), len(want))
		}
		for name := range want {
			if !bytes.Equal(got[name], want[name]) {
				t.Errorf("%s: %s differs", what, name)
			}
		}
	}
	same("from the cache")
	for i, name := range kept {
		data, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		switch i {
		case 0:
			data = data[:len(data)/2]
		case 1:
			data[len(data)-9] ^= 1
		case 2:
			data = nil
		case 3:
			data[3] ^= 1
		}
		if err := os.WriteFile(name, data, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	same("from a damaged cache")
	same("from a mended cache")
	if err := os.RemoveAll(dir); err != nil {
		t.Fatal(err)
	}
	same("without a cache")
	delete(fsys, "plants/anubias-nana.md")
	build(t, fsys, openCache(t, www))
	if kept, _ = filepath.Glob(filepath.Join(dir, "*")); len(kept) != 3 {
		t.Errorf("what no page needs is still kept: %v", kept)
	}
}

// The folder may go, or be damaged, between the making of photos and the writing of the site; only an original that has
// changed since cannot be what pages say.
func TestTheCacheMayGoWhileASiteIsMade(t *testing.T) {
	want, _ := build(t, photographed(t), NewPhotoCache())
	for what, harm := range map[string]func(dir string, fsys fstest.MapFS) error{
		"gone": func(dir string, _ fstest.MapFS) error { return os.RemoveAll(dir) },
		"full of others": func(dir string, _ fstest.MapFS) error {
			kept, err := filepath.Glob(filepath.Join(dir, "*"+keptEnding))
			for _, name := range kept[1:] {
				err = errors.Join(err, os.Rename(name, kept[0]))
			}
			return err
		},
		"gone, and a photo has changed": func(dir string, fsys fstest.MapFS) error {
			fsys["photos/nana.jpg"].Data = fsys["photos/front-2026-04-18.jpg"].Data
			return os.RemoveAll(dir)
		},
	} {
		www, fsys := filepath.Join(t.TempDir(), "www"), photographed(t)
		o := Options{On: demoDay, Photos: openCache(t, www)}
		b, _, err := Load(t.Context(), fsys, o)
		if err != nil {
			t.Fatal(err)
		}
		if err := harm(beside(www, photoCache), fsys); err != nil {
			t.Fatal(err)
		}
		files, err := Make(t.Context(), b, o)
		if strings.Contains(what, "changed") {
			if err == nil || !strings.Contains(err.Error(), "nana.jpg has changed") {
				t.Errorf("%s: %v", what, err)
			}
			continue
		}
		if err != nil || len(files) != len(want) {
			t.Errorf("%s: %d files instead of %d, %v", what, len(files), len(want), err)
		}
		for _, f := range files {
			if !bytes.Equal(f.Data, want[f.Path]) {
				t.Errorf("%s: %s differs", what, f.Path)
			}
		}
	}
}

func TestPhotoCacheSeesAChange(t *testing.T) {
	fsys, room := photographed(t), NewPhotoCache()
	before, _ := build(t, fsys, room)
	fsys["photos/nana.jpg"] = &fstest.MapFile{Data: fsys["photos/front-2026-04-18.jpg"].Data, ModTime: fsys["photos/nana.jpg"].ModTime.Add(time.Second)}
	after, _ := build(t, fsys, room)
	if a, b := nanas(before), nanas(after); a == b || len(a) == 0 {
		t.Errorf("%s, then %s", a, b)
	}
}

func nanas(files map[string][]byte) string {
	var out []string
	for name := range files {
		if strings.HasPrefix(name, "photos/nana-") && strings.HasSuffix(name, "-960.jpg") {
			out = append(out, name)
		}
	}
	return fmt.Sprint(out)
}

func FuzzUnpack(f *testing.F) {
	rs, _ := pack(nil)
	f.Add(rs, 3)
	f.Fuzz(func(t *testing.T, file []byte, at int) {
		if _, err := unpack(file); err != nil || at < 0 || at >= len(file) {
			return
		}
		file = bytes.Clone(file)
		file[at] ^= 4
		if _, err := unpack(file); err == nil {
			t.Errorf("byte %d changed and nobody noticed", at)
		}
	})
}

func TestViewsOfATankStandInOrder(t *testing.T) {
	fsys := photographed(t)
	fsys["photos/other.jpg"] = fsys["photos/nana.jpg"]
	fsys["tanks/trough/2026-06-18.md"] = &fstest.MapFile{Data: []byte("---\ntitle: Three\nphotos:\n  - {file: front-2026-03-01.jpg, alt: The front in March}\n" +
		"  - {file: other.jpg, alt: No view}\n  - {file: side-2026-06-18.jpg, alt: The only one of the side}\n---\n")}
	fsys["photos/front-2026-03-01.jpg"], fsys["photos/side-2026-06-18.jpg"] = fsys["photos/nana.jpg"], fsys["photos/nana.jpg"]
	files, cs := build(t, fsys, nil)
	if len(cs) > 0 {
		t.Fatal(cs)
	}
	_, views, ok := strings.Cut(string(files["tanks/trough/index.html"]), `id="h-views"`)
	if !ok {
		t.Fatal("the tank's page shows no views")
	}
	views, _, _ = strings.Cut(views, "</section>")
	last := 0
	for _, date := range []string{"2026-03-01", "2026-04-18", "2026-05-18"} {
		at := strings.Index(views, `datetime="`+date)
		if at < last {
			t.Errorf("%s does not stand in its place", date)
		}
		last = at
	}
	for _, no := range []string{"side", "other-"} {
		if strings.Contains(views, no) {
			t.Errorf("%s is no view through time", no)
		}
	}
	if !strings.Contains(views, `href="2026-06-18/"`) && !strings.Contains(views, `href="../../tanks/trough/2026-06-18/"`) {
		t.Error("a date does not lead to its entry")
	}
}

func TestLinkPreviews(t *testing.T) {
	fsys := photographed(t)
	files, _ := build(t, fsys, nil)
	for name, want := range map[string]string{
		"index.html":                         `og:image" content="https://bench.example/card.png"`,
		"plants/anubias-nana/index.html":     `og:image" content="https://bench.example/plants/anubias-nana/card.png"`,
		"tanks/trough/2026-05-18/index.html": `og:image" content="https://bench.example/photos/front-2026-05-18-`,
	} {
		if !strings.Contains(string(files[name]), want) {
			t.Errorf("%s has no %s", name, want)
		}
	}
	for _, name := range []string{"card.png", "plants/anubias-nana/card.png"} {
		if c, err := png.DecodeConfig(bytes.NewReader(files[name])); err != nil || c.Width != 1200 || c.Height != 630 || len(files[name]) > 60_000 {
			t.Errorf("%s: %v, %v, %d bytes", name, c, err, len(files[name]))
		}
	}
	fsys["journal.yaml"] = &fstest.MapFile{Data: []byte("title: Bench\ngrower: Wren\nlanguage: en\nunits: metric\n")}
	files, _ = build(t, fsys, nil)
	if files["card.png"] != nil || strings.Contains(string(files["index.html"]), "og:image") {
		t.Error("a journal without an address has pictures that no preview could find")
	}
}

// A photo that goes away between the listing and its own reading is no photo that the journal has not: nothing is
// published without it, so that no later publish takes such a site for the journal's.
func TestAPhotoThatGoesAwayIsMissed(t *testing.T) {
	room := NewPhotoCache()
	for _, photo := range []string{"front-2026-04-18.jpg", "deep/Leaf One.jpg", "nana.jpg"} {
		files, cs := build(t, absent{photographed(t), "photos/" + photo, func(look int64) bool { return look > 0 }, new(atomic.Int64)}, room) // listed, then gone
		if files != nil || cs.Errors() == 0 || !strings.Contains(fmt.Sprint(cs), photo) {
			t.Errorf("without %s: %d files, %v", photo, len(files), cs)
		}
	}
	fsys := photographed(t)
	delete(fsys, "photos/nana.jpg")
	if _, cs := build(t, fsys, room); cs.Errors() != 1 {
		t.Errorf("what was never there is said once: %v", cs)
	}
}
