package reckon

import (
	"encoding/csv"
	"errors"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"slipleaf/build/quantity"
)

// Against a printed table and another library's own fit, whose sources stand in the file.
func TestOxygenAgainstTables(t *testing.T) {
	f, err := os.Open("../../testdata/reference/oxygen.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil || len(rows) < 9 {
		t.Fatal(len(rows), err)
	}
	for _, row := range rows[1:] {
		v := [3]float64{}
		for i := range v {
			if v[i], err = strconv.ParseFloat(row[i], 64); err != nil {
				t.Fatal(err)
			}
		}
		temp := quantity.Temperature(v[0])
		got, err := OxygenAt(temp, 0)
		rho, err2 := WaterDensity(temp)
		if err := FirstError(err, err2); err != nil {
			t.Fatal(err)
		}
		if math.Abs(float64(got.Saturation)-v[1]) > 0.002 {
			t.Errorf("%v °C: %.3f, the table has %v", v[0], float64(got.Saturation), v[1])
		}
		if gsw := v[2] * 31.9988e-6 * rho; !near(float64(got.Saturation), gsw, 0.001) {
			t.Errorf("%v °C: %.4f, the library has %.4f", v[0], float64(got.Saturation), gsw)
		}
	}
}

// weiss is the older equation of Weiss 1970, Deep-Sea Res. 17:721–735, table 4 (fresh water, moist air at 1 atm), in mL/L of
// gas at 0 °C, times 1.42905 mg/mL; its coefficients from memory.
func weiss(t quantity.Temperature) float64 {
	k := (float64(t) + 273.15) / 100
	return 1.42905 * math.Exp(-173.4292+249.6339/k+143.3483*math.Log(k)-21.8492*k)
}

func TestOxygenAgainstWeiss(t *testing.T) {
	for c := quantity.Temperature(0); c <= 36; c += 4 {
		got, err := OxygenAt(c, 0)
		if err != nil || !near(float64(got.Saturation), weiss(c), 0.006) {
			t.Errorf("%v °C: %.3f and %.3f, %v", c, float64(got.Saturation), weiss(c), err)
		}
	}
}

// Air that is thinner by a share holds less by a little more than that, since the vapour of water keeps its own pressure.
func TestOxygenInTheMountains(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := quantity.Temperature(rapid.Float64Range(0, 40).Draw(t, "t"))
		high := quantity.Length(rapid.Float64Range(100, highestPlace).Draw(t, "cm"))
		low, err := OxygenAt(c, 0)
		up, err2 := OxygenAt(c, high)
		if err := FirstError(err, err2); err != nil {
			t.Fatal(err)
		}
		share := float64(up.Saturation / low.Saturation)
		if share >= up.Pressure+1e-3 || share < up.Pressure-0.06 {
			t.Fatalf("at %v and %.3f atm: %.4f", c, up.Pressure, share)
		}
	})
}

// The closed form of a night against steps of a second, and its ends in their order; nothing that breathes leaves
// saturation as it is.
func TestNightAgainstSmallSteps(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := Night{Temperature: quantity.Temperature(rapid.Float64Range(15, 30).Draw(t, "t")), Volume: quantity.Volume(rapid.Float64Range(20, 400).Draw(t, "volume")),
			Surface: quantity.Area(rapid.Float64Range(10, 80).Draw(t, "dm2")) * 100 * quantity.SquareCM, Hours: rapid.Float64Range(1, 16).Draw(t, "hours"),
			Plants: quantity.Mass(rapid.Float64Range(0, 2000).Draw(t, "plants")), Fish: quantity.Mass(rapid.Float64Range(0, 100).Draw(t, "fish")),
			Exchange: rapid.SampledFrom(Exchanges()).Draw(t, "exchange")}
		r, err := n.Dawn()
		air, err2 := OxygenAt(n.Temperature, 0)
		if err := FirstError(err, err2); err != nil {
			t.Fatal(err)
		}
		if r.Dawn.Low > r.Dawn.Best || r.Dawn.Best > r.Dawn.High || r.Dawn.High > air.Saturation+1e-9 {
			t.Fatalf("%+v of %v", r.Dawn, air.Saturation)
		}
		i, _ := Chosen("exchange", n.Exchange, Exchanges())
		v := exchanges[i].velocity
		floor, litres := float64(n.Surface/quantity.SquareCM)/1e4, float64(n.Volume)
		breath := math.Pow(2, (float64(n.Temperature)-20)/10) * (plantBreath.Best*float64(n.Plants) + fishBreath.Best*float64(n.Fish) + soilBreath.Best*floor)
		c := float64(air.Saturation)
		const step = 1.0 / 3600
		for range int(n.Hours / step) {
			c += step * (v.Best/24*floor*1000*(float64(air.Saturation)-c) - breath) / litres
		}
		if math.Abs(math.Max(c, 0)-float64(r.Dawn.Best)) > 0.01 {
			t.Fatalf("%.4f by steps, %.4f", c, float64(r.Dawn.Best))
		}
	})
}

