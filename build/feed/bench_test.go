package feed

import (
	"strings"
	"testing"
)

func BenchmarkNewFriendReader(b *testing.B) {
	for b.Loop() {
		NewFriendReader()
	}
}

// A friend with a thousand lots is the most that is read.
func BenchmarkReadThousandOffers(b *testing.B) {
	r := reader(b)
	data := []byte(offersWith(strings.TrimSuffix(strings.Repeat(goodOffer+",", 1000), ",")))
	b.SetBytes(int64(len(data)))
	for b.Loop() {
		if _, err := r.Read(data); err != nil {
			b.Fatal(err)
		}
	}
}
