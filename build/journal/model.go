// Package journal is the typed model of a grower's journal and its strict reader: files in, a [Journal] or precise
// complaints out. It knows the almanac's names and no page.
package journal

import (
	"fmt"
	"io"
	"iter"
	"maps"
	"slices"

	"slipleaf/build/almanac"
	"slipleaf/build/fingerprint"
	"slipleaf/build/quantity"
)

// Tankside says what the page that writes entries without a network can do.
type Tankside struct {
	NewFile string // the repository's page for a new file, with {path} and {text} to fill in; "": none
}

// Journal is everything that the files say, linked and in a fixed order: tanks, plants and pages by id, entries by
// date and slug, parcels by file name.
type Journal struct {
	Source
	Title, Grower   string
	Address         string                          // where the site will live; ends in a slash; "" if not given
	Language        string                          // BCP 47
	Units           quantity.System                 // of the pages
	Region          string                          // ISO 3166-1 or -2
	Timezone        string                          // IANA name
	MadeFor         quantity.Date                   // the day at which a journal that is closed or only shown is held; zero: it goes on
	Requests        string                          // mailto: or https: address, with {lot} and {plant} to fill in
	Look            string                          // a theme's folder inside the journal; "" for the default
	TrimWhen        TrimWhen                        // the habit where neither plant nor tank has its own
	Quarantine      quantity.Reading[quantity.Span] // that sheets advise; absent: not said
	Friends         []Friend
	HoldFor         quantity.Reading[quantity.Span] // how long a reservation holds; absent: 14 d
	PostMonths      []int                           `key:"months"` // 1 to 12, in order; empty: not said
	PostPays        string                          `key:"pays"`   // recipient | grower | ""
	WhoGets         string                          // best-match | first-come | ""
	Tankside        *Tankside                       // the page that writes entries without a network; nil: none
	EraseNamesAfter quantity.Reading[quantity.Span] // how long private parts of parcels are kept; absent: 180 d

	Tanks   []*Tank
	Plants  []*Plant // the grower's own plant files
	Parcels []*Parcel
	Pages   []*Page

	// Gathered holds the friends' offers files as they lie in friends/, by file name.
	Gathered []GatheredFile

	tanks  map[string]*Tank
	plants map[string]*Plant
	lots   map[string]*Lot
	parcel map[string]*Parcel
	own    map[string]string // ids of plants by the keys of their names
}

// Tank returns the tank of that id.
func (j *Journal) Tank(id string) (*Tank, bool) { t, ok := j.tanks[id]; return t, ok }

// Plant returns the grower's own file on a plant; many plants have none.
func (j *Journal) Plant(id string) (*Plant, bool) { p, ok := j.plants[id]; return p, ok }

// Lot returns the lot of that name: the entry that gives its count, or else the one that announces it.
func (j *Journal) Lot(id string) (*Lot, bool) { l, ok := j.lots[id]; return l, ok }

// Lots lists every lot by name, each as [Journal.Lot] gives it.
func (j *Journal) Lots() []*Lot {
	out := make([]*Lot, 0, len(j.lots))
	for _, id := range slices.Sorted(maps.Keys(j.lots)) {
		out = append(out, j.lots[id])
	}
	return out
}

// ParcelByCode returns the parcel with that code.
func (j *Journal) ParcelByCode(code string) (*Parcel, bool) { p, ok := j.parcel[code]; return p, ok }

// Outline is what is in journal.yaml and in the heads of tanks, plants and pages: a journal without entries, lots,
// parcels and files of friends.
func (j *Journal) Outline() *Journal {
	out := *j
	out.Parcels, out.Gathered, out.lots, out.parcel = nil, nil, nil, nil
	out.Tanks, out.tanks = make([]*Tank, len(j.Tanks)), make(map[string]*Tank, len(j.Tanks))
	for i, t := range j.Tanks {
		bare := *t
		bare.Entries = nil
		out.Tanks[i], out.tanks[t.ID] = &bare, &bare
	}
	return &out
}

