package reckon

import (
	"strings"

	"slipleaf/build/quantity"
)

// filling is what is in a tank, given or assumed.
type filling struct {
	depth, substrate quantity.Length
	glass            Range[quantity.Length]
	density          float64 // g per L
	inputs           []Input
}

// fill settles the depths, the substrate, the glass and the density of the water.
func (s TankShape) fill() (filling, error) {
	var f filling
	if err := FirstError(f.layers(s), f.water(s)); err != nil {
		return f, err
	}
	f.panes(s)
	const t quantity.Temperature = 25
	f.inputs = append(f.inputs, assumed("temperature", t, "C", "not given; it changes the mass by under 0.3%"))
	var err error
	f.density, err = WaterDensity(t)
	return f, err
}

func (f *filling) layers(s TankShape) error {
	if !s.Substrate.Known() {
		f.inputs = append(f.inputs, assumed("substrate-depth", quantity.Length(0), "cm", "not given, so a bare floor"))
	} else {
		f.substrate = s.Substrate.Mid()
		f.inputs = append(f.inputs, Given("substrate-depth", f.substrate, "cm"))
	}
	if f.substrate > 0 {
		f.inputs = append(f.inputs, assumed("porosity", porosity.Best, "%", "35 to 45% for gravel, sand and granular soil, common practice"))
	}
	return Within("substrate-depth", f.substrate, 0, s.Height, "cm", "substrate lies inside the tank")
}

// water settles the depth from the surface to the substrate.
func (f *filling) water(s TankShape) error {
	gap := min(3, s.Height/10)
	switch {
	case s.WaterDepth.Known() && s.RimGap.Known():
		f.depth, gap = s.WaterDepth.Mid(), s.RimGap.Mid()
		if off := s.Height - f.depth - f.substrate - gap; off > fitTolerance || off < -fitTolerance {
			return &InputError{Kind: Contradictory, Name: "water-depth", Value: Figure(float64(f.depth)) + " cm", Why: "water, substrate and gap under the rim make " +
				Figure(float64(f.depth+f.substrate+gap)) + " cm, but the height is " + Figure(float64(s.Height)) + " cm", Hint: "the water is measured from its surface to the substrate"}
		}
		f.inputs = append(f.inputs, Given("water-depth", f.depth, "cm"), Given("rim-gap", gap, "cm"))
	case s.WaterDepth.Known():
		f.depth = s.WaterDepth.Mid()
		f.inputs = append(f.inputs, Given("water-depth", f.depth, "cm"))
		if f.depth > 0 && f.depth <= s.Height && f.depth+f.substrate > s.Height+fitTolerance {
			return &InputError{Kind: Contradictory, Name: "water-depth", Value: Figure(float64(f.depth)) + " cm",
				Why: "with the substrate it is more than the height of " + Figure(float64(s.Height)) + " cm", Hint: "the water is measured from its surface to the substrate"}
		}
	default:
		in := assumed("rim-gap", gap, "cm", "not given; 3 cm or a tenth of the height, common practice")
		if s.RimGap.Known() {
			gap = s.RimGap.Mid()
			in = Given("rim-gap", gap, "cm")
		}
		f.depth = s.Height - gap - f.substrate
		f.inputs = append(f.inputs, in)
	}
	return FirstError(Within("rim-gap", gap, 0, s.Height, "cm", "the surface lies under the rim"),
		Within("water-depth", f.depth, 0.5, s.Height, "cm", "the water lies between the substrate and the rim"))
}

// glassByHeight is the thickness that panes of a height usually have: common practice.
var glassByHeight = [...]struct{ height, thick quantity.Length }{{30, 0.5}, {40, 0.6}, {50, 0.8}, {60, 1.0}, {75, 1.2}, {150, 1.5}}

func (f *filling) panes(s TankShape) {
	for _, g := range glassByHeight {
		if s.Height <= g.height {
			f.glass = Range[quantity.Length]{g.thick - 0.2, g.thick, g.thick + 0.2}
			break
		}
	}
	f.inputs = append(f.inputs, assumed("glass", f.glass.Best, "mm", "usual for "+strings.TrimSpace(Figure(float64(s.Height)))+" cm of height, common practice"))
}
