package reckon

import "slipleaf/build/quantity"

// Dose is a mass of salt in a volume of water, and what it raises.
type Dose struct {
	Salt     Salt
	Mass     quantity.Mass
	Volume   quantity.Volume
	GH       quantity.Hardness   // rise; 0 when the salt has neither calcium nor magnesium
	KH       quantity.Alkalinity // rise; 0 when the salt has no carbonate
	Ions     []IonRise           // what else rises, in the order of the formula
	Working  Working
	Cautions []Caution
}

// IonRise is by how much an ion rises.
type IonRise struct {
	Ion  Ion
	Rise quantity.Concentration
}

// Of gives the rise of an ion; 0 for one that the salt does not have.
func (d Dose) Of(ion Ion) quantity.Concentration {
	for _, r := range d.Ions {
		if r.Ion == ion {
			return r.Rise
		}
	}
	return 0
}

const (
	SmallestWater quantity.Volume = 0.1   // L
	LargestWater  quantity.Volume = 20000 // L
	mostSalt                      = 10    // g/L: beyond it no dose, and the water is not fresh
)

var equationDose = Equation{"dose", "Dose of a salt by its molar mass", "rise = 1000 × mass/volume × ions × M(ion)/M(salt)",
	"molar masses by the IUPAC abridged atomic weights of 2021 (Prohaska et al. 2022, Pure Appl. Chem. 94:573–600)"}

// DoseOf reckons what a mass of salt raises in a net volume of water of 0.1 to 20 000 L. It refuses more than 10 g/L, or
// than what dissolves. rise = 1000 × mass/volume × ions × M(ion)/M(salt): molar masses, IUPAC 2021.
func DoseOf(s Salt, mass quantity.Mass, volume quantity.Volume) (Dose, error) {
	if s.MolarMass <= 0 {
		return Dose{}, &InputError{Kind: Missing, Name: "salt"}
	}
	if err := checkWater(volume); err != nil {
		return Dose{}, err
	}
	most, why := quantity.Mass(mostSalt*volume), "more than 10 g/L is no dose for fresh water"
	if s.most > 0 {
		most, why = quantity.Mass(s.most*float64(volume)), "more does not dissolve"
	}
	if err := Within("mass", mass, 0, most, "g", why); err != nil {
		return Dose{}, err
	}
	mmol := 1000 * float64(mass) / float64(volume) / s.MolarMass
	d := Dose{Salt: s, Mass: mass, Volume: volume, GH: quantity.Hardness(mmol * s.hard), KH: quantity.Alkalinity(mmol * s.acid),
		Ions: make([]IonRise, len(s.ions)), Cautions: []Caution{CautionPureSalt, CautionSmallSteps}}
	for i, p := range s.ions {
		d.Ions[i] = IonRise{p.ion, quantity.Concentration(mmol * p.mass)}
	}
	d.Working = Working{Equation: equationDose, Inputs: []Input{Given("volume", volume, "L"), Given("mass", mass, "g"),
		{Name: "molar-mass", Value: s.MolarMass, Unit: "g/mol"}}}
	if s.Note != "" {
		d.Working.Notes = Remarks(s.Chemical + " " + s.Note)
	}
	return d, nil
}

// DoseForGH reckons the mass of salt that raises GH by so much, 0 to 60 dGH.
func DoseForGH(s Salt, volume quantity.Volume, rise quantity.Hardness) (Dose, error) {
	if err := FirstError(checkWater(volume), Within("raise-gh", rise, 0, 60*quantity.DGH, "dGH", BandOfFreshWater)); err != nil {
		return Dose{}, err
	}
	return s.doseFor("raise-gh", volume, float64(rise), s.hard, "has neither calcium nor magnesium")
}

// DoseForKH reckons the mass of salt that raises KH by so much, 0 to 60 dKH.
func DoseForKH(s Salt, volume quantity.Volume, rise quantity.Alkalinity) (Dose, error) {
	if err := FirstError(checkWater(volume), Within("raise-kh", rise, 0, 60*quantity.DKH, "dKH", BandOfFreshWater)); err != nil {
		return Dose{}, err
	}
	return s.doseFor("raise-kh", volume, float64(rise), s.acid, "has no carbonate")
}

// DoseForIon reckons the mass of salt that raises an ion by so much, 0 to 1000 mg/L.
func DoseForIon(s Salt, volume quantity.Volume, ion Ion, rise quantity.Concentration) (Dose, error) {
	name := "raise-" + string(ion)
	if err := FirstError(checkWater(volume), Within(name, rise, 0, 1000, "mg/L", BandOfFreshWater)); err != nil {
		return Dose{}, err
	}
	share := 0.0
	for _, p := range s.ions {
		if p.ion == ion {
			share = p.mass
		}
	}
	return s.doseFor(name, volume, float64(rise), share, "has none of it")
}

// doseFor turns a rise into a mass; per is the rise by one mmol/L of salt.
func (s Salt) doseFor(name string, volume quantity.Volume, rise, per float64, lacks string) (Dose, error) {
	if per <= 0 {
		return Dose{}, &InputError{Kind: Contradictory, Name: name, Why: s.Chemical + " " + lacks}
	}
	return DoseOf(s, quantity.Mass(rise/per*s.MolarMass*float64(volume)/1000), volume)
}

func checkWater(volume quantity.Volume) error {
	return Within("volume", volume, SmallestWater, LargestWater, "L", "a dose is for the net water of a tank")
}
