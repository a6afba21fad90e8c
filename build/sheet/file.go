package sheet

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"strconv"

	"slipleaf/build/almanac"
	"slipleaf/build/journal"
	"slipleaf/build/quantity"
	"slipleaf/build/reckon"
)

// File is sheet.json: every figure of a sheet with its working. What is not known is absent and named in Unknown.
type File struct {
	Code       string        `json:"code"`
	Plant      string        `json:"plant"`
	Taxon      string        `json:"taxon"`
	Lot        string        `json:"lot"`
	Count      int           `json:"count"`
	Sent       string        `json:"sent,omitempty"`     // full-date
	Promised   string        `json:"promised,omitempty"` // full-date
	FromTank   FileTank      `json:"from-tank"`
	Fit        FileFit       `json:"fit"`
	Step       FileStep      `json:"step"`
	Melt       FileMelt      `json:"melt"`
	Light      *FileLight    `json:"light,omitempty"`
	Plan       FilePlan      `json:"plan"`
	Volume     *FileQuantity `json:"volume,omitempty"` // net water of their tank
	Doses      []FileDose    `json:"doses"`
	Blend      *FileBlend    `json:"blend,omitempty"`
	CO2        *FileCO2      `json:"co2,omitempty"`
	RootTabs   *FileTabs     `json:"root-tabs,omitempty"`
	Hours      []FileHours   `json:"light-hours"`
	Quarantine FileQuantity  `json:"quarantine"`
	Elsewhere  *FileShare    `json:"elsewhere,omitempty"`
	Dates      []FileDate    `json:"dates"`
	Notices    []FileNotice  `json:"notices"`
	Unknown    []string      `json:"unknown"`
}

// FileQuantity is a figure with its unit; Low and High are its range, 80 % for forecasts and else what may be.
type FileQuantity struct {
	Value float64  `json:"value"`
	Unit  string   `json:"unit,omitempty"`
	Low   *float64 `json:"low,omitempty"`
	High  *float64 `json:"high,omitempty"`
	Level float64  `json:"level,omitempty"`
	N     int      `json:"n,omitempty"`
}

// FileBand is a tolerance.
type FileBand struct {
	Low  float64 `json:"low"`
	High float64 `json:"high"`
	Unit string  `json:"unit,omitempty"`
}

// FileTank is the giver's tank on the sending day.
type FileTank struct {
	Tank  string                  `json:"tank"`
	On    string                  `json:"on,omitempty"`
	Water map[string]FileQuantity `json:"water"`
	Light *FileQuantity           `json:"light,omitempty"`
	CO2   string                  `json:"co2,omitempty"` // injected | none
}

// FileFit is the verdict.
type FileFit struct {
	Summary  Summary       `json:"summary"`
	Change   string        `json:"change,omitempty"` // the parameter to change, or "slowly"
	Brackish bool          `json:"brackish,omitempty"`
	Verdicts []FileVerdict `json:"verdicts"`
}

// FileVerdict is one parameter.
type FileVerdict struct {
	Parameter Parameter     `json:"parameter"`
	Tolerance *FileBand     `json:"tolerance,omitempty"`
	Need      string        `json:"need,omitempty"` // of CO2
	Value     any           `json:"value,omitempty"`
	Verdict   Outcome       `json:"verdict"`
	By        *FileQuantity `json:"by,omitempty"`
	Counts    bool          `json:"counts"`
	Step      string        `json:"step,omitempty"`
	Working   []string      `json:"working"`
}

// FileStep is the change from the giver's water.
type FileStep struct {
	Class      string     `json:"class"`
	Raised     bool       `json:"raised,omitempty"`
	LightRatio float64    `json:"light-ratio,omitempty"`
	Parts      []FilePart `json:"parts"`
}

// FilePart is the change of one parameter.
type FilePart struct {
	Parameter Parameter     `json:"parameter"`
	Change    *FileQuantity `json:"change,omitempty"`
	Class     string        `json:"class"`
}

// FileMelt is what to expect of the old leaves.
type FileMelt struct {
	Level int          `json:"level"` // 0 none … 3 all
	Judge FileQuantity `json:"judge-not-before"`
}

