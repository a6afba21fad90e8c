package picture

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"image"
	"image/color"
	"math"
	"testing"
)

func fixed32(v float64) []byte {
	return binary.BigEndian.AppendUint32(nil, uint32(int32(math.Round(v*65536))))
}

// matrixProfile is a colour profile of three colourants (XYZ under D50) and one curve for all.
func matrixProfile(colourants [3][3]float64, curve []byte) []byte {
	icc := make([]byte, 132, 400)
	copy(icc[16:], "RGB XYZ ")
	copy(icc[36:], "acsp")
	binary.BigEndian.PutUint32(icc[128:], 6)
	at := 132 + 6*12
	var bodies []byte
	for i, name := range []string{"rXYZ", "gXYZ", "bXYZ", "rTRC", "gTRC", "bTRC"} {
		body := curve
		if i < 3 {
			body = []byte("XYZ \x00\x00\x00\x00")
			for _, v := range colourants[i] {
				body = append(body, fixed32(v)...)
			}
		}
		icc = append(icc, name...)
		icc = binary.BigEndian.AppendUint32(icc, uint32(at+len(bodies)))
		icc = binary.BigEndian.AppendUint32(icc, uint32(len(body)))
		bodies = append(bodies, body...)
	}
	return append(icc, bodies...)
}

// srgbCurve is sRGB's curve as phones write it: a parametric one of the fourth kind.
var srgbCurve = func() []byte {
	b := []byte("para\x00\x00\x00\x00\x00\x03\x00\x00")
	for _, v := range []float64{2.4, 1 / 1.055, 0.055 / 1.055, 1 / 12.92, 0.04045} {
		b = append(b, fixed32(v)...)
	}
	return b
}()

// The colourants of Display P3 and sRGB under D50, as the profiles of their makers carry them (checked against the
// primaries of SMPTE RP 431-2 and IEC 61966-2-1 in TestColourantsComeFromPrimaries).
var (
	p3Colourants   = [3][3]float64{{0.515121, 0.241196, -0.001053}, {0.291977, 0.692245, 0.041885}, {0.157104, 0.066574, 0.784073}}
	srgbColourants = [3][3]float64{{0.436066, 0.222488, 0.013916}, {0.385147, 0.716873, 0.097076}, {0.143066, 0.060608, 0.714096}}
	displayP3      = matrixProfile(p3Colourants, srgbCurve)
)

// colourantsOf derives D50 colourants from primaries and the white D65, by Bradford's adaptation (Lindbloom, "RGB/XYZ
// matrices"; CSS Color 4, 18).
func colourantsOf(xy [3][2]float64) [3][3]float64 {
	white := [3]float64{0.3127 / 0.3290, 1, (1 - 0.3127 - 0.3290) / 0.3290}
	var m [3][3]float64
	for c, p := range xy {
		m[0][c], m[1][c], m[2][c] = p[0]/p[1], 1, (1-p[0]-p[1])/p[1]
	}
	s := times(inverse(m), white)
	brad := [3][3]float64{{0.8951, 0.2664, -0.1614}, {-0.7502, 1.7135, 0.0367}, {0.0389, -0.0685, 1.0296}}
	from, to := times(brad, white), times(brad, [3]float64{0.9642, 1, 0.8251})
	var out [3][3]float64
	for c := range 3 {
		cone := times(brad, [3]float64{m[0][c] * s[c], m[1][c] * s[c], m[2][c] * s[c]})
		for i := range cone {
			cone[i] *= to[i] / from[i]
		}
		out[c] = times(inverse(brad), cone)
	}
	return out
}

func times(m [3][3]float64, v [3]float64) (out [3]float64) {
	for i := range 3 {
		out[i] = m[i][0]*v[0] + m[i][1]*v[1] + m[i][2]*v[2]
	}
	return out
}

func inverse(m [3][3]float64) (out [3][3]float64) {
	minor := func(i, j int) float64 {
		a, b, c, d := (i+1)%3, (i+2)%3, (j+1)%3, (j+2)%3
		return m[a][c]*m[b][d] - m[a][d]*m[b][c]
	}
	det := m[0][0]*minor(0, 0) + m[0][1]*minor(0, 1) + m[0][2]*minor(0, 2)
	for i := range 3 {
		for j := range 3 {
			out[j][i] = minor(i, j) / det
		}
	}
	return out
}

func TestColourantsComeFromPrimaries(t *testing.T) {
	for name, c := range map[string]struct {
		xy   [3][2]float64
		have [3][3]float64
	}{
		"Display P3": {[3][2]float64{{0.680, 0.320}, {0.265, 0.690}, {0.150, 0.060}}, p3Colourants},
		"sRGB":       {[3][2]float64{{0.64, 0.33}, {0.30, 0.60}, {0.15, 0.06}}, srgbColourants},
	} {
		want := colourantsOf(c.xy)
		for i := range 3 {
			for j := range 3 {
				if math.Abs(want[i][j]-c.have[i][j]) > 0.0006 {
					t.Errorf("%s [%d][%d]: %.6f, want %.6f", name, i, j, c.have[i][j], want[i][j])
				}
			}
		}
	}
	back := inverse([3][3]float64{
		{srgbColourants[0][0], srgbColourants[1][0], srgbColourants[2][0]}, {srgbColourants[0][1], srgbColourants[1][1], srgbColourants[2][1]}, {srgbColourants[0][2], srgbColourants[1][2], srgbColourants[2][2]}})
	for i := range 3 {
		for j := range 3 {
			if math.Abs(back[i][j]-fromD50[i][j]) > 0.002 {
				t.Errorf("fromD50[%d][%d]: %.5f, want %.5f", i, j, fromD50[i][j], back[i][j])
			}
		}
	}
}

