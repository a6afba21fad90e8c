package sheet

import (
	"math"

	"slipleaf/build/journal"
	"slipleaf/build/quantity"
	"slipleaf/build/reckon"
)

// WaterPlan is what to add to the water, over how many days.
type WaterPlan struct {
	Volume reckon.Range[quantity.Volume] // net; zero when not known
	Per    quantity.Volume               // the volume that the doses are for: the tank's, or 10 L when that is not known
	GH     *Raise
	KH     *Raise
	Blend  *Mix
	Change quantity.Volume // a usual water change of a quarter; 0 when the volume is not known
}

// Raise is a hardness or alkalinity to be raised by salts.
type Raise struct {
	From, To float64 // dGH or dKH
	Doses    []Dose
	Days     int // equal parts, one a day
}

// Dose is a mass of a named salt.
type Dose struct {
	reckon.Dose
	Daily  quantity.Mass // a part
	Refill quantity.Mass // for Refilled of new water
}

// Refilled is the volume of new water that [Dose.Refill] is for.
const Refilled quantity.Volume = 10

// Mix is mixing the tap's water with water that holds no minerals.
type Mix struct {
	Want  float64 // dKH
	Soft  quantity.Share
	Tap   quantity.Share
	GH    float64 // what GH the mixture has, dGH; 0 when not known
	Steps int     // water changes of a quarter that bring the tank there
	reckon.Blend
}

const (
	calciumShare = 0.75 // of a rise in GH, the rest magnesium: common practice, 3 to 1
	dailyGH      = 1.0  // dGH a day: common practice with animals in the tank
	dailyKH      = 0.5  // dKH a day (our choice)
	quarter      = 0.25 // a usual water change
	unsaidVolume = quantity.Volume(10)
)

// waterPlan reckons what brings GH and KH inside. It raises GH to the lowest good one, 15 % above the plant's lower end.
func (s *Sheet) waterPlan() WaterPlan {
	w := WaterPlan{Volume: volumeOf(s.Parcel.Tank), Per: unsaidVolume}
	if w.Volume.Best > 0 {
		w.Per = w.Volume.Best
		w.Change = w.Volume.Best * quarter
	}
	gh, kh := s.verdict(GH), s.verdict(KH)
	have := gh.Value.Best
	if kh.Outcome == Outside && kh.By > 0 && kh.Mendable() {
		w.Blend = blend(kh, gh)
		if w.Blend != nil && gh.Value.Known {
			have = w.Blend.GH
		}
	}
	if gh.Value.Known && gh.Band.Known && have < gh.Band.Low-fitSlack {
		w.GH = raiseGH(have, lowestGood(gh.Band), w.Per)
	}
	if kh.Outcome == Outside && kh.By < 0 {
		w.KH = raiseKH(kh.Value.Best, lowestGood(kh.Band), w.Per)
	}
	return w
}

// verdict finds the verdict on a parameter.
func (s *Sheet) verdict(p Parameter) Verdict {
	for _, v := range s.Verdicts {
		if v.Parameter == p {
			return v
		}
	}
	return Verdict{}
}

// lowestGood is the lowest value well inside a band, up to the next half degree.
func lowestGood(b Band) float64 {
	return min(math.Ceil((b.Low+EdgeShare*(b.High-b.Low))*2-1e-9)/2, b.High)
}

// volumeOf reckons the net volume from the inside measures; where only the depth of the water is known, from that.
func volumeOf(t *journal.Recipient) reckon.Range[quantity.Volume] {
	if t == nil || !t.Inside.Length.Known() || !t.Inside.Width.Known() {
		return reckon.Range[quantity.Volume]{}
	}
	in := t.Inside
	if in.Height.Known() {
		shape := reckon.TankShape{Length: in.Length.Mid(), Width: in.Width.Mid(), Height: in.Height.Mid(), WaterDepth: t.WaterDepth}
		if d := layers(t); d > 0 {
			shape.Substrate = quantity.Of(d)
		}
		if m, err := shape.Measure(); err == nil {
			return m.Net
		}
	}
	if !t.WaterDepth.Known() {
		return reckon.Range[quantity.Volume]{}
	}
	v := quantity.Volume(in.Length.Mid()*in.Width.Mid()*t.WaterDepth.Mid()) / 1000
	return reckon.Range[quantity.Volume]{Low: v * 0.9, Best: v, High: v} // wood and stones take some (common practice)
}