// Source is the file that something was read from. It prints as its path, and so does whatever holds it: heads have
// private parts.
type Source struct {
	Path  string // slash path within the journal: tanks/trough/2026-04-18.md
	head  sealed // the YAML head without its lines of ---, as written; the whole file for journal.yaml
	Body  []byte // the Markdown after the head
	Shows bool   // a picture may be in it
	// HeadLine and BodyLine are the lines of the file on which head and body begin, so that a fault can name its line.
	HeadLine, BodyLine int
	// HeadPrint and BodyPrint are the fingerprints of head and body.
	HeadSum, BodySum fingerprint.Sum
}

// Format prints the path, whatever the verb.
func (s Source) Format(f fmt.State, _ rune) { _, _ = io.WriteString(f, s.Path) }

// TrimWhen is the size at which the grower trims, by measure. An absent one is not said.
type TrimWhen struct {
	StemLength  quantity.Reading[quantity.Length] // length of the stems
	TotalLength quantity.Reading[quantity.Length] // total stem length
	Cover       quantity.Reading[quantity.Share]
	Leaves      int // 0: not said
	Plantlets   int
	Stems       int // number of stems
	Mass        quantity.Reading[quantity.Mass]
}

// Friend is another grower whose offers are gathered.
type Friend struct {
	Name   string
	Offers string // address of their offers.json
}

// GatheredFile is a friend's offers file, as fetched: somebody else's text.
type GatheredFile struct {
	Name string // file name under friends/
	Data []byte
}

// Tank is one tank.
type Tank struct {
	Source
	ID, Name     string
	Formerly     []string      // what its folder was called before
	Began, Ended quantity.Date // set up and taken down; zero: not said, not yet
	Inside       Inside
	WaterDepth   quantity.Reading[quantity.Length] // surface to substrate
	Substrate    []Layer                           // bottom first
	Light        []Lamp
	CO2          Tristate // injected?
	Flow         Flow
	Livestock    []Livestock
	Tap, Target  Parameters          // of the tap; aimed at
	Grown        string              // submersed (the default) | emersed
	TrimWhen     map[string]TrimWhen // by plant; the tank's own habit
	Private      Private
	Entries      []*Entry // by date and slug
}

// Tristate is yes, no or not said.
type Tristate uint8

// The states of a [Tristate].
const (
	NotSaid Tristate = iota
	No
	Yes
)

// Inside holds the inner measures of a tank.
type Inside struct {
	Length quantity.Reading[quantity.Length] // along the front glass
	Width  quantity.Reading[quantity.Length] // from front to back
	Height quantity.Reading[quantity.Length] // from the bottom glass to the rim
}

// Layer is a layer of substrate.
type Layer struct {
	Material  string
	Depth     quantity.Reading[quantity.Length] // how thick the layer is
	Nutrients string                            // none | some | rich | ""
}

// Lamp is a lamp as its owner knows it: watts with an efficacy, or lumens with a kind.
type Lamp struct {
	Name          string
	Power         quantity.Reading[quantity.Power]    // electric draw
	Efficacy      quantity.Reading[quantity.Efficacy] // photons of 400 to 700 nm for each joule
	Output        quantity.Reading[quantity.LuminousFlux]
	Kind          string                            // white led, cool white fluorescent, …
	Length, Width quantity.Reading[quantity.Length] // of what shines
	AboveWater    quantity.Reading[quantity.Length] // from the surface to the lamp
	Hours         float64                           // a day; 0: not said
	DimmedTo      quantity.Reading[quantity.Share]  // of its full output; absent: all of it
}

// Flow is what moves the water.
type Flow struct {
	Rate   quantity.Reading[quantity.Flow]
	Device string // what it is, in the grower's words
}

// Livestock is animals of one kind.
type Livestock struct {
	Kind  string
	Count int // 0: not said
}

