// Package quantity holds numbers with units, as growers write them and as pages print them, and the calendar date.
//
// A value in a sum is a named float64 in one base unit ([Hardness] in mmol/L, [Alkalinity] in meq/L, …), so that
// the compiler refuses to add what must not be added. A value as written is a [Reading]: a number or a range, or
// "below the test's limit", or "asked, not known", together with the unit that its author used. Factors are built
// from definitions: molar masses by the IUPAC abridged standard atomic weights of 2021 (Prohaska et al. 2022, Pure
// Appl. Chem. 94:573–600), legal units by NIST SP 811 (both from memory).
package quantity

// Kind says what a unit measures. The same spelling may belong to several kinds: "ppm" is a hardness, an
// alkalinity or a concentration, and only the place where it is says which.
type Kind uint8

// The kinds of the journal format.
const (
	kindNone Kind = iota
	TemperatureKind
	LengthKind
	AreaKind
	VolumeKind
	MassKind
	HardnessKind
	AlkalinityKind
	ConcentrationKind
	ConductivityKind
	PhotonFluxKind
	IlluminanceKind
	PowerKind
	EfficacyKind
	LuminousFluxKind
	SpanKind
	ShareKind
	FlowKind
	PHKind
)

// Scalar is a quantity in its base unit.
type Scalar interface {
	~float64
	// Kind says which units T can be written in.
	Kind() Kind
}

// The scalars, each with its base unit.
type (
	Temperature   float64 // °C
	Length        float64 // cm
	Area          float64 // dm²
	Volume        float64 // L
	Mass          float64 // g
	Hardness      float64 // mmol/L of calcium and magnesium
	Alkalinity    float64 // meq/L of acid capacity
	Concentration float64 // mg/L
	Conductivity  float64 // µS/cm at 25 °C
	PhotonFlux    float64 // µmol/m²/s of photons from 400 to 700 nm (PPFD)
	Illuminance   float64 // lux
	Power         float64 // W
	Efficacy      float64 // µmol/J
	LuminousFlux  float64 // lm
	Span          float64 // days
	Share         float64 // a fraction: 1 is the whole
	Flow          float64 // L/h
	PH            float64 // pH, a pure number
)

// Each scalar has the units of one kind, as [Scalar] asks.

func (Temperature) Kind() Kind   { return TemperatureKind }
func (Length) Kind() Kind        { return LengthKind }
func (Area) Kind() Kind          { return AreaKind }
func (Volume) Kind() Kind        { return VolumeKind }
func (Mass) Kind() Kind          { return MassKind }
func (Hardness) Kind() Kind      { return HardnessKind }
func (Alkalinity) Kind() Kind    { return AlkalinityKind }
func (Concentration) Kind() Kind { return ConcentrationKind }
func (Conductivity) Kind() Kind  { return ConductivityKind }
func (PhotonFlux) Kind() Kind    { return PhotonFluxKind }
func (Illuminance) Kind() Kind   { return IlluminanceKind }
func (Power) Kind() Kind         { return PowerKind }
func (Efficacy) Kind() Kind      { return EfficacyKind }
func (LuminousFlux) Kind() Kind  { return LuminousFluxKind }
func (Span) Kind() Kind          { return SpanKind }
func (Share) Kind() Kind         { return ShareKind }
func (Flow) Kind() Kind          { return FlowKind }
func (PH) Kind() Kind            { return PHKind }

// Atomic weights, g/mol: IUPAC 2021, abridged.
const (
	arC  = 12.011
	arO  = 15.999
	arCa = 40.078

	// MolarMassCaO and MolarMassCaCO3, in g/mol, define the degrees of hardness.
	MolarMassCaO   = arCa + arO
	MolarMassCaCO3 = arCa + arC + 3*arO
)

// Units that sums are written in. A German degree is 10 mg/L CaO: as hardness its mmol/L, as alkalinity its meq/L.
const (
	DGH Hardness   = 10 / MolarMassCaO
	DKH Alkalinity = 2 * 10 / MolarMassCaO

	Inch     Length = 2.54
	SquareCM Area   = 0.01
	USGallon Volume = 3.785411784
	Pound    Mass   = 453.59237
	Week     Span   = 7
)

// DGH gives h in German degrees.
func (h Hardness) DGH() float64 { return float64(h / DGH) }

// DKH gives a in German degrees.
func (a Alkalinity) DKH() float64 { return float64(a / DKH) }

// Fahrenheit gives t in °F.
func (t Temperature) Fahrenheit() float64 { return float64(t)*9/5 + 32 }
