package sheet

import (
	"testing"

	"slipleaf/build/journal"
	"slipleaf/build/quantity"
)

// All sums of a sheet, with a lamp, a hard water and a bottom: asked are 100 µs.
func BenchmarkNew(b *testing.B) {
	c := aCase()
	c.Parcel.Water = journal.Parameters{Temperature: quantity.Of[quantity.Temperature](24), PH: quantity.Of[quantity.PH](7.6), GH: quantity.Of(14 * quantity.DGH), KH: quantity.Of(9 * quantity.DKH)}
	c.Parcel.Tank = &journal.Recipient{CO2: journal.Yes, Inside: journal.Inside{Length: quantity.Of[quantity.Length](60), Width: quantity.Of[quantity.Length](30), Height: quantity.Of[quantity.Length](36)},
		Light: []journal.Lamp{{Output: quantity.Of[quantity.LuminousFlux](1800), Hours: 8}}}
	c.From = Giver{Water: journal.Parameters{KH: quantity.Of(2 * quantity.DKH), GH: quantity.Of(4 * quantity.DGH)}, CO2: journal.Yes, Growth: Growth{0.03, 0.04, 0.05, 9}}
	for b.Loop() {
		New(c)
	}
}