// log Ksp of calcite at 25 °C is −8.480 (Plummer & Busenberg 1982), pH and alkalinity of lime water open to the air about
// 8.3 and 1 meq/L (Stumm & Morgan 1996, Aquatic Chemistry, ch. 4; for 316 ppm of CO2, from memory; today's air gives a tenth more).
func TestCalciteOfTheTextbook(t *testing.T) {
	if k := logK(calcite, 25); math.Abs(k+8.480) > 0.001 {
		t.Errorf("log Ksp %.4f", k)
	}
	kh, err := LimeInAir(25)
	if err != nil || kh < 0.95 || kh > 1.15 {
		t.Fatal(kh, err)
	}
	s, err := Calcite(Carbonate{KH: quantity.Of(kh), Temperature: 25}, 8.25, quantity.Hardness(kh/2), quantity.Of(quantity.Concentration(float64(kh)/2*arCa)))
	if err != nil || s.PH < 8.1 || s.PH > 8.4 {
		t.Fatalf("%+v, %v", s, err)
	}
	if c, err := DissolvedCO2(Carbonate{KH: quantity.Of(kh), Temperature: 25}, quantity.Of(s.PH)); err != nil || !near(float64(c.CO2.Best), float64(airBalance(25)), 0.05) {
		t.Errorf("lime in balance with air holds %v of CO2, air %v (%v)", c.CO2.Best, airBalance(25), err)
	}
}

// The worked example that handbooks give for Langelier's index in its short form pHs = 9.3 + A + B − C − D (pH 7.5, 320
// mg/L of solids, calcium 150 and alkalinity 34 mg/L as CaCO3, 25 °C: pHs 8.2, index −0.7; from memory). The short form
// is good to about 0.2.
func TestCalciteAgainstLangelier(t *testing.T) {
	w := Carbonate{KH: quantity.Of(34 * ppmAlkalinity), Temperature: 25, Minerals: Minerals{Conductivity: quantity.Of(quantity.Conductivity(500))}}
	s, err := Calcite(w, 7.5, 150*ppmHardness, quantity.Of(quantity.Concentration(150*arCa/quantity.MolarMassCaCO3)))
	if err != nil || math.Abs(s.Index.Best+0.7) > 0.2 || math.Abs(float64(s.PH)-8.2) > 0.2 {
		t.Errorf("%+v, %v", s, err)
	}
	if s.Means() != LimeDissolves {
		t.Error(s.Means())
	}
}

func TestScaleRisesWithEach(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		kh := quantity.Alkalinity(rapid.Float64Range(1, 15).Draw(t, "kh")) * quantity.DKH
		gh := quantity.Hardness(rapid.Float64Range(1, 20).Draw(t, "gh")) * quantity.DGH
		ph := quantity.PH(rapid.Float64Range(5.5, 9).Draw(t, "ph"))
		w := Carbonate{KH: quantity.Of(kh), Temperature: 25, Minerals: minerals(0.005)}
		a, err := Calcite(w, ph, gh, quantity.Reading[quantity.Concentration]{})
		b, err2 := Calcite(w, ph+0.3, gh, quantity.Reading[quantity.Concentration]{})
		if err := FirstError(err, err2); err != nil {
			t.Fatal(err)
		}
		if !(a.Index.Low < a.Index.Best && a.Index.Best < a.Index.High && a.Index.Best < b.Index.Best) || math.Abs(float64(a.PH-b.PH)) > 1e-4 {
			t.Fatalf("%+v, then %+v", a, b)
		}
	})
}

