package main

import (
	"bufio"
	"context"
	"encoding/json"
	"fmt"
	"image"
	"image/jpeg"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"time"

	"golang.org/x/sync/errgroup"
)

// The photos that -photos makes: 12 megapixels, as a phone takes them.
const (
	shotWidth, shotHeight = 4000, 3000
	shotQuality           = 90
	shotsEach             = 4 // photos of an entry
)

// developed is what -photos prints: what publishing took with all photos to make ready, and then with none.
type developed struct {
	Photos    int   `json:"photos"`
	Originals int64 `json:"originals"` // bytes
	Cold      took  `json:"cold"`
	Warm      took  `json:"warm"`
	Cores     int   `json:"cores"`
	// Ratio is the processors' seconds of the cold build to those of the clock: all cores at work give their number, less
	// what other work on the machine took.
	Ratio float64 `json:"ratio"`
}

// gaugePhotos makes a journal with n photos and publishes it twice.
func gaugePhotos(ctx context.Context, n int, seed uint64, by func(context.Context, work) (took, error)) (developed, error) {
	d := developed{Photos: n, Cores: runtime.GOMAXPROCS(0)}
	dir, err := os.MkdirTemp("", "gauge-")
	if err != nil {
		return d, err
	}
	defer os.RemoveAll(dir)
	w := work{Kind: "build", From: filepath.Join(dir, "journal"), To: filepath.Join(dir, "www")}
	if d.Originals, err = writePhotoJournal(w.From, n, seed); err != nil {
		return d, err
	}
	if err := syncDisk(dir); err != nil {
		return d, err
	}
	if d.Cold, err = by(ctx, w); err != nil {
		return d, err
	}
	d.Ratio = d.Cold.CPU / d.Cold.Seconds
	d.Warm, err = by(ctx, w)
	return d, err
}

// writePhotoJournal writes a small journal whose entries show n photos, and returns the bytes of these.
func writePhotoJournal(dir string, n int, seed uint64) (int64, error) {
	put := func(name, text string) error {
		name = filepath.Join(dir, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
			return err
		}
		return os.WriteFile(name, []byte(text), 0o644)
	}
	if err := put("journal.yaml", "title: Photos\ngrower: Wren\naddress: https://bench.example/\nlanguage: en\nunits: metric\n"); err != nil {
		return 0, err
	}
	if err := put("tanks/trough/tank.md", "---\nname: The trough\nbegan: 2020-01-01\n---\n"); err != nil {
		return 0, err
	}
	day := time.Date(2020, 1, 1, 0, 0, 0, 0, time.UTC)
	for i := 0; i < n; i += shotsEach {
		day = day.AddDate(0, 0, 7)
		text := "---\ntitle: A look\nphotos:\n"
		for k := i; k < min(i+shotsEach, n); k++ {
			text += fmt.Sprintf("  - {file: shot-%03d.jpg, alt: Photo %d}\n", k, k)
		}
		if err := put("tanks/trough/"+day.Format(time.DateOnly)+".md", text+"---\n"); err != nil {
			return 0, err
		}
	}
	return writeShots(filepath.Join(dir, "photos"), n, seed)
}

func writeShots(dir string, n int, seed uint64) (int64, error) {
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return 0, err
	}
	base := bottom(seed)
	var g errgroup.Group
	g.SetLimit(runtime.GOMAXPROCS(0))
	sizes := make([]int64, n)
	for i := range n {
		g.Go(func() (err error) {
			sizes[i], err = writeShot(filepath.Join(dir, fmt.Sprintf("shot-%03d.jpg", i)), base, i)
			return err
		})
	}
	err := g.Wait()
	sum := int64(0)
	for _, s := range sizes {
		sum += s
	}
	return sum, err
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

// writeShot writes the part of the base that belongs to a photo.
func writeShot(name string, base *image.YCbCr, i int) (size int64, err error) {
	f, err := os.Create(name)
	if err != nil {
		return 0, err
	}
	defer func() {
		if e := f.Close(); err == nil {
			err = e
		}
	}()
	w := bufio.NewWriterSize(f, 1<<16)
	at := i * 18 % shotWidth
	part := base.SubImage(image.Rect(at, 0, at+shotWidth, shotHeight))
	if err := jpeg.Encode(w, part, &jpeg.Options{Quality: shotQuality}); err != nil {
		return 0, err
	}
	if err := w.Flush(); err != nil {
		return 0, err
	}
	info, err := f.Stat()
	if err != nil {
		return 0, err
	}
	return info.Size(), nil
}

func (d developed) print(w io.Writer, asJSON bool) error {
	if asJSON {
		e := json.NewEncoder(w)
		e.SetIndent("", "  ")
		return e.Encode(d)
	}
	fmt.Fprintf(w, "%d photos of %.0f megapixels, %.0f MB; the site has %.0f MB in %d files\n\n", d.Photos, shotWidth*shotHeight/1e6, float64(d.Originals)/1e6, float64(d.Cold.Bytes)/1e6, d.Cold.Files)
	fmt.Fprintf(w, "| publish | seconds | processor seconds | peak memory |\n|---|---|---|---|\n")
	for _, row := range []struct {
		name string
		t    took
	}{{"cold", d.Cold}, {"warm", d.Warm}} {
		fmt.Fprintf(w, "| %s | %.1f | %.1f | %d MB |\n", row.name, row.t.Seconds, row.t.CPU, row.t.Peak>>20)
	}
	_, err := fmt.Fprintf(w, "\ncold: %.2f seconds of %d processors for each second of the clock\n", d.Ratio, d.Cores)
	return err
}
