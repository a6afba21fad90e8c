package webp

// luma is a way to code a macroblock's luma: what it weighs, and what comes of it.
type luma struct {
	price  int64
	block  macroblock
	made   [256]uint8
	around [2]around // above and left afterwards; only the luma and Walsh parts count
	up, lf [4]uint8  // modes along the lower and right edge
}

// choose decides how a macroblock is coded, and puts what a reader will see of it into made.
func (e *encoder) choose(x, y int, mb *macroblock) {
	best := &e.best
	best.price = 1 << 62
	e.asWhole(x, y)
	e.asParts(x, y)
	*mb = best.block
	e.put(0, 16*x, 16*y, 16, best.made[:])
	copy(e.upModes[4*x:], best.up[:])
	e.leftModes = best.lf
	for i := range 4 {
		e.above[x][i], e.left[i] = best.around[0][i], best.around[1][i]
	}
	if mb.whole {
		e.above[x][8], e.left[8] = best.around[0][8], best.around[1][8]
	}
	e.colours(x, y, mb)
	mb.empty = true
	for i := range mb.levels {
		mb.empty = mb.empty && mb.levels[i] == [16]int16{}
	}
}

// put copies a square into what has been made.
func (e *encoder) put(component, x, y, size int, from []uint8) {
	p := e.made[component]
	for j := range size {
		copy(p.pix[p.at(x, y+j):], from[j*size:(j+1)*size])
	}
}

// wholeBits and colourBits are what the modes of a macroblock cost (section 11.2).
var (
	wholeBits  = [modesWhole]int32{flat: bits3(156, 163, false, false), slope: bits3(156, 128, true, true), down: bits3(156, 163, false, true), right: bits3(156, 128, true, false)}
	colourBits = [modesWhole]int32{
		flat: costOf(false, 142), down: costOf(true, 142) + costOf(false, 114),
		right: costOf(true, 142) + costOf(true, 114) + costOf(false, 183), slope: costOf(true, 142) + costOf(true, 114) + costOf(true, 183),
	}
)

// bits3 is the cost of a mode of the whole macroblock: that it is whole, and two bits more.
func bits3(p, q uint8, a, b bool) int32 { return costOf(true, 145) + costOf(a, p) + costOf(b, q) }

// asWhole predicts luma as one, in the best of four modes.
func (e *encoder) asWhole(x, y int) {
	for mode := range modesWhole {
		e.wholeIn(x, y, mode, false)
		if e.trial.price < e.best.price {
			e.trial, e.best = e.best, e.trial
		}
	}
	if e.second {
		e.wholeIn(x, y, int(e.best.block.luma), true)
		e.trial, e.best = e.best, e.trial
	}
}

// wholeIn tries one of them.
func (e *encoder) wholeIn(x, y, mode int, careful bool) {
	l := &e.trial
	l.block.whole, l.block.luma = true, uint8(mode)
	l.around = [2]around{e.above[x], e.left}
	var pred [16][16]uint8
	predictWhole(e.made[0], 16*x, 16*y, 16, mode, pred[:])
	src := e.source[0]
	var coeffs [16]block
	var means block
	for i := range coeffs {
		coeffs[i] = forward(src.pix[src.at(16*x+i%4*4, 16*y+i/4*4):], src.stride, &pred[i])
		means[i] = coeffs[i][0]
	}
	means = forwardWalsh(&means)
	up, left := &l.around[0], &l.around[1]
	cost, any := e.quantise(careful, &means, walsh, 0, int(up[8]+left[8]), &l.block.levels[24])
	up[8], left[8] = bit(any), bit(any)
	means = inverseWalsh(&means)
	for i := range coeffs {
		bx, by := i%4, i/4
		more, any := e.quantise(careful, &coeffs[i], lumaAfterWalsh, 1, int(up[bx]+left[by]), &l.block.levels[i])
		up[bx], left[by] = bit(any), bit(any)
		cost += more
		coeffs[i][0] = means[i]
		inverse(&coeffs[i], &pred[i], l.made[by*64+bx*4:], 16)
	}
	for i := range 4 {
		l.up[i], l.lf[i] = uint8(mode), uint8(mode)
	}
	l.price = e.weigh(differ(src, 16*x, 16*y, l.made[:], 16), cost+wholeBits[mode])
}

func bit(b bool) uint8 {
	if b {
		return 1
	}
	return 0
}

// weigh joins a squared error and a cost.
func (e *encoder) weigh(square int64, cost int32) int64 {
	return square<<weighError + int64(e.weight)*int64(cost)
}

// differ is the squared error of a square of size × size.
func differ(p plane, x, y int, got []uint8, size int) (sum int64) {
	for j := range size {
		want := p.pix[p.at(x, y+j) : p.at(x, y+j)+size]
		for i, v := range got[j*size : (j+1)*size] {
			d := int32(want[i]) - int32(v)
			sum += int64(d * d)
		}
	}
	return sum
}

// fully is how many modes of a 4 × 4 block the second pass tries to the end, the nearest predictions first; the first
// tries one.
const fully = 4

// asParts predicts luma block by block of 4 × 4. It gives up as soon as that is no better.
func (e *encoder) asParts(x, y int) {
	l := &e.trial
	l.block.whole, l.block.levels[24] = false, [16]int16{}
	l.around, l.lf = [2]around{e.above[x], e.left}, e.leftModes
	copy(l.up[:], e.upModes[4*x:])
	l.price = e.weigh(0, costOf(false, 145))
	for i := range 16 {
		if l.price += e.part(l, x, y, i%4, i/4); l.price >= e.best.price {
			return
		}
	}
	p := e.made[0]
	for j := range 16 {
		copy(l.made[16*j:16*j+16], p.pix[p.at(16*x, 16*y+j):])
	}
	e.trial, e.best = e.best, e.trial
}

