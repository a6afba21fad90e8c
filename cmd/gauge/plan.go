package main

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"

	"slipleaf/build/almanac"
	"slipleaf/build/quantity"
)

// size is how large a journal is made, and from which seed.
type size struct {
	Seed    uint64 `json:"seed"`
	Entries int    `json:"entries"`
	Species int    `json:"species"`
	Parcels int    `json:"parcels"`
	Tanks   int    `json:"tanks"`
}

// lastDay is the day of the newest entries, and the day that the site is made for.
var lastDay = quantity.Date{Year: 2026, Month: 11, Day: 25}

// region is where the grower and all recipients live.
const region = "GB"

// gap is the number of days between a tank's entries: two a week.
const gap = 3.5

// plan is a journal being made up.
type plan struct {
	size
	rng    *rand.Rand
	kept   map[string]bool // plants that a list of the region names, and that are not given away
	plants []string        // ids; those past the almanac's have a file of their own
	own    int             // plants[own:] are not in the almanac
	lots   []lot
	files  []file
}

// file is a file of the journal.
type file struct {
	path string
	text string
}

// stand is a plant in a tank: a size that grows and is cut.
type stand struct {
	plant   string
	measure string // as the format names it
	unit    string
	size    float64 // now
	removed string  // after what was cut
	cutAt   float64
	rate    float64 // per day
	day     int     // of the last count
}

// lot is what parcels are sent from.
type lot struct {
	id    string
	ready quantity.Date
	left  int
}

// planJournal makes up every file of a journal.
func planJournal(s size) ([]file, error) {
	a, err := almanac.Open()
	if err != nil {
		return nil, err
	}
	p := &plan{size: s, rng: rand.New(rand.NewPCG(s.Seed, 0x51ee)), kept: map[string]bool{}}
	for _, known := range a.All() {
		if len(p.plants) < s.Species {
			p.plants = append(p.plants, known.ID)
			p.kept[known.ID] = len(a.Notices(known.Taxon, region)) > 0
		}
	}
	p.own = len(p.plants)
	for i := p.own; i < s.Species; i++ {
		p.plants = append(p.plants, fmt.Sprintf("sundry-plant-%03d", i))
	}
	p.add("journal.yaml", "title: A long diary\ngrower: Tester\naddress: https://diary.example/\nregion: "+region+"\n")
	p.add("pages/about.md", "---\ntitle: About\n---\n\n"+p.prose())
	for i, id := range p.plants {
		p.plantFile(i, id)
	}
	for i := range s.Tanks {
		p.tank(i)
	}
	p.parcels()
	return p.files, nil
}

func (p *plan) add(path, text string) { p.files = append(p.files, file{path, text}) }

// plantFile writes a file for every fourth plant, and for each that the almanac does not know.
func (p *plan) plantFile(i int, id string) {
	switch {
	case i >= p.own:
		p.add("plants/"+id+".md", fmt.Sprintf("---\ntaxon: %s\nprofile: {light: 20..90 umol/m2/s, gh: 3..15 dGH, kh: 1..10 dKH, temperature: 18..27 C, ph: 6..7.8}\n---\n\n%s", binomial(i), p.prose()))
	case i%4 == 0:
		p.add("plants/"+id+".md", "---\nprofile: {spacing: 4 cm}\n---\n\n"+p.prose())
	}
}

// binomial is a scientific name that nothing bears.
func binomial(i int) string {
	const stems = "mola lira tuna sela nora dima"
	parts := strings.Fields(stems)
	name := parts[i%6] + parts[i/6%6] + parts[i/36%6]
	return strings.ToUpper(name[:1]) + name[1:] + " ficta"
}

// standsOf are the plants of a tank: its share of all, and a few that other tanks have as well.
func (p *plan) standsOf(tank int) []*stand {
	var ids []string
	for i := tank; i < len(p.plants); i += p.Tanks {
		ids = append(ids, p.plants[i])
	}
	for k := range 4 {
		if id := p.plants[(tank*7+k*31)%len(p.plants)]; !slices.Contains(ids, id) {
			ids = append(ids, id)
		}
	}
	measures := []stand{{measure: "plantlets", removed: " plantlets", size: 8, cutAt: 30}, {measure: "leaves", removed: " leaves", size: 20, cutAt: 80},
		{measure: "cover", unit: " %", removed: " %", size: 10, cutAt: 60}, {measure: "mass", unit: " g", removed: " g", size: 9, cutAt: 40}}
	out := make([]*stand, len(ids))
	for i, id := range ids {
		s := measures[p.rng.IntN(len(measures))]
		s.plant, s.rate = id, 0.005+0.025*p.rng.Float64()
		out[i] = &s
	}
	return out
}
