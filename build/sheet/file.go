package sheet

import (
	"bytes"
	"encoding/json"
)

// File is sheet.json: every figure of a sheet with its working. What is not known is absent and named in Unknown.
type File struct {
	Code       string        `json:"code"`
	Plant      string        `json:"plant"`
	Taxon      string        `json:"taxon"`
	Lot        string        `json:"lot"`
	Count      int           `json:"count"`
	Sent       string        `json:"sent,omitempty"`     // full-date
	Reserved   string        `json:"reserved,omitempty"` // full-date
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
	Unknown    []Gap         `json:"unknown"`
	Others     []File        `json:"others,omitempty"` // the other plants of the parcel
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
	Changes int          `json:"changes,omitempty"` // of Each, one a day
	Each    FileQuantity `json:"each"`
	Working []string     `json:"working"`
	Source  string       `json:"source"`
}

// FileCO2 is the target where CO2 is injected.
type FileCO2 struct {
	TargetPH *FileQuantity `json:"target-ph,omitempty"`
	Level    FileQuantity  `json:"level"`
	Do       Gas           `json:"do"`
	Now      *FileQuantity `json:"now,omitempty"` // by their pH and KH
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
	Water   string        `json:"water"`
	Sent    int           `json:"sent"`
	Results int           `json:"results"`
	Share   *FileQuantity `json:"established,omitempty"` // from five verdicts on
	Unknown []string      `json:"unknown,omitempty"`
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
	f := File{Code: p.Code, Plant: s.Lot.Plant, Taxon: s.Species.Taxon, Lot: p.Lot, Count: p.Count, Sent: p.Sent.String(), Reserved: p.Reserved.String(),
		Volume: rangeOf(s.Water.Volume, "L"), FromTank: s.fileTank(), Fit: s.fileFit(), Step: s.fileStep(), Light: s.fileLight(), Plan: s.filePlan(), Doses: s.fileDoses(), Blend: s.fileBlend(),
		CO2: s.fileCO2(), Elsewhere: s.fileElsewhere(), Dates: dates, Notices: notices, Hours: []FileHours{}, Unknown: append([]Gap{}, s.Unknown...),
		Melt:       FileMelt{s.Melt.Level, FileQuantity{Value: float64(s.Melt.Judge), Unit: "d"}},
		Quarantine: FileQuantity{Value: float64(s.Quarantine), Unit: "d"}}
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
