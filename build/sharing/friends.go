package sharing

import (
	"cmp"
	"html/template"
	"maps"
	"net/url"
	"slices"
	"strings"

	"slipleaf/build/feed"
	"slipleaf/build/ledger"
	"slipleaf/build/quantity"
	"slipleaf/build/theme"
	"slipleaf/build/words"
)

// FriendsPage is the model of other growers' offers.
type FriendsPage struct {
	theme.Frame
	Lacking []FriendPlant // plants that this journal does not have
	Ours    []FriendPlant // plants that it has
	Sources []FriendSource
}

// FriendPlant is a species with who offers it.
type FriendPlant struct {
	Plant  theme.PlantName
	Asks   string // the plants that the name may mean, with what tells them apart; "" where it means one
	Ours   string // what this journal has of it to give; "" for nothing
	Offers []FriendOffer
	// Notices are the rows of this journal's region that name it: somebody else's offer may come from where it is free.
	Notices []words.NoticeRow
}

// FriendOffer is one lot of another grower.
type FriendOffer struct {
	Who   string
	What  string
	Named template.HTML // the name that they use, where it is another
	Fares string
	Page  string // http or https; "" for none
}

// FriendSource is a gathered file.
type FriendSource struct {
	Name, Title string
	What        string
	Site        string // http or https; "" for none
	PassedOn    string // what of theirs was sent on from here; "" for nothing
}

// Friend is a gathered file that holds, or the reason why it does not.
type Friend struct {
	file, name string
	offers     feed.Offers
	fault      error
}

// ReadFriends reads the files of friends that the journal names, in its order, then the others by file name.
func (k Kit) ReadFriends() []Friend {
	if len(k.Facts.Gathered()) == 0 {
		return nil
	}
	reader := feed.NewFriendReader()
	called := map[string]string{}
	var order []string
	for i, f := range k.Journal.Friends {
		file := feed.FriendFile(k.Journal.Friends, i)
		called[file] = f.Name
		order = append(order, file)
	}
	var out []Friend
	for _, g := range k.Facts.Gathered() {
		f := Friend{file: g.Name, name: called[g.Name]}
		f.offers, f.fault = reader.Read(g.Data)
		f.name = cmp.Or(f.name, f.offers.Journal.Title, strings.TrimSuffix(g.Name, ".json"))
		out = append(out, f)
	}
	place := func(f Friend) int {
		if i := slices.Index(order, f.file); i >= 0 {
			return i
		}
		return len(order)
	}
	slices.SortStableFunc(out, func(x, y Friend) int { return cmp.Or(place(x)-place(y), strings.Compare(x.file, y.file)) })
	return out
}

// FriendFault is a friend's file that does not hold. It is left out of the site.
type FriendFault struct{ File, Message string }

// Faults lists the friends' files that do not hold.
func (k Kit) Faults() []FriendFault {
	var out []FriendFault
	for _, f := range k.Friends() {
		if f.fault != nil {
			out = append(out, FriendFault{"friends/" + f.file, f.fault.Error()})
		}
	}
	return out
}

// FriendsPage fills the page of other growers' offers.
func (k Kit) FriendsPage(frame theme.Frame) FriendsPage {
	v := k.Locale
	m := FriendsPage{Frame: frame}
	ours := k.ourSpecies()
	plants := map[string]*FriendPlant{}
	for _, f := range k.Friends() {
		m.Sources = append(m.Sources, k.friendSource(v, f))
		for _, o := range f.offers.Offers {
			if o.State == ledger.Gone.String() || o.Left != nil && *o.Left == 0 && o.State == ledger.Ready.String() {
				continue
			}
			key, taxon := k.speciesOf(o)
			if plants[key] == nil {
				plants[key] = &FriendPlant{Plant: theme.PlantName{First: words.Taxon(taxon)}, Asks: k.asks(o), Notices: words.Notices(v, k.Almanac, k.Journal.Region, taxon)}
				if id, have := ours[key]; have {
					plants[key].Plant, plants[key].Ours = k.PlantLink(id), k.oursOf(v, id)
				}
			}
			plants[key].Offers = append(plants[key].Offers, friendOffer(v, f.name, o, taxon))
		}
	}
	for _, key := range slices.Sorted(maps.Keys(plants)) {
		if _, have := ours[key]; have {
			m.Ours = append(m.Ours, *plants[key])
		} else {
			m.Lacking = append(m.Lacking, *plants[key])
		}
	}
	return m
}

