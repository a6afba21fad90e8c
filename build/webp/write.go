package webp

import "image"

// eachToken walks through all tokens of the picture in order, as a reader does, and hands each bit on with its place
// among the probabilities; at.node is -1 for bits of a fixed probability.
func (e *encoder) eachToken(put func(bit bool, at place, fixed uint8)) {
	clear(e.above)
	for y := range e.down {
		e.left = around{}
		for x := range e.across {
			if mb := &e.blocks[y*e.across+x]; mb.empty {
				e.nothingAround(x, mb.whole)
			} else {
				e.tokensOf(x, mb, put)
			}
		}
	}
}

// place is where a bit's probability stands.
type place struct{ plane, band, ctx, node int }

// fixedOdds is no place: the bit's probability is the same everywhere.
var fixedOdds = place{node: -1}

// nothingAround notes that a macroblock has no levels. What the Walsh transform left stays as it was where the
// macroblock has none.
func (e *encoder) nothingAround(x int, whole bool) {
	up, left := e.above[x][8], e.left[8]
	e.above[x], e.left = around{}, around{}
	if !whole {
		e.above[x][8], e.left[8] = up, left
	}
}

func (e *encoder) tokensOf(x int, mb *macroblock, put func(bool, place, uint8)) {
	up, left := &e.above[x], &e.left
	plane, first := lumaWhole, 0
	if mb.whole {
		blockTokens(&mb.levels[24], walsh, 0, &up[8], &left[8], put)
		plane, first = lumaAfterWalsh, 1
	}
	for i := range 16 {
		blockTokens(&mb.levels[i], plane, first, &up[i%4], &left[i/4], put)
	}
	for i := range 8 {
		c := i / 4 * 2
		blockTokens(&mb.levels[16+i], colour, 0, &up[4+c+i%2], &left[4+c+i%4/2], put)
	}
}

// blockTokens walks through a block's tokens (section 13.2).
func blockTokens(levels *[16]int16, plane, first int, up, left *uint8, put func(bool, place, uint8)) {
	ctx := int(*up + *left)
	last := lastOf(levels, first)
	at := place{plane: plane}
	*up, *left = bit(last >= first), bit(last >= first)
	asked := true // whether there are any more is asked, except after a 0
	for n := first; n < 16; n++ {
		at.band, at.ctx, at.node = int(bands[n]), ctx, 0
		if asked {
			if put(n <= last, at, 0); n > last {
				return
			}
		}
		v := int(abs(int32(levels[n])))
		token(v, func(b bool, node int, fixed uint8) {
			switch {
			case node >= 0:
				at.node = node
				put(b, at, 0)
			case fixed == 128:
				put(levels[n] < 0, fixedOdds, fixed) // the sign
			default:
				put(b, fixedOdds, fixed)
			}
		})
		ctx, asked = min(v, 2), v > 0
	}
}

// fitted counts the picture's tokens and returns, for each bit, the probability that saves the most, what it costs to
// tell included.
func (e *encoder) fitted() tokenProbs {
	var seen [planes][8][3][11][2]int
	e.eachToken(func(b bool, at place, _ uint8) {
		if at.node >= 0 {
			seen[at.plane][at.band][at.ctx][at.node][bit(b)]++
		}
	})
	probs := usualProbs
	for p := range seen {
		for b := range seen[p] {
			for c := range seen[p][b] {
				for n, count := range seen[p][b][c] {
					probs[p][b][c][n] = worthTelling(count, probs[p][b][c][n], updateOdds[p][b][c][n])
				}
			}
		}
	}
	return probs
}

// worthTelling is the probability that fits what was seen, or the old one where to tell the new would cost more.
func worthTelling(seen [2]int, old, odds uint8) uint8 {
	n := seen[0] + seen[1]
	if n == 0 {
		return old
	}
	fit := uint8(min(max((256*seen[0]+n/2)/n, 1), 255))
	price := func(p uint8) int64 {
		return int64(seen[0])*int64(costOf(false, p)) + int64(seen[1])*int64(costOf(true, p))
	}
	told := price(fit) + int64(costOf(true, odds)) + 8*256
	if told < price(old)+int64(costOf(false, odds)) {
		return fit
	}
	return old
}

// write puts the frame together: its head (section 9.1), the partition of modes and that of tokens.
func (e *encoder) write(size image.Point) []byte {
	probs := e.fitted()
	tokens := newBits(1 << 16)
	e.eachToken(func(b bool, at place, fixed uint8) {
		if at.node >= 0 {
			fixed = probs[at.plane][at.band][at.ctx][at.node]
		}
		tokens.put(b, fixed)
	})
	first := e.modes(&probs)
	head := []byte{0, 0, 0, 0x9d, 0x01, 0x2a, byte(size.X), byte(size.X >> 8), byte(size.Y), byte(size.Y >> 8)}
	tag := len(first)<<5 | 1<<4 // a key frame that is shown
	head[0], head[1], head[2] = byte(tag), byte(tag>>8), byte(tag>>16)
	return append(append(head, first...), tokens.done()...)
}

