// Package leaders hangs names from plumb lines so that no name prints over another or over another's line.
package leaders

import (
	"cmp"
	"math"
	"slices"
	"unicode/utf8"
)

// Leader is a name at the end of its leader, or its number where the page is too narrow for names.
type Leader struct {
	Text   string
	X, Y   float64 // where on the plant the leader begins
	Row    int
	Lo, Hi float64 // what the words cover
	Right  bool    // they stand right of the leader
	Latin  bool
}

// Letters are estimated, not measured: the widths of a common serif's italic at 14 units, rounded up
const narrowLetter, plainLetter, wideLetter, capitalLetter = 4.4, 7.2, 11.0, 10.0

func textWidth(s string) float64 {
	sum := 0.0
	for _, r := range s {
		switch {
		case r < utf8.RuneSelf && (r == 'i' || r == 'j' || r == 'l' || r == 't' || r == 'f' || r == ' ' || r == '.' || r == '\''):
			sum += narrowLetter
		case r == 'm' || r == 'w' || r > 0x2E80:
			sum += wideLetter
		case r >= 'A' && r <= 'Z':
			sum += capitalLetter
		default:
			sum += plainLetter
		}
	}
	return sum
}

// Meets reports whether two of them would print over each other or over the other's leader.
func (f Leader) Meets(g Leader) bool {
	if f.Row == g.Row && f.Lo < g.Hi+10 && g.Lo-10 < f.Hi {
		return true
	}
	return g.Row >= f.Row && f.Lo-4 < g.X && g.X < f.Hi+4 || f.Row >= g.Row && g.Lo-4 < f.X && f.X < g.Hi+4
}

// Hang hangs names from plumb leaders, taken from right to left: each tries the highest row first, to the right of its
// leader and then to the left; what fits nowhere takes the next row, and where the search gets long the name is left out:
// its number is in the key all the same.
func Hang(names []Leader, left, right float64) []Leader {
	slices.SortStableFunc(names, func(a, b Leader) int { return cmp.Compare(b.X, a.X) })
	for i := 1; i < len(names); i++ { // leaders keep apart
		names[i].X = math.Min(names[i].X, names[i-1].X-7)
	}
	tries := 1000
	var place func(i int, done []Leader, rows int) []Leader
	place = func(i int, done []Leader, rows int) []Leader {
		if i == len(names) {
			return done
		}
		f := names[i]
		w := textWidth(f.Text)
		for f.Row = 0; f.Row < rows; f.Row++ {
			for _, f.Right = range [...]bool{true, false} {
				if tries--; tries < 0 {
					return nil
				}
				f.Lo = f.X + 5
				if !f.Right {
					f.Lo = f.X - 5 - w
				}
				f.Hi = f.Lo + w
				if f.Lo < left || f.Hi > right || slices.ContainsFunc(done, f.Meets) {
					continue
				}
				if out := place(i+1, append(done[:len(done):len(done)], f), rows); out != nil {
					return out
				}
			}
		}
		return nil
	}
	for rows := 1; rows <= 7; rows++ {
		tries = 1000
		if out := place(0, nil, rows); out != nil {
			return out
		}
	}
	return nil
}
