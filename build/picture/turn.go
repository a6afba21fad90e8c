package picture

import (
	"encoding/binary"
	"image"
)

// Turn is how a picture must be turned to stand upright: Exif's orientation, 1 (as it is) to 8. The zero value is 1.
type Turn uint8

// onSide reports whether width and height change places.
func (t Turn) onSide() bool { return t >= 5 && t <= 8 }

// exifTurn reads the orientation of an Exif structure: tag 274 (0x0112), a SHORT in the first directory (CIPA DC-008,
// 4.6.4). It reads at most one directory and nothing else of the file; whatever makes no sense means upright.
func exifTurn(tiff []byte) Turn {
	if len(tiff) < 8 {
		return 1
	}
	var order binary.ByteOrder
	switch string(tiff[:4]) {
	case "II*\x00":
		order = binary.LittleEndian
	case "MM\x00*":
		order = binary.BigEndian
	default:
		return 1
	}
	at := int64(order.Uint32(tiff[4:]))
	if at < 8 || at+2 > int64(len(tiff)) {
		return 1
	}
	n := int64(order.Uint16(tiff[at:]))
	for at += 2; n > 0 && at+12 <= int64(len(tiff)); n, at = n-1, at+12 {
		field := tiff[at : at+12]
		if order.Uint16(field) != 0x0112 {
			continue
		}
		v := order.Uint16(field[8:])
		if order.Uint16(field[2:]) == 3 && order.Uint32(field[4:]) == 1 && v >= 1 && v <= 8 {
			return Turn(v)
		}
		return 1
	}
	return 1
}

// turned gives src upright. The values are Exif's: 2 mirrored, 3 upside down, 4 both, 5 to 8 on a side.
func turned(src *image.RGBA, t Turn) *image.RGBA {
	if t <= 1 || t > 8 {
		return src
	}
	w, h := src.Rect.Dx(), src.Rect.Dy()
	out := image.NewRGBA(image.Rect(0, 0, w, h))
	if t.onSide() {
		out = image.NewRGBA(image.Rect(0, 0, h, w))
	}
	for y := range h {
		for x := range w {
			tx, ty := t.place(x, y, w, h)
			copy(out.Pix[out.PixOffset(tx, ty):][:4], src.Pix[src.PixOffset(x, y):][:4])
		}
	}
	return out
}

// place is where the pixel at x, y of a stored picture of w × h belongs.
func (t Turn) place(x, y, w, h int) (int, int) {
	switch t {
	case 2:
		return w - 1 - x, y
	case 3:
		return w - 1 - x, h - 1 - y
	case 4:
		return x, h - 1 - y
	case 5:
		return y, x
	case 6:
		return h - 1 - y, x
	case 7:
		return h - 1 - y, w - 1 - x
	case 8:
		return y, w - 1 - x
	}
	return x, y
}
