package picture

import (
	"encoding/binary"
	"image"
	"math"
)

// Profile is what is known of a picture's colours. The zero value is sRGB, which is also what a picture without a
// profile is taken for.
type Profile struct {
	Name string // "" for sRGB; "matrix" for one that is converted; "unknown" for one that is not understood
	to   *[3][3]float64
	tone [3]*[256]float64
}

// Unknown reports whether the colours may look different, since the profile is not of a kind that is converted.
func (p Profile) Unknown() bool { return p.Name == "unknown" }

var unknownProfile = Profile{Name: "unknown"}

// fromD50 takes XYZ under D50, in which profiles speak, to linear sRGB: the inverse of sRGB's matrix, adapted by
// Bradford's method (IEC 61966-2-1 primaries; figures as in W3C CSS Color 4, section 18, D50 to D65 and XYZ to sRGB).
var fromD50 = [3][3]float64{
	{3.1341358529001178, -1.6173863321612538, -0.4906619460083532},
	{-0.978795502912089, 1.916254567259524, 0.03344273116131949},
	{0.07195537988411677, -0.2289768264158322, 1.405386058324125},
}

// readProfile understands RGB profiles of three colourants and three curves (ICC.1:2022, 8.3): those of phones,
// cameras and screens, among them Display P3. All others are unknown.
func readProfile(icc []byte) Profile {
	if len(icc) == 0 {
		return Profile{}
	}
	if len(icc) < 132 || string(icc[36:40]) != "acsp" || string(icc[16:20]) != "RGB " || string(icc[20:24]) != "XYZ " {
		return unknownProfile
	}
	p := Profile{Name: "matrix", to: new([3][3]float64)}
	var colourants [3][3]float64
	for c, letter := range "rgb" {
		xyz, ok := readXYZ(profileTag(icc, string(letter)+"XYZ"))
		tone := readTone(profileTag(icc, string(letter)+"TRC"))
		if !ok || tone == nil {
			return unknownProfile
		}
		p.tone[c] = tone
		for row := range 3 {
			colourants[row][c] = xyz[row]
		}
	}
	for i := range 3 {
		for j := range 3 {
			for k := range 3 {
				p.to[i][j] += fromD50[i][k] * colourants[k][j]
			}
		}
	}
	if p.nearSRGB() {
		return Profile{}
	}
	return p
}

// profileTag finds the bytes of a tag; nil if it is not there. At most 100 tags are looked at.
func profileTag(icc []byte, name string) []byte {
	n := min(int(binary.BigEndian.Uint32(icc[128:])), 100)
	for at := 132; n > 0 && at+12 <= len(icc); n, at = n-1, at+12 {
		from, size := int64(binary.BigEndian.Uint32(icc[at+4:])), int64(binary.BigEndian.Uint32(icc[at+8:]))
		if string(icc[at:at+4]) == name && from >= 132 && from+size <= int64(len(icc)) {
			return icc[from : from+size]
		}
	}
	return nil
}

// decimal reads a number of 16 bits before the point and 16 after.
func decimal(b []byte) float64 { return float64(int32(binary.BigEndian.Uint32(b))) / 65536 }

func readXYZ(tag []byte) (xyz [3]float64, ok bool) {
	if len(tag) < 20 || string(tag[:4]) != "XYZ " {
		return xyz, false
	}
	for i := range xyz {
		xyz[i] = decimal(tag[8+4*i:])
	}
	return xyz, true
}

// readTone makes a table from stored value to linear light from a curve (ICC.1:2022, 10.6 and 10.18).
func readTone(tag []byte) *[256]float64 {
	if len(tag) < 12 {
		return nil
	}
	var f func(float64) float64
	switch string(tag[:4]) {
	case "curv":
		f = sampledCurve(tag)
	case "para":
		f = parametricCurve(tag)
	}
	if f == nil {
		return nil
	}
	var t [256]float64
	for i := range t {
		if t[i] = f(float64(i) / 255); math.IsNaN(t[i]) || t[i] < -1 || t[i] > 2 {
			return nil
		}
	}
	return &t
}

