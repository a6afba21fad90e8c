package reckon

import "math"

// Clarity says how much light a water takes. The zero Clarity is a clear tank.
type Clarity struct {
	name string
	kd   float64 // 1/m, mean from the surface to depths up to 0.6 m; 0: by the spectrum alone
	g440 float64 // 1/m, absorption of the stain at 440 nm
	only bool    // kd holds at any depth
}

// clarities are classes by the stain at 440 nm (the classes are our choice). kd is the coefficient that the spectrum
// gives from 0 to 0.4 m, which in the clear classes is good to a few percent at the depths of tanks; in stained water
// it falls with depth and goes by the lamp, so there the lamp's spectrum is summed at each depth.
var clarities = [...]Clarity{
	{name: "clear", kd: 0.40, g440: 0.5},
	{name: "pure", kd: 0.17},
	{name: "very-clear", kd: 0.27, g440: 0.2},
	{name: "faint-yellow", g440: 1},
	{name: "tea-coloured", g440: 2},
	{name: "strong-tannin", g440: 5},
	{name: "blackwater", g440: 10},
}

// ClarityNames lists the classes of water, the usual one first.
func ClarityNames() []string {
	out := make([]string, len(clarities))
	for i, c := range clarities {
		out[i] = c.name
	}
	return out
}

// ClarityNamed gives the class of that name; "" is a clear tank.
func ClarityNamed(name string) (Clarity, error) {
	i, err := Chosen("water", name, ClarityNames())
	return clarities[i], err
}

// Name is the name of the class.
func (c Clarity) Name() string { return c.or().name }

func (c Clarity) or() Clarity {
	if c.name == "" {
		return clarities[0]
	}
	return c
}

// passes is the part of a lamp's photons under the surface that is left at a depth in cm: Beer–Lambert, on a mean path of
// slant times the depth; 1 is straight down, the shortest of all.
func (c Clarity) passes(depth float64, lamp spectrum, slant float64) float64 {
	const even = 0.6 // m down to which one coefficient is good
	c, z := c.or(), depth/100
	mean := meanPath(refraction)
	once := math.Exp(-c.kd * slant / mean * min(z, even))
	switch {
	case c.only:
		return math.Exp(-c.kd * slant / mean * z)
	case c.kd > 0 && z <= even:
		return once
	case c.kd > 0:
		return once * spectrumPasses(lamp, z, c.g440, slant) / spectrumPasses(lamp, even, c.g440, slant)
	}
	return spectrumPasses(lamp, z, c.g440, slant)
}

const (
	refraction = 1.333  // of water
	stainSlope = 0.0171 // 1/nm in fresh water: Markager & Vincent 2000, Limnol. Oceanogr. 45:642
)

// meanPath is the mean path over depth of a diffuse light that entered water of refraction n: the integral of Snell's
// law over the hemisphere, 2n²(1 − √(1 − 1/n²)).
func meanPath(n float64) float64 { return 2 * n * n * (1 - math.Sqrt(1-1/(n*n))) }

// pureWater is the absorption of pure water in 1/m from 400 to 700 nm by 10 nm: Pope & Fry 1997, Appl. Opt. 36:8710–8723.
var pureWater = [31]float64{
	0.00663, 0.00473, 0.00454, 0.00495, 0.00635, 0.00922, 0.00979, 0.0106,
	0.0127, 0.015, 0.0204, 0.0325, 0.0409, 0.0434, 0.0474, 0.0565,
	0.0619, 0.0695, 0.0896, 0.1351, 0.2224, 0.2644, 0.2755, 0.2916,
	0.3108, 0.34, 0.41, 0.439, 0.465, 0.516, 0.624,
}

// spectrum is how a lamp's photons fall to 400–500, 500–600 and 600–700 nm, each band taken as even.
type spectrum [3]float64

var flat = spectrum{1, 1, 1}

// at is the weight at 400 + 10 i nm.
func (s spectrum) at(i int) float64 {
	switch {
	case i%10 == 0 && i > 0 && i < 30: // where two bands meet
		return (s[i/10-1] + s[i/10]) / 2
	}
	return s[min(i/10, 2)]
}

// spectrumPasses is the part of a lamp's photons from 400 to 700 nm that is left at z metres, along path × z, in water with a stain of g440 per metre: the absorption of Pope & Fry 1997 with g440 exp(−S(λ − 440)), after Bricaud,
// Morel & Prieur 1981. Trapezoids of 10 nm.
func spectrumPasses(lamp spectrum, z, g440, path float64) float64 {
	sum, all := 0.0, 0.0
	for i, a := range pureWater {
		weight := lamp.at(i)
		if i == 0 || i == len(pureWater)-1 {
			weight /= 2
		}
		all += weight
		stain := 0.0
		if g440 > 0 {
			stain = g440 * math.Exp(-stainSlope*float64(10*i-40))
		}
		sum += weight * math.Exp(-path*z*(a+stain))
	}
	return sum / all
}
