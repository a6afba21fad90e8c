package picture

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"io"
)

// parts is what a file carries besides its pixels, as far as it matters here.
type parts struct {
	exif, icc   []byte  // a TIFF structure and a colour profile; nil: none
	moving      bool    // an animation
	progressive bool    // JPEG: all coefficients are held at once
	scans       int     // JPEG: passes over the pixels, counted to one more than are taken
	interlaced  bool    // PNG
	samples     float64 // JPEG: samples a pixel over all components, 1 to 4
}

// maxProfile is the size of a colour profile that is looked at, in bytes: those with a matrix have about 500, those of
// scanners up to a megabyte.
const maxProfile = 1 << 20

// open walks the file's own structure. It never fails: what it cannot follow ends the walk, and the decoder says what
// is wrong.
func open(kind Kind, data []byte) parts {
	switch kind {
	case JPEG:
		return openJPEG(data)
	case PNG:
		return openPNG(data)
	}
	return openWebP(data)
}

// openJPEG walks the marker segments (ITU-T T.81, annex B). Exif is in APP1 (CIPA DC-008), a profile in one or more
// APP2, numbered (ICC.1:2022, annex B.4), both before the first scan.
func openJPEG(data []byte) parts {
	p := parts{samples: 3}
	for at := 2; at+4 <= len(data) && p.scans <= maxScans; {
		if data[at] != 0xff {
			return p
		}
		marker := data[at+1]
		if marker == 0xff || marker == 0x01 || marker >= 0xd0 && marker <= 0xd7 {
			at += 1
			if marker != 0xff {
				at++
			}
			continue
		}
		n := int(binary.BigEndian.Uint16(data[at+2:]))
		if marker == 0xd9 || n < 2 || at+2+n > len(data) {
			return p
		}
		if p.scans == 0 {
			p.segment(marker, data[at+4:at+2+n])
		}
		at += 2 + n
		if marker == 0xda {
			p.scans++
			at += scanLength(data[at:])
		}
	}
	return p
}

// scanLength is how many bytes of coded pixels come before the next marker that is none of a scan's own: in them 0xff
// is followed by 0, by the number of a restart or by another 0xff (T.81, B.1.1.5).
func scanLength(data []byte) int {
	for at := 0; ; {
		i := bytes.IndexByte(data[at:], 0xff)
		if i < 0 || at+i+1 >= len(data) {
			return len(data)
		}
		if at += i; data[at+1] != 0 && data[at+1] != 0xff && (data[at+1] < 0xd0 || data[at+1] > 0xd7) {
			return at
		}
		at++
	}
}

func (p *parts) segment(marker byte, body []byte) {
	switch {
	case marker == 0xe1 && p.exif == nil && bytes.HasPrefix(body, []byte("Exif\x00\x00")):
		p.exif = body[6:]
	case marker == 0xe2 && bytes.HasPrefix(body, []byte("ICC_PROFILE\x00")) && len(body) > 14 && len(p.icc)+len(body) <= maxProfile:
		p.icc = append(p.icc, body[14:]...) // the pieces stand in order in every file that is not broken
	case marker == 0xc2 || marker == 0xc6 || marker == 0xca:
		p.progressive = true
		fallthrough
	case marker == 0xc0 || marker == 0xc1:
		p.samples = samplesOf(body)
	}
}

// samplesOf reads the sampling factors of a frame's components (T.81, B.2.2). Where they make no sense it assumes the
// most: a sample of each of four components for every pixel.
func samplesOf(frame []byte) float64 {
	if len(frame) < 6 || len(frame) < 6+3*int(frame[5]) {
		return 4
	}
	most, sum := 1, 0
	for i := range int(frame[5]) {
		f := int(frame[7+3*i]>>4) * int(frame[7+3*i]&15)
		most, sum = max(most, f), sum+f
	}
	if sum == 0 || sum > 4*most {
		return 4
	}
	return float64(sum) / float64(most)
}

// openPNG walks the chunks before the pixels and after (W3C PNG, third edition, 5.3): eXIf may stand on either side.
func openPNG(data []byte) parts {
	var p parts
	if len(data) > 28 {
		p.interlaced = data[28] == 1
	}
	for at := 8; at+12 <= len(data); {
		n := int(binary.BigEndian.Uint32(data[at:]))
		if n < 0 || n > len(data)-at-12 {
			return p
		}
		body := data[at+8 : at+8+n]
		switch string(data[at+4 : at+8]) {
		case "eXIf":
			p.exif = body
		case "iCCP":
			p.icc = inflateProfile(body)
		}
		at += 12 + n
	}
	return p
}

// inflateProfile unpacks the profile of an iCCP chunk: a name, NUL, the method 0, and a zlib stream that is not
// followed beyond maxProfile.
func inflateProfile(body []byte) []byte {
	_, packed, ok := bytes.Cut(body, []byte{0})
	if !ok || len(packed) < 2 || packed[0] != 0 {
		return nil
	}
	z, err := zlib.NewReader(bytes.NewReader(packed[1:]))
	if err != nil {
		return nil
	}
	defer z.Close()
	icc, err := io.ReadAll(io.LimitReader(z, maxProfile+1))
	if err != nil || len(icc) > maxProfile {
		return nil
	}
	return icc
}

// openWebP walks the RIFF chunks (RFC 9649). Bit 1 of VP8X says that the file is an animation.
func openWebP(data []byte) parts {
	var p parts
	for at := 12; at+8 <= len(data); {
		n := int(binary.LittleEndian.Uint32(data[at+4:]))
		if n < 0 || n > len(data)-at-8 {
			return p
		}
		body := data[at+8 : at+8+n]
		switch string(data[at : at+4]) {
		case "VP8X":
			p.moving = p.moving || n > 0 && body[0]&2 != 0
		case "ANIM", "ANMF":
			p.moving = true
		case "EXIF":
			p.exif = bytes.TrimPrefix(body, []byte("Exif\x00\x00")) // some writers keep the head of JPEG
		case "ICCP":
			if n <= maxProfile {
				p.icc = body
			}
		}
		at += 8 + n + n&1
	}
	return p
}
