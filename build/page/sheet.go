package page

import (
	"html/template"
	"slices"
	"strings"

	"slipleaf/build/draw"
	"slipleaf/build/journal"
	"slipleaf/build/quantity"
	"slipleaf/build/sheet"
)

// SheetPage is the model of a care sheet.
type SheetPage struct {
	Frame
	Eyebrow, From, Lot, Common, What string
	Name                             template.HTML
	Mark                             template.HTML
	Verdict                          template.HTML
	Doubts                           []template.HTML // what is near an edge or not known
	First                            template.HTML   // the one thing to do first; "" when the steps say it
	NowHead                          template.HTML
	Now                              []template.HTML
	NoteHead                         template.HTML
	Note                             template.HTML // the grower's own words
	CameHead                         template.HTML
	Came                             []Field
	FitLead                          []template.HTML
	Fit                              FitTable
	OtherUnits                       FitTable
	OtherFigures                     []template.HTML // sizes and doses in the other units
	Others                           string
	Step                             []template.HTML
	Test                             template.HTML
	Before                           []template.HTML
	Where                            []template.HTML
	Depths                           []string
	Hours                            []template.HTML
	Water                            []WaterBlock
	Leave                            template.HTML
	Gas                              []template.HTML
	Days                             []DayCard
	Calendar                         string
	Trim                             []template.HTML
	Law                              []LawRow
	Safety                           []template.HTML
	Unknown                          []template.HTML
	TellHead                         template.HTML
	Tell                             []TellLink
	Plants                           bool          // there is a word to say on planting: not where the law may forbid the plant
	Doubtful                         template.HTML // before the days of a plant that should not be planted yet
	QR                               template.HTML
	Address                          string   // the short address, without scheme and code
	Code                             []string // the code in groups
	Links                            []Link
}

// Sheet makes a parcel's care sheet.
func (b *Book) Sheet(p *journal.Parcel) ([]byte, error) {
	m, err := b.sheetPage(p)
	if err != nil {
		return nil, err
	}
	return b.Theme.Render("sheet", m)
}

// sheetWriter writes the parts of one sheet in the recipient's units.
type sheetWriter struct {
	Voice
	b    *Book
	s    sheet.Sheet
	addr string
}

func (b *Book) sheetWriter(p *journal.Parcel) sheetWriter {
	units := p.Units
	if !p.UnitsSaid {
		units = b.Journal.Units
	}
	return sheetWriter{b.VoiceIn(units), b, b.sheetOf(p), SheetAddr(p.Code)}
}

// sheetFrame is the frame of a page that only its link leads to: no script, no index, no referrer, its own small style.
func (b *Book) sheetFrame(kind, addr, title string) Frame {
	f := b.frame(kind, addr, title, "")
	f.Unlisted, f.CSP, f.Script, f.Canonical = true, sheetPolicy, "", ""
	f.Nav, f.Foot, f.Machines, f.Feeds = nil, nil, nil, nil
	f.Styles = b.href(addr, "/"+b.Theme.Sheet.Path)
	return f
}

