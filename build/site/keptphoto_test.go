package site

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/gif"
	"os"
	"path/filepath"
	"testing"

	"slipleaf/build/picture"
)

// Whatever lies in the photo cache under the right name, well sealed or not, is published only if it is the picture that it
// says it is: else the photo is made anew, and the site is the same. Nothing panics.
func TestOnlyPicturesComeOutOfTheCache(t *testing.T) {
	www := filepath.Join(t.TempDir(), "www")
	fsys := photographed(t)
	want, _ := build(t, fsys, openCache(t, www))
	kept, err := filepath.Glob(filepath.Join(beside(www, photoCache), "*"+keptEnding))
	if err != nil || len(kept) == 0 {
		t.Fatal(kept, err)
	}
	good, err := os.ReadFile(kept[0])
	if err != nil {
		t.Fatal(err)
	}
	was, err := unpack(good)
	if err != nil {
		t.Fatal(err)
	}
	var anim bytes.Buffer
	if err := gif.Encode(&anim, image.NewPaletted(image.Rect(0, 0, 480, 80), color.Palette{color.Black, color.White}), nil); err != nil {
		t.Fatal(err)
	}
	first := was[0]
	like := func(kind picture.Kind, data []byte) []byte {
		file, err := pack([]picture.Rendition{{Kind: kind, Width: first.Width, Height: first.Height, Data: data}})
		if err != nil {
			t.Fatal(err)
		}
		return file
	}
	shorter := first
	shorter.Width++
	other, err := pack([]picture.Rendition{shorter})
	if err != nil {
		t.Fatal(err)
	}
	bad := map[string][]byte{
		"a page":                    like(first.Kind, []byte("<!doctype html><script>alert(1)</script>")),
		"a drawing with a script":   like(first.Kind, []byte(`<svg xmlns="http://www.w3.org/2000/svg"><script>alert(1)</script></svg>`)),
		"another kind of picture":   like(first.Kind, anim.Bytes()),
		"a kind that is none":       like(picture.Kind(99), first.Data),
		"another kind than it says": like(picture.PNG, first.Data),
		"another width":             other,
		"nothing":                   {},
		"a head alone":              []byte(keptHead),
		"a seal over a wrong list":  seal(keptHead, []byte("[{}]\n")),
		"a list without end":        seal(keptHead, []byte("[[[[")),
		"more bytes than there are": seal(keptHead, []byte(`[{"Kind":0,"Width":480,"Height":80,"Bytes":9999999}]`+"\n")),
		"fewer than none":           seal(keptHead, []byte(`[{"Kind":0,"Width":480,"Height":80,"Bytes":-1}]`+"\n")),
	}
	for i := 0; i < len(good); i += 1 + len(good)/40 {
		flipped := bytes.Clone(good)
		flipped[i] ^= 1
		bad[fmt.Sprintf("byte %d flipped", i)], bad[fmt.Sprintf("cut at %d", i)] = flipped, good[:i]
	}
	for name, file := range bad {
		if rs, err := unpack(file); err == nil {
			t.Errorf("%s: %d renditions come out", name, len(rs))
		}
	}
	for _, name := range []string{"a page", "a drawing with a script", "another width", "more bytes than there are"} { // and as a whole
		if err := os.WriteFile(kept[0], bad[name], 0o600); err != nil {
			t.Fatal(err)
		}
		got, _ := build(t, fsys, openCache(t, www))
		for file := range want {
			if !bytes.Equal(got[file], want[file]) {
				t.Errorf("%s: %s is another", name, file)
			}
		}
		if now, err := os.ReadFile(kept[0]); err != nil || !bytes.Equal(now, good) {
			t.Errorf("%s: the cache was not put right: %v", name, err)
		}
	}
}
