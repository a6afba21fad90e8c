package reckon

import (
	"cmp"
	"slices"
	"strings"

	"slipleaf/build/quantity"
	"slipleaf/build/spelling"
)

// Lamp is a lamp as its owner knows it: watts with an efficacy, or lumens with a kind. What is absent is assumed, and
// the working says so; a lamp without watts and lumens is refused.
type Lamp struct {
	Name       string
	Power      quantity.Reading[quantity.Power]        // to 2000 W
	Efficacy   quantity.Reading[quantity.Efficacy]     // 0.1 to 3.5 µmol/J
	Output     quantity.Reading[quantity.LuminousFlux] // to 300 000 lm
	Kind       string                                  // one of [LampKinds]; "" for a white led
	Length     quantity.Reading[quantity.Length]       // of what shines; 0.5 to 400 cm
	Width      quantity.Reading[quantity.Length]       // 0.2 to 200 cm
	AboveWater quantity.Reading[quantity.Length]       // 0 to the width of the tank
	Share      quantity.Reading[quantity.Share]        // how far it is turned up; absent: fully
	Hours      float64                                 // a day; 0: not said, so 8
	Along      quantity.Length                         // its centre right of the tank's
	Across     quantity.Length                         // its centre behind the tank's
}

// lampKind is a kind of lamp: lumens in a µmol/s of photons, and the part of them that a fitting throws down.
type lampKind struct {
	name     string
	lumens   float64 // 0: lumens say nothing of its photons
	down     Range[float64]
	spectrum spectrum
	wide     float64        // error of lumens where it is more than for white light; 0: as for white
	refuse   string         // why the kind is not modelled at all; "" when it is
	perWatt  Range[float64] // µmol/J where only watts are known; zero: an LED's
}

var (
	downward  = Range[float64]{1, 1, 1}       // an LED faces down
	reflected = Range[float64]{0.5, 0.8, 0.9} // bare tube to good reflector: common practice
)

// Photons to the watt of lamps that are no LEDs: tubes have 80 to 100 lm/W, halides and sodium 80 to 150, a filament 10 to 20
// (common practice), over their lumens to the µmol/s; the low ends are what fittings of 2014 gave (Nelson & Bugbee 2014).
var (
	tubes     = Range[float64]{0.8, 1.1, 1.35}
	discharge = Range[float64]{0.8, 1.2, 1.7}
	filament  = Range[float64]{0.2, 0.3, 0.4}
)

// How photons fall to blue, green and red: typical figures of such lamps (from memory; the middle of what fixtures and
// tubes of each kind have). Only stained water asks for them.
var (
	coolWhite = spectrum{0.25, 0.46, 0.29}
	midWhite  = spectrum{0.18, 0.44, 0.38}
	warmWhite = spectrum{0.11, 0.39, 0.50}
	threeLEDs = spectrum{0.30, 0.30, 0.40}
	purple    = spectrum{0.20, 0.02, 0.78}
	sodium    = spectrum{0.05, 0.56, 0.39}
)

// lampKinds has the factors of Thimijan & Heins 1983, HortScience 18:818–822 (warm white and incandescent from memory),
// and for white LEDs of Sharakshane 2018, bioRxiv 289280 (as quoted). T5 and T8 tubes are cool white fluorescent ones. An
// RGB LED on white makes about 60 lm to the µmol/s by the eye's sensitivity at 455, 525 and 630 nm (CIE 1924, from
// memory), more or less by how it is mixed.
var lampKinds = [...]lampKind{
	{name: "white led", lumens: 1000.0 / 15, down: downward, spectrum: coolWhite},
	{name: "white led cri 80", lumens: 70, down: downward, spectrum: midWhite},
	{name: "white led cri 90", lumens: 63, down: downward, spectrum: midWhite},
	{name: "rgb led", lumens: 60, down: downward, spectrum: threeLEDs, wide: 0.30},
	{name: "t5", lumens: 74, down: reflected, spectrum: coolWhite, perWatt: tubes},
	{name: "t8", lumens: 74, down: reflected, spectrum: coolWhite, perWatt: tubes},
	{name: "cool white fluorescent", lumens: 74, down: reflected, spectrum: coolWhite, perWatt: tubes},
	{name: "warm white fluorescent", lumens: 76, down: reflected, spectrum: warmWhite, perWatt: tubes},
	{name: "metal halide", lumens: 71, down: reflected, spectrum: coolWhite, perWatt: discharge},
	{name: "ceramic metal halide 4200 k", lumens: 65, down: reflected, spectrum: midWhite, perWatt: discharge},
	{name: "ceramic metal halide 3100 k", lumens: 59, down: reflected, spectrum: warmWhite, perWatt: discharge},
	{name: "high-pressure sodium", lumens: 82, down: reflected, spectrum: sodium, perWatt: discharge},
	{name: "low-pressure sodium", lumens: 9.85 * 10.764, down: reflected, spectrum: spectrum{0, 1, 0}, perWatt: discharge},
	{name: "incandescent", lumens: 50, down: reflected, spectrum: spectrum{0.10, 0.30, 0.60}, perWatt: filament},
	{name: "red-blue led", down: downward, spectrum: purple},
	{name: "led with lens", refuse: "a lens throws its light into a narrow beam; measure it instead"},
	{name: "sunlight", lumens: 54, refuse: "daylight comes from all sides and changes all day; measure it instead"},
}

