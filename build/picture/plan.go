package picture

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"path"
	"strings"

	"golang.org/x/image/webp"
)

// The limits of an original. They are looked at before any pixel is decoded, since a file of 71 bytes can claim four
// thousand megapixels. All are our choice: phones of 2026 take 50 megapixels in 10 to 25 MB.
const (
	MaxBytes  = 32 << 20   // of the file
	MaxPixels = 50_000_000 // width × height
	MaxSide   = 20_000     // pixels on one side
	MaxCost   = 640 << 20  // bytes of memory while it is made; only odd encodings of large pictures pass it

	maxScans = 100 // of a progressive JPEG, each of which goes over all pixels; encoders write 6 to 12 (common practice)
)

// Kind is a file format.
type Kind uint8

// The formats that are read; JPEG and PNG are also written.
const (
	JPEG Kind = iota + 1
	PNG
	WebP
)

// String is the format's name.
func (k Kind) String() string { return [...]string{"none", "JPEG", "PNG", "WebP"}[k] }

// Extension is the ending of a file of that kind.
func (k Kind) Extension() string { return [...]string{"", ".jpg", ".png", ".webp"}[k] }

// Info is what the head of a picture tells.
type Info struct {
	Kind          Kind // of the original
	As            Kind // of its renditions: JPEG, or PNG for what looks like a drawing
	Width, Height int  // pixels, once upright
	Turn          Turn
	Profile       Profile
	Cost          int64 // about how many bytes of memory [Make] takes
}

// The rules by which a picture is refused, and one that only warns.
const (
	RuleTooLarge   = "photo-too-large"
	RuleKind       = "photo-kind"
	RuleUnreadable = "photo-unreadable"
	RuleColours    = "photo-colours"
)

// Fault says why a picture is refused.
type Fault struct{ Rule, Why, Hint string }

// Error is the reason in words that follow the picture's name.
func (f *Fault) Error() string { return f.Why }

// Plan reads the head of a picture without decoding it. name is only for the error's words. The error is a [*Fault].
func Plan(name string, data []byte) (Info, error) {
	kind, err := sniff(name, data)
	if err != nil {
		return Info{}, err
	}
	if len(data) > MaxBytes {
		return Info{}, TooManyBytes(int64(len(data)))
	}
	c, err := config(kind, data)
	if err != nil {
		return Info{}, unreadable(kind, err)
	}
	if err := bounded(c); err != nil {
		return Info{}, err
	}
	parts := open(kind, data)
	if parts.scans > maxScans {
		return Info{}, &Fault{RuleUnreadable, fmt.Sprintf("its pixels come in more than %d passes, which no camera does", maxScans), "save it as an ordinary JPEG"}
	}
	if parts.moving {
		return Info{}, &Fault{RuleKind, "it is animated", "save one frame as JPEG"}
	}
	i := Info{Kind: kind, As: JPEG, Width: c.Width, Height: c.Height, Turn: exifTurn(parts.exif), Profile: readProfile(parts.icc)}
	if kind == PNG && drawn(data, c) {
		i.As = PNG
	}
	if i.Cost = cost(kind, c, parts); i.Cost > MaxCost {
		return Info{}, &Fault{RuleTooLarge, fmt.Sprintf("it would take %d MB of memory to open", i.Cost>>20), "save it smaller, or as an ordinary JPEG"}
	}
	if i.Turn.onSide() {
		i.Width, i.Height = i.Height, i.Width
	}
	return i, nil
}

// TooManyBytes is the error for a file larger than [MaxBytes], for callers that know the size before reading.
func TooManyBytes(n int64) *Fault {
	return &Fault{RuleTooLarge, fmt.Sprintf("the file has %d MB; at most %d are taken", n>>20, MaxBytes>>20), "save it smaller: pages show 1600 pixels at most"}
}