// Parameters is a tank's water on a day, or a tap's, or a target. Absent readings were not measured.
type Parameters struct {
	Temperature  quantity.Reading[quantity.Temperature]
	PH           quantity.Reading[quantity.PH]
	GH           quantity.Reading[quantity.Hardness]
	KH           quantity.Reading[quantity.Alkalinity]
	Conductivity quantity.Reading[quantity.Conductivity]
	Light        quantity.Reading[quantity.PhotonFlux]    // at the substrate, measured
	Lux          quantity.Reading[quantity.Illuminance]   // the same in lux
	CO2          quantity.Reading[quantity.Concentration] // dissolved
	Ammonia      quantity.Reading[quantity.Concentration] // NH3 and NH4+ together
	Nitrite      quantity.Reading[quantity.Concentration] // as NO2
	Nitrate      quantity.Reading[quantity.Concentration] // as NO3
	Phosphate    quantity.Reading[quantity.Concentration] // as PO4
	Potassium    quantity.Reading[quantity.Concentration]
	Calcium      quantity.Reading[quantity.Concentration]
	Magnesium    quantity.Reading[quantity.Concentration]
	Iron         quantity.Reading[quantity.Concentration]
	Oxygen       quantity.Reading[quantity.Concentration] // dissolved
}

// Entry is one diary entry of a tank.
type Entry struct {
	Source
	Tank        string // the tank's id
	Date        quantity.Date
	Slug        string // "" when the file is named by its date alone
	Title       string
	Parameters  Parameters
	Counts      []Count
	Plantings   []Planting
	Trims       []Trim
	Losses      []Loss
	Doses       []Dose
	WaterChange WaterChange
	Lots        []Lot
	StillThere  []string // ids of lots that were looked at
	Photos      []Photo
	Private     Private

	untouched bool // blanks, and nothing else
}

// ID is the entry's name within its tank: DATE or DATE-SLUG.
func (e *Entry) ID() string {
	if e.Slug == "" {
		return e.Date.String()
	}
	return e.Date.String() + "-" + e.Slug
}

// field is the n-th part of a list in an entry's head.
type field struct {
	list string
	n    int
}

func (f field) plant() string { return fmt.Sprintf("%s[%d].plant", f.list, f.n) }

// plants gives the plants that an entry names, with repeats and with the places of their names.
func (e *Entry) plants() iter.Seq2[field, *string] {
	return func(yield func(field, *string) bool) {
		more := true
		see := func(list string, n int, plant *string) {
			more = more && (*plant == "" || yield(field{list, n}, plant))
		}
		for i := range e.Counts {
			see("counts", i, &e.Counts[i].Plant)
		}
		for i := range e.Plantings {
			see("plantings", i, &e.Plantings[i].Plant)
		}
		for i := range e.Trims {
			see("trims", i, &e.Trims[i].Plant)
		}
		for i := range e.Losses { // one of a lot names none: the lot's own entry does
			see("losses", i, &e.Losses[i].Plant)
		}
		for i := range e.Lots {
			see("lots", i, &e.Lots[i].Plant)
		}
	}
}

// Named gives the plants that an entry names, with repeats.
func (e *Entry) Named() iter.Seq[string] {
	return func(yield func(string) bool) {
		for _, plant := range e.plants() {
			if !yield(*plant) {
				return
			}
		}
	}
}

// Amount is how much of a plant, in whichever measures were counted. Pointers tell "not counted" from "none".
type Amount struct {
	Stems, Plantlets, Leaves *int
	Length                   quantity.Reading[quantity.Length] // of one stem
	Cover                    quantity.Reading[quantity.Share]  // of Area
	Mass                     quantity.Reading[quantity.Mass]   // blotted fresh mass
}

// Count is how much of a plant stood there on the day, before any trim.
type Count struct {
	Plant string
	Amount
	Area  quantity.Reading[quantity.Area] // of the tank's footprint that it covers
	Where Where
	By    string // who counted
}

// Where is a place along the front glass, from its left, and a row.
type Where struct {
	Along quantity.Reading[quantity.Length] // from the left end of the front glass
	Row   string                            // front | middle | back | ""
}

// Planting is plants put in.
type Planting struct {
	Plant string
	Amount
	Area  quantity.Reading[quantity.Area]
	From  string // gift, …
	Where Where
}

// Trim is plants taken out.
type Trim struct {
	Plant     string
	Cuttings  *int                              // taken; nil: not said
	Length    quantity.Reading[quantity.Length] // of one cutting
	Replanted *int                              // of the cuttings, put back; nil: not said
	// Removed is what was taken in the plant's own measure; at most one of its measures is given.
	Removed Amount
}

