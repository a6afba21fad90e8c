package reckon

import (
	"fmt"
	"math"
	"strconv"
	"testing"

	"slipleaf/build/quantity"
)

// demoLight is the setting of rows L10 to L25: 20 W at 1.6 µmol/J, lamp 0.55 × 0.05 m, tank 0.60 × 0.30 m, gap 0.10 m, 0.30 m
// of water with a Kd of 0.4, no cover.
func demoLight(kd float64) LightSetting {
	return LightSetting{Length: 60, Width: 30, WaterDepth: 30, Water: Clarity{name: "measured", kd: kd, only: true}, Lamps: []Lamp{{
		Power: quantity.Of(quantity.Power(20)), Efficacy: quantity.Of(quantity.Efficacy(1.6)),
		Length: quantity.Of(quantity.Length(55)), Width: quantity.Of(quantity.Length(5)), AboveWater: quantity.Of(quantity.Length(10)), Hours: 8}}}
}

func bottomOf(s LightSetting) (LightAt, error) {
	m, err := s.Model()
	if err != nil {
		return LightAt{}, err
	}
	return m.Bottom(), nil
}

// guideOf is the model of walls that give all back, which the rows call the guide.
func guideOf(s LightSetting) (float64, error) {
	m, err := s.Model()
	if err != nil {
		return 0, err
	}
	return m.bounds(30).guide.Best, nil
}

// plates is the view factor of two equal opposed rectangles of a row; lengths in metres there, in cm here.
func plates(r row) float64 {
	a, b, c := 100*r.f("a"), 100*r.f("b"), 100*r.f("c")
	return plateFactor(a, b, a, b, c, 0, 0)
}

func onWater(above, across float64) (float64, error) {
	s := demoLight(0.4)
	s.Lamps[0].AboveWater, s.Lamps[0].Across = quantity.Of(quantity.Length(above)), quantity.Length(across)
	m, err := s.Model()
	if err != nil {
		return 0, err
	}
	return float64(m.OnWater().Best), nil
}

func directAt(y float64) (float64, error) {
	m, err := demoLight(0.4).Model()
	if err != nil {
		return 0, err
	}
	return m.direct(30, 0, y), nil
}

var lightChecks = map[string]func(row) (float64, error){
	"L01": func(r row) (float64, error) { p, _, err := Photons(10800, "sunlight"); return float64(p.Best), err },
	"L02": func(r row) (float64, error) {
		p, _, err := Photons(5000, "cool white fluorescent")
		return float64(p.Best), err
	},
	"L03": func(r row) (float64, error) { p, _, err := Photons(5000, "white LED"); return float64(p.Best), err },
	"L04": func(r row) (float64, error) {
		d, err := DLI(quantity.PhotonFlux(r.f("ppfd")), r.f("hours"))
		return float64(d), err
	},
	"L05": func(r row) (float64, error) { // the inverse of L04
		d, err := DLI(1, r.f("hours"))
		return r.f("dli") / float64(d), err
	},
	"L06": func(r row) (float64, error) { return plates(r), nil },
	"L07": func(r row) (float64, error) { return plates(r), nil },
	"L08": func(r row) (float64, error) { return plates(r), nil },
	"L09": func(r row) (float64, error) { return cornerFactor(r.f("X"), r.f("Y")), nil },
	"L10": func(row) (float64, error) { return onWater(10, 0) },
	"L11": func(row) (float64, error) { return onWater(30, 0) },
	"L12": func(row) (float64, error) { return onWater(10, 8) },
	"L13": func(row) (float64, error) { return guideOf(demoLight(0.4)) },
	"L14": func(r row) (float64, error) {
		s := demoLight(0.4)
		s.Cover = quantity.Of(quantity.Share(0.9))
		s.Lamps[0].Power, s.Lamps[0].Efficacy = quantity.Reading[quantity.Power]{}, quantity.Reading[quantity.Efficacy]{}
		s.Lamps[0].Output, s.Lamps[0].Kind = quantity.Of(quantity.LuminousFlux(r.f("lumens")*lampKinds[0].lumens/r.f("lux_per_umol"))), "white led"
		return guideOf(s)
	},
	"L15": func(row) (float64, error) { return guideOf(demoLight(1.6)) },
	"L16": func(row) (float64, error) { return directAt(0) },
	"L17": func(row) (float64, error) { return directAt(10) },
	"L18": func(row) (float64, error) { return spectrumPasses(flat, 0.40, 0, 1), nil },
	"L19": func(row) (float64, error) {
		return -math.Log(spectrumPasses(flat, 0.40, 0, meanPath(refraction))) / 0.40, nil
	},
	"L20": func(row) (float64, error) {
		return -math.Log(spectrumPasses(flat, 0.40, 5, meanPath(refraction))) / 0.40, nil
	},
	"L21": func(row) (float64, error) { return meanPath(refraction), nil },
	"L22": func(row) (float64, error) { return diffuseReflection(refraction), nil },
	"L23": func(row) (float64, error) { a, err := bottomOf(demoLight(0.4)); return float64(a.Mean.Low), err },
	"L24": func(row) (float64, error) { a, err := bottomOf(demoLight(0.4)); return float64(a.Mean.Best), err },
	"L25": func(row) (float64, error) { a, err := bottomOf(demoLight(0.4)); return float64(a.DLI.Best), err },
}

