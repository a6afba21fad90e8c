package page

import (
	"cmp"
	"html/template"
	"slices"
	"strings"

	"slipleaf/build/almanac"
	"slipleaf/build/block"
	"slipleaf/build/chart"
	"slipleaf/build/draw"
	"slipleaf/build/feed"
	"slipleaf/build/ledger"
	"slipleaf/build/quantity"
	"slipleaf/build/theme"
	"slipleaf/build/words"
)

// OffersPage is the model of the availability page.
type OffersPage struct {
	theme.Frame
	Heading   string
	Lead      string
	Jumps     []Jump
	Filters   []Filter
	Ready     []LotCard
	Asking    []AskingLine
	Form      string // the block to fill in
	Coming    ComingPart
	Reserved  []ReservedRow
	Waiting   []WaitingRow
	Gone      []GoneRow // the latest
	LongGone  []GoneRow // all others
	PassAlong string    // links
	Suit      string
	Calendar  string
	Marks     Marks
}

// Marks are the signs of state before the headings.
type Marks struct{ Ready, Coming, Reserved, Gone template.HTML }

// Jump is a link to a part of the page with how many lots it has.
type Jump struct {
	N    int
	Text string
	Href string
}

// LotCard is a lot that is ready.
type LotCard struct {
	Anchor, ID string
	Fit        string // words for the filters
	Waiting    string
	Plant      theme.PlantName
	Count      string
	What       string     // size, roots, how grown
	From       theme.Link // the tank
	Water      []string
	Sprig      template.HTML
	Needs      []string
	Elsewhere  string
	Declared   []string // name as received, pests, dips, copper
	Kept       string   // what of it is promised
	Notices    []words.NoticeRow
	Ask        string // link
	AskText    string
}

// AskingLine is a fact on how asking works, with a heading.
type AskingLine struct{ Head, Text string }

// ComingPart is the table of what is to come.
type ComingPart struct {
	Rows    []ComingRow
	Between string // head of the column with the bars
	Note    string
}

// ComingRow is a lot that is not there yet.
type ComingRow struct {
	Anchor, ID, Fit string
	Plant           theme.PlantName
	What            string
	When            string
	Bar             template.HTML
	Ask             string
	Kept            string
}

// PromisedRow is plants that are kept for somebody.
type ReservedRow struct {
	Anchor  string // only at the lot's first row, and where it is nowhere else
	Plant   theme.PlantName
	What    string
	On      string
	Free    string
	Lapsed  bool
	FreeISO string
}

// WaitingRow is a plant that somebody waits for, and how many do; nobody is named.
type WaitingRow struct {
	Plant theme.PlantName
	What  string
}

// waitingRows list the plants that somebody waits for, but those that are given to nobody.
func (b *Site) waitingRows(v words.Locale) (out []WaitingRow) {
	j := b.facts.Heads()
	for _, plant := range j.WaitedFor(b.facts.Day()) {
		if p, ok := j.Plant(plant); ok && p.Withhold {
			continue
		}
		out = append(out, WaitingRow{b.plantLink(OffersAddr, plant), v.Text("offers.waited-for", "n", len(j.Waiting(plant, b.facts.Day())))})
	}
	return out
}

// GoneRow is a lot of which all is given.
type GoneRow struct {
	Anchor, ID string
	Plant      theme.PlantName
	Given      int
	Last       string
}

// goneShown is how many of the gone lots stand open; the others are one disclosure away.
const goneShown = 6