// Molar masses alone (IUPAC 2021): a gram of N comes in 7.218 g of KNO3, a gram of P in 4.394 g of KH2PO4, a gram of K in
// 2.229 g of K2SO4.
func TestWhatTrimsTakeOut(t *testing.T) {
	u, err := TakenOut(100)
	if err != nil || !near(float64(u.Nitrogen.Low), 100*0.05*0.013, 1e-9) || !near(float64(u.Phosphorus.Low), 100*0.05*0.0013, 1e-9) {
		t.Fatalf("%+v, %v", u, err)
	}
	r := Uptake{Nitrogen: exactly(quantity.Mass(1)), Phosphorus: exactly(quantity.Mass(1)), Potassium: exactly(quantity.Mass(10))}.Replace()
	left := 10 - arK/arN - arK/arP
	for name, c := range map[string]struct {
		got  quantity.Mass
		want float64
	}{"nitrate": {r.Nitrate.Best, 7.218}, "phosphate": {r.Phosphate.Best, 4.394}, "sulfate": {r.Sulfate.Best, 2.229 * left}} {
		if !near(float64(c.got), c.want, 5e-4) {
			t.Errorf("%s: %v, want %v", name, c.got, c.want)
		}
	}
	if r := (Uptake{Nitrogen: exactly(quantity.Mass(1))}).Replace(); r.Sulfate.Best != 0 {
		t.Errorf("potassium that comes with the nitrate is given twice: %v", r.Sulfate)
	}
	for _, n := range []quantity.Mass{u.Nitrogen.Low, u.Nitrogen.Best, u.Nitrogen.High} { // no dose of the range lacks its potassium
		for _, k := range []quantity.Mass{u.Potassium.Low, u.Potassium.Best, u.Potassium.High} {
			one := Uptake{Nitrogen: Range[quantity.Mass]{n, n, n}, Phosphorus: u.Phosphorus, Potassium: Range[quantity.Mass]{k, k, k}}.Replace()
			if b := u.Replace(); one.Sulfate.Best < b.Sulfate.Low-1e-9 || one.Sulfate.Best > b.Sulfate.High+1e-9 {
				t.Errorf("%g of nitrogen, %g of potassium: %g of potassium sulfate, outside %+v", n, k, one.Sulfate.Best, b.Sulfate)
			}
		}
	}
}

// A foam box of 30 × 20 × 15 cm with 3 cm of wall and half a kilogram inside: worked by hand, τ = 500 g × 4.18 J/g/K ×
// (0.034 m/0.036 W/m/K + 1/7 m²K/W)/0.27 m² = 8412 s = 2.34 h.
func TestParcelCools(t *testing.T) {
	p := Package{Mass: 500, Length: 30, Width: 20, Height: 15, Wall: 3, Start: 22, Outside: 2, Hours: 48, Keeps: 10}
	j, err := p.Travel()
	if err != nil || !near(j.TimeScale.Best, 2.337, 0.002) {
		t.Fatalf("%+v, %v", j.TimeScale, err)
	}
	if want := 2 + 20*math.Exp(-1/j.TimeScale.Best); !near(float64(j.ByHour[0].Best), want, 1e-9) {
		t.Errorf("after an hour %v, want %v", j.ByHour[0].Best, want)
	}
	p.Outside, p.Start, p.Hours = 20, 20, 24
	if j, err = p.Travel(); err != nil || !near(j.Used.Best, 0.1, 1e-9) || !near(j.Used.High, 0.1, 1e-9) {
		t.Errorf("a day of ten at 20 °C uses %+v, %v", j.Used, err)
	}
	p.Outside, p.Start = 30, 30
	if j, err = p.Travel(); err != nil || !near(j.Used.Best, 0.2, 1e-9) || !near(j.Used.Low, 0.18, 1e-9) || !near(j.Used.High, 0.25, 1e-9) {
		t.Errorf("a day of ten at 30 °C uses %+v, %v", j.Used, err)
	}
}

