package webp

import (
	"encoding/binary"
	"errors"
	"image"
)

// Version changes whenever the same picture would give other bytes.
const Version = "vp8 1"

// MaxSide is the largest width or height of a picture, in pixels (section 9.1).
const MaxSide = 1<<14 - 1

// Encode writes an opaque picture as WebP. The quantiser is an index from 0 (the finest) to 127 (the coarsest).
func Encode(m *image.RGBA, quantiser int) ([]byte, error) {
	size := m.Rect.Size()
	if size.X < 1 || size.Y < 1 || max(size.X, size.Y) > MaxSide {
		return nil, errors.New("webp: the picture is empty or too large")
	}
	if quantiser < 0 || quantiser > 127 {
		return nil, errors.New("webp: the quantiser goes from 0 to 127")
	}
	e := newEncoder(m, quantiser)
	e.passes()
	return contain(e.write(size)), nil
}

// contain puts a frame into the simple container of RFC 9649, section 2.5.
func contain(vp8 []byte) []byte {
	if len(vp8)%2 == 1 {
		vp8 = append(vp8, 0)
	}
	head := make([]byte, 20, 20+len(vp8))
	copy(head, "RIFF")
	binary.LittleEndian.PutUint32(head[4:], uint32(12+len(vp8)))
	copy(head[8:], "WEBPVP8 ")
	binary.LittleEndian.PutUint32(head[16:], uint32(len(vp8)))
	return append(head, vp8...)
}

// macroblock is what has been chosen for 16 × 16 pixels: its modes, and the levels of its blocks in zigzag order, 16 of
// luma, 4 of each colour and that of the Walsh transform.
type macroblock struct {
	whole  bool // luma is predicted as one
	luma   uint8
	colour uint8
	modes  [16]uint8 // of the 4 × 4 blocks where it is not
	levels [25][16]int16
	empty  bool // no level is anything but 0
}

// around says which neighbouring blocks have levels, by column above or row to the left: four of luma, two of each
// colour, and the one of the Walsh transform.
type around [9]uint8

// encoder holds a picture on its way.
type encoder struct {
	across, down int // macroblocks
	index        int // of the quantiser
	filter       int // the level of the filter that a reader lays over the edges of blocks, 0 to 63
	steps        [planes]steps
	weight       int32 // of 1/256 bit beside an error of 1<<weighError
	costs        *costs
	second       bool  // pass: what is chosen is quantised carefully
	source, made frame // as it is, and as a reader will have it
	blocks       []macroblock
	above        []around
	left         around
	upModes      []uint8 // modes of the 4 × 4 blocks above, four a macroblock
	leftModes    [4]uint8
	best, trial  luma
	attempts     [2]attempt
	tints        [2]tint
}

func newEncoder(m *image.RGBA, index int) *encoder {
	size := m.Rect.Size()
	across, down := (size.X+15)/16, (size.Y+15)/16
	e := &encoder{across: across, down: down, index: index, steps: stepsAt(index), source: split(m, across, down)}
	q := acSteps[index]
	e.filter = min(int(q)*filterShare/64, 63)
	e.weight = max(q*q*bitWeight>>6, 1)
	e.made = newFrame(across, down)
	e.blocks = make([]macroblock, across*down)
	e.above, e.upModes = make([]around, across), make([]uint8, 4*across)
	return e
}

// bitWeight sets how much error a bit may save: in theory, where steps are small beside what they divide, an error of
// 0.029 of the squared step (the slope of step²/12 at 6 dB a bit, for coefficients of twice the samples' scale).
const bitWeight = 24

// filterShare sets the filter: a quarter of the step for 16, as wide as the step that an edge may show (common
// practice).
const filterShare = 12

// passes chooses for the whole picture, and then again with what the choices have taught about the cost of tokens.
func (e *encoder) passes() {
	e.costs = newCosts(&usualProbs)
	e.pass()
	probs := e.fitted()
	e.costs, e.second = newCosts(&probs), true
	e.pass()
}

// pass chooses for every macroblock in turn.
func (e *encoder) pass() {
	clear(e.above)
	clear(e.upModes)
	for y := range e.down {
		e.left, e.leftModes = around{}, [4]uint8{}
		for x := range e.across {
			e.choose(x, y, &e.blocks[y*e.across+x])
		}
	}
}
