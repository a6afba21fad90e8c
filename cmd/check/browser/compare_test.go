//go:build browser

package browser

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
)

// How unlike two pictures may be. Chosen by trial: letters drawn by another version of the browser stay well under
// them, a box that moves by 8 CSS px or changes its colour does not.
const (
	blockSide    = 4    // stored px of a block's side
	blockLevels  = 28   // levels of 255 by which the mean of a block may differ
	unlikeBlocks = 0.01 // share of the blocks that may differ by more
	unlikeHeight = 8    // stored px by which the height may differ
)

// store writes a picture with few colours, which is small.
func store(file string, data []byte, colours int) error {
	img, err := png.Decode(bytes.NewReader(data))
	if err != nil {
		return err
	}
	var out bytes.Buffer
	encoder := png.Encoder{CompressionLevel: png.BestCompression}
	if err := encoder.Encode(&out, fewer(img, colours)); err != nil {
		return err
	}
	if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
		return err
	}
	return os.WriteFile(file, out.Bytes(), 0o644)
}

// compareStored tells how a picture is unlike the stored one.
func compareStored(file string, data []byte) ([]string, error) {
	stored, err := os.ReadFile(file)
	if errors.Is(err, fs.ErrNotExist) {
		return []string{"no such picture is stored: make it with -update"}, nil
	}
	if err != nil {
		return nil, err
	}
	want, err := png.Decode(bytes.NewReader(stored))
	if err != nil {
		return nil, fmt.Errorf("%s: %w", file, err)
	}
	got, err := png.Decode(bytes.NewReader(data))
	if err != nil {
		return nil, err
	}
	if fault := unlike(want, got); fault != "" {
		return []string{fault}, nil
	}
	return nil, nil
}

// unlike compares two pictures in blocks; "" when they are alike.
func unlike(want, got image.Image) string {
	w, g := want.Bounds(), got.Bounds()
	if d := w.Dy() - g.Dy(); w.Dx() != g.Dx() || d > unlikeHeight || d < -unlikeHeight {
		return fmt.Sprintf("is %d × %d px, stored as %d × %d", g.Dx(), g.Dy(), w.Dx(), w.Dy())
	}
	blocks, bad, firstY := 0, 0, -1
	for y := 0; y+blockSide <= min(w.Dy(), g.Dy()); y += blockSide {
		for x := 0; x+blockSide <= w.Dx(); x += blockSide {
			blocks++
			a, b := mean(want, x, y), mean(got, x, y)
			for i := range a {
				if d := a[i] - b[i]; d > blockLevels || d < -blockLevels {
					bad++
					if firstY < 0 {
						firstY = y
					}
					break
				}
			}
		}
	}
	if share := float64(bad) / float64(max(blocks, 1)); share > unlikeBlocks {
		return fmt.Sprintf("looks otherwise in %.1f %% of its blocks, first %d px from its top; if that is meant, run with -update", 100*share, firstY)
	}
	return ""
}

// mean is the mean colour of a block, each channel from 0 to 255.
func mean(img image.Image, x, y int) (sum [3]int) {
	at := img.Bounds().Min
	for dy := range blockSide {
		for dx := range blockSide {
			r, g, b, _ := img.At(at.X+x+dx, at.Y+y+dy).RGBA()
			sum[0], sum[1], sum[2] = sum[0]+int(r>>8), sum[1]+int(g>>8), sum[2]+int(b>>8)
		}
	}
	for i := range sum {
		sum[i] /= blockSide * blockSide
	}
	return sum
}

// fewer draws a picture with the n colours that it uses most; the rest go to the nearest of them. Equal pictures give
// equal bytes.
func fewer(img image.Image, n int) *image.Paletted {
	bounds := img.Bounds()
	count := map[color.RGBA]int{}
	for y := bounds.Min.Y; y < bounds.Max.Y; y++ {
		for x := bounds.Min.X; x < bounds.Max.X; x++ {
			r, g, b, _ := img.At(x, y).RGBA()
			count[color.RGBA{uint8(r >> 8), uint8(g >> 8), uint8(b >> 8), 255}]++
		}
	}
	used := make([]color.RGBA, 0, len(count))
	for c := range count {
		used = append(used, c)
	}
	slices.SortFunc(used, func(a, b color.RGBA) int {
		return cmp.Or(count[b]-count[a], cmp.Compare(key(a), key(b)))
	})
	var chosen color.Palette
	for _, apart := range []int{24, 8, 0} { // colours well apart first, or the shades of the ground would take all places
		for _, c := range used {
			if len(chosen) < n && farFrom(chosen, c, apart) {
				chosen = append(chosen, c)
			}
		}
	}
	out := image.NewPaletted(bounds, chosen)
	draw.Draw(out, bounds, img, bounds.Min, draw.Src)
	return out
}

// farFrom reports whether a colour differs from each of a palette by more than apart levels in some channel.
func farFrom(p color.Palette, c color.RGBA, apart int) bool {
	for _, x := range p {
		o := x.(color.RGBA)
		off := func(a, b uint8) bool { d := int(a) - int(b); return d > apart || d < -apart }
		if !off(o.R, c.R) && !off(o.G, c.G) && !off(o.B, c.B) {
			return false
		}
	}
	return true
}

func key(c color.RGBA) int { return int(c.R)<<16 | int(c.G)<<8 | int(c.B) }
