package reckon

import (
	"testing"

	"slipleaf/build/quantity"
)

// sheetSums does every sum of one care sheet.
func sheetSums() error {
	soft := Carbonate{KH: quantity.Of(4 * quantity.DKH), Temperature: 25, Minerals: Minerals{GH: quantity.Of(6 * quantity.DGH)}}
	_, err1 := DissolvedCO2(soft, quantity.Of[quantity.PH](6.8))
	_, err2 := TargetPH(soft, 20)
	_, err3 := DoseForGH(salts[0], 54, 3*quantity.DGH)
	_, err4 := DoseForGH(salts[2], 54, quantity.DGH)
	_, err5 := MixFor(10*quantity.DKH, 0, 4*quantity.DKH, 54)
	_, err6 := TankShape{Length: 60, Width: 30, Height: 36}.Measure()
	if err := FirstError(err1, err2, err3, err4, err5, err6); err != nil {
		return err
	}
	s := demoLight(0.4)
	s.Lamps = append(s.Lamps, Lamp{Output: quantity.Of(quantity.LuminousFlux(900)), Kind: "white led", Length: quantity.Of(quantity.Length(45)),
		Width: quantity.Of(quantity.Length(4)), AboveWater: quantity.Of(quantity.Length(5)), Across: 8, Hours: 6})
	m, err := s.Model()
	if err != nil {
		return err
	}
	for _, depth := range []quantity.Length{0, 15, 30} {
		if _, err := m.At(depth); err != nil {
			return err
		}
	}
	_, err1 = Wilson(Tally{7, 9}, 0.95)
	p, err2 := FixedPrior(0.7, 4)
	_, err3 = p.Shrink(Tally{7, 9}, 0.95)
	_, err4 = UnionisedAmmonia(0.2, 7.4, 24)
	_, err5 = WaterChanges(20*quantity.DGH, 6*quantity.DGH, 0.3, 4)
	return FirstError(err1, err2, err3, err4, err5)
}

// BenchmarkCareSheet is every sum of a care sheet together; the floor is 100 µs.
func BenchmarkCareSheet(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if err := sheetSums(); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkCO2(b *testing.B) {
	soft := Carbonate{KH: quantity.Of(4 * quantity.DKH), Temperature: 25}
	for b.Loop() {
		if _, err := DissolvedCO2(soft, quantity.Of[quantity.PH](6.8)); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkTargetPH(b *testing.B) {
	soft := Carbonate{KH: quantity.Of(4 * quantity.DKH), Temperature: 25}
	for b.Loop() {
		if _, err := TargetPH(soft, 20); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkLightAt(b *testing.B) {
	m, err := demoLight(0.4).Model()
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, err := m.At(20); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkShrink(b *testing.B) {
	p, _ := FixedPrior(0.7, 4)
	for b.Loop() {
		if _, err := p.Shrink(Tally{7, 9}, 0.95); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkProductOfThree(b *testing.B) {
	p, _ := FixedPrior(0.7, 4)
	share, _ := SharePart("established", Tally{7, 9}, p)
	yield, _ := SpreadPart("yield", 2.1, 0.2)
	for b.Loop() {
		if _, _, err := Product(Draws{Seed: 1}, 0.8, yield, share, share); err != nil {
			b.Fatal(err)
		}
	}
}
