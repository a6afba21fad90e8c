package sheet

import (
	"cmp"
	"fmt"
	"math"
	"strconv"

	"slipleaf/build/almanac"
	"slipleaf/build/journal"
	"slipleaf/build/quantity"
	"slipleaf/build/reckon"
)

func (s *Sheet) fileTank() FileTank {
	t := FileTank{Tank: s.From.Tank, On: s.From.On.String(), Water: map[string]FileQuantity{}, Light: fluxOf(s.From.Light),
		CO2: gasWord[s.From.CO2]}
	f := FittingOf(almanac.Species{}, s.From.Water)
	for _, p := range []Parameter{Temperature, GH, KH, PH} {
		if v := f.Values[p]; v.Known {
			t.Water[string(p)] = valueOf(v, p.unit())
		}
	}
	return t
}

// gasWord is whether CO2 is added, in the words of the file.
var gasWord = [...]string{journal.NotSaid: "", journal.No: "none", journal.Yes: "injected"}

func valueOf(v Value, unit string) FileQuantity {
	if v.Low == v.High {
		return plain(v.Best, unit)
	}
	return spanned(v.Low, v.Best, v.High, unit)
}

func (s *Sheet) fileFit() FileFit {
	f := FileFit{Summary: s.Summary, Brackish: s.Brackish, Change: string(s.Change.Parameter)}
	if f.Change == "" && s.Change.Slowly {
		f.Change = "slowly"
	}
	for _, v := range s.Verdicts {
		f.Verdicts = append(f.Verdicts, s.fileVerdict(v))
	}
	return f
}

func (s *Sheet) fileVerdict(v Verdict) FileVerdict {
	unit := v.Parameter.unit()
	o := FileVerdict{Parameter: v.Parameter, Verdict: v.Outcome, Counts: v.Counts, Value: s.given(v, unit), Working: s.working(v, unit)}
	if v.Band.Known {
		o.Tolerance = &FileBand{round4(v.Band.Low), round4(v.Band.High), unit}
	}
	if v.Parameter == CO2 {
		o.Need = s.Species.CO2
	}
	if v.Outcome == Outside && v.Parameter != CO2 {
		o.By = new(plain(v.By, unit))
	}
	for _, p := range s.Step.Parts {
		if p.Parameter == v.Parameter {
			o.Step = p.Class.String()
		}
	}
	return o
}

// given is the value as the recipient gave it, or as computed; nil when there is none.
func (s *Sheet) given(v Verdict, unit string) any {
	w := s.Parcel.Water
	told, ok := map[Parameter]interface{ Known() bool }{Temperature: w.Temperature, PH: w.PH, GH: w.GH, KH: w.KH}[v.Parameter]
	switch in := s.injected(); {
	case v.Parameter == CO2 && in != journal.NotSaid:
		return gasWord[in]
	case ok && told.Known():
		return told
	case v.Value.Known:
		return valueOf(v.Value, unit)
	}
	return nil
}

// working says how a verdict came about.
func (s *Sheet) working(v Verdict, unit string) []string {
	out := []string{"tolerance: " + cmp.Or(s.Species.Basis(string(v.Parameter)), "not known")}
	if v.Band.Known {
		margin := EdgeShare * (v.Band.High - v.Band.Low)
		out = append(out, fmt.Sprintf("well inside: %s to %s %s (15 %% of the width from either end)", three(v.Band.Low+margin), three(v.Band.High-margin), unit))
	}
	if v.Parameter == LightAt && v.Value.Interval {
		out = append(out, "the value is reckoned from the lamps; its best figure is judged, and its ends only make it near an edge")
	}
	return out
}

func (s *Sheet) fileStep() FileStep {
	f := FileStep{Class: s.Step.Class.String(), Raised: s.Step.Raised, LightRatio: round4(s.Step.LightRatio)}
	for _, p := range s.Step.Parts {
		part := FilePart{Parameter: p.Parameter, Class: p.Class.String()}
		if p.Class != UnknownStep && p.Parameter != CO2 {
			part.Change = new(plain(p.Change, p.Parameter.unit()))
		}
		f.Parts = append(f.Parts, part)
	}
	return f
}

func (s *Sheet) fileLight() *FileLight {
	if !s.Light.Known {
		return nil
	}
	f := &FileLight{Surface: fluxOf(s.Light.At(Surface)), Mid: fluxOf(s.Light.At(Middle)), Bottom: fluxOf(s.Light.At(Bottom)), DLI: rangeOf(s.Light.Rows[2].DLI, "mol/m2/d"), Measured: s.Light.Measured, Working: []string{}}
	if s.Light.Working.Equation.Key != "" {
		f.Working = s.Light.Working.Lines()
	}
	return f
}

