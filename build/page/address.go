package page

import (
	"strings"

	"slipleaf/build/journal"
	"slipleaf/build/papers"
	"slipleaf/build/review"
)

// Addresses of the site, each with a leading slash; folders end in one. Links between pages are relative, so that
// the site works in a sub-folder and from a disk.
const (
	HomeAddr      = "/"
	TanksAddr     = "/tanks/"
	PlantsAddr    = "/plants/"
	OffersAddr    = "/offers/"
	SuitAddr      = "/suit/"
	SpaceAddr     = review.SpaceAddr
	ForecastsAddr = "/forecasts/"
	PassAlongAddr = "/pass-along/"
	FriendsAddr   = "/friends/"
	DiaryAddr     = "/diary/"
)

// TankAddr is a tank's page.
func TankAddr(id string) string { return TanksAddr + id + "/" }

// EntryAddr is a diary entry's page.
func EntryAddr(e *journal.Entry) string { return TankAddr(e.Tank) + e.ID() + "/" }

// PlantAddr is a plant's page.
func PlantAddr(id string) string { return PlantsAddr + id + "/" }

// LotAddr is where a lot is on the availability page.
func LotAddr(id string) string { return OffersAddr + "#" + LotAnchor(id) }

// LotAnchor is the id of a lot's element.
func LotAnchor(id string) string { return "lot-" + strings.ToLower(id) }

// SheetAddr is a care sheet's page.
func SheetAddr(code string) string { return papers.Addr(code) }

// WrittenAddr is the address of a page of pages/.
func WrittenAddr(id string) string { return "/" + id + "/" }

// Relative is the link to a site address from the page at from. With onDisk, folders are named by their
// index.html, since a disk has no server to look for it.
func Relative(from, to string, onDisk bool) string {
	to, frag, cut := strings.Cut(to, "#")
	if cut {
		frag = "#" + frag
	}
	if from == to && cut {
		return frag
	}
	up := strings.Repeat("../", strings.Count(from, "/")-1)
	rel := up + strings.TrimPrefix(to, "/")
	if onDisk && (rel == "" || strings.HasSuffix(rel, "/")) {
		rel += "index.html"
	}
	if rel == "" {
		rel = "./"
	}
	return rel + frag
}

// PathOf is the file that serves an address.
func PathOf(addr string) string {
	p := strings.TrimPrefix(addr, "/")
	if p == "" || strings.HasSuffix(p, "/") {
		return p + "index.html"
	}
	return p
}