// sniff tells the format by the first bytes, whatever the name says.
func sniff(name string, data []byte) (Kind, error) {
	has := func(at int, magic string) bool { return len(data) >= at && bytes.HasPrefix(data[at:], []byte(magic)) }
	switch {
	case len(data) == 0:
		return 0, &Fault{RuleUnreadable, "the file is empty", "copy it from the camera again"}
	case has(0, "\xff\xd8\xff"):
		return JPEG, nil
	case has(0, "\x89PNG\r\n\x1a\n"):
		return PNG, nil
	case has(0, "RIFF") && has(8, "WEBP"):
		return WebP, nil
	case has(4, "ftyp"):
		return 0, &Fault{RuleKind, "it is in a phone format (HEIC or AVIF)", "save or share it as JPEG"}
	case has(0, "GIF8"):
		return 0, &Fault{RuleKind, "it is a GIF", "save it as JPEG, or a drawing as PNG"}
	case strings.EqualFold(path.Ext(name), ".svg") || bytes.Contains(data[:min(len(data), 1024)], []byte("<svg")):
		return 0, &Fault{RuleKind, "it is an SVG, which may hold scripts and is no photo", "save the drawing as PNG"}
	}
	return 0, &Fault{RuleKind, "it is not a JPEG, PNG or WebP", "save it as JPEG, or a drawing as PNG"}
}

func config(kind Kind, data []byte) (image.Config, error) {
	r := bytes.NewReader(data)
	switch kind {
	case JPEG:
		return jpeg.DecodeConfig(r)
	case PNG:
		return png.DecodeConfig(r)
	}
	return webp.DecodeConfig(r)
}

func bounded(c image.Config) error {
	const hint = "save it smaller: pages show 1600 pixels at most"
	switch px := int64(c.Width) * int64(c.Height); {
	case c.Width < 1 || c.Height < 1:
		return &Fault{RuleUnreadable, "it has no size", "copy it from the camera again"}
	case px > MaxPixels:
		return &Fault{RuleTooLarge, fmt.Sprintf("it has %d × %d pixels, which is %.0f megapixels; at most %d are taken", c.Width, c.Height, float64(px)/1e6, MaxPixels/1_000_000), hint}
	case max(c.Width, c.Height) > MaxSide:
		return &Fault{RuleTooLarge, fmt.Sprintf("it has %d × %d pixels; at most %d on a side are taken", c.Width, c.Height, MaxSide), hint}
	}
	return nil
}

func unreadable(kind Kind, err error) *Fault {
	return &Fault{RuleUnreadable, fmt.Sprintf("it cannot be read as %s (%s); the file may be damaged or cut off", kind, strings.TrimPrefix(err.Error(), strings.ToLower(kind.String())+": ")), "copy it again, or save it as an ordinary JPEG"}
}

// drawn reports whether a PNG is a drawing: flat areas and lines take well under a byte for a pixel, a photo more than
// one (our choice of 0.75). JPEG would smear its lines.
func drawn(data []byte, c image.Config) bool {
	return float64(len(data)) < 0.75*float64(c.Width)*float64(c.Height) || c.Width*c.Height < 1024
}

// cost estimates the memory that decoding and scaling take, in bytes: what the decoder holds, a half-scaled
// picture, the largest rendition and what stands between the scaler's passes.
func cost(kind Kind, c image.Config, p parts) int64 {
	px := int64(c.Width) * int64(c.Height)
	var n int64
	switch {
	case kind == JPEG:
		n = int64(float64(px) * p.samples)
		if p.progressive {
			n *= 5 // a coefficient of 32 bits beside each sample
		}
		if c.ColorModel == color.CMYKModel {
			n += 4 * px
		}
	case kind == PNG && deep(c.ColorModel):
		n = 8 * px
	case kind == PNG:
		n = 4 * px
	default:
		n = 8 * px // lossless pixels and their transforms, or planes and a packed alpha
	}
	if p.interlaced {
		n += n / 2 // the last pass holds half of the pixels
	}
	wide := int64(min(c.Width, 2*largest))
	return n + 4*wide*int64(c.Height) + 8*wide*int64(largest) + 32*atATime // the copy, the renditions, between two passes
}

func deep(m color.Model) bool {
	return m == color.RGBA64Model || m == color.NRGBA64Model || m == color.Gray16Model
}
