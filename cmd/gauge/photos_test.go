package main

import (
	"bytes"
	"flag"
	"fmt"
	"image"
	"image/jpeg"
	"os"
	"path/filepath"
	"runtime"
	"testing"
	"testing/fstest"
	"time"

	"golang.org/x/sync/errgroup"
)

// The photos of the benchmark: 12 megapixels, as a phone takes them.
const (
	shotWidth, shotHeight = 4000, 3000
	shotQuality           = 90
	shotsEach             = 4 // photos of an entry
)

var photos = flag.Int("photos", 2, "how many photos of 12 megapixels BenchmarkPhotos publishes")

// BenchmarkPhotos publishes a journal with all photos to make ready, and then with none.
func BenchmarkPhotos(b *testing.B) {
	dir := b.TempDir()
	w := work{From: filepath.Join(dir, "journal"), To: filepath.Join(dir, "www")}
	writePhotoJournal(b, w.From, *photos)
	if err := syncDisk(dir); err != nil {
		b.Fatal(err)
	}
	b.Run("cold", func(b *testing.B) {
		again(b, func() work {
			w.To = filepath.Join(b.TempDir(), "www")
			return w
		})
	})
	b.Run("warm", func(b *testing.B) {
		w.To = filepath.Join(dir, "www")
		if _, err := do(b.Context(), w); err != nil { // makes them ready
			b.Fatal(err)
		}
		again(b, func() work { return w })
	})
}

func TestPhotosArePublishedTwiceAlike(t *testing.T) {
	dir := t.TempDir()
	w := work{From: filepath.Join(dir, "journal"), To: filepath.Join(dir, "www")}
	if originals := writePhotoJournal(t, w.From, 2); originals < 2<<20 {
		t.Errorf("two photos have %d bytes", originals)
	}
	cold, err := do(t.Context(), w)
	if err != nil {
		t.Fatal(err)
	}
	warm, err := do(t.Context(), w)
	if err != nil {
		t.Fatal(err)
	}
	if cold.Files != warm.Files || cold.Bytes != warm.Bytes {
		t.Errorf("first %+v, then %+v", cold, warm)
	}
}

// writePhotoJournal writes a small journal whose entries show n photos, and returns the bytes of these.
func writePhotoJournal(tb testing.TB, dir string, n int) (originals int) {
	tb.Helper()
	files := fstest.MapFS{}
	put := func(name string, data []byte) { files[name] = &fstest.MapFile{Data: data, Mode: 0o644} }
	put("journal.yaml", []byte("title: Photos\ngrower: Wren\naddress: https://bench.example/\nlanguage: en\nunits: metric\n"))
	put("tanks/trough/tank.md", []byte("---\nname: The trough\nbegan: 2020-01-01\n---\n"))
	day := time.Date(2020, 1, 1, 0, 0, 0, 0, time.UTC)
	for i := 0; i < n; i += shotsEach {
		day = day.AddDate(0, 0, 7)
		text := "---\ntitle: A look\nphotos:\n"
		for k := i; k < min(i+shotsEach, n); k++ {
			text += fmt.Sprintf("  - {file: shot-%03d.jpg, alt: Photo %d}\n", k, k)
		}
		put("tanks/trough/"+day.Format(time.DateOnly)+".md", []byte(text+"---\n"))
	}
	if err := os.CopyFS(dir, files); err != nil {
		tb.Fatal(err)
	}
	if err := os.MkdirAll(filepath.Join(dir, "photos"), 0o755); err != nil {
		tb.Fatal(err)
	}
	base := bottom(1)
	var g errgroup.Group
	g.SetLimit(runtime.GOMAXPROCS(0))
	sizes := make([]int, n)
	for i := range n {
		g.Go(func() error {
			shot, err := shotOf(base, i)
			sizes[i] = len(shot)
			if err != nil {
				return err
			}
			return os.WriteFile(filepath.Join(dir, "photos", fmt.Sprintf("shot-%03d.jpg", i)), shot, 0o644)
		})
	}
	if err := g.Wait(); err != nil {
		tb.Fatal(err)
	}
	for _, size := range sizes {
		originals += size
	}
	return originals
}

// bottom is twice a photo's width of soft light above and grain below, with leaves across, from a seed.
func bottom(seed uint64) *image.YCbCr {
	m := image.NewYCbCr(image.Rect(0, 0, 2*shotWidth, shotHeight), image.YCbCrSubsampleRatio420)
	s := seed*2 + 1
	for y := range shotHeight {
		for x := range 2 * shotWidth {
			s ^= s << 13
			s ^= s >> 7
			s ^= s << 17
			v := 170 - 100*y/shotHeight + int(s>>62) // the grain of a sensor
			if y > shotHeight*3/5 {
				v += int(s>>40&63) - 32 // and of sand
			}
			if leaf := (x + y/3 + x*y/90_000) % 311; leaf < 60 {
				v = v*3/4 + leaf/4
			}
			m.Y[m.YOffset(x, y)] = uint8(v)
		}
	}
	for i := range m.Cb {
		m.Cb[i], m.Cr[i] = uint8(100+i/m.CStride%40), uint8(105+i%m.CStride%2000/100)
	}
	return m
}

// shotOf is the part of the base that belongs to a photo, as JPEG.
func shotOf(base *image.YCbCr, i int) ([]byte, error) {
	at := i * 18 % shotWidth
	part := base.SubImage(image.Rect(at, 0, at+shotWidth, shotHeight))
	var out bytes.Buffer
	err := jpeg.Encode(&out, part, &jpeg.Options{Quality: shotQuality})
	return out.Bytes(), err
}
