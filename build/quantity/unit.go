package quantity

import "slices"

// unit is one way of writing a kind: base = (number + shift) × factor.
type unit struct {
	kind   Kind
	name   string   // as the journal format spells it
	also   []string // other accepted spellings
	print  string   // as pages print it
	factor float64
	shift  float64
	places int // decimals that a reading of this unit deserves
}

// kindNames are the words that complaints use.
var kindNames = [...]string{
	kindNone: "nothing", TemperatureKind: "temperature", LengthKind: "length", AreaKind: "area", VolumeKind: "volume",
	MassKind: "mass", HardnessKind: "hardness", AlkalinityKind: "alkalinity", ConcentrationKind: "a concentration",
	ConductivityKind: "conductivity", PhotonFluxKind: "light", IlluminanceKind: "illuminance", PowerKind: "power",
	EfficacyKind: "a lamp's efficacy", LuminousFluxKind: "a lamp's output", SpanKind: "time", ShareKind: "a share",
	FlowKind: "flow", PHKind: "pH",
}

// String names the kind as complaints do.
func (k Kind) String() string {
	if int(k) < len(kindNames) {
		return kindNames[k]
	}
	return "unknown kind"
}

const (
	grainMg   = 64.79891 // a grain, by definition
	impGallon = 4.54609  // an imperial gallon in L, by definition
)

// units is the table of the journal format. The first unit of a kind is its base for writing readings made by sums.
var units = [...]unit{
	{kind: kindNone},
	{kind: TemperatureKind, name: "C", also: []string{"°C"}, print: "°C", factor: 1, places: 1},
	{kind: TemperatureKind, name: "F", also: []string{"°F"}, print: "°F", factor: 5.0 / 9, shift: -32, places: 0},
	{kind: TemperatureKind, name: "K", print: "K", factor: 1, shift: -273.15, places: 1},
	{kind: LengthKind, name: "cm", print: "cm", factor: 1, places: 1},
	{kind: LengthKind, name: "mm", print: "mm", factor: 0.1, places: 0},
	{kind: LengthKind, name: "m", print: "m", factor: 100, places: 2},
	{kind: LengthKind, name: "in", print: "in", factor: 2.54, places: 1},
	{kind: LengthKind, name: "ft", print: "ft", factor: 30.48, places: 2},
	{kind: AreaKind, name: "dm2", also: []string{"dm²"}, print: "dm²", factor: 1, places: 1},
	{kind: AreaKind, name: "cm2", also: []string{"cm²"}, print: "cm²", factor: 0.01, places: 0},
	{kind: AreaKind, name: "m2", also: []string{"m²"}, print: "m²", factor: 100, places: 2},
	{kind: AreaKind, name: "in2", also: []string{"in²"}, print: "in²", factor: 0.064516, places: 0},
	{kind: AreaKind, name: "ft2", also: []string{"ft²"}, print: "ft²", factor: 9.290304, places: 2},
	{kind: VolumeKind, name: "L", also: []string{"l"}, print: "L", factor: 1, places: 1},
	{kind: VolumeKind, name: "mL", also: []string{"ml"}, print: "mL", factor: 0.001, places: 0},
	{kind: VolumeKind, name: "gal", print: "gal", factor: float64(USGallon), places: 1},
	{kind: VolumeKind, name: "impgal", also: []string{"imp gal"}, print: "imp gal", factor: impGallon, places: 1},
	{kind: MassKind, name: "g", print: "g", factor: 1, places: 2},
	{kind: MassKind, name: "mg", print: "mg", factor: 0.001, places: 0},
	{kind: MassKind, name: "kg", print: "kg", factor: 1000, places: 1},
	{kind: MassKind, name: "oz", print: "oz", factor: 453.59237 / 16, places: 2},
	{kind: MassKind, name: "lb", print: "lb", factor: 453.59237, places: 1},
	{kind: HardnessKind, name: "dGH", also: []string{"°d", "°dGH", "°dH", "dH"}, print: "dGH", factor: float64(DGH), places: 1},
	{kind: HardnessKind, name: "ppm", also: []string{"mg/L", "mg/l"}, print: "ppm", factor: 1 / MolarMassCaCO3, places: 0},
	{kind: HardnessKind, name: "mmol/L", also: []string{"mmol/l"}, print: "mmol/L", factor: 1, places: 2},
	{kind: HardnessKind, name: "°f", also: []string{"°fH"}, print: "°fH", factor: 10 / MolarMassCaCO3, places: 1},
	{kind: HardnessKind, name: "°e", print: "°e", factor: grainMg / impGallon / MolarMassCaCO3, places: 1},
	{kind: HardnessKind, name: "meq/L", also: []string{"meq/l"}, print: "meq/L", factor: 0.5, places: 2},
	{kind: HardnessKind, name: "gr/gal", also: []string{"gpg"}, print: "gr/gal", factor: grainMg / float64(USGallon) / MolarMassCaCO3, places: 1},
	{kind: AlkalinityKind, name: "dKH", also: []string{"°d", "°dKH", "°dH", "dH"}, print: "dKH", factor: float64(DKH), places: 1},
	{kind: AlkalinityKind, name: "ppm", also: []string{"mg/L", "mg/l"}, print: "ppm", factor: 2 / MolarMassCaCO3, places: 0},
	{kind: AlkalinityKind, name: "meq/L", also: []string{"meq/l"}, print: "meq/L", factor: 1, places: 2},
	// As acid capacity to pH 4.3 the mmol/L of a water report counts H⁺, so it is the meq/L (ISO 9963-1, from memory).
	{kind: AlkalinityKind, name: "mmol/L", also: []string{"mmol/l"}, print: "mmol/L", factor: 1, places: 2},
	{kind: AlkalinityKind, name: "°f", also: []string{"°fH"}, print: "°fH", factor: 20 / MolarMassCaCO3, places: 1},
	{kind: AlkalinityKind, name: "°e", print: "°e", factor: 2 * grainMg / impGallon / MolarMassCaCO3, places: 1},
	{kind: ConcentrationKind, name: "mg/L", also: []string{"mg/l"}, print: "mg/L", factor: 1, places: 2},
	{kind: ConcentrationKind, name: "ppm", print: "ppm", factor: 1, places: 2},
	{kind: ConcentrationKind, name: "ug/L", also: []string{"µg/L", "μg/L", "ug/l", "µg/l", "μg/l"}, print: "µg/L", factor: 0.001, places: 1},
	{kind: ConductivityKind, name: "uS/cm", also: []string{"µS/cm", "μS/cm"}, print: "µS/cm", factor: 1, places: 0},
	{kind: ConductivityKind, name: "mS/cm", print: "mS/cm", factor: 1000, places: 2},
	{kind: PhotonFluxKind, name: "umol/m2/s", also: []string{"µmol/m2/s", "μmol/m2/s", "umol/m²/s", "µmol/m²/s", "μmol/m²/s"}, print: "µmol/m²/s", factor: 1, places: 0},
	{kind: IlluminanceKind, name: "lux", also: []string{"lx"}, print: "lux", factor: 1, places: 0},
	{kind: PowerKind, name: "W", print: "W", factor: 1, places: 1},
	{kind: EfficacyKind, name: "umol/J", also: []string{"µmol/J", "μmol/J"}, print: "µmol/J", factor: 1, places: 2},
	{kind: LuminousFluxKind, name: "lm", print: "lm", factor: 1, places: 0},
	{kind: SpanKind, name: "d", print: "d", factor: 1, places: 1},
	{kind: SpanKind, name: "min", print: "min", factor: 1.0 / 1440, places: 0},
	{kind: SpanKind, name: "h", print: "h", factor: 1.0 / 24, places: 1},
	{kind: SpanKind, name: "wk", print: "wk", factor: 7, places: 1},
	{kind: ShareKind, name: "%", print: "%", factor: 0.01, places: 0},
	{kind: FlowKind, name: "L/h", also: []string{"l/h"}, print: "L/h", factor: 1, places: 0},
	{kind: FlowKind, name: "gal/h", print: "gal/h", factor: float64(USGallon), places: 0},
	{kind: PHKind, name: "", print: "", factor: 1, places: 2},
}

