package growth

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"strconv"

	"slipleaf/build/dynamics"
	"slipleaf/build/quantity"
	"slipleaf/build/reckon"
)

// number is written with five significant digits at most, so that the same journal makes the same bytes everywhere.
type number float64

// MarshalJSON writes plain decimals.
func (n number) MarshalJSON() ([]byte, error) { return []byte(digits(float64(n))), nil }

// digits writes f in plain decimals with five significant digits at most.
func digits(f float64) string {
	if f == 0 || math.IsNaN(f) || math.IsInf(f, 0) {
		return "0"
	}
	short, err := strconv.ParseFloat(strconv.FormatFloat(f, 'e', 4, 64), 64)
	if err != nil {
		return "0"
	}
	return strconv.FormatFloat(short, 'f', -1, 64)
}

// figure is a quantity of a file for machines; what is nil is not known.
type figure struct {
	Value *number `json:"value,omitempty"`
	Unit  string  `json:"unit,omitempty"`
	Low   *number `json:"low,omitempty"`
	High  *number `json:"high,omitempty"`
	Level number  `json:"level,omitempty"`
	Weeks number  `json:"weeks,omitempty"`
}

func interval(i reckon.Interval, unit string) *figure {
	return &figure{Value: new(number(i.Value)), Unit: unit, Low: new(number(i.Low)), High: new(number(i.High)), Level: number(i.Level)}
}

// growthFile is growth.json.
type growthFile struct {
	Plant     string         `json:"plant"`
	AsOf      quantity.Date  `json:"as-of"`
	Tanks     []growthSeries `json:"tanks"`
	Elsewhere any            `json:"elsewhere,omitempty"`
	Unknown   []string       `json:"unknown,omitempty"`
}

type growthSeries struct {
	Tank     string        `json:"tank"`
	Measure  string        `json:"measure"`
	Unit     string        `json:"unit"`
	Points   []growthPoint `json:"points"`
	Growth   *growthModel  `json:"growth,omitempty"`
	Diary    *diaryModel   `json:"diary,omitempty"`
	NextTrim *nextTrim     `json:"next-trim,omitempty"`
	Yield    *figure       `json:"yield,omitempty"`
	Unknown  []string      `json:"unknown,omitempty"`
}

type growthPoint struct {
	Date  quantity.Date `json:"date"`
	Size  number        `json:"size"`
	Event string        `json:"event"`
}

type growthModel struct {
	Model    string   `json:"model"`
	Segments int      `json:"segments"`
	N        int      `json:"n"`
	Rate     *figure  `json:"rgr-per-day"`
	Doubling *figure  `json:"doubling-time,omitempty"`
	Holds    *figure  `json:"holds,omitempty"`
	Unknown  []string `json:"unknown,omitempty"`
}

type diaryModel struct {
	N          int      `json:"n"`
	Rate       *figure  `json:"rgr-per-day"`
	Doubling   *figure  `json:"doubling-time,omitempty"`
	CountError *figure  `json:"count-error"`
	Unevenness *figure  `json:"unevenness"`
	Average    *figure  `json:"average-rgr-per-day,omitempty"`
	Ceiling    *figure  `json:"ceiling,omitempty"`
	SizeToday  *figure  `json:"size-today,omitempty"`
	Unknown    []string `json:"unknown,omitempty"`
}

type nextTrim struct {
	Date    quantity.Date  `json:"date"`
	Low     quantity.Date  `json:"low"`
	High    *quantity.Date `json:"high,omitempty"`
	Level   number         `json:"level"`
	Unknown []string       `json:"unknown,omitempty"`
}

// GrowthJSON is growth.json of a plant: every series with its models, the next trim and the yield. How the plant does for
// others comes finished, in the form of offers.json; nil where it was never sent.
func (f *Facts) GrowthJSON(plant string, elsewhere any) ([]byte, error) {
	out := growthFile{Plant: plant, AsOf: f.On, Tanks: []growthSeries{}, Elsewhere: elsewhere}
	for _, g := range f.OfPlant(plant) {
		out.Tanks = append(out.Tanks, f.fileSeries(g))
	}
	if elsewhere == nil {
		out.Unknown = append(out.Unknown, "elsewhere")
	}
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetIndent("", " ")
	enc.SetEscapeHTML(false)
	err := enc.Encode(out)
	return b.Bytes(), err
}

