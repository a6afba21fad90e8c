package webp

import "math"

// The planes of coefficients (section 13.3).
const (
	lumaAfterWalsh = iota // without the first, which went into walsh
	walsh
	colour
	lumaWhole
	planes
)

// tokenProbs are probabilities by plane, band, context and node of the tree of tokens.
type tokenProbs [planes][8][3][11]uint8

// bitCost is what a bit costs, in 1/256 bits, that had the probability i/256.
var bitCost = func() (t [257]int32) {
	for i := 1; i <= 256; i++ {
		t[i] = int32(math.Round(-256 * math.Log2(float64(i)/256)))
	}
	t[0] = t[1]
	return t
}()

// costOf is what a bit costs that is 0 with the probability prob/256.
func costOf(bit bool, prob uint8) int32 {
	if bit {
		return bitCost[256-int(prob)]
	}
	return bitCost[prob]
}

// plainLevels is up to which level costs stand in the table; beyond it the tree does not change, only further bits do.
const plainLevels = 68

// costs are what the levels of coefficients cost with some probabilities, in 1/256 bits: level without the bit that
// says that there are any more, more and none with it.
type costs struct {
	level      [planes][8][3][plainLevels]int32
	more, none [planes][8][3]int32
}

func newCosts(probs *tokenProbs) *costs {
	c := &costs{}
	for p := range planes {
		for b := range 8 {
			for ctx := range 3 {
				pr := &probs[p][b][ctx]
				c.none[p][b][ctx], c.more[p][b][ctx] = costOf(false, pr[0]), costOf(true, pr[0])
				for v := range plainLevels {
					sum := int32(0)
					token(v, func(bit bool, node int, fixed uint8) {
						if node >= 0 {
							fixed = pr[node]
						}
						sum += costOf(bit, fixed)
					})
					c.level[p][b][ctx][v] = sum
				}
			}
		}
	}
	return c
}

// of is the cost of a level, at least 0, its sign included.
func (c *costs) of(plane int, band uint8, ctx, level int) int32 {
	if level < plainLevels-1 {
		return c.level[plane][band][ctx][level]
	}
	return c.level[plane][band][ctx][plainLevels-1] + farCost(level)
}

// farCost is what the further bits of a level from 67 on cost beyond those of 67.
func farCost(level int) int32 {
	sum := int32(0)
	for i, p := range farBits {
		sum += costOf((level-67)>>(10-i)&1 == 1, p) - bitCost[p]
	}
	return sum
}

// farBits, and the rows of nearBits, are the probabilities of a level's further bits (section 13.2).
var (
	farBits  = [11]uint8{254, 254, 243, 230, 196, 177, 153, 140, 133, 130, 129}
	nearBits = [5][]uint8{{159}, {165, 145}, {173, 148, 140}, {176, 155, 140, 135}, {180, 157, 141, 134, 130}}
)

// token walks the tree of tokens for a level, after the bit that says that there are any more: put gets each bit and
// its node of the tree, or -1 and a fixed probability. The sign comes last, as a 0.
func token(level int, put func(bit bool, node int, fixed uint8)) {
	put(level > 0, 1, 0)
	if level == 0 {
		return
	}
	put(level > 1, 2, 0)
	switch {
	case level == 1:
	case level <= 4:
		put(false, 3, 0)
		put(level > 2, 4, 0)
		if level > 2 {
			put(level > 3, 5, 0)
		}
	default:
		class := 0
		for class < 5 && level >= 3+4<<class {
			class++ // from 5, 7, 11, 19, 35 and 67 on
		}
		further := farBits[:]
		if class < 5 {
			further = nearBits[class]
		}
		put(true, 3, 0)
		put(class > 1, 6, 0)
		if class < 2 {
			put(class == 1, 7, 0)
		} else {
			put(class > 3, 8, 0)
			put(class%2 == 1, 9+class/4, 0)
		}
		for i, p := range further {
			put((level-3-2<<class)>>(len(further)-1-i)&1 == 1, -1, p)
		}
	}
	put(false, -1, 128)
}