// modes is the first partition: the frame's settings (sections 9.2 to 9.11) and every macroblock's modes.
func (e *encoder) modes(probs *tokenProbs) []byte {
	b := newBits(1 << 14)
	b.number(0, 2)        // the usual colours, clamped
	b.number(0, 1)        // no segments
	b.number(0, 1)        // the normal filter
	b.number(e.filter, 6) // its level
	b.number(0, 3+1+2)    // not sharpened, no adjustments, one partition of tokens
	b.number(e.index, 7)  // the quantiser
	b.number(0, 5+1)      // the same for all planes; no later frame
	for p := range probs {
		for d := range probs[p] {
			for c := range probs[p][d] {
				for n, v := range probs[p][d][c] {
					changed := v != usualProbs[p][d][c][n]
					if b.put(changed, updateOdds[p][d][c][n]); changed {
						b.number(int(v), 8)
					}
				}
			}
		}
	}
	full := 0
	for i := range e.blocks {
		full += 1 - int(bit(e.blocks[i].empty))
	}
	skip := uint8(min(max(256*full/len(e.blocks), 1), 255))
	b.number(1, 1)
	b.number(int(skip), 8)
	e.eachMode(b, skip)
	return b.done()
}

// eachMode codes every macroblock's modes (sections 11.2 and 11.3).
func (e *encoder) eachMode(b *bits, skip uint8) {
	clear(e.upModes)
	for y := range e.down {
		e.leftModes = [4]uint8{}
		for x := range e.across {
			mb := &e.blocks[y*e.across+x]
			b.put(mb.empty, skip)
			if b.put(mb.whole, 145); mb.whole {
				wholeMode(b, mb.luma)
			}
			for i := range 16 {
				up, left := &e.upModes[4*x+i%4], &e.leftModes[i/4]
				mode := mb.luma
				if !mb.whole {
					mode = mb.modes[i]
					partMode(mode, func(bit bool, node int) { b.put(bit, modeProbs[*up][*left][node]) })
				}
				*up, *left = mode, mode
			}
			colourMode(b, mb.colour)
		}
	}
}

func wholeMode(b *bits, mode uint8) {
	if b.put(mode == right || mode == slope, 156); mode == right || mode == slope {
		b.put(mode == slope, 128)
	} else {
		b.put(mode == down, 163)
	}
}

func colourMode(b *bits, mode uint8) {
	if b.put(mode != flat, 142); mode == flat {
		return
	}
	if b.put(mode != down, 114); mode != down {
		b.put(mode == slope, 183)
	}
}

// partPaths are the ways through the tree of a 4 × 4 block's modes (section 11.2): each bit with its node.
var partPaths = [modes4][]struct {
	bit  bool
	node int
}{
	flat:  {{false, 0}},
	slope: {{true, 0}, {false, 1}},
	down:  {{true, 0}, {true, 1}, {false, 2}},
	right: {{true, 0}, {true, 1}, {true, 2}, {false, 3}, {false, 4}},
	4:     {{true, 0}, {true, 1}, {true, 2}, {false, 3}, {true, 4}, {false, 5}},
	5:     {{true, 0}, {true, 1}, {true, 2}, {false, 3}, {true, 4}, {true, 5}},
	6:     {{true, 0}, {true, 1}, {true, 2}, {true, 3}, {false, 6}},
	7:     {{true, 0}, {true, 1}, {true, 2}, {true, 3}, {true, 6}, {false, 7}},
	8:     {{true, 0}, {true, 1}, {true, 2}, {true, 3}, {true, 6}, {true, 7}, {false, 8}},
	9:     {{true, 0}, {true, 1}, {true, 2}, {true, 3}, {true, 6}, {true, 7}, {true, 8}},
}

func partMode(mode uint8, put func(bit bool, node int)) {
	for _, step := range partPaths[mode] {
		put(step.bit, step.node)
	}
}

// partBits is what a 4 × 4 block's mode costs, by those above and to the left.
var partBits = func() (t [modes4][modes4][modes4]int32) {
	for up := range t {
		for left := range t[up] {
			for mode := range t[up][left] {
				partMode(uint8(mode), func(bit bool, node int) { t[up][left][mode] += costOf(bit, modeProbs[up][left][node]) })
			}
		}
	}
	return t
}()
