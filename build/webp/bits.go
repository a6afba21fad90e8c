package webp

// bits is the boolean entropy coder of RFC 6386, section 7.3.
type bits struct {
	out    []byte
	span   uint32 // 128 to 255 between bits
	bottom uint32
	free   int // shifts until the next byte is whole
}

func newBits(room int) *bits { return &bits{out: make([]byte, 0, room), span: 255, free: 24} }

// put codes a bit of which prob/256 is the probability to be 0.
func (b *bits) put(bit bool, prob uint8) {
	split := 1 + (b.span-1)*uint32(prob)>>8
	if bit {
		b.bottom += split
		b.span -= split
		if b.bottom < split {
			b.carry()
		}
	} else {
		b.span = split
	}
	for b.span < 128 {
		b.span <<= 1
		if b.bottom&(1<<31) != 0 {
			b.carry()
		}
		b.bottom <<= 1
		if b.free--; b.free == 0 {
			b.out = append(b.out, byte(b.bottom>>24))
			b.bottom &= 1<<24 - 1
			b.free = 8
		}
	}
}

// carry adds one to what is already out.
func (b *bits) carry() {
	i := len(b.out) - 1
	for ; b.out[i] == 255; i-- {
		b.out[i] = 0
	}
	b.out[i]++
}

// number codes the low n bits of v, the highest first, each as likely 0 as 1.
func (b *bits) number(v, n int) {
	for n--; n >= 0; n-- {
		b.put(v>>n&1 == 1, 128)
	}
}

// done ends the coding and returns the bytes.
func (b *bits) done() []byte {
	for range 32 { // enough to bring out all that is still inside
		b.put(false, 128)
	}
	return b.out
}