// Loss is plants that died: an amount of a plant in the tank, or else a count of a lot's stock, which is in the tank no
// longer. Plant is "" where Lot names the stock.
type Loss struct {
	Plant string
	Amount
	Area  quantity.Reading[quantity.Area]
	Lot   string
	Count int    // of Lot; 0 without one
	All   string // the measure, or count, that "all" means; "" where a number does
	Cause string
}

// Dose is a salt put in.
type Dose struct {
	Salt string // as its author names it
	Mass quantity.Reading[quantity.Mass]
}

// WaterChange is the part of the water that was changed, and for what.
type WaterChange struct {
	Share quantity.Reading[quantity.Share] // of the tank's water
	With  string                           // tap, rain, mix, …
}

// Lot is a lot as one entry gives it.
type Lot struct {
	ID           string `key:"lot"`
	Plant        string
	Form         string // cuttings | plantlets | divisions | portions | seeds
	Count        int    // 0 while expected
	Expected     bool
	Ready        quantity.Date
	Pests        string
	ReceivedAs   string
	Identity     string // certain | likely | unsure | ""
	Grown        string // submersed | emersed | culture | mixed | ""
	SubmersedFor quantity.Reading[quantity.Span]
	Length       quantity.Reading[quantity.Length]
	Rooted       Tristate
	Dips         string
	Copper       string // when copper was last used, as written: 2026-01, none, …
	GrownFrom    string // the lot of another journal that its stock came from: an http or https address; "" if none

	Tank  string        // the entry's tank
	Entry string        // the entry's id
	Date  quantity.Date // the entry's date
	Index int           // the place in the entry's list, for complaints: lots[Index]
	Path  string        // the entry's file
	// Announced is the date of the first entry that named the lot as expected, if one did.
	Announced quantity.Date
	// Losses are what entries say has died of it, by date.
	Losses []LotLoss
	// Seen are the days on which entries say that it is still there, in order.
	Seen []quantity.Date
}

// Split is a count of the lot as plants and as seeds: seeds are no plants yet, and none of the two is taken for the other.
func (l *Lot) Split(count int) (plants, seeds int) {
	if l.Form == "seeds" {
		return 0, count
	}
	return count, 0
}

// LotLoss is stock of a lot that died before it was sent.
type LotLoss struct {
	Entry *Entry
	Index int // the place in the entry's list, for complaints: losses[Index]
	On    quantity.Date
	Count int
	All   bool // all that was left: Count is 0
}

// Photo is a picture that an entry or page names.
type Photo struct {
	File string // path below photos/
	Alt  string // what it shows, for those who cannot see it
}

// Plant is the grower's own file on a plant.
type Plant struct {
	Source
	ID, Taxon, Common string
	Withhold          bool // given to nobody
	TrimWhen          TrimWhen
	Profile           almanac.Profile // the columns that the grower replaces; others absent
	Photos            []Photo
}

// Parcel is plants given away, or reserved.
type Parcel struct {
	Source
	Name            string // file name without .md; never printed
	Lot             string
	Count           int
	Items           []Item        // several plants in one parcel, in place of Lot and Count
	Together        []*Parcel     // each plant of it as a parcel of its own, in order, this one too; empty where it holds one plant
	Plant           string        // what is waited for, where no lot is given yet; "" if none
	InReturn        string        // what came back in a swap
	Asked           quantity.Date // the days on which it was asked for, reserved, sent and cancelled; zero: not
	Reserved        quantity.Date
	Sent            quantity.Date
	Cancelled       quantity.Date
	How             string // post | by-hand | ""
	Code            string // of its care sheet: a secret between grower and recipient
	Units           quantity.System
	UnitsSaid       bool   // false: Units is the journal's
	Language        string // BCP 47, of the sheet; "" for the journal's
	Region          string
	Water           Parameters
	Tank            *Recipient // nil: nothing is known
	Reports         []Report
	GrownFrom       string                          // address of the care sheet by which the stock came; "" if none
	EraseNamesAfter quantity.Reading[quantity.Span] // how long this private part is kept; absent: as the journal says
	Private         Private
}

// Item is one plant of several in a parcel.
type Item struct {
	Lot   string
	Count int
}

// First reports whether p stands for its record: it is the only plant in it, or the first.
func (p *Parcel) First() bool { return len(p.Together) == 0 || p.Together[0] == p }

