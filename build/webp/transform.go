package webp

// block is 4 × 4 coefficients, by row.
type block [16]int32

// forward transforms the difference of a source and its prediction. Its scale is twice that of an orthonormal
// transform, so that [inverse] gives the difference back but for rounding.
func forward(src []uint8, stride int, pred *[16]uint8) block {
	var t, out block
	for i := range 4 {
		s := src[i*stride : i*stride+4 : i*stride+4]
		p := pred[4*i : 4*i+4 : 4*i+4]
		d0, d1, d2, d3 := int32(s[0])-int32(p[0]), int32(s[1])-int32(p[1]), int32(s[2])-int32(p[2]), int32(s[3])-int32(p[3])
		a0, a1, a2, a3 := d0+d3, d1+d2, d1-d2, d0-d3
		t[4*i], t[4*i+2] = (a0+a1)*8, (a0-a1)*8
		t[4*i+1], t[4*i+3] = (a2*2217+a3*5352+1812)>>9, (a3*2217-a2*5352+937)>>9
	}
	for i := range 4 {
		a0, a1, a2, a3 := t[i]+t[12+i], t[4+i]+t[8+i], t[4+i]-t[8+i], t[i]-t[12+i]
		out[i], out[8+i] = (a0+a1+7)>>4, (a0-a1+7)>>4
		out[4+i], out[12+i] = (a2*2217+a3*5352+12000)>>16, (a3*2217-a2*5352+51000)>>16
		if a3 != 0 {
			out[4+i]++
		}
	}
	return out
}

// inverse adds the transformed c to a prediction (section 14.3).
func inverse(c *block, pred *[16]uint8, out []uint8, stride int) {
	const c1, c2 = 85627, 35468 // 65536 √2 times the cosine and the sine of π/8
	var m [16]int32
	for i := range 4 {
		a, b := c[i]+c[8+i], c[i]-c[8+i]
		e := c[4+i]*c2>>16 - c[12+i]*c1>>16
		f := c[4+i]*c1>>16 + c[12+i]*c2>>16
		m[4*i], m[4*i+1], m[4*i+2], m[4*i+3] = a+f, b+e, b-e, a-f
	}
	for j := range 4 {
		dc := m[j] + 4
		a, b := dc+m[8+j], dc-m[8+j]
		e := m[4+j]*c2>>16 - m[12+j]*c1>>16
		f := m[4+j]*c1>>16 + m[12+j]*c2>>16
		o := out[j*stride : j*stride+4 : j*stride+4]
		p := pred[4*j : 4*j+4 : 4*j+4]
		o[0], o[1] = sample(int32(p[0])+(a+f)>>3), sample(int32(p[1])+(b+e)>>3)
		o[2], o[3] = sample(int32(p[2])+(b-e)>>3), sample(int32(p[3])+(a-f)>>3)
	}
}

func sample(v int32) uint8 { return uint8(min(max(v, 0), 255)) }

// forwardWalsh transforms the sixteen mean values of a macroblock's blocks once more.
func forwardWalsh(in *block) block {
	var t, out block
	for i := 0; i < 16; i += 4 {
		a0, a1, a2, a3 := in[i]+in[i+2], in[i+1]+in[i+3], in[i+1]-in[i+3], in[i]-in[i+2]
		t[i], t[i+1], t[i+2], t[i+3] = a0+a1, a3+a2, a3-a2, a0-a1
	}
	for i := range 4 {
		a0, a1, a2, a3 := t[i]+t[8+i], t[4+i]+t[12+i], t[4+i]-t[12+i], t[i]-t[8+i]
		out[i], out[4+i], out[8+i], out[12+i] = (a0+a1)>>1, (a3+a2)>>1, (a3-a2)>>1, (a0-a1)>>1
	}
	return out
}

// inverseWalsh undoes it (section 14.3).
func inverseWalsh(in *block) block {
	var m, out block
	for i := range 4 {
		a0, a1, a2, a3 := in[i]+in[12+i], in[4+i]+in[8+i], in[4+i]-in[8+i], in[i]-in[12+i]
		m[i], m[8+i], m[4+i], m[12+i] = a0+a1, a0-a1, a3+a2, a3-a2
	}
	for i := 0; i < 16; i += 4 {
		dc := m[i] + 3
		a0, a1, a2, a3 := dc+m[i+3], m[i+1]+m[i+2], m[i+1]-m[i+2], dc-m[i+3]
		out[i], out[i+1], out[i+2], out[i+3] = (a0+a1)>>3, (a3+a2)>>3, (a0-a1)>>3, (a3-a2)>>3
	}
	return out
}