func sampledCurve(tag []byte) func(float64) float64 {
	n := int64(binary.BigEndian.Uint32(tag[8:]))
	v := func(i int64) float64 { return float64(binary.BigEndian.Uint16(tag[12+2*i:])) }
	switch {
	case n == 0:
		return func(x float64) float64 { return x }
	case n > 1<<16 || 12+2*n > int64(len(tag)):
		return nil
	case n == 1:
		return func(x float64) float64 { return math.Pow(x, v(0)/256) }
	}
	return func(x float64) float64 {
		at := x * float64(n-1)
		i := min(int64(at), n-2)
		return (v(i) + (v(i+1)-v(i))*(at-float64(i))) / 65535
	}
}

// parametricCurve is one of the five functions of ICC.1:2022, table 68, all written as (ax+b)^g + e from d on, else
// cx + f.
func parametricCurve(tag []byte) func(float64) float64 {
	kind := binary.BigEndian.Uint16(tag[8:])
	counts := []int{1, 3, 4, 5, 7}
	if int(kind) >= len(counts) || len(tag) < 12+4*counts[kind] {
		return nil
	}
	var p [7]float64 // g a b c d e f
	for i := range counts[kind] {
		p[i] = decimal(tag[12+4*i:])
	}
	g, a, b, c, d, e, f := p[0], p[1], p[2], p[3], p[4], p[5], p[6]
	switch kind {
	case 0:
		a, d = 1, math.Inf(-1)
	case 1:
		c, d = 0, -b/a
	case 2:
		c, d, e, f = 0, -b/a, p[3], p[3]
	}
	return func(x float64) float64 {
		if x >= d {
			return math.Pow(max(a*x+b, 0), g) + e
		}
		return c*x + f
	}
}

// nearSRGB reports whether converting would change no value by more than half a percent.
func (p Profile) nearSRGB() bool {
	for i := range 3 {
		for j := range 3 {
			want := 0.0
			if i == j {
				want = 1
			}
			if math.Abs(p.to[i][j]-want) > 0.005 {
				return false
			}
		}
		for v := range 256 {
			if math.Abs(p.tone[i][v]-linear(float64(v)/255)) > 0.005 {
				return false
			}
		}
	}
	return true
}

// linear and encoded are sRGB's transfer function and its inverse (IEC 61966-2-1).
func linear(v float64) float64 {
	if v <= 0.04045 {
		return v / 12.92
	}
	return math.Pow((v+0.055)/1.055, 2.4)
}

func encoded(l float64) float64 {
	if l <= 0.0031308 {
		return 12.92 * max(l, 0)
	}
	return 1.055*math.Pow(min(l, 1), 1/2.4) - 0.055
}

// apply converts a picture to sRGB in place. Colours that sRGB has not are cut at its edge.
func (p Profile) apply(m *image.RGBA) {
	if p.to == nil {
		return
	}
	const steps = 1 << 14 // fine enough that no 8-bit value is off by more than one
	var table [steps + 1]uint8
	for i := range table {
		table[i] = uint8(math.Round(255 * encoded(float64(i)/steps)))
	}
	for i := 0; i+3 < len(m.Pix); i += 4 {
		px := m.Pix[i : i+4]
		a := int(px[3])
		if a == 0 {
			continue
		}
		var in [3]float64
		for c := range 3 {
			in[c] = p.tone[c][min(int(px[c])*255/a, 255)]
		}
		for c := range 3 {
			l := p.to[c][0]*in[0] + p.to[c][1]*in[1] + p.to[c][2]*in[2]
			px[c] = uint8(int(table[int(min(max(l, 0), 1)*steps+0.5)]) * a / 255)
		}
	}
}