// error is how far lumens may mislead about photons.
func (k lampKind) error() float64 { return max(k.wide, spectrumError) }

// LampKinds lists the kinds of lamp, the usual one first.
func LampKinds() []string {
	out := make([]string, len(lampKinds))
	for i, k := range lampKinds {
		out[i] = k.name
	}
	return out
}

// kindNamed finds a kind of lamp whatever its case and hyphens; "" is a white led.
func kindNamed(name string) (lampKind, error) {
	plainKind := func(s string) string {
		return strings.Join(strings.FieldsFunc(strings.ToLower(s), func(r rune) bool { return r == ' ' || r == '-' || r == '_' }), " ")
	}
	n := plainKind(name)
	if n == "" {
		return lampKinds[0], nil
	}
	for _, k := range lampKinds {
		if plainKind(k.name) == n {
			return k, nil
		}
	}
	for _, k := range lampKinds { // "RGB", "T5 tube", "LED"
		if bare := bareKind(n); bare == bareKind(plainKind(k.name)) || bare == "" {
			return k, nil
		}
	}
	if strings.Contains(n, "lens") {
		return lampKind{}, &InputError{Kind: NotModelled, Name: "lamp-kind", Value: spelling.Clip(name), Why: "a lens throws its light into a narrow beam; measure it instead"}
	}
	return lampKind{}, &InputError{Kind: Unknown, Name: "lamp-kind", Value: spelling.Clip(name), Hint: DidYouMean(n, LampKinds())}
}

// bareKind is the name of a kind without what may be said or not.
func bareKind(name string) string {
	return strings.Join(slices.DeleteFunc(strings.Fields(name), func(w string) bool {
		return slices.Contains([]string{"led", "leds", "tube", "tubes", "lamp", "lamps", "light", "lights", "bar", "ho", "he"}, w)
	}), " ")
}

var equationPhotons = Equation{"photons-from-lux", "Photon flux from a measured illuminance", "PPFD = lux/k",
	"Thimijan & Heins 1983, HortScience 18:818–822; white LEDs: Sharakshane 2018, bioRxiv 289280 (as quoted)"}

const whyNoLux = "the eye hardly sees red and blue, so lux and lumens say nothing about PAR; give watts with µmol/J, or measure photons"

// Photons turns a measured illuminance (0 to 200 000 lux) under a kind of lamp into photon flux, ±10 % for the
// spectrum (our choice). Red-blue lamps are refused. Thimijan & Heins 1983; Sharakshane 2018.
func Photons(lux quantity.Illuminance, kind string) (Range[quantity.PhotonFlux], Working, error) {
	k, err := kindNamed(kind)
	if err := FirstError(err, Within("lux", lux, 0, 200000, "lux", "full sun is about 100 000 lux")); err != nil {
		return Range[quantity.PhotonFlux]{}, Working{}, err
	}
	if k.lumens == 0 {
		return Range[quantity.PhotonFlux]{}, Working{}, &InputError{Kind: NotModelled, Name: "lux", Value: "under " + k.name, Why: whyNoLux}
	}
	factor := Input{Name: "lux-per-umol", Value: k.lumens}
	if kind == "" {
		factor.Assumed = "the kind of lamp is not given, so a white led"
	}
	v := quantity.PhotonFlux(float64(lux) / k.lumens)
	return Range[quantity.PhotonFlux]{v * (1 - quantity.PhotonFlux(k.error())), v, v * (1 + quantity.PhotonFlux(k.error()))},
		Working{equationPhotons, []Input{Given("lux", lux, "lux"), factor}, Remarks("range: lux tell photons to " + Figure(100*k.error()) + "%, by the spectrum (our choice)")}, nil
}

const spectrumError = 0.10 // of the lumen factor for white light: our choice

// usualEfficacy of a white LED strip, in µmol/J: 100 lm/W (common practice) over 66.7; range from fixtures of 2014 to
// those of today (Nelson & Bugbee 2014, PLoS ONE 9:e99010; Kusuma, Pattison & Bugbee 2020).
var usualEfficacy = Range[float64]{1.0, 1.5, 2.2}