func (k Kit) friendSource(v words.Locale, f Friend) FriendSource {
	if f.fault != nil {
		return FriendSource{Name: f.name, What: v.Text("friends.does-not-hold")}
	}
	s := FriendSource{Name: f.name, Title: f.offers.Journal.Title, Site: webOnly(f.offers.Journal.Address)}
	date := f.offers.AsOf
	if d, err := quantity.ParseDate(f.offers.AsOf); err == nil {
		date = v.Date(d)
	}
	s.What = v.Text("friends.as-of", "date", date, "n", len(f.offers.Offers))
	if n := k.passedOn(f.offers.Journal.Address); n > 0 {
		s.PassedOn = v.Text("friends.passed-on", "n", n)
	}
	return s
}

// passedOn counts the parcels sent from here whose stock came as a gift from the site at address. A record's grown-from
// link leads to a page under a secret address, so that nothing of it but its host is looked at, and that is not shown.
func (k Kit) passedOn(address string) int {
	site, err := url.Parse(address)
	if err != nil || site.Host == "" {
		return 0
	}
	n := 0
	for _, p := range k.Facts.Heads().Parcels {
		if from, err := url.Parse(p.GrownFrom); err == nil && !p.Sent.IsZero() && !p.Sent.After(k.Facts.Day()) && strings.EqualFold(from.Host, site.Host) {
			n++
		}
	}
	return n
}

// speciesOf is the key under which an offer meets others of its species: the almanac's accepted name where it knows one
// beyond doubt, else the name as it was sent.
func (k Kit) speciesOf(o feed.Offer) (key, taxon string) {
	for _, name := range []string{o.Taxon, o.Plant} {
		if p := k.Journal.Meant(k.Almanac, name).Plant; p.ID != "" {
			return p.ID, p.Taxon
		}
	}
	return unclear + strings.ToLower(o.Taxon), o.Taxon
}

// asks says which plants the name of an offer may mean, where it is not clear which.
func (k Kit) asks(o feed.Offer) string {
	if key, _ := k.speciesOf(o); !strings.HasPrefix(key, unclear) {
		return ""
	}
	m := k.Journal.Meant(k.Almanac, o.Taxon)
	if len(m.Asks) == 0 {
		return ""
	}
	return k.Text("friends.asks", "plants", strings.Join(m.Apart(k.Lang), "; "))
}

// unclear begins the key of a plant whose species is not known.
const unclear = "named "

// ourSpecies maps the keys of speciesOf to the plants of this journal.
func (k Kit) ourSpecies() map[string]string {
	out := map[string]string{}
	for _, id := range k.Facts.PlantIDs() {
		key, _ := k.speciesOf(feed.Offer{Plant: id, Taxon: k.Facts.Species(id).Taxon})
		if _, taken := out[key]; !taken {
			out[key] = id
		}
	}
	return out
}

// oursOf says what this journal itself has to give of a plant.
func (k Kit) oursOf(v words.Locale, id string) string {
	for _, l := range k.Facts.LotsOf(id) {
		if !l.Withheld && l.State == ledger.Ready {
			return v.Text("friends.ours-ready", "n", l.Left, "lot", l.ID)
		}
	}
	return ""
}

func friendOffer(v words.Locale, who string, o feed.Offer, taxon string) FriendOffer {
	what := v.Text("friends.plants")
	if o.Form != "" {
		what = v.Text("form-name." + o.Form)
		if o.Left != nil && *o.Left > 0 {
			what = v.Text("form."+o.Form, "n", *o.Left)
		}
	}
	key, date := "friends."+o.State, ""
	if d, err := quantity.ParseDate(o.Ready); err == nil {
		date = v.Date(d)
	} else if o.State == ledger.Coming.String() {
		key = "friends.coming-some-day"
	}
	out := FriendOffer{Who: who, What: v.Text(key, "what", what, "date", date), Page: cmp.Or(webOnly(o.Page), webOnly(o.Request))}
	if o.Taxon != taxon {
		out.Named = words.Taxon(o.Taxon)
	}
	if e := o.Elsewhere; e != nil && e.Sent > 0 {
		out.Fares = v.Text("friends.fares", "sent", e.Sent, "verdicts", e.Results)
		if s := e.Established; s != nil && s.N >= 5 && s.Low >= 0 && s.High <= 1 && s.Low <= s.High {
			out.Fares = v.Text("friends.fares-share", "sent", e.Sent, "low", v.N(100*s.Low, 0), "high", v.N(100*s.High, 0), "n", s.N)
		}
	}
	return out
}

// webOnly is an address if it is one of the web; from strangers no other kind is linked.
func webOnly(s string) string {
	if strings.HasPrefix(s, "https://") || strings.HasPrefix(s, "http://") {
		return s
	}
	return ""
}
