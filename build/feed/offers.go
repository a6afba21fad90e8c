// Package feed writes the machine-readable files: feeds, offers, calendar, sitemap. It is pure.
package feed

import (
	"encoding/json"
	"math"
	"net/url"
	"regexp"
	"strings"

	"slipleaf/build/almanac"
	"slipleaf/build/journal"
	"slipleaf/build/ledger"
	"slipleaf/build/quantity"
)

// Offers is offers.json: what a journal gives away, for other journals to read.
type Offers struct {
	Journal OffersJournal `json:"journal"`
	AsOf    string        `json:"as-of"` // full-date
	Offers  []Offer       `json:"offers"`
}

// OffersJournal says whose offers they are.
type OffersJournal struct {
	Title   string `json:"title"`
	Grower  string `json:"grower,omitempty"`
	Address string `json:"address,omitempty"` // of the site
}

// Offer is one lot. What is not known is absent and named in Unknown.
type Offer struct {
	Lot       string     `json:"lot"`
	Plant     string     `json:"plant"`
	Taxon     string     `json:"taxon"`
	Form      string     `json:"form,omitempty"`
	Count     *int       `json:"count,omitempty"`
	Reserved  int        `json:"reserved"`
	Left      *int       `json:"left,omitempty"`
	State     string     `json:"state"`            // ready | coming | gone
	Ready     string     `json:"ready,omitempty"`  // full-date; the likeliest one of a coming lot
	Window    *Window    `json:"window,omitempty"` // of a coming lot that is forecast
	Needs     Needs      `json:"needs"`
	Elsewhere *Elsewhere `json:"elsewhere,omitempty"`
	Request   string     `json:"request,omitempty"` // address to ask at
	Page      string     `json:"page,omitempty"`
	GrownFrom string     `json:"grown-from,omitempty"` // the public address of another journal's lot
	Unknown   []string   `json:"unknown,omitempty"`
}

// Window is the span of days of a forecast.
type Window struct {
	Low   string  `json:"low"`
	High  string  `json:"high"`
	Level float64 `json:"level"`
}

// Needs is what the species lives in.
type Needs struct {
	Temperature *Tolerance `json:"temperature,omitempty"`
	PH          *Tolerance `json:"ph,omitempty"`
	GH          *Tolerance `json:"gh,omitempty"`
	KH          *Tolerance `json:"kh,omitempty"`
	Light       *Tolerance `json:"light,omitempty"`
	CO2         string     `json:"co2,omitempty"`   // none | helps | needed
	Place       string     `json:"place,omitempty"` // back | middle | front | hardscape | surface
	Unknown     []string   `json:"unknown,omitempty"`
}

// Tolerance is a range with its unit.
type Tolerance struct {
	Low  float64 `json:"low"`
	High float64 `json:"high"`
	Unit string  `json:"unit,omitempty"`
}

// Elsewhere is how a species does for others: parcels sent, those with a verdict, and the share established.
type Elsewhere struct {
	Sent        int      `json:"sent"`
	Results     int      `json:"results"`
	Established *Share   `json:"established,omitempty"` // from five verdicts on
	Unknown     []string `json:"unknown,omitempty"`
}

// Share is a share between 0 and 1 with its interval and the number of observations behind it.
type Share struct {
	Value float64 `json:"value"`
	Low   float64 `json:"low"`
	High  float64 `json:"high"`
	Level float64 `json:"level"`
	N     int     `json:"n"`
}

// ElsewhereOf puts the facts of a species into the form of offers.json and growth.json.
func ElsewhereOf(e ledger.Outcomes) *Elsewhere {
	out := &Elsewhere{Sent: e.All.Sent, Results: e.All.Results()}
	if e.All.Say == ledger.TooFew {
		out.Unknown = []string{"established"}
		return out
	}
	s := e.All.Share
	out.Established = &Share{rounded(s.Value, 3), rounded(s.Low, 3), rounded(s.High, 3), s.Level, e.All.Settled.Results()}
	return out
}

// Source is what offers.json is made from.
type Source struct {
	Journal   *journal.Journal
	Ledger    *ledger.Ledger
	Elsewhere map[string]ledger.Outcomes
	Species   func(plant string) almanac.Species
	Page      func(lot string) string // where a lot is on the site, with a leading slash
}

// OffersOf lists every lot that may be shown, by name; spent ones too, as gone.
func OffersOf(s Source) Offers {
	out := Offers{
		Journal: OffersJournal{s.Journal.Title, s.Journal.Grower, s.Journal.Address}, AsOf: s.Ledger.On.String(), Offers: []Offer{},
	}
	for _, l := range s.Ledger.Offered() {
		out.Offers = append(out.Offers, s.offer(l))
	}
	return out
}

