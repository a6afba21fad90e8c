package picture

import (
	"bytes"
	"flag"
	"image"
	"image/png"
	"os"
	"strings"
	"testing"

	"slipleaf/build/draw"
)

var update = flag.Bool("update", false, "rewrite the golden cards")

var cards = map[string]Card{
	"eelgrass": {Title: "The Backroom Bench", Name: []Run{{"Vallisneria spiralis", true}}, Common: "eelgrass",
		Plant: draw.Plate{Seed: "v", Habit: draw.Rosette, Leaf: draw.LeafOf(draw.Rosette, "Vallisneria spiralis"), HeightCm: 40}.Areas(PlantWide, PlantTall)},
	"stargrass": {Title: "The Backroom Bench", Corner: "bench.example", Name: []Run{{"Heteranthera zosterifolia", true}}, Common: "stargrass", Line: "medium light · soft to hard water · behind"},
	"cultivar": {Title: "The Backroom Bench", Corner: "bench.example", Name: []Run{{"Cryptocoryne", true}, {" × ", false}, {"willisii", true}, {" ‘A long name of a garden’", false}},
		Common: "a crypt that came without a label from the wash-house", Line: "low light"},
	"no-name": {Title: "The Backroom Bench"},
}

func TestCards(t *testing.T) {
	for name, c := range cards {
		t.Run(name, func(t *testing.T) {
			got, err := c.Draw()
			if err != nil {
				t.Fatal(err)
			}
			if again, _ := c.Draw(); !bytes.Equal(got, again) {
				t.Error("the same card is drawn in two ways")
			}
			if len(got) > 60_000 {
				t.Errorf("%d bytes", len(got))
			}
			golden := "testdata/card-" + name + ".png"
			if *update {
				if err := os.WriteFile(golden, got, 0o644); err != nil {
					t.Fatal(err)
				}
			}
			samePixels(t, golden, got)
		})
	}
}

// samePixels compares pixels and not bytes: a newer Go may pack them in another way.
func samePixels(t *testing.T, golden string, got []byte) {
	t.Helper()
	want, err := os.ReadFile(golden)
	if err != nil {
		t.Fatal(err)
	}
	a, err := png.Decode(bytes.NewReader(want))
	if err != nil {
		t.Fatal(err)
	}
	b, err := png.Decode(bytes.NewReader(got))
	if err != nil {
		t.Fatal(err)
	}
	if b.Bounds() != image.Rect(0, 0, CardWidth, CardHeight) {
		t.Fatalf("%v", b.Bounds())
	}
	off := 0
	for y := range CardHeight {
		for x := range CardWidth {
			if !near(a.At(x, y), b.At(x, y), 24) { // rasterisers differ by a shade between processors
				off++
			}
		}
	}
	if off > 0 {
		t.Errorf("%d pixels differ from %s", off, golden)
	}
}

// Whatever a card says, nothing runs into the frame or over the slip's side.
func TestLongWordsStayInside(t *testing.T) {
	long := strings.Repeat("Wwwwwwww ", 30)
	c := Card{Title: long, Corner: long, Name: []Run{{long, true}}, Common: long, Line: long}
	blank, err := (Card{}).Draw()
	if err != nil {
		t.Fatal(err)
	}
	full, err := c.Draw()
	if err != nil {
		t.Fatal(err)
	}
	a, _ := png.Decode(bytes.NewReader(blank))
	b, _ := png.Decode(bytes.NewReader(full))
	for y := range CardHeight {
		for x := range CardWidth {
			outside := x < cardLeft-4 || x > cardRight+4 || y > 200 && y < 480 && x > cardName+4
			if outside && a.At(x, y) != b.At(x, y) {
				t.Fatalf("something stands at %d, %d", x, y)
			}
		}
	}
}

func TestLettersThatTheFontsHaveNot(t *testing.T) {
	blank, _ := (Card{}).Draw()
	got, err := Card{Title: "水草の机"}.Draw()
	if err != nil || !bytes.Equal(got, blank) {
		t.Errorf("a title in other letters shows as boxes (%v)", err)
	}
	if got, _ = (Card{Title: "Стол у окна"}).Draw(); bytes.Equal(got, blank) {
		t.Error("Cyrillic is left out")
	}
}

func BenchmarkCard(b *testing.B) {
	for b.Loop() {
		if _, err := cards["eelgrass"].Draw(); err != nil {
			b.Fatal(err)
		}
	}
}
