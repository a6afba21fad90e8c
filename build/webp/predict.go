package webp

// The ways in which a block is predicted. A macroblock and its colours know the first four.
const (
	flat  = iota // the mean of what is above and to the left
	slope        // above plus left minus the corner
	down         // from above
	right        // from the left
	modesWhole

	modes4 = 10 // a block of 4 × 4 has six slanted ones more
)

// edge is what surrounds a block of 4 × 4, from the lowest sample on the left (twice) up to the corner (5) and along
// the eight above (the last twice).
type edge [15]int32

// slants say of each sample of a block which mean of the edge predicts it: n > 0 is that of three around n, n ≤ 0
// that of the two from -n on (section 12.3).
var slants = [modes4][16]int8{
	down:  {6, 7, 8, 9, 6, 7, 8, 9, 6, 7, 8, 9, 6, 7, 8, 9},
	right: {4, 4, 4, 4, 3, 3, 3, 3, 2, 2, 2, 2, 1, 1, 1, 1},
	4:     {5, 6, 7, 8, 4, 5, 6, 7, 3, 4, 5, 6, 2, 3, 4, 5},
	5:     {-5, -6, -7, -8, 5, 6, 7, 8, 4, -5, -6, -7, 3, 5, 6, 7},
	6:     {7, 8, 9, 10, 8, 9, 10, 11, 9, 10, 11, 12, 10, 11, 12, 13},
	7:     {-6, -7, -8, -9, 7, 8, 9, 10, -7, -8, -9, 11, 8, 9, 10, 12},
	8:     {-4, 5, 6, 7, -3, 4, -4, 5, -2, 3, -3, 4, -1, 2, -2, 3},
	9:     {-3, 3, -2, 2, -2, 2, -1, 1, -1, 1, 0, 0, 0, 0, 0, 0},
}

// predict4 predicts a block of 4 × 4 in every mode.
func predict4(e *edge, out *[modes4][16]uint8) {
	var three, two [14]uint8
	for i := 1; i < 14; i++ {
		three[i] = uint8((e[i-1] + 2*e[i] + e[i+1] + 2) >> 2)
	}
	for i := range two {
		two[i] = uint8((e[i] + e[i+1] + 1) >> 1)
	}
	mean := uint8((e[1] + e[2] + e[3] + e[4] + e[6] + e[7] + e[8] + e[9] + 4) >> 3)
	for i := range 16 {
		out[flat][i] = mean
		out[slope][i] = sample(e[4-i/4] + e[6+i%4] - e[5])
	}
	for mode := down; mode < modes4; mode++ {
		for i, n := range slants[mode] {
			if n > 0 {
				out[mode][i] = three[n]
			} else {
				out[mode][i] = two[-n]
			}
		}
	}
}

// edgeOf reads what surrounds the block at x, y of a macroblock's luma that begins at mx, my. The four samples above to
// the right of the rightmost blocks are those above the macroblock, even lower down; beyond the picture's right edge
// the last one goes on, as readers of WebP have it.
func edgeOf(p plane, mx, my, x, y int, last bool) (e edge) {
	i := p.at(mx+x, my+y)
	for k := range 4 {
		e[4-k] = int32(p.pix[i+k*p.stride-1])
		e[6+k] = int32(p.pix[i-p.stride+k])
	}
	e[0], e[5] = e[1], int32(p.pix[i-p.stride-1])
	above := i - p.stride + 4
	if x == 12 {
		above = p.at(mx+16, my-1)
	}
	for k := range 4 {
		switch {
		case x < 12 || !last:
			e[10+k] = int32(p.pix[above+k])
		case my == 0:
			e[10+k] = 127
		default:
			e[10+k] = int32(p.pix[above-1])
		}
	}
	e[14] = e[13]
	return e
}

// predictWhole predicts a square of size × size at x, y in one of the modes of whole macroblocks, block by block of
// 4 × 4 (section 12.2).
func predictWhole(p plane, x, y, size, mode int, out [][16]uint8) {
	above := p.pix[p.at(x, y-1) : p.at(x, y-1)+size]
	corner := int32(p.pix[p.at(x-1, y-1)])
	mean := uint8(128)
	if mode == flat {
		mean = meanAround(p, x, y, size)
	}
	for j := range size {
		left := p.pix[p.at(x-1, y+j)]
		for i := range size {
			v := mean
			switch mode {
			case slope:
				v = sample(int32(left) + int32(above[i]) - corner)
			case down:
				v = above[i]
			case right:
				v = left
			}
			out[j/4*(size/4)+i/4][j%4*4+i%4] = v
		}
	}
}

// meanAround is the mean of the samples above and to the left, as far as they are in the picture.
func meanAround(p plane, x, y, size int) uint8 {
	sum, n := 0, 0
	for i := range size {
		if y > 0 {
			sum, n = sum+int(p.pix[p.at(x+i, y-1)]), n+1
		}
		if x > 0 {
			sum, n = sum+int(p.pix[p.at(x-1, y+i)]), n+1
		}
	}
	if n == 0 {
		return 128
	}
	return uint8((sum + n/2) / n)
}