// Offers makes the availability page.
func (b *Site) Offers() ([]byte, error) {
	v := b.Locale()
	ready, coming, gone := b.facts.Ledger().In(ledger.Ready), b.facts.Ledger().In(ledger.Coming), b.facts.Ledger().In(ledger.Gone)
	heading := freeToday(v, ready)
	m := OffersPage{
		Frame:   b.frame("offers", OffersAddr, heading+" · "+b.Journal.Title, v.Text("offers.description", "grower", b.Journal.Grower)),
		Heading: heading, Lead: words.Sentences(v.Text("offers.as-of", "date", v.Date(b.facts.Day())), b.postSentence(v)),
		Filters: filters(v), Asking: b.asking(v), Form: block.Block{}.Form(),
		PassAlong: b.href(OffersAddr, PassAlongAddr), Suit: b.href(OffersAddr, SuitAddr), Calendar: b.href(OffersAddr, "/offers.ics"),
		Marks: Marks{draw.In.SVG(), draw.Near.SVG(), draw.Unknown.SVG(), draw.Gone.SVG()},
	}
	for _, l := range ready {
		m.Ready = append(m.Ready, b.lotCard(v, l))
	}
	m.Coming = b.coming(v, OffersAddr, coming)
	m.Reserved = b.reservedRows(v)
	m.Waiting = b.waitingRows(v)
	for i, l := range gone {
		row := GoneRow{Anchor: LotAnchor(l.ID), ID: l.ID, Plant: b.plantLink(OffersAddr, l.Plant), Given: l.Sent, Last: v.Date(l.LastSent)}
		if i < goneShown {
			m.Gone = append(m.Gone, row)
		} else {
			m.LongGone = append(m.LongGone, row)
		}
	}
	for _, j := range []struct {
		n   int
		key string
	}{{len(ready), "ready"}, {len(coming), "coming"}, {len(m.Reserved), "reserved"}, {len(gone), "gone"}} {
		if j.n > 0 {
			m.Jumps = append(m.Jumps, Jump{j.n, v.Text("offers.jump-"+j.key, "n", j.n), "#" + j.key})
		}
	}
	return b.Theme.Render("offers", m)
}

// OffersJSON makes the offers file for other journals.
func (b *Site) OffersJSON() ([]byte, error) {
	return feed.OffersOf(feed.Source{Journal: b.Journal, Ledger: b.facts.Ledger(), Elsewhere: b.facts.AllOutcomes(), Species: b.Species, Page: LotAddr}).JSON()
}

// freeToday is the headline: how many plants can be asked for today, and how many seeds.
func freeToday(v words.Locale, ready []*ledger.Lot) string {
	plants, seeds := 0, 0
	for _, l := range ready {
		p, s := l.Split(l.Left)
		plants, seeds = plants+p, seeds+s
	}
	key := "offers.free-both"
	switch {
	case plants == 0 && seeds == 0:
		key = "offers.none-free"
	case plants == 0:
		key = "offers.seeds-free"
	case seeds == 0:
		key = "offers.free"
	}
	return v.Text(key, "count", words.Capital(words.NumberWord(v, plants)), "n", plants, "seeds", seeds)
}

// posting reports whether plants go by post in the month of a day; true where the grower names no months.
func (b *Site) posting(on quantity.Date) bool {
	return len(b.Journal.PostMonths) == 0 || slices.Contains(b.Journal.PostMonths, int(on.Month))
}

// postSentence says until or from when plants go by post; "" where the grower names no months, or all of them.
func (b *Site) postSentence(v words.Locale) string {
	months := b.Journal.PostMonths
	if len(months) == 0 || len(months) >= 12 {
		return ""
	}
	now := b.posting(b.facts.Day())
	m := int(b.facts.Day().Month)
	for slices.Contains(months, m%12+1) == now { // the months are neither none nor all, so it ends
		m = m%12 + 1
	}
	if now {
		return v.Text("offers.post-until", "month", words.Item(v.List("date.months"), m-1))
	}
	return v.Text("offers.post-from", "month", words.Item(v.List("date.months"), m%12))
}

// months lists the months of the post in words, runs as "March to June".
func (b *Site) monthsWords(v words.Locale) string {
	var runs []string
	ms := b.Journal.PostMonths
	for i := 0; i < len(ms); {
		j := i
		for j+1 < len(ms) && ms[j+1] == ms[j]+1 {
			j++
		}
		from, to := words.Item(v.List("date.months"), ms[i]-1), words.Item(v.List("date.months"), ms[j]-1)
		switch j - i {
		case 0:
			runs = append(runs, from)
		case 1:
			runs = append(runs, from, to)
		default:
			runs = append(runs, v.Text("offers.month-run", "from", from, "to", to))
		}
		i = j + 1
	}
	return words.And(v, runs)
}