// offer puts one lot into the form of the file.
func (s Source) offer(l *ledger.Lot) Offer {
	sp := s.Species(l.Plant)
	o := Offer{Lot: l.ID, Plant: l.Plant, Taxon: sp.Taxon, Form: l.Form, Reserved: l.Reserved, State: stateOf(l.State), Ready: l.Ready.String(), Needs: needsOf(sp)}
	if l.Expected {
		o.Unknown = append(o.Unknown, "count", "left")
		o.Ready = l.Window.Best.String()
		if l.Window.Known() && !l.Own {
			o.Window = &Window{l.Window.Low.String(), l.Window.High.String(), ledger.ForecastLevel}
		}
	} else {
		o.Count, o.Left = new(l.Count), new(l.Left)
	}
	if o.Ready == "" {
		o.Unknown = append(o.Unknown, "ready")
	}
	if e, ok := s.Elsewhere[l.Plant]; ok {
		o.Elsewhere = ElsewhereOf(e)
	} else {
		o.Elsewhere = &Elsewhere{Unknown: []string{"established"}}
	}
	if l.State == ledger.Ready || l.State == ledger.Coming {
		o.Request = Request(s.Journal, l.ID, sp.Taxon)
	}
	if s.Journal.Address != "" && s.Page != nil {
		o.Page = s.Journal.Address + strings.TrimPrefix(s.Page(l.ID), "/")
	} else {
		o.Unknown = append(o.Unknown, "page")
	}
	if _, _, public := LotOf(l.GrownFrom); public {
		o.GrownFrom = l.GrownFrom
	}
	return o
}

// LotOf tells apart the public address of a lot: the site that offers it, with a slash at its end, and the lot's name in
// lower case. ok is false for every other address, that of a care sheet above all, which is a secret.
func LotOf(address string) (site, lot string, ok bool) {
	site, lot, ok = strings.Cut(address, "offers/#lot-")
	u, err := url.Parse(site)
	ok = ok && err == nil && u.Host != "" && u.User == nil && u.RawQuery == "" && strings.HasSuffix(u.Path, "/") &&
		(u.Scheme == "https" || u.Scheme == "http") && !strings.Contains(u.Path, "/sheets/") && lotAnchor.MatchString(lot)
	if !ok {
		return "", "", false
	}
	return site, strings.ToLower(lot), true
}

// lotAnchor is the name of a lot as the end of an address has it.
var lotAnchor = regexp.MustCompile(`^[A-Za-z0-9-]{1,40}$`)

// stateOf is the state in the words of the file, which has none for a lot that is all reserved: nothing is left of it.
func stateOf(s ledger.State) string {
	if s == ledger.Reserved {
		return ledger.Gone.String()
	}
	return s.String()
}

func needsOf(s almanac.Species) Needs {
	n := Needs{CO2: s.CO2, Place: s.Placement}
	n.Temperature = tolerance(&n, "temperature", s.Temperature, "C")
	n.PH = tolerance(&n, "ph", s.PH, "")
	n.GH = tolerance(&n, "gh", s.GH, "dGH")
	n.KH = tolerance(&n, "kh", s.KH, "dKH")
	n.Light = tolerance(&n, "light", s.Light, "umol/m2/s")
	for _, w := range []struct{ name, word string }{{"co2", n.CO2}, {"place", n.Place}} {
		if w.word == "" {
			n.Unknown = append(n.Unknown, w.name)
		}
	}
	return n
}

func tolerance[T quantity.Scalar](n *Needs, name string, r quantity.Reading[T], unit string) *Tolerance {
	low, okLow := quantity.In(r.Low(), unit)
	high, okHigh := quantity.In(r.High(), unit)
	if !r.Known() || !okLow || !okHigh {
		n.Unknown = append(n.Unknown, name)
		return nil
	}
	return &Tolerance{rounded(low, 2), rounded(high, 2), unit}
}

// rounded cuts a figure to a fixed number of decimals, so that every machine writes the same.
func rounded(v float64, places int) float64 {
	p := math.Pow10(places)
	return math.Round(v*p) / p
}

// JSON writes the file.
func (o Offers) JSON() ([]byte, error) {
	b, err := json.MarshalIndent(o, "", " ")
	return append(b, '\n'), err
}

// Request is the journal's address to ask at with a lot and its plant filled in; "" where the journal has none.
func Request(j *journal.Journal, lot, taxon string) string {
	return strings.NewReplacer("{lot}", Escaped(lot), "{plant}", Escaped(taxon)).Replace(j.Requests)
}

// RequestWith is [Request] with a text for the body of the mail; an https address takes none.
func RequestWith(j *journal.Journal, lot, taxon, body string) string {
	claim := Request(j, lot, taxon)
	if !strings.HasPrefix(claim, "mailto:") {
		return claim
	}
	sign := "?"
	if strings.Contains(claim, "?") {
		sign = "&"
	}
	body = strings.ReplaceAll(strings.ReplaceAll(body, "\r\n", "\n"), "\n", "\r\n") // RFC 6068: lines end in CRLF
	return claim + sign + "body=" + Escaped(body)
}

// Escaped writes a value so that it is one part of a query, with spaces as mail programs read them.
func Escaped(s string) string { return strings.ReplaceAll(url.QueryEscape(s), "+", "%20") }

// Report is the address at which a report is given: a mail with subject and text to the requests address, or that
// address itself when it is a page.
func Report(j *journal.Journal, lot, taxon, subject, body string) string {
	to, isMail := strings.CutPrefix(j.Requests, "mailto:")
	switch {
	case j.Requests == "":
		return ""
	case !isMail:
		return Request(j, lot, taxon)
	}
	to, _, _ = strings.Cut(to, "?")
	body = strings.ReplaceAll(body, "\n", "\r\n") // RFC 6068: lines end in CRLF
	return "mailto:" + to + "?subject=" + Escaped(subject) + "&body=" + Escaped(body)
}