// FileLight is the light by depth.
type FileLight struct {
	Surface  *FileQuantity `json:"surface,omitempty"`
	Mid      *FileQuantity `json:"mid,omitempty"`
	Bottom   *FileQuantity `json:"bottom,omitempty"`
	DLI      *FileQuantity `json:"dli,omitempty"` // at the bottom
	Measured bool          `json:"measured,omitempty"`
	Working  []string      `json:"working"`
}

// FilePlan is where, how many and when to cut.
type FilePlan struct {
	Place     string        `json:"place,omitempty"`
	At        Row           `json:"light-at"`
	Depth     *FileQuantity `json:"depth,omitempty"`
	Spacing   FileQuantity  `json:"spacing"`
	Area      FileQuantity  `json:"area"`
	Floor     *FileQuantity `json:"floor,omitempty"`
	Number    int           `json:"number,omitempty"` // that the floor holds
	FirstTrim *FileTrim     `json:"first-trim,omitempty"`
}

// FileTrim is the window of the first cut.
type FileTrim struct {
	Low     string       `json:"low,omitempty"`  // full-date
	High    string       `json:"high,omitempty"` // full-date
	Open    bool         `json:"open,omitempty"` // it may take longer
	Days    FileQuantity `json:"days"`           // after arrival
	Rate    FileQuantity `json:"rgr-per-day"`
	Assumed bool         `json:"rate-assumed,omitempty"`
	Working []string     `json:"working"`
}

// FileDose is a salt.
type FileDose struct {
	Salt    string                  `json:"salt"`
	Mass    FileQuantity            `json:"mass"`
	Volume  FileQuantity            `json:"volume"`
	Days    int                     `json:"days"`
	Daily   FileQuantity            `json:"daily"`
	Refill  FileQuantity            `json:"per-10-L-of-new-water"`
	Raises  map[string]FileQuantity `json:"raises"`
	Working []string                `json:"working"`
	Source  string                  `json:"source"`
}

// FileBlend is mixing with soft water.
type FileBlend struct {
	Want    FileQuantity `json:"want"`
	Soft    FileQuantity `json:"soft"`
	Tap     FileQuantity `json:"tap"`
	Changes int          `json:"changes-of-a-quarter,omitempty"`
	Working []string     `json:"working"`
	Source  string       `json:"source"`
}

// FileCO2 is the target where CO2 is injected.
type FileCO2 struct {
	TargetPH *FileQuantity `json:"target-ph,omitempty"`
	Level    FileQuantity  `json:"level"`
	Working  []string      `json:"working,omitempty"`
	Source   string        `json:"source,omitempty"`
	Unknown  []string      `json:"unknown,omitempty"`
}

// FileTabs is root food.
type FileTabs struct {
	Number int    `json:"number"`
	First  string `json:"first,omitempty"`
	Again  string `json:"again,omitempty"`
	Maybe  bool   `json:"substrate-not-known,omitempty"`
}

// FileHours is the hours of light from a day on.
type FileHours struct {
	Day   int          `json:"day"`
	Date  string       `json:"date,omitempty"`
	Hours FileQuantity `json:"hours"`
}

// FileShare is how others with such water fared.
type FileShare struct {
	Water    string        `json:"water"`
	Sent     int           `json:"sent"`
	Verdicts int           `json:"verdicts"`
	Share    *FileQuantity `json:"established,omitempty"` // from five verdicts on
	Unknown  []string      `json:"unknown,omitempty"`
}

// FileDate is a check day with its words.
type FileDate struct {
	Day    int      `json:"day"`
	Date   string   `json:"date,omitempty"`
	What   string   `json:"what"`
	Normal string   `json:"normal"`
	Alarm  string   `json:"alarm"`
	Report []string `json:"report,omitempty"`
}

// FileNotice is a caution or a row of a list.
type FileNotice struct {
	Kind   string `json:"kind"` // law | sap | pest | co2 | electricity | escape | …
	Text   string `json:"text"`
	Source string `json:"source,omitempty"`
}

