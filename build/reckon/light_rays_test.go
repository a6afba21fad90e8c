package reckon

import (
	"math"
	"math/rand/v2"
	"testing"

	"slipleaf/build/quantity"
)

// Rays from a Lambertian lamp through the surface (Snell, Fresnel) and between walls that send everything back, as bare
// glass does to nearly all of them by total reflection: no set of rays may bring more to the bottom than the upper
// bound, nor less than the lower one without the walls. The best value lies between.
func TestRaysStayWithinTheBounds(t *testing.T) {
	for _, c := range []struct {
		name                  string
		length, width, depth  float64
		lampLength, lampWidth float64
		gap                   float64
	}{
		{"a usual tank", 60, 30, 30, 55, 5, 10}, {"a lamp close to deep water", 40, 25, 45, 30, 5, 3}, {"a wide shallow tank", 100, 50, 20, 90, 20, 15},
		{"a cube with a short lamp", 30, 30, 30, 10, 10, 8}, {"a high lamp", 60, 30, 25, 40, 10, 28},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := demoLight(0.4)
			s.Length, s.Width, s.WaterDepth = quantity.Length(c.length), quantity.Length(c.width), quantity.Length(c.depth)
			s.Lamps[0].Length, s.Lamps[0].Width, s.Lamps[0].AboveWater = quantity.Of(quantity.Length(c.lampLength)), quantity.Of(quantity.Length(c.lampWidth)), quantity.Of(quantity.Length(c.gap))
			m, err := s.Model()
			if err != nil {
				t.Fatal(err)
			}
			b := m.bounds(c.depth)
			all, straight := rays(c.length, c.width, c.depth, c.lampLength, c.lampWidth, c.gap, 0.4/meanPath(refraction))
			scale := 20 * 1.6 * dirt / m.floorM2()
			if got := all * scale; got > b.most.Best*1.003 || got < b.guide.Best*0.98 {
				t.Errorf("with walls that give all back %.1f, the bound is %.1f and the guide %.1f", got, b.most.Best, b.guide.Best)
			}
			if got := straight * scale; got < b.open.Best*0.97 {
				t.Errorf("without walls %.1f, the bound is %.1f", got, b.open.Best)
			}
			if best := float64(m.Bottom().Mean.Best); best < straight*scale*0.9 || best > all*scale {
				t.Errorf("the best value %.1f lies outside of %.1f to %.1f", best, straight*scale, all*scale)
			}
		})
	}
}

// rays is the share of a lamp's photons that reaches the bottom, walls giving all back, and without them.
func rays(length, width, depth, lampLength, lampWidth, gap, a float64) (all, straight float64) {
	const n = 200_000
	r := rand.New(rand.NewPCG(26, 11))
	for range n {
		x, y := (r.Float64()-0.5)*lampLength, (r.Float64()-0.5)*lampWidth
		sin2, turn := r.Float64(), 2*math.Pi*r.Float64() // Lambert: the square of the sine is even
		tan := math.Sqrt(sin2 / (1 - sin2))
		x, y = x+gap*tan*math.Cos(turn), y+gap*tan*math.Sin(turn)
		if math.Abs(x) > length/2 || math.Abs(y) > width/2 {
			continue
		}
		c, ct := math.Sqrt(1-sin2), math.Sqrt(1-sin2/(refraction*refraction))
		rs, rp := (c-refraction*ct)/(c+refraction*ct), (ct-refraction*c)/(ct+refraction*c)
		left := (1 - (rs*rs+rp*rp)/2) * math.Exp(-a*depth/100/ct)
		all += left / n
		down := depth * math.Sqrt(sin2) / refraction / ct
		if math.Abs(x+down*math.Cos(turn)) <= length/2 && math.Abs(y+down*math.Sin(turn)) <= width/2 {
			straight += left / n
		}
	}
	return all, straight
}

// What stained water takes goes by the lamp: warm light passes it better than cool, since it is the blue that is taken
// first. The share lies between those of its bands.
func TestStainedWaterGoesByTheLamp(t *testing.T) {
	for _, name := range []string{"faint-yellow", "tea-coloured", "strong-tannin", "blackwater"} {
		w, err := ClarityNamed(name)
		if err != nil {
			t.Fatal(err)
		}
		cool, warm := w.passes(40, coolWhite, meanPath(refraction)), w.passes(40, warmWhite, meanPath(refraction))
		blue := w.passes(40, spectrum{1, 0, 0}, meanPath(refraction))
		if !(blue < cool && cool < warm && warm < 1) {
			t.Errorf("%s: blue %.3f, cool %.3f, warm %.3f", name, blue, cool, warm)
		}
	}
}

func TestTubesAndRGBAreKnown(t *testing.T) {
	for _, kind := range []string{"T5", "T8", "RGB LED"} {
		if _, err := kindNamed(kind); err != nil {
			t.Errorf("%s: %v", kind, err)
		}
	}
	p, _, err := Photons(6000, "rgb led")
	if err != nil || math.Abs(float64(p.Best)-100) > 1e-9 || p.Low > 71 {
		t.Errorf("%v, %v", p, err)
	}
}
