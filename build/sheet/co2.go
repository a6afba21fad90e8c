package sheet

import (
	"slipleaf/build/journal"
	"slipleaf/build/quantity"
	"slipleaf/build/reckon"
)

// Gas is what to do about CO2.
type Gas string

// The answers.
const (
	NoGas   Gas = "none"    // none is added
	GasKeep Gas = "keep"    // there is enough: no more
	GasLess Gas = "less"    // more than fish stand
	GasMore Gas = "more"    // slowly up to the target
	GasAim  Gas = "aim"     // how much there is now is not known
	GasAsk  Gas = "measure" // KH or temperature are not known, or tell too little
)

// CO2Plan is what to do about CO2.
type CO2Plan struct {
	Gas  Gas
	Want quantity.Concentration
	Now  reckon.Range[quantity.Concentration] // by their pH and KH; zero when not known
	// Checker says that KH and temperature are known and that pH tells too little for all that: a drop checker tells more.
	Checker bool
	reckon.Target
}

// Injected reports whether gas is added.
func (p CO2Plan) Injected() bool { return p.Gas != NoGas }

// Contradict reports whether their pH and KH mean more gas than fish stand, where they add none: not both can be right, or another
// acid bends the pH.
func (s *Sheet) Contradict() bool {
	return s.injected() == journal.No && s.CO2.Now.Low > mostCO2
}

const (
	// wantCO2 stays under what guides to fish medicine give as a usual target, 20 mg/L.
	wantCO2 quantity.Concentration = 15
	// mostCO2 is a ceiling of common practice where fish live.
	mostCO2 quantity.Concentration = 30
)

// co2Plan holds what their pH and KH say about the gas now against the target. It never asks to go where the tank is beyond
// already, and gives no pH to go for that may mean more than the ceiling as far as the tests tell: at a low KH, or one that
// is hardly known. What swings counts where it means the most gas; Target is zero where there is no such pH.
func (s *Sheet) co2Plan() CO2Plan {
	p := CO2Plan{Gas: NoGas, Want: wantCO2}
	if s.injected() == journal.Yes {
		p.Gas = GasAsk
	}
	w := s.Parcel.Water
	if !w.KH.Known() || !w.Temperature.Known() {
		return p
	}
	c := reckon.Carbonate{KH: w.KH, Temperature: w.Temperature.Mid(), Minerals: reckon.Minerals{Conductivity: w.Conductivity, GH: w.GH}}
	if now, err := reckon.DissolvedCO2(c, w.PH); err == nil {
		p.Now = now.CO2
	}
	if !p.Injected() {
		return p
	}
	all, err := reckon.TargetPH(c, wantCO2)
	if !w.KH.Below() {
		c.KH = quantity.Of(w.KH.High())
	}
	if t, _ := reckon.TargetPH(c, wantCO2); err == nil && all.CO2.High <= mostCO2 {
		p.Target = t
	}
	ceiling, err := reckon.TargetPH(c, mostCO2)
	switch ph := w.PH.Low(); {
	case err == nil && w.PH.Known() && ph < ceiling.PH.Best:
		p.Gas = GasLess
	case p.PH.Best == 0:
		p.Checker = true
	case !w.PH.Known():
		p.Gas = GasAim
	case ph <= p.PH.Best+quantity.PH(PH.Noise()):
		p.Gas = GasKeep
	default:
		p.Gas = GasMore
	}
	return p
}

// injected reports whether they add CO2.
func (c Case) injected() journal.Tristate {
	if c.Parcel.Tank == nil {
		return journal.NotSaid
	}
	return c.Parcel.Tank.CO2
}

// FromAir reports whether the leaves were made in air or on jelly.
func (c Case) FromAir() bool { return c.Grown == "emersed" || c.Grown == "culture" }