// File lays the sheet out for machines. The words of days and notices come from the page.
func (s *Sheet) File(dates []FileDate, notices []FileNotice) File {
	p := s.Parcel
	f := File{Code: p.Code, Plant: s.Lot.Plant, Taxon: s.Species.Taxon, Lot: p.Lot, Count: p.Count, Sent: p.Sent.String(), Promised: p.Promised.String(),
		FromTank: s.fileTank(), Fit: s.fileFit(), Step: s.fileStep(), Light: s.fileLight(), Plan: s.filePlan(), Doses: s.fileDoses(), Blend: s.fileBlend(),
		CO2: s.fileCO2(), Elsewhere: s.fileElsewhere(), Dates: dates, Notices: notices, Unknown: s.Unknown,
		Melt:       FileMelt{s.Melt.Level, FileQuantity{Value: float64(s.Melt.Judge), Unit: "d"}},
		Quarantine: FileQuantity{Value: float64(s.Quarantine), Unit: "d"}}
	if v := s.Water.Volume; v.Best > 0 {
		q := spanned(float64(v.Low), float64(v.Best), float64(v.High), "L")
		f.Volume = &q
	}
	if t := s.Tabs; t.Needed {
		f.RootTabs = &FileTabs{t.Number, t.First.String(), t.Again.String(), t.Maybe}
	}
	for _, h := range s.Hours {
		date := ""
		if !s.Day0.IsZero() {
			date = s.Day0.Add(h.Day).String()
		}
		f.Hours = append(f.Hours, FileHours{h.Day, date, FileQuantity{Value: h.Hours, Unit: "h"}})
	}
	if f.Unknown == nil {
		f.Unknown = []string{}
	}
	return f
}

// JSON writes the file.
func (f File) JSON() ([]byte, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", " ")
	err := e.Encode(f)
	return b.Bytes(), err
}

func round4(f float64) float64 {
	if f == 0 || math.IsInf(f, 0) || math.IsNaN(f) {
		return 0
	}
	r, err := strconv.ParseFloat(strconv.FormatFloat(f, 'g', 5, 64), 64)
	if err != nil {
		return 0
	}
	return r
}

func plain(v float64, unit string) FileQuantity { return FileQuantity{Value: round4(v), Unit: unit} }

func spanned(lo, v, hi float64, unit string) FileQuantity {
	lo, hi = round4(lo), round4(hi)
	return FileQuantity{Value: round4(v), Unit: unit, Low: &lo, High: &hi}
}

func fluxOf(r reckon.Range[quantity.PhotonFlux]) *FileQuantity {
	if r.Best <= 0 {
		return nil
	}
	q := spanned(float64(r.Low), float64(r.Best), float64(r.High), "umol/m2/s")
	return &q
}

// unitOf is the unit in which a parameter is judged.
func unitOf(p Parameter) string {
	return map[Parameter]string{Temperature: "C", GH: "dGH", KH: "dKH", LightAt: "umol/m2/s"}[p]
}

func (s *Sheet) fileTank() FileTank {
	t := FileTank{Tank: s.From.Tank, On: s.From.On.String(), Water: map[string]FileQuantity{}, Light: fluxOf(s.From.Light),
		CO2: [...]string{journal.NotSaid: "", journal.No: "none", journal.Yes: "injected"}[s.From.CO2]}
	f := FittingOf(almanac.Species{}, s.From.Water)
	for _, p := range []Parameter{Temperature, GH, KH, PH} {
		if v := f.Values[p]; v.Known {
			t.Water[string(p)] = valueOf(v, unitOf(p))
		}
	}
	return t
}

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
	unit := unitOf(v.Parameter)
	o := FileVerdict{Parameter: v.Parameter, Verdict: v.Outcome, Counts: v.Counts, Value: s.given(v, unit), Working: s.working(v, unit)}
	if v.Band.Known {
		o.Tolerance = &FileBand{round4(v.Band.Low), round4(v.Band.High), unit}
	}
	if v.Parameter == CO2 {
		o.Need = s.Species.CO2
	}
	if v.Outcome == Outside && v.Parameter != CO2 {
		q := plain(v.By, unit)
		o.By = &q
	}
	for _, p := range s.Step.Parts {
		if p.Parameter == v.Parameter {
			o.Step = p.Class.String()
		}
	}
	return o
}