// photons reckons the photons that a lamp throws down, in µmol/s, and adds what it used to the working.
func (l Lamp) photons(w *Working) (Range[float64], error) {
	k, err := kindNamed(l.Kind)
	if err != nil {
		return Range[float64]{}, err
	}
	if k.refuse != "" {
		return Range[float64]{}, &InputError{Kind: NotModelled, Name: "lamp-kind", Value: k.name, Why: k.refuse}
	}
	if err := l.checkLight(k); err != nil {
		return Range[float64]{}, err
	}
	share := 1.0
	if l.Share.Known() {
		share = float64(l.Share.Mid())
		w.Inputs = append(w.Inputs, Given("lamp-share", l.Share.Mid(), "%"))
	}
	phi := l.flux(k, w)
	if k.down.Low != k.down.High {
		w.Inputs = append(w.Inputs, Input{Name: "lamp-down", Value: k.down.Best, Assumed: "part thrown down by a fitting with reflector, 0.5 for a bare tube, common practice"})
	}
	return Range[float64]{phi.Low * k.down.Low * share, phi.Best * k.down.Best * share, phi.High * k.down.High * share}, nil
}

// flux is the photons in all directions: watts × efficacy where both are known, else lumens, else watts alone.
func (l Lamp) flux(k lampKind, w *Working) Range[float64] {
	power, lumens := float64(l.Power.Mid()), float64(l.Output.Mid())
	switch {
	case l.Power.Known() && l.Efficacy.Known():
		w.Inputs = append(w.Inputs, Given("lamp-power", l.Power.Mid(), "W"), Given("lamp-efficacy", l.Efficacy.Mid(), "umol/J"))
		return Range[float64]{power * float64(l.Efficacy.Low()), power * float64(l.Efficacy.Mid()), power * float64(l.Efficacy.High())}
	case l.Output.Known():
		in := Input{Name: "lamp-lumens-per-umol", Value: k.lumens}
		if l.Kind == "" {
			in.Assumed = "the kind is not given, so a white led"
		}
		w.Inputs = append(w.Inputs, Given("lamp-output", l.Output.Mid(), "lm"), in)
		w.note(Note{Key: "lumens", Text: "range: lumens tell photons to " + Figure(100*k.error()) + "%, by the spectrum (our choice)", Figure: Figure(100 * k.error())})
		v := lumens / k.lumens
		return Range[float64]{v * (1 - k.error()), v, v * (1 + k.error())}
	}
	w.note(Note{Key: "efficacy", Text: "range: the efficacy of the lamp is not known"})
	usual := cmp.Or(k.perWatt, usualEfficacy)
	w.Inputs = append(w.Inputs, Given("lamp-power", l.Power.Mid(), "W"), assumed("lamp-efficacy", quantity.Efficacy(usual.Best), "umol/J",
		"not given; "+Figure(usual.Low)+" to "+Figure(usual.High)+" for "+k.name))
	return usual.Scale(power)
}

func (l Lamp) checkLight(k lampKind) error {
	if !l.Power.Known() && !l.Output.Known() {
		return &InputError{Kind: Missing, Name: "lamp-power", Why: "or lamp-output: without either nothing is known of the lamp"}
	}
	err := FirstError(
		WithinIfKnown("lamp-power", l.Power, 0, 2000, "W", "expected a lamp over an aquarium"),
		WithinIfKnown("lamp-efficacy", l.Efficacy, 0.1, 3.5, "umol/J", "white and red lamps reach 3.4 at best (Kusuma, Pattison & Bugbee 2020)"),
		WithinIfKnown("lamp-output", l.Output, 0, 300000, "lm", "expected a lamp over an aquarium"),
		WithinIfKnown("lamp-share", l.Share, 0, 1, "%", "how far the lamp is turned up"))
	if err != nil {
		return err
	}
	if k.lumens == 0 && !(l.Power.Known() && l.Efficacy.Known()) {
		return &InputError{Kind: NotModelled, Name: "lamp-kind", Value: k.name, Why: whyNoLux}
	}
	if l.Power.Known() && l.Efficacy.Known() && l.Output.Known() && k.lumens > 0 {
		byPower, byLumens := float64(l.Power.Mid()*quantity.Power(l.Efficacy.Mid())), float64(l.Output.Mid())/k.lumens
		if byPower > 2*byLumens || byLumens > 2*byPower {
			return &InputError{Kind: Contradictory, Name: "lamp-output", Value: Figure(float64(l.Output.Mid())) + " lm",
				Why: "watts and efficacy make " + Figure(byPower) + " µmol/s, the lumens " + Figure(byLumens)}
		}
	}
	return nil
}

// withinIfKnown is [within] for both ends of a reading; an absent one passes.
func WithinIfKnown[T quantity.Scalar](name string, r quantity.Reading[T], low, high T, unit, why string) error {
	if !r.Known() {
		return nil
	}
	return FirstError(Within(name, r.Low(), low, high, unit, why), Within(name, r.High(), low, high, unit, why))
}
