package sharing

import (
	"net/url"
	"slices"
	"strings"

	"slipleaf/build/chart"
	"slipleaf/build/feed"
	"slipleaf/build/ledger"
	"slipleaf/build/words"
)

// otherJournals are those of friends whose offers were gathered and hold.
func (k Kit) otherJournals() []Friend {
	return slices.DeleteFunc(slices.Clone(k.Friends()), func(f Friend) bool { return f.fault != nil })
}

// cameIn puts a lot whose stock came from another journal under a node that names it. The lot's own word comes first;
// else a parcel's, whose link leads to a page under a secret address, so that nothing of it but its host is looked at,
// and only a friend's journal is named by that.
func (k Kit) cameIn(v words.Locale, others []Friend, l *ledger.Lot, n PassNode) PassNode {
	if site, lot, ok := feed.LotOf(l.GrownFrom); ok {
		who, name := hostOf(site), strings.ToUpper(lot)
		for _, f := range others {
			if sameSite(f.offers.Journal.Address, site) {
				who = f.name
				for _, o := range f.offers.Offers {
					if strings.EqualFold(o.Lot, lot) {
						name = o.Lot
					}
				}
			}
		}
		return PassNode{Text: v.Text("pass.came-lot", "lot", name), Who: who, outcome: chart.Stock, Kids: []PassNode{n}}
	}
	for _, p := range k.sentOf(l) {
		for _, f := range others {
			if hostOf(p.GrownFrom) != "" && strings.EqualFold(hostOf(p.GrownFrom), hostOf(f.offers.Journal.Address)) && !k.isOurs(p.GrownFrom) {
				return PassNode{Text: v.Text("pass.came"), Who: f.name, outcome: chart.Stock, Kids: []PassNode{n}}
			}
		}
	}
	return n
}

// grownOn is what friends' offers say to have been grown from a lot of ours, in the order of friends and lots.
func (k Kit) grownOn(v words.Locale, others []Friend, l *ledger.Lot) []PassNode {
	var out []PassNode
	for _, f := range others {
		for _, o := range f.offers.Offers {
			site, lot, ok := feed.LotOf(o.GrownFrom)
			if ok && k.isOurs(site) && lot == strings.ToLower(l.ID) {
				out = append(out, PassNode{Text: v.Text("pass.grown-on", "lot", o.Lot), Who: f.name, outcome: chart.Established})
			}
		}
	}
	return out
}

// isOurs reports whether an address lies on this journal's site.
func (k Kit) isOurs(address string) bool {
	return k.Journal.Address != "" && strings.HasPrefix(address, k.Journal.Address)
}

// sameSite reports whether two addresses of sites are one, with or without a slash at the end.
func sameSite(a, b string) bool {
	return a != "" && strings.EqualFold(strings.TrimSuffix(a, "/"), strings.TrimSuffix(b, "/"))
}

// hostOf is the host of an address of the web; "" if there is none.
func hostOf(address string) string {
	u, err := url.Parse(address)
	if err != nil || webOnly(address) == "" {
		return ""
	}
	return u.Hostname()
}
