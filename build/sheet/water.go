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
	Of         Parameter // what is too high: KH or GH
	Have, Want float64   // of it
	Soft, Tap  quantity.Share
	GH, KH     float64 // what the mixture has; 0 when not known
	Each       float64 // share of the tank's water in one change, with soft water alone
	Volume     quantity.Volume
	Steps      int // such changes, one a day
}

const (
	calciumShare = 0.75 // of a rise in GH, the rest magnesium: common practice, 3 to 1
	dailyGH      = 1.0  // dGH a day up: common practice with animals in the tank
	dailyKH      = 0.5  // dKH a day up (our choice)
	mostGHDown   = 2.0  // dGH a day down, where animals live or nobody knows (common practice)
	mostKHDown   = 1.0  // dKH a day down, the same
	quarter      = 0.25 // a usual water change
	unsaidVolume = quantity.Volume(10)
)

// waterPlan works out what brings GH and KH inside. A raise goes a little above the plant's lower end, a lowering a little
// below its upper one.
func (s *Sheet) waterPlan() WaterPlan {
	w := WaterPlan{Volume: volumeOf(s.Parcel.Tank), Per: unsaidVolume}
	if w.Volume.Best > 0 {
		w.Per = w.Volume.Best
		w.Change = w.Volume.Best * quarter
	}
	gh, kh := s.Verdicts.Of(GH), s.Verdicts.Of(KH)
	have, short := gh.Value.Best, gh.Outcome == Outside && gh.By < 0
	soften := kh
	if gh.Outcome == Outside && gh.By > 0 {
		soften = gh
	}
	if soften.Outcome == Outside && soften.By > 0 && soften.Mendable() {
		w.Blend = s.blend(soften, w.Volume.Best)
		if w.Blend != nil && gh.Value.Known && gh.Band.Known {
			have = w.Blend.GH
			short = have < gh.Band.Low-GH.Noise()-fitSlack
		}
	}
	if short {
		w.GH = raiseGH(have, justInside(gh.Band), w.Per)
	}
	if kh.Outcome == Outside && kh.By < 0 {
		w.KH = raiseKH(kh.Value.Best, justInside(kh.Band), w.Per)
	}
	return w
}

// Wanted are the figures that the one change goes from and for: those of the plan, where there is one.
func (s *Sheet) Wanted(c Change) (have, want float64) {
	v := s.Verdicts.Of(c.Parameter)
	switch w := s.Water; {
	case c.Parameter == GH && w.GH != nil:
		return w.GH.From, w.GH.To
	case c.Parameter == KH && w.KH != nil:
		return w.KH.From, w.KH.To
	case w.Blend != nil && w.Blend.Of == c.Parameter:
		return w.Blend.Have, w.Blend.Want
	case c.Low:
		have, want = v.Value.Low, v.Band.Low
	default:
		have, want = v.Value.High, v.Band.High
	}
	if v.Value.Interval {
		have = v.Value.Best
	}
	return have, want
}

// justInside is a little above the lower end of a band: by the noise of a test, as far as the band's middle.
func justInside(b Band) float64 { return min(b.Low+b.Of.Noise(), (b.Low+b.High)/2) }

// justUnder is a little below the upper end.
func justUnder(b Band) float64 { return max(b.High-b.Of.Noise(), (b.Low+b.High)/2) }

// volumeOf works out the net volume from the inside measures; where only the depth of the water is known, from that.
func volumeOf(t *journal.Recipient) reckon.Range[quantity.Volume] {
	if t == nil || !t.Inside.Length.Known() || !t.Inside.Width.Known() {
		return reckon.Range[quantity.Volume]{}
	}
	in := t.Inside
	if in.Height.Known() {
		shape := reckon.TankShape{Length: in.Length.Mid(), Width: in.Width.Mid(), Height: in.Height.Mid(), WaterDepth: t.WaterDepth}
		if d := layers(t.Substrate); d > 0 {
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

// blend mixes the water with rain or demineralised water, taken as free of minerals, so that the hardness which is too high
// comes just inside; their tap is taken to hold what their tank holds. The tank is brought there by changes with soft water
// alone, one a day, small enough that KH falls by 1 dKH and GH by 2 dGH at the most.
func (s *Sheet) blend(v Verdict, volume quantity.Volume) *Mix {
	have, want := v.Value.High, justUnder(v.Band)
	share := want / have
	gh, kh := s.Verdicts.Of(GH).Value, s.Verdicts.Of(KH).Value
	m := &Mix{Of: v.Parameter, Have: have, Want: want, Tap: quantity.Share(share), Soft: quantity.Share(1 - share), GH: gh.Best * share, KH: kh.Best * share}
	m.Each = quarter
	if gh.Known && gh.High > 0 {
		m.Each = min(m.Each, mostGHDown/gh.High)
	}
	if kh.Known && kh.High > 0 {
		m.Each = min(m.Each, mostKHDown/kh.High)
	}
	m.Each = math.Floor(m.Each*100) / 100
	n, err := reckon.ChangesNeeded(quantity.Alkalinity(have)*quantity.DKH, 0, quantity.Alkalinity(want)*quantity.DKH, quantity.Share(m.Each))
	if err != nil {
		return nil
	}
	m.Steps = n.Times
	m.Volume = volume * quantity.Volume(m.Each)
	return m
}