func (b *Book) sheetPage(p *journal.Parcel) (SheetPage, error) {
	w := b.sheetWriter(p)
	s := w.s
	m := SheetPage{Frame: b.sheetFrame("sheet", w.addr, w.Text("sheet.title", "plant", b.plantName(s.Lot.Plant))),
		Eyebrow: w.eyebrow(), From: w.from(), Lot: p.Lot, Name: Taxon(s.Species.Taxon), Common: s.Species.Common, What: w.what(),
		Mark: w.mark(), Verdict: w.verdict(), Doubts: w.doubts(), First: w.first(), NowHead: w.nowHead(), Now: w.now(), CameHead: w.cameHead(), Came: w.came(),
		FitLead: w.fitLead(), Fit: w.fitTable(), OtherUnits: w.inOther().fitTable(), Others: w.others(), Step: w.step(), Test: w.test(), Before: w.before(),
		Where: w.where(), Depths: w.depths(), Hours: w.hours(), Water: w.water(), Leave: w.leave(), Gas: w.gas(), Days: w.days(), Trim: w.trim(),
		Law: w.law(), Safety: w.safety(), Unknown: w.unknowns(), TellHead: w.tellHead(), Tell: w.tell(), Address: w.shortAddress(), Code: grouped(p.Code), Links: w.links()}
	m.OtherFigures = w.inOther().figures()
	m.Plants = !s.Forbidden
	if s.Summary == sheet.PoorMatch {
		m.Doubtful, m.Trim, m.Leave, m.Gas = w.Say("sheet.days-doubtful"), nil, "", nil
	}
	if !s.Day0.IsZero() {
		m.Calendar = "dates.ics"
	}
	if len(p.Body) > 0 && strings.TrimSpace(string(p.Body)) != "" {
		doc, err := b.text(w.addr, p.Source)
		if err != nil {
			return m, err
		}
		m.Note, m.NoteHead = doc.HTML, w.byGrower("sheet.note")
	}
	var err error
	m.QR, err = qrOf(b.absolute(w.addr), w.Text("sheet.qr"))
	return m, err
}

// inOther speaks in the other system of units.
func (w sheetWriter) inOther() sheetWriter {
	w.Units = w.Units.Other()
	return w
}

// figures says again what holds a size: tank, distances, and what to add.
func (w sheetWriter) figures() []template.HTML {
	out := []template.HTML{escapedHTML(w.eyebrow() + ".")}
	if w.s.Forbidden {
		return out
	}
	for _, p := range w.where() {
		if !slices.Contains(w.inOther().where(), p) {
			out = append(out, p)
		}
	}
	for _, b := range w.water() {
		out = append(out, b.Lead)
	}
	return out
}

// byGrower says a sentence with the grower's name, or its form without.
func (w sheetWriter) byGrower(key string) template.HTML {
	if w.b.Journal.Grower == "" {
		return w.Say(key + "-nobody")
	}
	return w.Say(key, "grower", w.b.Journal.Grower)
}

func (w sheetWriter) eyebrow() string {
	if t := w.s.Parcel.Tank; t != nil {
		if n := size(w.Voice, t.Inside); n != "" {
			return w.Text("sheet.eyebrow-size", "size", n)
		}
	}
	return w.Text("sheet.eyebrow")
}

func (w sheetWriter) from() string {
	if w.b.Journal.Grower == "" {
		return w.Text("sheet.from-nobody", "site", w.b.Journal.Title)
	}
	return w.Text("sheet.from", "grower", w.b.Journal.Grower, "site", w.b.Journal.Title)
}

// what is "6 cuttings, sent 22 April 2026".
func (w sheetWriter) what() string {
	p := w.s.Parcel
	form := w.Text("form."+w.s.Lot.Form, "n", p.Count)
	switch {
	case !p.Sent.IsZero():
		return w.Text("sheet.sent", "what", form, "date", w.Date(p.Sent))
	case !p.Promised.IsZero():
		return w.Text("sheet.promised", "what", form, "date", w.Date(p.Promised))
	}
	return form
}

func (w sheetWriter) mark() template.HTML {
	s := w.s
	switch {
	case s.Forbidden || s.Summary == sheet.PoorMatch:
		return draw.Out.SVG()
	case s.Summary == sheet.GoodMatch:
		return draw.In.SVG()
	case s.Summary == sheet.OneChange:
		return draw.Near.SVG()
	}
	return draw.Unknown.SVG()
}