// given is the value as the recipient gave it, or as reckoned; nil when there is none.
func (s *Sheet) given(v Verdict, unit string) any {
	w := s.Parcel.Water
	switch {
	case v.Parameter == CO2:
		if s.Parcel.Tank != nil && s.Parcel.Tank.CO2 != journal.NotSaid {
			return map[journal.Tristate]string{journal.Yes: "injected", journal.No: "none"}[s.Parcel.Tank.CO2]
		}
	case v.Parameter == Temperature && w.Temperature.Known():
		return w.Temperature
	case v.Parameter == PH && w.PH.Known():
		return w.PH
	case v.Parameter == GH && w.GH.Known():
		return w.GH
	case v.Parameter == KH && w.KH.Known():
		return w.KH
	case v.Value.Known:
		return valueOf(v.Value, unit)
	}
	return nil
}

// working says how a verdict came about.
func (s *Sheet) working(v Verdict, unit string) []string {
	basis, _ := s.Species.Basis(string(v.Parameter))
	if basis == "" {
		basis = "not known"
	}
	out := []string{"tolerance: " + basis}
	if v.Band.Known {
		margin := EdgeShare * (v.Band.High - v.Band.Low)
		out = append(out, fmt.Sprintf("well inside: %s to %s %s (15 %% of the width from either end)", three(v.Band.Low+margin), three(v.Band.High-margin), unit))
	}
	if v.Value.Model {
		out = append(out, "the value is reckoned from the lamps; its best figure is judged, and its ends only make it near an edge")
	}
	return out
}

func (s *Sheet) fileStep() FileStep {
	f := FileStep{Class: s.Step.Class.String(), Raised: s.Step.Raised, LightRatio: round4(s.Step.LightRatio)}
	for _, p := range s.Step.Parts {
		part := FilePart{Parameter: p.Parameter, Class: p.Class.String()}
		if p.Class != UnknownStep && p.Parameter != CO2 {
			q := plain(p.Change, unitOf(p.Parameter))
			part.Change = &q
		}
		f.Parts = append(f.Parts, part)
	}
	return f
}

func (s *Sheet) fileLight() *FileLight {
	if !s.Light.Known {
		return nil
	}
	f := &FileLight{Surface: fluxOf(s.Light.At(Surface)), Mid: fluxOf(s.Light.At(Middle)), Bottom: fluxOf(s.Light.At(Bottom)), Measured: s.Light.Measured, Working: []string{}}
	if d := s.Light.Rows[2].DLI; d.Best > 0 {
		q := spanned(float64(d.Low), float64(d.Best), float64(d.High), "mol/m2/d")
		f.DLI = &q
	}
	if s.Light.Working.Equation.Key != "" {
		f.Working = s.Light.Working.Lines()
	}
	return f
}

func (s *Sheet) filePlan() FilePlan {
	pl := s.Place
	p := FilePlan{Place: pl.Spot, At: pl.Row, Spacing: plain(float64(pl.Spacing), "cm"), Area: plain(float64(pl.Area), "dm2"), Number: pl.Holds}
	if pl.Depth.Known() {
		q := spanned(float64(pl.Depth.Low()), float64(pl.Depth.Mid()), float64(pl.Depth.High()), "cm")
		p.Depth = &q
	}
	if pl.Floor > 0 {
		q := plain(float64(pl.Floor), "dm2")
		p.Floor = &q
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
	return &FileBlend{plain(b.Want, "dKH"), plain(float64(b.Soft)*100, "%"), plain(float64(b.Tap)*100, "%"), b.Steps, b.Working.Lines(), b.Working.Equation.Source}
}

func (s *Sheet) fileCO2() *FileCO2 {
	c := s.CO2
	if !c.Injected {
		return nil
	}
	f := &FileCO2{Level: plain(float64(c.Want), "mg/L")}
	if !c.Known {
		f.Unknown = []string{"target-ph"}
		return f
	}
	q := spanned(float64(c.PH.Low), float64(c.PH.Best), float64(c.PH.High), "")
	f.TargetPH, f.Working, f.Source = &q, c.Working.Lines(), c.Working.Equation.Source
	return f
}

func (s *Sheet) fileElsewhere() *FileShare {
	o := s.Others
	if o == nil {
		return nil
	}
	f := &FileShare{Water: o.Water.String(), Sent: o.Sent, Verdicts: o.Verdicts()}
	if o.Say == 0 {
		f.Unknown = []string{"established"}
		return f
	}
	q := spanned(o.Share.Low, o.Share.Value, o.Share.High, "")
	q.Level, q.N = o.Share.Level, o.Verdicts()
	f.Share = &q
	return f
}