func (f *Facts) fileSeries(g *Growth) growthSeries {
	s := growthSeries{Tank: g.Tank, Measure: g.Measure.String(), Unit: g.Measure.Unit()}
	for _, p := range g.Points {
		s.Points = append(s.Points, growthPoint{p.Date, number(p.Size), p.Event.String()})
	}
	if g.Fit == nil {
		s.Unknown = append(s.Unknown, "growth", "diary")
	} else {
		s.Growth, s.Diary = fileModel(g.Fit, g.Measure.Unit()), fileDiary(g)
	}
	if w := g.Next; w.Known() {
		s.NextTrim = &nextTrim{Date: w.Best, Low: w.Low, High: &w.High, Level: ForecastLevel}
		if w.Open {
			s.NextTrim.High, s.NextTrim.Unknown = nil, []string{"high"}
			s.NextTrim.Level = (1 + ForecastLevel) / 2 // not before Low: one end of the two
		}
	} else {
		s.Unknown = append(s.Unknown, "next-trim")
	}
	if y := f.Yield(g.Tank, g.Plant).Recent; y.Known() && g.Standing() {
		s.Yield = &figure{Value: new(number(y.Weekly())), Unit: "slips/dm2/wk", Weeks: number(math.Round(y.Weeks))}
	} else {
		s.Unknown = append(s.Unknown, "yield")
	}
	return s
}

func fileModel(fit *dynamics.Growth, unit string) *growthModel {
	m := &growthModel{Model: fit.Model(), Segments: len(fit.Line.Segments), N: fit.Line.Points, Rate: interval(fit.Line.Rate, "")}
	d := fit.Line.Doubling
	if fit.Logistic.Chosen() {
		m.Rate, d = interval(fit.Logistic.Rate, ""), dynamics.DoublingTime(fit.Logistic.Rate)
		m.Holds = interval(fit.Logistic.Capacity, unit)
	}
	m.Doubling, m.Unknown = fileDoubling(d)
	return m
}

// fileDoubling leaves out what is not known: the time where nothing grows, its upper end where there is none.
func fileDoubling(d dynamics.Doubling) (*figure, []string) {
	if !d.Growing {
		return nil, []string{"doubling-time"}
	}
	f := &figure{Value: new(number(d.Days)), Unit: "d", Low: new(number(d.Low)), Level: number(d.Level)}
	if !d.Open {
		f.High = new(number(d.High))
	}
	return f, nil
}

func fileDiary(g *Growth) *diaryModel {
	d := g.Fit.StateSpace
	m := &diaryModel{N: d.Counts, Rate: interval(d.Rate, ""), CountError: interval(d.CountError, ""), Unevenness: interval(d.ProcessSD, "")}
	m.Doubling, m.Unknown = fileDoubling(d.Doubling)
	if d.Wanders {
		m.Average = interval(d.Average, "")
	}
	if c := g.Sums().Ceiling; c > 0 {
		m.Ceiling = &figure{Value: new(number(c)), Unit: g.Measure.Unit()}
	}
	if g.Today.Value > 0 {
		m.SizeToday = interval(g.Today, g.Measure.Unit())
	} else {
		m.Unknown = append(m.Unknown, "size-today")
	}
	return m
}

// GrowthCSV is growth.csv of a plant: tank, date, measure, unit, size, event, segment.
func (f *Facts) GrowthCSV(plant string) []byte {
	out := []byte("tank,date,measure,unit,size,event,segment\n")
	for _, g := range f.OfPlant(plant) {
		for _, p := range g.Points {
			out = fmt.Appendf(out, "%s,%s,%s,%s,%s,%s,%d\n", g.Tank, p.Date, g.Measure, g.Measure.Unit(), digits(p.Size), p.Event, p.Segment)
		}
	}
	return out
}