// P3 values of colours whose sRGB is known: color(display-p3 0.21604 0.49418 0.13151) is #008000 (Web Platform Tests,
// css-color, predefined-005); white and greys are the same in both.
func TestDisplayP3BecomesSRGB(t *testing.T) {
	p := readProfile(displayP3)
	if p.Name != "matrix" {
		t.Fatalf("the profile is %q", p.Name)
	}
	m := image.NewRGBA(image.Rect(0, 0, 4, 1))
	for x, c := range []color.RGBA{{55, 126, 34, 255}, {255, 255, 255, 255}, {120, 120, 120, 255}, {0, 255, 0, 255}} {
		m.SetRGBA(x, 0, c)
	}
	p.apply(m)
	for x, want := range []color.RGBA{{0, 128, 0, 255}, {255, 255, 255, 255}, {120, 120, 120, 255}, {0, 255, 0, 255}} {
		by := 1
		if x == 0 {
			by = 6 // near black one step of P3's red is five of sRGB's
		}
		if got := m.RGBAAt(x, 0); !near(got, want, by) {
			t.Errorf("%d: %v, want %v", x, got, want)
		}
	}
}

func TestProfilesAreFoundInEveryFormat(t *testing.T) {
	var packed bytes.Buffer
	z := zlib.NewWriter(&packed)
	_, _ = z.Write(displayP3)
	_ = z.Close()
	for name, data := range map[string][]byte{
		"jpeg": withSegments(jpegOf(t, scene(9, 9)), iccSegment(displayP3)),
		"in two pieces": withSegments(jpegOf(t, scene(9, 9)), append([]byte("\xe2ICC_PROFILE\x00\x01\x02"), displayP3[:99]...),
			append([]byte("\xe2ICC_PROFILE\x00\x02\x02"), displayP3[99:]...)),
		"png":  withChunk(pngOf(t, scene(9, 9)), "iCCP", append([]byte("P3\x00\x00"), packed.Bytes()...)),
		"webp": webpOf("VP8X", "\x20\x00\x00\x00\x00\x00\x00\x00\x00\x00", "ICCP", string(displayP3), "VP8L", string(stillPixels)),
	} {
		if i, err := Plan("a", data); err != nil || i.Profile.Name != "matrix" {
			t.Errorf("%s: %q, %v", name, i.Profile.Name, err)
		}
	}
}

func TestProfileKinds(t *testing.T) {
	gamma := []byte("curv\x00\x00\x00\x00\x00\x00\x00\x01\x02\x33") // 2.2
	sampled := []byte("curv\x00\x00\x00\x00\x00\x00\x00\x02\x00\x00\xff\xff")
	lut := append([]byte(nil), displayP3...)
	copy(lut[132:], "A2B0")
	for name, c := range map[string]struct {
		icc  []byte
		want string
	}{
		"none": {nil, ""}, "sRGB itself": {matrixProfile(srgbColourants, srgbCurve), ""}, "P3": {displayP3, "matrix"},
		"a plain gamma": {matrixProfile(p3Colourants, gamma), "matrix"}, "a straight line": {matrixProfile(p3Colourants, sampled), "matrix"},
		"tables": {lut, "unknown"}, "of ink": {append(append(append([]byte(nil), displayP3[:16]...), "CMYK"...), displayP3[20:]...), "unknown"}, "cut off": {displayP3[:150], "unknown"}, "junk": {[]byte("junk"), "unknown"},
	} {
		if got := readProfile(c.icc); got.Name != c.want {
			t.Errorf("%s: %q, want %q", name, got.Name, c.want)
		}
	}
}

// A bomb of a profile is not unpacked.
func TestPackedProfileIsBounded(t *testing.T) {
	var packed bytes.Buffer
	z := zlib.NewWriter(&packed)
	_, _ = z.Write(make([]byte, 64<<20))
	_ = z.Close()
	if icc := inflateProfile(append([]byte("x\x00\x00"), packed.Bytes()...)); icc != nil {
		t.Errorf("%d bytes were unpacked", len(icc))
	}
}

func FuzzProfile(f *testing.F) {
	f.Add(displayP3)
	f.Add(matrixProfile(srgbColourants, []byte("curv\x00\x00\x00\x00\x00\x00\x00\x01\x02\x33")))
	f.Fuzz(func(t *testing.T, icc []byte) {
		m := image.NewRGBA(image.Rect(0, 0, 2, 2))
		m.Pix[3], m.Pix[4], m.Pix[7] = 255, 9, 9
		readProfile(icc).apply(m)
		for i := 0; i < len(m.Pix); i += 4 { // still a premultiplied picture
			if a := m.Pix[i+3]; m.Pix[i] > a || m.Pix[i+1] > a || m.Pix[i+2] > a {
				t.Errorf("%v", m.Pix[i:i+4])
			}
		}
	})
}

func FuzzTurn(f *testing.F) {
	f.Add(exif(binary.LittleEndian, "II", 6))
	f.Add(exif(binary.BigEndian, "MM", 3))
	f.Fuzz(func(t *testing.T, tiff []byte) {
		if turn := exifTurn(tiff); turn < 1 || turn > 8 {
			t.Errorf("orientation %d", turn)
		}
	})
}