// verdict is the one sentence.
func (w sheetWriter) verdict() template.HTML {
	s := w.s
	switch {
	case s.Forbidden:
		return w.Say("sheet.verdict-forbidden")
	case s.Summary == sheet.GoodMatch:
		return w.Say("sheet.verdict-good-match")
	case s.Summary == sheet.PoorMatch:
		return w.Say("sheet.verdict-poor-match", "why", strings.Join(w.whys(), "; "))
	case s.Summary == sheet.OneChange && s.Change.Parameter != "":
		return w.Say("sheet.verdict-one-change", "change", w.change(s.Change))
	case s.Summary == sheet.OneChange && s.Step.Worst.Parameter == sheet.CO2:
		return w.Say("sheet.verdict-slowly-co2" + w.inAir())
	case s.Summary == sheet.OneChange:
		return w.Say("sheet.verdict-slowly")
	case w.noProfile():
		return w.Say("sheet.verdict-no-profile")
	}
	return w.Say("sheet.verdict-cannot-say")
}

// noProfile tells whether nobody knows what the plant stands in temperature and hardness.
func (w sheetWriter) noProfile() bool {
	return !slices.ContainsFunc(w.s.Verdicts[:3], func(v sheet.Verdict) bool { return !v.NoBand })
}

// whys are the reasons against it that count.
func (w sheetWriter) whys() []string {
	var out []string
	if w.s.Brackish {
		out = append(out, w.Text("sheet.why-brackish", "salt", R(w.Voice, w.s.Parcel.Water.Conductivity)))
	}
	for _, v := range w.s.Reasons {
		if v.Outcome == sheet.Outside && v.Counts {
			out = append(out, w.why(v))
		}
	}
	return out
}

func (w sheetWriter) why(v sheet.Verdict) string {
	if v.Parameter == sheet.CO2 {
		return w.Text("sheet.why-co2")
	}
	return w.Text("sheet.why-"+string(v.Parameter)+lowHigh(v.By < 0), "by", w.by(v))
}

func lowHigh(low bool) string {
	if low {
		return "-low"
	}
	return "-high"
}

// change says what to change, from what to what.
func (w sheetWriter) change(c sheet.Change) string {
	for _, v := range w.s.Verdicts {
		if v.Parameter != c.Parameter {
			continue
		}
		want := v.Band.High
		if c.Low {
			want = v.Band.Low
		}
		if r := w.s.Water.GH; r != nil && c.Parameter == sheet.GH {
			want = r.To
		}
		if r := w.s.Water.KH; r != nil && c.Parameter == sheet.KH {
			want = r.To
		}
		if m := w.s.Water.Blend; m != nil && c.Parameter == sheet.KH {
			want = m.Want
		}
		have := v.Value.High
		if c.Low {
			have = v.Value.Low
		}
		if v.Value.Model {
			have = v.Value.Best
		}
		return w.Text("sheet.change-"+string(c.Parameter)+lowHigh(c.Low), "have", w.plainFigure(c.Parameter, have), "want", w.figureOf(c.Parameter, want))
	}
	return ""
}

// figureOf prints a figure of a parameter with its unit.
func (w sheetWriter) figureOf(p sheet.Parameter, f float64) string {
	switch p {
	case sheet.Temperature:
		return Q(w.Voice, quantity.Temperature(f))
	case sheet.GH:
		return Q(w.Voice, quantity.Hardness(f)*quantity.DGH)
	case sheet.KH:
		return Q(w.Voice, quantity.Alkalinity(f)*quantity.DKH)
	case sheet.LightAt:
		return Q(w.Voice, quantity.PhotonFlux(f))
	}
	return w.N(f, 2)
}

// plainFigure is figureOf without the unit.
func (w sheetWriter) plainFigure(p sheet.Parameter, f float64) string {
	n, _, _ := strings.Cut(w.figureOf(p, f), "\u00a0")
	return n
}

// by prints how far outside a value lies.
func (w sheetWriter) by(v sheet.Verdict) string { return w.difference(v.Parameter, v.By) }

// difference prints the size of a difference; one of temperature is no temperature.
func (w sheetWriter) difference(p sheet.Parameter, d float64) string {
	d = max(d, -d)
	if p == sheet.Temperature && w.Units == quantity.US {
		return w.N(d*9/5, 1) + "\u00a0°F"
	}
	if p == sheet.Temperature {
		return w.N(d, 1) + "\u00a0°C"
	}
	return w.figureOf(p, d)
}