func (s *Sheet) filePlan() FilePlan {
	pl := s.Place
	p := FilePlan{Place: string(pl.Spot), At: pl.Row, Spacing: plain(float64(pl.Spacing), "cm"), Area: plain(float64(pl.Area), "dm2"), Number: pl.Holds}
	if pl.Depth.Known() {
		p.Depth = new(spanned(float64(pl.Depth.Low()), float64(pl.Depth.Mid()), float64(pl.Depth.High()), "cm"))
	}
	if pl.Floor > 0 {
		p.Floor = new(plain(float64(pl.Floor), "dm2"))
	}
	if t := s.Trim; t.Known {
		d := spanned(t.Low, t.Best, t.High, "d")
		d.Level, d.N = 0.8, t.N
		r := spanned(t.Rate.Low, t.Rate.Best, t.Rate.High, "")
		r.N = t.N
		p.FirstTrim = &FileTrim{t.From.String(), t.To.String(), t.Open, d, r, t.Guess, t.Working}
	}
	return p
}

func (s *Sheet) fileDoses() []FileDose {
	out := []FileDose{}
	for _, r := range []*Raise{s.Water.GH, s.Water.KH} {
		if r == nil {
			continue
		}
		for _, d := range r.Doses {
			f := FileDose{Salt: d.Salt.Name, Mass: plain(float64(d.Mass), "g"), Volume: plain(float64(d.Volume), "L"), Days: r.Days, Daily: plain(float64(d.Daily), "g"),
				Refill: plain(float64(d.Refill), "g"), Raises: map[string]FileQuantity{}, Working: d.Working.Lines(), Source: d.Working.Equation.Source}
			if d.GH > 0 {
				f.Raises["gh"] = plain(d.GH.DGH(), "dGH")
			}
			if d.KH > 0 {
				f.Raises["kh"] = plain(d.KH.DKH(), "dKH")
			}
			for _, ion := range d.Ions {
				f.Raises[string(ion.Ion)] = plain(float64(ion.Rise), "mg/L")
			}
			out = append(out, f)
		}
	}
	return out
}

func (s *Sheet) fileBlend() *FileBlend {
	b := s.Water.Blend
	if b == nil {
		return nil
	}
	return &FileBlend{plain(b.Want, b.Of.unit()), plain(float64(b.Soft)*100, "%"), plain(float64(b.Tap)*100, "%"), b.Steps, plain(b.Each*100, "%"),
		[]string{"tap share = want/have", "have = " + three(b.Have), "one change = the least of a quarter, 1 dKH/KH and 2 dGH/GH"}, "mass balance; the sizes of steps: common practice"}
}

func (s *Sheet) fileCO2() *FileCO2 {
	c := s.CO2
	if !c.Injected() {
		return nil
	}
	f := &FileCO2{Level: plain(float64(c.Want), "mg/L"), Do: c.Gas, Now: rangeOf(c.Now, "mg/L")}
	if c.PH.Best == 0 {
		f.Unknown = []string{"target-ph"}
		return f
	}
	f.TargetPH, f.Working, f.Source = rangeOf(c.PH, ""), c.Working.Lines(), c.Working.Equation.Source
	return f
}

func (s *Sheet) fileElsewhere() *FileShare {
	o := s.Others
	if o == nil {
		return nil
	}
	f := &FileShare{Water: o.Water.String(), Sent: o.Sent, Results: o.Results()}
	if o.Say == 0 {
		f.Unknown = []string{"established"}
		return f
	}
	q := spanned(o.Share.Low, o.Share.Value, o.Share.High, "")
	q.Level, q.N = o.Share.Level, o.Settled.Results()
	f.Share = &q
	return f
}

func round4(f float64) float64 {
	if f == 0 || math.IsInf(f, 0) || math.IsNaN(f) { // nought has no sign
		return 0
	}
	r, _ := strconv.ParseFloat(strconv.FormatFloat(f, 'g', 5, 64), 64) // what was just written is a number
	return r
}

func plain(v float64, unit string) FileQuantity { return FileQuantity{Value: round4(v), Unit: unit} }

func spanned(lo, v, hi float64, unit string) FileQuantity {
	lo, hi = round4(lo), round4(hi)
	return FileQuantity{Value: round4(v), Unit: unit, Low: &lo, High: &hi}
}

// rangeOf is a range above nothing; nil for none.
func rangeOf[T ~float64](r reckon.Range[T], unit string) *FileQuantity {
	if r.Best <= 0 {
		return nil
	}
	return new(spanned(float64(r.Low), float64(r.Best), float64(r.High), unit))
}

func fluxOf(r reckon.Range[quantity.PhotonFlux]) *FileQuantity { return rangeOf(r, "umol/m2/s") }
