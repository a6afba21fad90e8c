package picture

import (
	"bytes"
	"encoding/binary"
	"errors"
	"hash/crc32"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"testing"
)

// scene is a picture with a different colour in each corner, so that a wrong turn shows.
func scene(w, h int) *image.RGBA {
	m := image.NewRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			m.SetRGBA(x, y, color.RGBA{uint8(40 + 170*x/w), uint8(40 + 170*y/h), uint8(60 + (x*7+y*3)%16), 255})
		}
	}
	return m
}

func jpegOf(t testing.TB, m image.Image) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := jpeg.Encode(&b, m, &jpeg.Options{Quality: 95}); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func pngOf(t testing.TB, m image.Image) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := png.Encode(&b, m); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// exif is a TIFF structure with an orientation, a maker and a place, in the byte order asked for.
func exif(order binary.AppendByteOrder, mark string, orientation uint16) []byte {
	b := []byte(mark)
	b = order.AppendUint16(b, 42)
	b = order.AppendUint32(b, 8)
	b = order.AppendUint16(b, 3)
	field := func(tag, kind uint16, n uint32) {
		b = order.AppendUint16(b, tag)
		b = order.AppendUint16(b, kind)
		b = order.AppendUint32(b, n)
	}
	field(0x010f, 2, 4)
	b = append(b, "GPS\x00"...)
	field(0x0112, 3, 1)
	b = order.AppendUint16(b, orientation)
	b = append(b, 0, 0)
	field(0x8825, 4, 1)
	b = order.AppendUint32(b, 50)
	b = order.AppendUint32(b, 0)
	return append(b, "latitude 51 28 38 N"...)
}

// withSegments puts APP segments after a JPEG's first marker.
func withSegments(data []byte, segments ...[]byte) []byte {
	out := append([]byte(nil), data[:2]...)
	for _, s := range segments {
		out = append(out, 0xff, s[0])
		out = binary.BigEndian.AppendUint16(out, uint16(len(s)+1))
		out = append(out, s[1:]...)
	}
	return append(out, data[2:]...)
}

func exifSegment(orientation uint16) []byte {
	return append([]byte("\xe1Exif\x00\x00"), exif(binary.BigEndian, "MM", orientation)...)
}

func iccSegment(icc []byte) []byte { return append([]byte("\xe2ICC_PROFILE\x00\x01\x01"), icc...) }

// withChunk puts a chunk after a PNG's header chunk.
func withChunk(data []byte, name string, body []byte) []byte {
	out := append([]byte(nil), data[:33]...)
	out = binary.BigEndian.AppendUint32(out, uint32(len(body)))
	crc := crc32.ChecksumIEEE(append([]byte(name), body...))
	out = append(append(out, name...), body...)
	return append(binary.BigEndian.AppendUint32(out, crc), data[33:]...)
}

// claiming is a PNG whose head claims a size that its few bytes do not hold.
func claiming(w, h uint32) []byte {
	head := binary.BigEndian.AppendUint32(binary.BigEndian.AppendUint32(nil, w), h)
	head = append(head, 8, 2, 0, 0, 0)
	out := []byte("\x89PNG\r\n\x1a\n\x00\x00\x00\x0dIHDR")
	out = append(out, head...)
	out = binary.BigEndian.AppendUint32(out, crc32.ChecksumIEEE(append([]byte("IHDR"), head...)))
	return append(out, "\x00\x00\x00\x00IEND\xaeB`\x82"...)
}

// webpOf is a WebP file of chunks.
func webpOf(chunks ...string) []byte {
	var body []byte
	for i := 0; i+1 < len(chunks); i += 2 {
		body = append(body, chunks[i]...)
		body = binary.LittleEndian.AppendUint32(body, uint32(len(chunks[i+1])))
		body = append(body, chunks[i+1]...)
		if len(chunks[i+1])%2 == 1 {
			body = append(body, 0)
		}
	}
	out := binary.LittleEndian.AppendUint32([]byte("RIFF"), uint32(len(body)+4))
	return append(append(out, "WEBP"...), body...)
}

// cmykJPEG is a JPEG of four components, baseline: each 8 × 8 block is flat. It is made by hand, since the standard
// library writes none. Its one Huffman table of each class has the single code 0 for "no change" and "end of block".
func cmykJPEG() []byte {
	out := []byte("\xff\xd8\xff\xee\x00\x0eAdobe\x00\x64\x00\x00\x00\x00\x00\xff\xdb\x00\x43\x00")
	out = append(out, bytes.Repeat([]byte{1}, 64)...)
	out = append(out, "\xff\xc0\x00\x14\x08\x00\x08\x00\x08\x04\x01\x11\x00\x02\x11\x00\x03\x11\x00\x04\x11\x00"...)
	for _, class := range []byte{0x00, 0x10} {
		out = append(out, 0xff, 0xc4, 0, 20, class, 1)
		out = append(out, make([]byte, 15)...)
		out = append(out, 0)
	}
	out = append(out, "\xff\xda\x00\x0e\x04\x01\x00\x02\x00\x03\x00\x04\x00\x00\x3f\x00"...)
	return append(out, 0x00, 0xff, 0xd9) // eight bits of 0: DC and end of block for four components
}

func faultOf(t *testing.T, err error) *Fault {
	t.Helper()
	var f *Fault
	if !errors.As(err, &f) {
		t.Fatalf("%v is no fault", err)
	}
	return f
}

func decoded(t *testing.T, r Rendition) image.Image {
	t.Helper()
	m, err := decode(r.Kind, bytes.NewReader(r.Data))
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func near(a, b color.Color, by int) bool {
	x, y := color.RGBAModel.Convert(a).(color.RGBA), color.RGBAModel.Convert(b).(color.RGBA)
	d := func(p, q uint8) bool { return int(p)-int(q) <= by && int(q)-int(p) <= by }
	return d(x.R, y.R) && d(x.G, y.G) && d(x.B, y.B) && x.A == y.A
}