// diffuseReflection sums Fresnel's equations over the hemisphere by the midpoint rule in sin².
func diffuseReflection(n float64) float64 {
	const steps = 200000
	sum := 0.0
	for i := range steps {
		s2 := (float64(i) + 0.5) / steps
		c, ct := math.Sqrt(1-s2), math.Sqrt(1-s2/(n*n))
		rs, rp := (c-n*ct)/(c+n*ct), (ct-n*c)/(ct+n*c)
		sum += (rs*rs + rp*rp) / 2 / steps
	}
	return sum
}

func TestLightAgainstReference(t *testing.T) {
	checkRows(t, "light.csv", func(r row) (float64, error) {
		if f, ok := lightChecks[r.id]; ok {
			return f(r)
		}
		return 0, fmt.Errorf("no check for %s", r.id)
	})
}

// The loss at the surface that the model uses is the computed one, rounded; so is that straight down.
func TestSurfaceLossIsFresnels(t *testing.T) {
	if got := diffuseReflection(refraction); math.Abs(got-diffuseLoss) > 0.0005 {
		t.Errorf("diffuse loss %g, used %g", got, diffuseLoss)
	}
	if got := math.Pow((refraction-1)/(refraction+1), 2); math.Abs(got-normalLoss) > 0.0005 {
		t.Errorf("loss straight down %g, used %g", got, normalLoss)
	}
}

func TestPureWaterIsPopeAndFrys(t *testing.T) {
	rows := readCSV(t, "datasets/pope_fry_1997.csv")
	if len(rows) != len(pureWater) {
		t.Fatalf("%d rows, %d values", len(rows), len(pureWater))
	}
	for i, r := range rows {
		if nm := strconv.Itoa(400 + 10*i); r["wavelength_nm"] != nm || r["absorption_per_m"] != strconv.FormatFloat(pureWater[i], 'f', -1, 64) {
			t.Errorf("%s nm: %s, here %g", r["wavelength_nm"], r["absorption_per_m"], pureWater[i])
		}
	}
}

// The coefficient of each clear class is what the spectrum gives from the surface to 0.4 m, rounded.
func TestClassesOfWaterFollowTheSpectrum(t *testing.T) {
	for _, c := range clarities {
		if c.kd == 0 {
			continue
		}
		if kd := -math.Log(spectrumPasses(flat, 0.4, c.g440, meanPath(refraction))) / 0.4; math.Abs(kd-c.kd) > 0.0051 {
			t.Errorf("%s: spectrum %g, class %g", c.name, kd, c.kd)
		}
	}
}

// Limits of view factors: a lamp on the water, an endless plate, a far lamp, and the point rule as a tiny plate.
func TestViewFactorsInTheirLimits(t *testing.T) {
	near := func(name string, got, want, tolerance float64) {
		if math.Abs(got-want) > tolerance {
			t.Errorf("%s: %g, want %g", name, got, want)
		}
	}
	near("a lamp on the water", plateFactor(50, 5, 60, 30, 0, 0, 0), 1, 0)
	near("a lamp half over the water", plateFactor(50, 5, 60, 30, 0, 30, 0), 0.5, 1e-12)
	near("an endless plate", plateFactor(1, 1, 1e4, 1e4, 10, 0, 0), 1, 1e-5)
	near("a far small plate by cos²/πr²", plateFactor(1, 1, 1, 1, 300, 0, 0), 1/(math.Pi*300*300), 1e-9)
	near("a point before an endless plate", pointFactor(0, 0, 1e6, 1e6, 1), 1, 1e-5)
	near("a point outside and beside", pointFactor(60, 0, 100, 100, 1e-3), 0, 1e-6)
	near("a point as a tiny plate", plateFactor(0.01, 0.01, 55, 5, 20, 3, 4), pointFactor(3, 4, 55, 5, 20), 1e-4)
	a, b := plateFactor(55, 5, 60, 30, 10, 4, 2)*55*5, plateFactor(60, 30, 55, 5, 10, -4, -2)*60*30
	near("reciprocity A₁F₁₂ = A₂F₂₁", a, b, 1e-9)
}
