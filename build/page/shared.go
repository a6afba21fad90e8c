package page

import (
	"slipleaf/build/ledger"
	"slipleaf/build/review"
	"slipleaf/build/sharing"
	"slipleaf/build/suit"
	"slipleaf/build/theme"
)

// sharing fills what the page at addr says of the plants that were given away.
func (b *Site) sharing(addr string) sharing.Kit {
	return sharing.Kit{Locale: b.Locale(), Facts: b.facts, Journal: b.Journal, Almanac: b.Almanac, Friends: b.friends,
		PlantLink: func(id string) theme.PlantName { return b.plantLink(addr, id) }, PlantName: b.plantName, Withheld: b.withheld}
}

// friends are the files of friends, read once.
func (b *Site) friends() []sharing.Friend {
	return b.memo.gathered.of(b, struct{}{}, func(b *Site) []sharing.Friend { return b.sharing(FriendsAddr).ReadFriends() })
}

// FriendFaults lists the friends' files that do not hold.
func (b *Site) FriendFaults() []sharing.FriendFault { return b.sharing(FriendsAddr).Faults() }

func (b *Site) withheld(id string) bool {
	p, ok := b.Journal.Plant(id)
	return ok && p.Withhold
}

// Friends makes the page of other growers' offers.
func (b *Site) Friends() ([]byte, error) {
	v := b.Locale()
	frame := b.frame("friends", FriendsAddr, v.Text("friends.title")+" · "+b.Journal.Title, v.Text("friends.description"))
	return b.Theme.Render("friends", b.sharing(FriendsAddr).FriendsPage(frame))
}

// PassAlong makes the page of what was given on.
func (b *Site) PassAlong() ([]byte, error) {
	v := b.Locale()
	frame := b.frame("pass-along", PassAlongAddr, v.Text("pass.title")+" · "+b.Journal.Title, v.Text("pass.description"))
	return b.Theme.Render("pass-along", b.sharing(PassAlongAddr).PassAlongPage(frame))
}

// Suit makes the page on which plants are held against somebody's tank.
func (b *Site) Suit() ([]byte, error) {
	v := b.Locale()
	k := suit.Kit{Locale: v, Facts: b.facts, Journal: b.Journal, Mail: b.mail(), Withheld: b.withheld, Sprig: b.sprigOf,
		PlantLink: func(id string) theme.PlantName { return b.plantLink(SuitAddr, id) }, LotHref: func(id string) string { return b.href(SuitAddr, LotAddr(id)) },
		AskHref: func(l *ledger.Lot) string { return b.askHref(v, l) }}
	return b.Theme.Render("suit", k.Page(b.frame("suit", SuitAddr, v.Text("suit.title")+" · "+b.Journal.Title, v.Text("suit.description"))))
}

// review fills the pages that look back.
func (b *Site) review() review.Kit {
	return review.Kit{Kit: b.plots(), Frame: b.frame, PlantLink: b.plantLink, Render: b.Theme.Render}
}