// raiseGH splits a rise between gypsum and Epsom salt, three parts of hardness to one, over days of one degree.
func raiseGH(from, to float64, volume quantity.Volume) *Raise {
	r := &Raise{From: from, To: to, Days: days(to-from, dailyGH)}
	for _, part := range []struct {
		salt  string
		share float64
	}{{"gypsum", calciumShare}, {"epsom-salt", 1 - calciumShare}} {
		salt, err := reckon.FindSalt(part.salt)
		if err != nil {
			return nil
		}
		rise := quantity.Hardness((to-from)*part.share) * quantity.DGH
		if !r.add(reckon.DoseForGH(salt, volume, rise)) {
			return nil
		}
	}
	return r
}

// raiseKH raises KH by potassium hydrogen carbonate, half a degree a day.
func raiseKH(from, to float64, volume quantity.Volume) *Raise {
	r := &Raise{From: from, To: to, Days: days(to-from, dailyKH)}
	salt, err := reckon.FindSalt("potassium-bicarbonate")
	if err != nil || !r.add(reckon.DoseForKH(salt, volume, quantity.Alkalinity(to-from)*quantity.DKH)) {
		return nil
	}
	return r
}

func days(rise, daily float64) int { return max(1, int(math.Ceil(rise/daily-1e-9))) }

func (r *Raise) add(d reckon.Dose, err error) bool {
	if err != nil {
		return false
	}
	r.Doses = append(r.Doses, Dose{d, d.Mass / quantity.Mass(r.Days), d.Mass * quantity.Mass(Refilled/d.Volume)})
	return true
}

// blend mixes the water with rain or demineralised water, taken as free of carbonate, so that KH comes well inside; their
// tap is taken to hold what their tank holds.
func blend(kh, gh Verdict) *Mix {
	b := kh.Band
	want := max(math.Floor((b.High-EdgeShare*(b.High-b.Low))*2+1e-9)/2, b.Low)
	m, err := reckon.MixFor(0, quantity.Alkalinity(kh.Value.High)*quantity.DKH, quantity.Alkalinity(want)*quantity.DKH, 0)
	if err != nil {
		return nil
	}
	mix := &Mix{Want: want, Soft: m.ShareA, Tap: m.ShareB, Blend: m}
	if gh.Value.Known {
		mix.GH = gh.Value.Best * float64(m.ShareB)
	}
	// Changes of a quarter with pure soft water: after n, (3/4)ⁿ of the KH is left.
	n, err := reckon.ChangesNeeded(quantity.Alkalinity(kh.Value.High)*quantity.DKH, 0, quantity.Alkalinity(want)*quantity.DKH, quarter)
	if err == nil {
		mix.Steps = n.Times
	}
	return mix
}

// CO2Plan is the target where CO2 is injected.
type CO2Plan struct {
	Injected bool
	Known    bool // KH and temperature allow the sum
	Want     quantity.Concentration
	reckon.Target
	Livestock bool // animals are in the tank, or nobody knows
}

// wantCO2 stays under what guides to fish medicine give as a usual target, 20 mg/L; 30 is a ceiling of common practice.
const wantCO2 quantity.Concentration = 15

func (s *Sheet) co2Plan() CO2Plan {
	t := s.Parcel.Tank
	p := CO2Plan{Want: wantCO2}
	if t == nil || t.CO2 != journal.Yes {
		return p
	}
	p.Injected, p.Livestock = true, true
	w := s.Parcel.Water
	if !w.KH.Known() || !w.Temperature.Known() {
		return p
	}
	target, err := reckon.TargetPH(reckon.Carbonate{KH: w.KH.Mid(), Temperature: w.Temperature.Mid(),
		Minerals: reckon.Minerals{Conductivity: w.Conductivity, GH: w.GH, KH: w.KH}}, wantCO2)
	if err == nil {
		p.Known, p.Target = true, target
	}
	return p
}