// doubts names what is near an edge and what is not known, of what counts.
func (w sheetWriter) doubts() []template.HTML {
	s := w.s
	for _, n := range s.Notices {
		if s.Forbidden && n.Firm() {
			return []template.HTML{w.Say("sheet.why-forbidden", "place", n.Place, "list", n.List, "what", capital(strings.TrimSuffix(n.What, ".")))}
		}
	}
	if w.noProfile() {
		return nil
	}
	var near, missing []string
	for _, v := range s.Verdicts {
		name := w.Text("sheet.name-" + string(v.Parameter))
		switch {
		case v.Parameter == sheet.PH && !v.Counts, v.Parameter == sheet.CO2 && !v.Counts:
		case v.Outcome == sheet.NearEdge:
			near = append(near, name)
		case v.Outcome == sheet.NotKnown && v.Parameter != sheet.PH:
			missing = append(missing, name)
		}
	}
	var out []template.HTML
	if s.Summary == sheet.OneChange && s.Change.Parameter != "" && s.Change.Slowly && s.Step.Worst.Parameter != sheet.CO2 {
		out = append(out, w.Say("sheet.slowly-too"))
	}
	if s.Summary == sheet.OneChange && s.Change.Parameter == "" && s.Step.Worst.Parameter != sheet.CO2 {
		out = append(out, w.Say("sheet.slowly-why-"+string(s.Step.Worst.Parameter)))
	}
	if len(near) > 0 {
		out = append(out, w.Say("sheet.near", "what", sentenceList(w.Voice, near)))
	}
	if len(missing) > 0 {
		out = append(out, w.Say("sheet.missing", "what", sentenceList(w.Voice, missing)))
	}
	return out
}

// inAir is the ending of sentences about CO2 for a plant that grew in the air.
func (w sheetWriter) inAir() string {
	if w.s.Step.Worst.Parameter == sheet.CO2 && (w.s.Grown == "emersed" || w.s.Grown == "culture") {
		return "-air"
	}
	return ""
}

// first is what comes before everything else, where it is not simply to open the bag.
func (w sheetWriter) first() template.HTML {
	s := w.s
	switch {
	case s.Forbidden:
		return w.Say("sheet.do-forbidden")
	case s.Brackish:
		return w.Say("sheet.do-brackish")
	case s.Summary == sheet.PoorMatch, s.Summary == sheet.OneChange && s.Step.Class == sheet.VeryLargeStep && s.Step.Worst.Parameter != sheet.CO2:
		return w.Say("sheet.do-tub")
	case s.Summary == sheet.CannotSay:
		return w.Say("sheet.do-measure", "what", sentenceList(w.Voice, []string{w.Text("sheet.name-temperature"), w.Text("sheet.name-gh"), w.Text("sheet.name-kh")}))
	}
	return ""
}

func (w sheetWriter) nowHead() template.HTML {
	if w.s.Parcel.Sent.IsZero() {
		return w.Say("sheet.now-later")
	}
	return w.Say("sheet.now")
}

// now is the first hour, step by step.
func (w sheetWriter) now() []template.HTML {
	s := w.s
	if s.Melt.Seed {
		return []template.HTML{w.Say("sheet.seeds")}
	}
	if s.Forbidden {
		return nil
	}
	open := "sheet.open"
	if s.Parcel.How == "post" {
		open = "sheet.open-damp"
	}
	out := []template.HTML{w.Say(open), w.Say("sheet.rinse", "test", w.Text("sheet.firm-"+string(s.Kind)))}
	if w.first() != "" {
		return out
	}
	out = append(out, w.over())
	plant := "sheet.plant"
	if s.Kind == sheet.Rhizome || s.Kind == sheet.Moss {
		plant = "sheet.plant-rhizome"
	}
	if s.Kind == sheet.Floating {
		plant = "sheet.plant-floating"
	}
	return append(out, w.Say(plant, "hours", w.hoursFigure(s.Hours[0].Hours)))
}

