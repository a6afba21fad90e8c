package picture

import (
	"bytes"
	"image"
	"math/rand/v2"
	"testing"
)

// Taking rows from the blank is a shortcut only: any card comes out as it does without.
func TestRowsOfTheBlankAreAsTheyWouldBeMapped(t *testing.T) {
	b := slipCard()
	r := rand.New(rand.NewPCG(1, 2))
	for range 5 {
		m := image.NewRGBA(b.full.Rect)
		copy(m.Pix, b.full.Pix)
		for range 300 {
			x, y := r.IntN(CardWidth), r.IntN(CardHeight)
			m.SetRGBA(x, y, cardInk)
		}
		if !bytes.Equal(fewColours(m, b).Pix, fewColours(m, blank{}).Pix) {
			t.Fatal("a shortcut changed the card")
		}
	}
}
