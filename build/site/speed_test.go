package site

import (
	"context"
	"os"
	"testing"

	"slipleaf/build/quantity"
)

// BenchmarkDemo reads the demonstration and makes every page of it, without writing it.
func BenchmarkDemo(b *testing.B) {
	o := Options{On: quantity.Date{Year: 2026, Month: 11, Day: 25}, Photos: NewPhotoCache()}
	fsys := os.DirFS("../../content")
	b.Run("read", func(b *testing.B) {
		for b.Loop() {
			if book, cs, err := Load(context.Background(), fsys, o); book == nil || err != nil {
				b.Fatal(cs, err)
			}
		}
	})
	b.Run("make", func(b *testing.B) {
		for b.Loop() {
			b.StopTimer()
			book, cs, err := Load(context.Background(), fsys, o) // a book remembers what it made
			if book == nil || err != nil {
				b.Fatal(cs, err)
			}
			b.StartTimer()
			if _, err := Make(context.Background(), book, o); err != nil {
				b.Fatal(err)
			}
		}
	})
}
