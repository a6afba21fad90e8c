package reckon

import "slipleaf/build/quantity"

// Pressure is a load on a floor, in kPa (kN/m²).
type Pressure float64

const (
	gravity = 9.80665                                            // m/s², standard
	psf     = Pressure(0.45359237 * gravity / (0.3048 * 0.3048)) // Pa in a pound-force per square foot
	psfKPa  = psf / 1000
)

// PSF gives p in pounds per square foot.
func (p Pressure) PSF() float64 { return float64(p / psfKPa) }

// TankShape is a tank as its owner knows it; what is absent is assumed, and the working says so.
type TankShape struct {
	Length, Width, Height quantity.Length                   // inside; 5 to 400 cm, height to 150 cm
	WaterDepth            quantity.Reading[quantity.Length] // surface to substrate
	Substrate             quantity.Reading[quantity.Length] // depth of all layers; absent: bare
	RimGap                quantity.Reading[quantity.Length] // surface to rim
}

// Tank is what a tank holds and weighs.
type Tank struct {
	Footprint quantity.Area
	Gross     quantity.Volume        // inside, to the rim
	Net       Range[quantity.Volume] // water, with what is in the pores of the substrate
	Water     Range[quantity.Mass]   // mass
	Substrate Range[quantity.Mass]   // of quartz; granular soil is lighter
	Glass     Range[quantity.Mass]   // bottom and four panes
	Filled    Range[quantity.Mass]   // without stand, wood, rocks and gear
	Floor     Range[Pressure]        // Filled over the footprint
	Design    []DesignLoad           // what floors of dwellings are ordinarily designed for
	Working   Working
	Cautions  []Caution
}

// DesignLoad is an ordinary design load of floors in dwellings: an average over the floor, not a limit under a tank.
type DesignLoad struct {
	Key       string // for translation
	Where     string
	Low, High Pressure
	Source    string
}

var (
	equationTank = Equation{"tank", "Volume, mass and floor load of a tank", "net = L W depth + p L W substrate; filled = water ρ + substrate + glass; load = filled g/(L W)",
		"geometry and statics; density of water by Tanaka et al. 2001, Metrologia 38:301–309; glass 2500 kg/m³ by EN 572-1, quartz 2650 kg/m³ (both from memory)"}
)

const (
	glassDensity  = 2.5  // g/cm³
	quartzDensity = 2.65 // g/cm³
	fitTolerance  = 1.0  // cm by which the depths and the height may disagree
)

// porosity of gravel, sand and granular soil: common practice.
var porosity = Range[quantity.Share]{0.35, 0.40, 0.45}

// OrdinaryDesignLoads lists floor loads for comparison: EN 1991-1-1:2002 table 6.2 (from memory), IRC table R301.5 (seen).
func OrdinaryDesignLoads() []DesignLoad {
	return []DesignLoad{
		{"europe", "Europe, floors of dwellings", 1.5, 2.0, "EN 1991-1-1:2002 table 6.2, category A (from memory; national annexes choose)"},
		{"usa-rooms", "USA, rooms other than sleeping rooms", 40 * psfKPa, 40 * psfKPa, "International Residential Code, table R301.5"},
		{"usa-sleeping-rooms", "USA, sleeping rooms", 30 * psfKPa, 30 * psfKPa, "International Residential Code, table R301.5"},
	}
}

// WaterDensity is the density of clean water at 1 atm, in kg/m³, 0 to 40 °C: Tanaka et al. 2001, Metrologia 38:301–309.
func WaterDensity(t quantity.Temperature) (float64, error) {
	if err := Within("temperature", t, 0, 40, "C", "the formula for the density of water holds there"); err != nil {
		return 0, err
	}
	c := float64(t)
	return 999.974950 * (1 - (c-3.983035)*(c-3.983035)*(c+301.797)/(522528.9*(c+69.34881))), nil
}

func checkFloor(length, width quantity.Length) error {
	const why = "expected the inside measures of an aquarium"
	return FirstError(Within("length", length, 5, 400, "cm", why), Within("width", width, 5, 400, "cm", why))
}

// Measure reckons footprint, volumes, filled mass and floor load of a tank, with what was assumed. Depths that do not
// add up to the height within 1 cm are refused. Geometry; water by Tanaka et al. 2001.
func (s TankShape) Measure() (Tank, error) {
	err := FirstError(checkFloor(s.Length, s.Width), Within("height", s.Height, 5, 150, "cm", "expected the inside height of an aquarium"))
	if err != nil {
		return Tank{}, err
	}
	f, err := s.fill()
	if err != nil {
		return Tank{}, err
	}
	floor := float64(s.Length * s.Width) // cm²
	t := Tank{Footprint: quantity.Area(floor) * quantity.SquareCM, Gross: quantity.Volume(floor * float64(s.Height) / 1000),
		Design: OrdinaryDesignLoads(), Cautions: []Caution{CautionFloor, CautionElectricity}}
	litres := func(p quantity.Share) quantity.Volume {
		return quantity.Volume(floor * (float64(f.depth) + float64(p)*float64(f.substrate)) / 1000)
	}
	grains := func(p quantity.Share) quantity.Mass {
		return quantity.Mass(floor * float64(f.substrate) * (1 - float64(p)) * quartzDensity)
	}
	t.Net = Range[quantity.Volume]{litres(porosity.Low), litres(porosity.Best), litres(porosity.High)}
	t.Water = Range[quantity.Mass]{quantity.Mass(t.Net.Low), quantity.Mass(t.Net.Best), quantity.Mass(t.Net.High)}.Scale(f.density)
	t.Substrate = Range[quantity.Mass]{grains(porosity.High), grains(porosity.Best), grains(porosity.Low)}
	t.Glass = Range[quantity.Mass]{s.panes(f.glass.Low), s.panes(f.glass.Best), s.panes(f.glass.High)}
	sum := func(grain, water, pane quantity.Mass) quantity.Mass { return grain + water + pane }
	t.Filled = Range[quantity.Mass]{sum(t.Substrate.Low, t.Water.High, t.Glass.Low), sum(t.Substrate.Best, t.Water.Best, t.Glass.Best),
		sum(t.Substrate.High, t.Water.Low, t.Glass.High)}
	perGram := gravity / 1000 / (floor / 1e4) / 1000 // kPa of a gram on this floor
	t.Floor = Range[Pressure]{Pressure(t.Filled.Low), Pressure(t.Filled.Best), Pressure(t.Filled.High)}.Scale(perGram)
	t.Working = Working{equationTank, append([]Input{Given("length", s.Length, "cm"), Given("width", s.Width, "cm"), Given("height", s.Height, "cm")}, f.inputs...),
		[]Note{{Key: "on-top", Text: "stand, rocks, wood and gear come on top of the mass and displace water"}, {Key: "quartz", Text: "substrate is weighed as quartz; granular soil is lighter"},
			{Key: "design-loads", Text: "design loads are averages over the whole floor; almost every tank exceeds them under its own footprint, so that alone proves nothing"}}}
	return t, nil
}

// panes weighs a bottom and four walls of a thickness.
func (s TankShape) panes(thick quantity.Length) quantity.Mass {
	area := s.Length*s.Width + 2*s.Length*s.Height + 2*s.Width*s.Height
	return quantity.Mass(float64(area*thick) * glassDensity)
}