// lotCard fills the card of a lot that is ready.
func (b *Site) lotCard(v words.Locale, l *ledger.Lot) LotCard {
	s := b.facts.Species(l.Plant)
	c := LotCard{
		Anchor: LotAnchor(l.ID), ID: l.ID, Fit: b.fitWords(s, b.facts.Day()), Waiting: waiting(v, l.Waiting), Plant: b.plantLink(OffersAddr, l.Plant),
		Count: v.Text("form."+l.Form, "n", l.Left), What: b.grownHow(v, l), Sprig: b.sprigOf(l.Plant), Needs: needs(v, s),
		Elsewhere: b.sharing(OffersAddr).Line(l.Plant), Declared: declared(v, l), Notices: words.Notices(v, b.Almanac, b.Journal.Region, s.Taxon),
		Ask: b.askHref(v, l), AskText: v.Text("offers.ask", "lot", l.ID), Kept: kept(v, l),
	}
	if t, ok := b.Journal.Tank(l.Tank); ok {
		p := b.facts.WaterNow(t.ID).Parameters
		c.From, c.Water = theme.Link{Text: b.tankName(l.Tank), Href: b.href(OffersAddr, TankAddr(l.Tank))}, words.WaterLine(v, p)
	}
	return c
}

func waiting(v words.Locale, days int) string {
	if days <= 0 {
		return v.Text("offers.since-today")
	}
	return v.Text("offers.waiting", "n", days)
}

// kept says how much of a lot is promised; "" for none.
func kept(v words.Locale, l *ledger.Lot) string {
	if l.Reserved == 0 {
		return ""
	}
	return v.Text("offers.kept", "n", l.Reserved)
}

// Sprig draws a plant for its label.
func Sprig(s almanac.Species) template.HTML {
	return plateOf(s).Sprig()
}

// grownHow says what the plants are like: length, roots, and how they grew.
func (b *Site) grownHow(v words.Locale, l *ledger.Lot) string {
	var size []string
	if l.Length.Known() {
		size = append(size, v.Text("offers.length", "length", words.R(v, l.Length)))
	}
	if l.Rooted != 0 {
		size = append(size, v.Text([...]string{"", "offers.rootless", "offers.rooted"}[l.Rooted]))
	}
	grown := ""
	if l.Grown != "" {
		grown = v.Text("offers.grown-" + l.Grown)
	}
	if t, ok := b.Journal.Tank(l.Tank); ok && l.Grown == "submersed" && t.CO2 != 0 {
		grown = v.Text([...]string{"", "offers.without-co2", "offers.with-co2"}[t.CO2], "grown", grown)
	}
	if l.SubmersedFor.Known() && l.Grown != "submersed" {
		grown = v.Text("offers.submersed-for", "grown", grown, "span", words.R(v, l.SubmersedFor))
	}
	return strings.Join(words.NonEmpty(strings.Join(size, ", "), grown), "; ")
}

// declared says what a taker should know: the name and its doubt, pests, dips and copper.
func declared(v words.Locale, l *ledger.Lot) []string {
	var out []string
	pests, dips, copper := words.LotTreatment(v, l.Lot)
	if l.ReceivedAs != "" {
		out = append(out, v.Text("offers.received-as", "name", l.ReceivedAs))
	}
	if l.Identity == "likely" || l.Identity == "unsure" {
		out = append(out, v.Text("offers.name-"+l.Identity))
	}
	if l.Pests != "" {
		out = append(out, v.Text("offers.pests", "what", pests))
	} else {
		out = append(out, v.Text("offers.no-pests"))
	}
	if l.Dips != "" {
		out = append(out, v.Text("offers.dips", "what", dips))
	}
	if l.Copper != "" {
		out = append(out, v.Text("offers.copper", "what", copper))
	}
	return out
}

// askHref is the link by which a lot is asked for, with the questions about the tank in the message.
func (b *Site) askHref(v words.Locale, l *ledger.Lot) string {
	taxon := b.facts.Species(l.Plant).Taxon
	body := v.Text("offers.mail", "grower", b.Journal.Grower, "lot", l.ID, "plant", taxon) + "\n" + block.Block{Lot: l.ID}.Form()
	return feed.RequestWith(b.Journal, l.ID, taxon, body)
}