// Record is all that is in the record of p: each plant with its count, in order.
func (p *Parcel) Record() []Item {
	if len(p.Items) > 0 {
		return slices.Clone(p.Items)
	}
	return []Item{{p.Lot, p.Count}}
}

// Plants are those of the record of p, each as a parcel of its own.
func (p *Parcel) Plants() []*Parcel {
	if len(p.Together) > 0 {
		return p.Together
	}
	return []*Parcel{p}
}

// plants gives a parcel of several plants as one parcel for each: what a report says of no plant it says of all.
func (p *Parcel) plants() []*Parcel {
	if len(p.Items) == 0 {
		return []*Parcel{p}
	}
	all := make([]*Parcel, len(p.Items))
	for i, item := range p.Items {
		one := *p
		one.Lot, one.Count, one.Together = item.Lot, item.Count, all
		one.Reports = slices.DeleteFunc(slices.Clone(p.Reports), func(r Report) bool { return r.Lot != "" && r.Lot != item.Lot })
		all[i] = &one
	}
	return all
}

// key is where a key of this plant is in the record: lot, or items[1].lot.
func (p *Parcel) key(name string) string {
	for i, one := range p.Together {
		if one == p {
			return fmt.Sprintf("items[%d].%s", i, name)
		}
	}
	return name
}

// Recipient is the tank that a parcel goes into, as far as it is known.
type Recipient struct {
	Inside     Inside
	WaterDepth quantity.Reading[quantity.Length]
	CO2        Tristate
	Light      []Lamp
	Substrate  []Layer
	Livestock  []Livestock
	Floating   quantity.Reading[quantity.Share] // surface covered by floating plants
}

// Report is what a recipient reported.
type Report struct {
	Date       quantity.Date
	Lot        string                            // which of several plants; "" for all
	Outcome    string                            // one of [Outcomes]
	Alive      *int                              // plants; nil: not said
	Cause      string                            // of a loss
	DaysInPost *int                              // nil: not said
	Length     quantity.Reading[quantity.Length] // of the stems then
	Water      Parameters                        // of their tank then
}

// Page is any other page.
type Page struct {
	Source
	ID, Title string
	Order     int // place in the navigation, the lowest first
	Photos    []Photo
}

// Private holds what must never reach the output. It cannot be printed, marshalled or walked by a template; only
// [Private.Reveal] opens it.
type Private struct{ values map[string]sealed }

// sealed is a text that cannot be printed by mistake. It lies behind a pointer, of which every verb of fmt prints the
// address alone; fmt prints what lies in unexported fields without asking its methods.
type sealed struct{ text *string }

func seal(s string) sealed { return sealed{&s} }

// open is the text.
func (s sealed) open() string {
	if s.text == nil {
		return ""
	}
	return *s.text
}

// Reveal opens a private value. Every call of it is a place to look at in review.
func (p Private) Reveal(key string) (string, bool) {
	v, ok := p.values[key]
	return v.open(), ok
}

// Keys names the private values, sorted.
func (p Private) Keys() []string { return slices.Sorted(maps.Keys(p.values)) }

// The private keys of a record in which postage is noted: what is owed, and the day on which it was settled.
const (
	Postage        = "postage"
	PostageSettled = "postage-settled"
)

// Owes is what the recipient owes for postage, for the grower's eyes; "" for nothing.
func (p *Parcel) Owes() string {
	if _, settled := p.Private.Reveal(PostageSettled); settled {
		return ""
	}
	owed, _ := p.Private.Reveal(Postage)
	return owed
}

// Empty reports whether there is nothing private.
func (p Private) Empty() bool { return len(p.values) == 0 }

// Format hides the values from every verb.
func (Private) Format(s fmt.State, _ rune) { _, _ = io.WriteString(s, "[private]") }

// String hides the values.
func (Private) String() string { return "[private]" }

// GoString hides the values from %#v.
func (Private) GoString() string { return "[private]" }

// MarshalJSON hides the values.
func (Private) MarshalJSON() ([]byte, error) { return []byte(`"[private]"`), nil }

// MarshalText hides the values.
func (Private) MarshalText() ([]byte, error) { return []byte("[private]"), nil }