// over is how it is brought over to their water.
func (w sheetWriter) over() template.HTML {
	step := w.s.Step
	key := step.Class.String()
	switch {
	case step.Once:
		key = "once"
	case step.Class >= sheet.LargeStep && step.Worst.Parameter == sheet.CO2:
		key = "medium" // the water is much the same: what lacks is CO2, and no jar makes up for that
	case step.Class >= sheet.LargeStep:
		key = "large"
	}
	return w.Say("sheet.over-" + key)
}

func (w sheetWriter) hoursFigure(h float64) string { return w.N(h, 1) + "\u00a0h" }

func (w sheetWriter) cameHead() template.HTML {
	if w.s.Parcel.Sent.IsZero() {
		return w.Say("sheet.came-will")
	}
	return w.Say("sheet.came")
}

// came is what the parcel holds and where it grew.
func (w sheetWriter) came() []Field {
	s := w.s
	var out []Field
	add := func(key string, is template.HTML) {
		if is != "" {
			out = append(out, Field{w.Say("sheet." + key), is})
		}
	}
	name := Taxon(s.Species.Taxon)
	if s.Lot.Sure != "" {
		name = w.Say("sheet.sure-"+s.Lot.Sure, "name", name)
	}
	add("f-name", name)
	if s.Lot.ReceivedAs != "" {
		add("f-received", w.Say("sheet.received", "name", s.Lot.ReceivedAs))
	}
	what := []string{w.Text("form."+s.Lot.Form, "n", s.Parcel.Count)}
	if s.Lot.Length.Known() {
		what = append(what, R(w.Voice, s.Lot.Length))
	}
	if s.Lot.Rooted != journal.NotSaid {
		what = append(what, w.Text([...]string{"", "offers.rootless", "offers.rooted"}[s.Lot.Rooted]))
	}
	add("f-what", escapedHTML(strings.Join(what, ", ")))
	add("f-grown", escapedHTML(w.grown()))
	if line := strings.Join(w.b.waterLine(w.Voice, sheetWater(s.From.Water)), ", "); line != "" {
		add("f-water", w.Say("sheet.water-on", "water", line, "date", w.Date(s.From.On)))
	}
	if l := s.From.Light; l.Best > 0 {
		add("f-light", escapedHTML(QRange(w.Voice, l.Low, l.High)))
	}
	return out
}

// sheetWater keeps the four parameters that a sheet compares.
func sheetWater(p journal.Parameters) journal.Parameters {
	return journal.Parameters{Temperature: p.Temperature, PH: p.PH, GH: p.GH, KH: p.KH}
}

// grown says how it grew: under water for 9 wk, with CO2.
func (w sheetWriter) grown() string {
	s := w.s
	if s.Grown == "" {
		return ""
	}
	out := w.Text("offers.grown-" + s.Grown)
	if t, ok := w.b.Journal.Tank(s.Lot.Tank); ok && s.Grown == "submersed" && t.CO2 != journal.NotSaid {
		out = w.Text([...]string{"", "offers.without-co2", "offers.with-co2"}[t.CO2], "grown", out)
	}
	if s.Lot.SubmersedFor.Known() {
		out = w.Text("sheet.submersed-for", "grown", out, "span", w.weeks(s.Lot.SubmersedFor))
	}
	return out
}

// weeks prints a span in weeks once it has two of them.
func (w sheetWriter) weeks(r quantity.Reading[quantity.Span]) string {
	if r.Mid() < 2*quantity.Week {
		return R(w.Voice, r)
	}
	return w.Text("sheet.weeks", "n", w.N(float64(r.Mid()/quantity.Week), 0))
}

// escapedHTML makes text of ours safe to place.
func escapedHTML(s string) template.HTML { return template.HTML(template.HTMLEscapeString(s)) }