// asking says how asking works: who pays, who gets it, when a promise lapses, when the post goes.
func (b *Site) asking(v words.Locale) []AskingLine {
	j := b.Journal
	var out []AskingLine
	add := func(key string, pairs ...any) {
		out = append(out, AskingLine{v.Text("asking." + key), v.Text("asking."+key+"-text", pairs...)})
	}
	add("gift")
	if j.PostPays != "" {
		add("pays-" + j.PostPays)
	}
	if j.WhoGets != "" {
		add("chooses-" + j.WhoGets)
	}
	add("lapse", "n", j.HoldDays())
	if months := b.monthsWords(v); months != "" {
		add("post", "months", months)
	}
	add("borders")
	add("law")
	return out
}

// coming fills the table of what is to come, for the page at from.
func (b *Site) coming(v words.Locale, from string, lots []*ledger.Lot) ComingPart {
	var p ComingPart
	last := b.facts.Day().Add(1)
	forecast := false
	for _, l := range lots {
		if l.Window.Known() && l.Window.High.After(last) {
			last = l.Window.High
		}
		forecast = forecast || l.Window.Known() && !l.Own
	}
	for _, l := range lots {
		row := ComingRow{Anchor: LotAnchor(l.ID), ID: l.ID, Fit: b.fitWords(b.facts.Species(l.Plant), cmp.Or(l.Window.Best, b.facts.Day())), Plant: b.plantLink(from, l.Plant),
			What: comingWhat(v, l), When: comingWhen(v, l), Kept: kept(v, l), Ask: b.askHref(v, l)}
		if l.Window.Known() && !l.Own {
			row.Bar = windowBar(l.Window, b.facts.Day(), last, b.facts.Day())
		}
		p.Rows = append(p.Rows, row)
	}
	p.Between = v.Text("offers.when")
	if forecast {
		p.Between = v.Text("offers.between", "from", v.DayMonth(b.facts.Day()), "to", v.DayMonth(last))
		p.Note = v.Text("offers.windows")
	}
	return p
}

func comingWhat(v words.Locale, l *ledger.Lot) string {
	if l.Expected {
		return v.Text("form-name." + l.Form)
	}
	return v.Text("form."+l.Form, "n", l.Left)
}

func comingWhen(v words.Locale, l *ledger.Lot) string {
	switch {
	case !l.Window.Known():
		return v.Text("offers.no-window")
	case l.Own && l.Expected:
		return v.Text("offers.own-day", "date", v.Date(l.Window.Best))
	case l.Own:
		return v.Text("offers.from-day", "date", v.Date(l.Window.Best))
	}
	return v.Dates(l.Window.Low, l.Window.High)
}

// windowBar draws a window on the days from one to another; the tick is the likeliest day, the hollow one today, where the
// days begin before it.
func windowBar(w ledger.Forecast, from, to, today quantity.Date) template.HTML {
	best, now := float64(w.Best.Days()), float64(today.Days())
	r := chart.Range{Low: float64(w.Low.Days()), High: float64(w.High.Days()), From: float64(from.Days()), To: float64(to.Days()), Here: &best}
	if from.Before(today) {
		r.There = &now
	}
	return r.Draw()
}

// promisedRows lists the promises that stand, by lot, and those that lapsed and freed plants which are still there.
func (b *Site) reservedRows(v words.Locale) []ReservedRow {
	var out []ReservedRow
	for _, l := range b.facts.Ledger().Offered() {
		row := func(p ledger.Reservation, lapsed bool) {
			r := ReservedRow{Plant: b.plantLink(OffersAddr, l.Plant), What: v.Text("offers.of-lot", "n", p.Count, "lot", l.ID), On: v.DayMonth(p.On),
				Free: v.DayMonth(p.Lapses), FreeISO: p.Lapses.String(), Lapsed: lapsed}
			out = append(out, r)
		}
		first := len(out)
		for _, p := range l.Reservations {
			row(p, false)
		}
		if l.Left > 0 {
			for _, p := range l.Lapsed {
				row(p, true)
			}
		}
		if l.State == ledger.Reserved && len(out) > first {
			out[first].Anchor = LotAnchor(l.ID)
		}
	}
	slices.SortStableFunc(out, func(x, y ReservedRow) int { return strings.Compare(x.FreeISO, y.FreeISO) })
	return out
}