// However it is packed, a parcel comes nearer to the air around it with every hour and never passes it.
func TestParcelNeverPassesTheAir(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := Package{Mass: quantity.Mass(rapid.Float64Range(10, 5000).Draw(t, "g")), Length: quantity.Length(rapid.Float64Range(5, 60).Draw(t, "l")), Width: quantity.Length(rapid.Float64Range(5, 60).Draw(t, "w")), Height: quantity.Length(rapid.Float64Range(2, 40).Draw(t, "h")),
			Wall: quantity.Length(rapid.Float64Range(0, 5).Draw(t, "wall")), Start: quantity.Temperature(rapid.Float64Range(15, 30).Draw(t, "start")),
			Outside: quantity.Temperature(rapid.Float64Range(-15, 40).Draw(t, "outside")), Hours: rapid.IntRange(1, 72).Draw(t, "hours"), Keeps: 7}
		j, err := p.Travel()
		if err != nil || len(j.ByHour) != p.Hours {
			t.Fatal(len(j.ByHour), err)
		}
		gap := math.Abs(float64(p.Start - p.Outside))
		for _, e := range j.ByHour {
			now := math.Abs(float64(e.Best - p.Outside))
			if now > gap+1e-9 || float64(e.Best-p.Outside)*float64(p.Start-p.Outside) < -1e-9 {
				t.Fatalf("%+v", e)
			}
			gap = now
		}
		if j.Used.Low > j.Used.Best || j.Used.Best > j.Used.High || j.Used.Low < 0 {
			t.Fatalf("%+v", j.Used)
		}
	})
}

// What is in the note on calcium carbonate is what the equilibrium gives.
func TestLimeNoteIsTheEquilibrium(t *testing.T) {
	lime, err := FindSalt("calcium-carbonate")
	if err != nil || !strings.Contains(lime.Note, "about 3 dKH") {
		t.Fatal(lime.Note, err)
	}
	for _, c := range []quantity.Temperature{20, 25, 28} {
		kh, err := LimeInAir(c)
		if n := float64(kh / quantity.DKH); err != nil || n < 2.5 || n > 3.5 {
			t.Errorf("%v °C: %.2f dKH, %v", c, n, err)
		}
	}
}

// A hint is for a slip of the pen. It never turns one substance into another, which could poison a tank.
func TestHintsOfferNoOtherSubstance(t *testing.T) {
	for name, offers := range map[string]string{
		"copper sulfate": "", "sodium nitrate": "", "potassium permanganate": "", "zinc sulfate heptahydrate": "", "ammonium chloride": "", "copper-chloride-dihydrate": "",
		"potasium sulphate": "did you mean", "gypsun": "did you mean gypsum?", "magnesium sulfat heptahydrate": "did you mean", "calcium chloride dihydrat": "did you mean",
	} {
		_, err := FindSalt(name)
		var e *InputError
		if !errors.As(err, &e) {
			t.Fatalf("%s: %v", name, err)
		}
		if offered := strings.HasPrefix(e.Hint, "did you mean"); offered != (offers != "") || !strings.HasPrefix(e.Hint, offers) {
			t.Errorf("%s: %s", name, e.Hint)
		}
	}
}

// Water cannot hold more than pure gas over it gives: 1.45 g/L at 25 °C and 1 atm (Henry's law; CRC Handbook 1.45 g/L,
// from memory).
func TestCO2HasItsBound(t *testing.T) {
	_, err := DissolvedCO2(Carbonate{KH: quantity.Of(20 * quantity.DKH), Temperature: 25}, quantity.Of[quantity.PH](5.5))
	var e *InputError
	if !errors.As(err, &e) || e.Kind != Contradictory {
		t.Fatal(err)
	}
	if most := float64(airBalance(25) / airCO2); math.Abs(most-1450) > 60 {
		t.Errorf("%.0f mg/L", most)
	}
}
