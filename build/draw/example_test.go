package draw_test

import (
	"fmt"

	"slipleaf/build/draw"
)

func ExampleElevation_Draw() {
	tank := draw.Elevation{
		ID: "t", Seed: "trough", Title: "The trough from the front", LengthCm: 118, HeightCm: 29, RimCm: 2.5,
		Layers: []draw.Layer{{Nutrients: draw.None, DepthCm: 2}, {Nutrients: draw.Rich, DepthCm: 3}},
		Lamps:  []draw.Lamp{{LengthCm: 110, AboveRimCm: 5, Centred: true}},
		Plants: []draw.Plant{
			{ID: "stargrass", Name: "stargrass", Habit: draw.Stem, Leaf: draw.LeafOf(draw.Stem, "Heteranthera zosterifolia"), HeightCm: 21, Count: 24},
			{ID: "crypt", Name: "crypt", Habit: draw.Rosette, Leaf: draw.LeafOf(draw.Rosette, "Cryptocoryne wendtii"), HeightCm: 12, Count: 9},
		},
	}
	d := tank.Draw()
	for _, k := range d.Key {
		fmt.Printf("%s from %.0f to %.0f cm\n", k.Name, k.FromCm, k.ToCm)
	}
	fmt.Printf("a tick is %.0f cm; small enough: %v\n", d.TickCm, len(d.SVG) <= draw.MaxTank)
	// Output:
	// stargrass from 1 to 65 cm
	// crypt from 67 to 117 cm
	// a tick is 10 cm; small enough: true
}