// Sign is a unit as pages print it, by its name; the name where there is no such unit.
func Sign(name string) string {
	for _, u := range units {
		if u.name == name && name != "" {
			return u.print
		}
	}
	return name
}

// find gives the index of the unit of kind k that is spelt s, or 0.
func find(k Kind, s string) uint8 {
	for i := 1; i < len(units); i++ {
		if u := &units[i]; u.kind == k && (u.name == s || slices.Contains(u.also, s)) {
			return uint8(i)
		}
	}
	return 0
}

// base gives the index of the first unit of k.
func base(k Kind) uint8 {
	for i := 1; i < len(units); i++ {
		if units[i].kind == k {
			return uint8(i)
		}
	}
	return 0
}

// Units lists the spellings of k in the format, base first.
func Units(k Kind) []string {
	var out []string
	for _, u := range units[1:] {
		if u.kind == k {
			out = append(out, u.name)
		}
	}
	return out
}

// In converts v to the named unit of its kind. ok is false for a unit that the kind does not have.
func In[T Scalar](v T, name string) (number float64, ok bool) {
	i := find(v.Kind(), name)
	if i == 0 {
		return 0, false
	}
	return units[i].number(float64(v)), true
}

// From makes a quantity of number in the named unit. ok is false for a unit that T does not have.
func From[T Scalar](number float64, name string) (v T, ok bool) {
	i := find(v.Kind(), name)
	if i == 0 {
		return 0, false
	}
	return T(units[i].value(number)), true
}

func (u *unit) value(number float64) float64 { return (number + u.shift) * u.factor }
func (u *unit) number(value float64) float64 { return value/u.factor - u.shift }

// kindsOf lists the kinds that have a unit spelt s.
func kindsOf(s string) []Kind {
	var out []Kind
	for k := TemperatureKind; k <= PHKind; k++ {
		if s != "" && find(k, s) != 0 {
			out = append(out, k)
		}
	}
	return out
}
