package dice

import "testing"

// The first numbers of splitmix64 for the seed 1234567, as commonly published for the algorithm.
func TestDiceAreSplitmix64(t *testing.T) {
	d := &Dice{1234567}
	for i, want := range []uint64{6457827717110365317, 3203168211198807973, 9817491932198370423} {
		if got := d.Next(); got != want {
			t.Errorf("throw %d is %d, want %d", i, got, want)
		}
	}
}

func TestDiceSeedPartsDoNotRunTogether(t *testing.T) {
	if Seeded("ab", "c").Next() == Seeded("a", "bc").Next() {
		t.Error(`"ab","c" and "a","bc" throw the same`)
	}
}