// attempt is a way to code a block of 4 × 4.
type attempt struct {
	price  int64
	mode   uint8
	levels [16]int16
	out    [16]uint8
	any    bool
}

// part chooses for one block of 4 × 4, puts it into what has been made, since the next are predicted from it, and
// returns its price.
func (e *encoder) part(l *luma, x, y, bx, by int) int64 {
	src, made := e.source[0], e.made[0]
	from, to := src.at(16*x+4*bx, 16*y+4*by), made.at(16*x+4*bx, 16*y+4*by)
	around := edgeOf(made, 16*x, 16*y, 4*bx, 4*by, x == e.across-1)
	var preds [modes4][16]uint8
	predict4(&around, &preds)
	modeCost := &partBits[l.up[bx]][l.lf[by]]
	ctx := int(l.around[0][bx] + l.around[1][by])
	best, now := &e.attempts[0], &e.attempts[1]
	best.price = 1 << 62
	tried := e.nearest(src.pix[from:], src.stride, &preds, modeCost)
	n := 1
	if e.second {
		n = fully
	}
	for _, mode := range tried[:n] {
		e.partIn(now, src.pix[from:], &preds[mode], mode, ctx, modeCost[mode], false)
		if now.price < best.price {
			best, now = now, best
		}
	}
	if e.second {
		e.partIn(best, src.pix[from:], &preds[best.mode], best.mode, ctx, modeCost[best.mode], true)
	}
	for j := range 4 {
		copy(made.pix[to+j*made.stride:], best.out[4*j:4*j+4])
	}
	l.block.modes[4*by+bx], l.block.levels[4*by+bx] = best.mode, best.levels
	l.up[bx], l.lf[by] = best.mode, best.mode
	l.around[0][bx], l.around[1][by] = bit(best.any), bit(best.any)
	return best.price
}

func (e *encoder) partIn(a *attempt, src []uint8, pred *[16]uint8, mode uint8, ctx int, cost int32, careful bool) {
	stride := e.source[0].stride
	c := forward(src, stride, pred)
	more, any := e.quantise(careful, &c, lumaWhole, 0, ctx, &a.levels)
	inverse(&c, pred, a.out[:], 4)
	a.mode, a.any = mode, any
	a.price = e.weigh(differ4(src, stride, &a.out), cost+more)
}

// nearest are the modes whose predictions come nearest to the source, what they cost considered.
func (e *encoder) nearest(src []uint8, stride int, preds *[modes4][16]uint8, cost *[modes4]int32) (modes [fully]uint8) {
	var prices [fully]int64
	n := 0
	for mode := range preds {
		price := e.weigh(differ4(src, stride, &preds[mode])/4, cost[mode])
		i := n
		for ; i > 0 && price < prices[i-1]; i-- {
			if i < fully {
				prices[i], modes[i] = prices[i-1], modes[i-1]
			}
		}
		if i < fully {
			prices[i], modes[i] = price, uint8(mode)
			n = min(n+1, fully)
		}
	}
	return modes
}

// differ4 is the squared error of a block of 4 × 4.
func differ4(src []uint8, stride int, got *[16]uint8) (sum int64) {
	for j := range 4 {
		s, g := src[j*stride:j*stride+4:j*stride+4], got[4*j:4*j+4:4*j+4]
		a, b, c, d := int32(s[0])-int32(g[0]), int32(s[1])-int32(g[1]), int32(s[2])-int32(g[2]), int32(s[3])-int32(g[3])
		sum += int64(a*a + b*b + c*c + d*d)
	}
	return sum
}

// tint is a way to code the two colours of a macroblock.
type tint struct {
	price  int64
	mode   int
	sides  [2]around
	levels [8][16]int16
	out    [2][64]uint8
}

// colours chooses how the two colours of a macroblock are predicted, and puts them into what has been made.
func (e *encoder) colours(x, y int, mb *macroblock) {
	best, now := &e.tints[0], &e.tints[1]
	best.price = 1 << 62
	for mode := range modesWhole {
		e.tintIn(now, x, y, mode, false)
		if now.price < best.price {
			best, now = now, best
		}
	}
	if e.second {
		e.tintIn(best, x, y, best.mode, true)
	}
	e.above[x], e.left = best.sides[0], best.sides[1]
	mb.colour = uint8(best.mode)
	copy(mb.levels[16:], best.levels[:])
	for c := range 2 {
		e.put(1+c, 8*x, 8*y, 8, best.out[c][:])
	}
}

func (e *encoder) tintIn(t *tint, x, y, mode int, careful bool) {
	t.mode, t.sides = mode, [2]around{e.above[x], e.left}
	cost, square := colourBits[mode], int64(0)
	for c := range 2 {
		cost += e.colourIn(t, x, y, c, careful)
		square += differ(e.source[1+c], 8*x, 8*y, t.out[c][:], 8)
	}
	t.price = e.weigh(square, cost)
}

func (e *encoder) colourIn(t *tint, x, y, c int, careful bool) (cost int32) {
	var pred [4][16]uint8
	predictWhole(e.made[1+c], 8*x, 8*y, 8, t.mode, pred[:])
	src := e.source[1+c]
	for i := range pred {
		bx, by := i%2, i/2
		up, left := &t.sides[0][4+2*c+bx], &t.sides[1][4+2*c+by]
		co := forward(src.pix[src.at(8*x+4*bx, 8*y+4*by):], src.stride, &pred[i])
		more, any := e.quantise(careful, &co, colour, 0, int(*up+*left), &t.levels[4*c+i])
		*up, *left = bit(any), bit(any)
		cost += more
		inverse(&co, &pred[i], t.out[c][by*32+bx*4:], 8)
	}
	return cost
}
