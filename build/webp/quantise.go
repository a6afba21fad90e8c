package webp

// steps are the quantiser's steps for one plane of coefficients, and how its squared errors compare with those of
// samples: an error of a coefficient counts 1/2^scale of it.
type steps struct {
	first, rest int32
	scale       uint
}

// stepsAt are the steps by plane at an index from 0 to 127 (section 14.1).
func stepsAt(index int) (s [planes]steps) {
	luma := steps{dcSteps[index], acSteps[index], 2}
	s[lumaAfterWalsh], s[lumaWhole] = luma, luma
	s[walsh] = steps{2 * dcSteps[index], max(acSteps[index]*155/100, 8), 4}
	s[colour] = steps{dcSteps[min(index, 117)], acSteps[index], 2}
	return s
}

// mostLevel is the largest level that a token can say.
const mostLevel = 2047

// weigh joins an error and a cost: the less the better. An error of 1 weighs 1<<weighError.
const weighError = 12

// choice is the price of a path through a block's levels that ends in a level, and how it came there.
type choice struct {
	price int64
	level int32
	from  int8
}

// quantise turns a block's coefficients into levels, in zigzag order from the coefficient first on, and the
// coefficients into what a reader makes of them. It returns the cost in 1/256 bits and whether any level is not 0.
func (e *encoder) quantise(careful bool, c *block, plane, first, ctx int, levels *[16]int16) (cost int32, any bool) {
	if careful {
		return e.carefully(c, plane, first, ctx, levels)
	}
	return e.quickly(c, plane, first, ctx, levels)
}

// roundUp is the part of a step, in 64ths, from which on a coefficient is rounded up where that is not weighed: more
// than half, since the smaller level costs fewer bits (common practice).
const roundUp = 38

// quickly rounds each coefficient by itself.
func (e *encoder) quickly(c *block, plane, first, ctx int, levels *[16]int16) (cost int32, any bool) {
	st := e.steps[plane]
	*levels = [16]int16{}
	for n := first; n < 16; n++ {
		z, q := zigzag[n], st.of(n)
		v := min((abs(c[z])+q*(64-roundUp)/64)/q, mostLevel)
		any = any || v != 0
		if c[z] < 0 {
			v = -v
		}
		levels[n], c[z] = int16(v), v*q
	}
	return e.costs.block(levels, plane, first, ctx), any
}

// carefully weighs. Of all ways to round each coefficient up or down, and to stop, it takes the one
// whose error and bits weigh least, by walking through the block once with the two best ways to have come to each
// level.
func (e *encoder) carefully(c *block, plane, first, ctx int, levels *[16]int16) (cost int32, any bool) {
	st := e.steps[plane]
	var at [16][2]choice
	last := -1
	*levels = [16]int16{}
	for n := 15; n >= first && last < 0; n-- {
		if abs(c[zigzag[n]])*2 > st.of(n) {
			last = n
		}
	}
	w := int64(e.weight)
	stop, stopAt, stopIn := w*int64(e.costs.none[plane][bands[first]][ctx]), -1, int8(0)
	for n := first; n <= last; n++ {
		v, q := abs(c[zigzag[n]]), st.of(n)
		low := min(v/q, mostLevel-1)
		for k := range int8(2) {
			now := choice{price: 1 << 62, level: low + int32(k)}
			e.cheapest(&now, &at, n, first, plane, ctx)
			now.price += weighed(v-now.level*q, st.scale) - weighed(v, st.scale) // beside leaving it out
			at[n][k] = now
			if now.level == 0 {
				continue
			}
			if n < 15 {
				now.price += w * int64(e.costs.none[plane][bands[n+1]][min(now.level, 2)])
			}
			if now.price < stop {
				stop, stopAt, stopIn = now.price, n, k
			}
		}
	}
	return e.take(c, &at, stopAt, stopIn, plane, first, ctx, levels)
}

// cheapest finds from which level before it a level is reached at the least price.
func (e *encoder) cheapest(now *choice, at *[16][2]choice, n, first, plane, ctx int) {
	w := int64(e.weight)
	if n == first {
		now.price = w * int64(e.costs.more[plane][bands[n]][ctx]+e.costs.of(plane, bands[n], ctx, int(now.level)))
		return
	}
	for k := range int8(2) {
		before := &at[n-1][k]
		ctx := int(min(before.level, 2))
		price := before.price + w*int64(e.costs.of(plane, bands[n], ctx, int(now.level)))
		if before.level > 0 {
			price += w * int64(e.costs.more[plane][bands[n]][ctx])
		}
		if price < now.price {
			now.price, now.from = price, k
		}
	}
}

// take writes the levels of the path that ends at a place, and the coefficients that come of them.
func (e *encoder) take(c *block, at *[16][2]choice, end int, k int8, plane, first, ctx int, levels *[16]int16) (int32, bool) {
	st := e.steps[plane]
	for n := end; n >= first; n-- {
		levels[n] = int16(at[n][k].level)
		k = at[n][k].from
	}
	for n := first; n < 16; n++ {
		z := zigzag[n]
		v := int32(levels[n]) * st.of(n)
		if c[z] < 0 {
			v, levels[n] = -v, -levels[n]
		}
		c[z] = v
	}
	return e.costs.block(levels, plane, first, ctx), end >= 0
}

// of is the step of the coefficient at a place of the zigzag order.
func (s steps) of(n int) int32 {
	if n == 0 {
		return s.first
	}
	return s.rest
}

// weighed is the weight of an error of a coefficient.
func weighed(d int32, scale uint) int64 { return int64(d) * int64(d) << (weighError - scale) }

func abs(v int32) int32 { return max(v, -v) }

// block is the cost of a block's levels.
func (c *costs) block(levels *[16]int16, plane, first, ctx int) int32 {
	last := lastOf(levels, first)
	if last < first {
		return c.none[plane][bands[first]][ctx]
	}
	sum := c.more[plane][bands[first]][ctx]
	for n := first; n <= last; n++ {
		v := int(abs(int32(levels[n])))
		sum += c.of(plane, bands[n], ctx, v)
		ctx = min(v, 2)
		switch {
		case n == 15:
		case n == last:
			sum += c.none[plane][bands[n+1]][ctx]
		case ctx > 0:
			sum += c.more[plane][bands[n+1]][ctx]
		}
	}
	return sum
}

// lastOf is the place of the last level that is not 0, or less than first.
func lastOf(levels *[16]int16, first int) int {
	n := 15
	for n >= first && levels[n] == 0 {
		n--
	}
	return n
}
