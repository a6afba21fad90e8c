package page

import (
	"math"
	"strings"

	"slipleaf/build/almanac"
	"slipleaf/build/ledger"
	"slipleaf/build/quantity"
	"slipleaf/build/words"
)

// Filter is a choice by which lots are left out. The words of a lot's data-fit are the values of its options.
type Filter struct {
	ID, Name string
	Any      string
	Options  []FilterOption
}

// FilterOption is one answer to a filter.
type FilterOption struct{ Value, Text string }

// filters are the choices above the list.
func filters(v words.Locale) []Filter {
	var out []Filter
	for _, f := range []struct {
		id      string
		options []string
	}{
		{"light", []string{"low", "medium", "bright"}}, {"water", []string{"soft", "medium", "hard"}},
		{"place", []string{"front", "middle", "back", "hardscape", "surface"}}, {"co2", []string{"without"}}, {"way", []string{"post", "hand"}},
	} {
		filter := Filter{ID: "f-" + f.id, Name: v.Text("filter." + f.id), Any: v.Text("filter.any")}
		for _, o := range f.options {
			filter.Options = append(filter.Options, FilterOption{f.id + "-" + o, v.Text("filter." + f.id + "-" + o)})
		}
		out = append(out, filter)
	}
	return out
}

// mediumLight and brightLight part the three kinds of light, in µmol/m2/s at the substrate (common practice in growers'
// lists: a low-light tank has up to about 30, a bright one from about 50 on).
const (
	mediumLight = 30
	brightLight = 50
)

// comfort is the part of a tolerance, around its middle, in which a plant does well and not only lives (our choice): its
// ends suit few plants for long, and by all of it nearly every plant would suit every tank.
const comfort = 0.5

// lightBands and waterBands are the kinds of light and water in which a plant is comfortable; all where that is not
// known. Light counts by its ratio, as what a plant makes of it does.
func lightBands(s almanac.Species) []string {
	lo, hi := math.Log(max(float64(s.Light.Low()), 1)), math.Log(max(float64(s.Light.High()), 1))
	return bands(s.Light.Known(), lo, hi, [3]string{"low", "medium", "bright"}, math.Log(mediumLight), math.Log(brightLight))
}

func waterBands(s almanac.Species) []string {
	return bands(s.KH.Known(), s.KH.Low().DKH(), s.KH.High().DKH(), [3]string{"soft", "medium", "hard"}, ledger.MediumFrom, ledger.HardFrom)
}

// bands names those of three bands, parted at a and b, that the comfort of a range from low to high touches.
func bands(known bool, low, high float64, names [3]string, a, b float64) []string {
	off := float64((high - low) * (1 - comfort) / 2)
	low, high = low+off, high-off
	var out []string
	for i, in := range [3]bool{low < a, low < b && high >= a, high >= b} {
		if in || !known {
			out = append(out, names[i])
		}
	}
	return out
}

// fitWords are the values of the filters that a plant meets. What is not known shuts nothing out.
func (b *Site) fitWords(s almanac.Species, ready quantity.Date) string {
	var out []string
	for _, band := range lightBands(s) {
		out = append(out, "light-"+band)
	}
	for _, band := range waterBands(s) {
		out = append(out, "water-"+band)
	}
	if s.Placement != "" {
		out = append(out, "place-"+s.Placement)
	} else {
		out = append(out, "place-front", "place-middle", "place-back", "place-hardscape", "place-surface")
	}
	if s.CO2 == "none" || s.CO2 == "" {
		out = append(out, "co2-without")
	}
	if b.posting(ready) {
		out = append(out, "way-post")
	}
	return strings.Join(append(out, "way-hand"), " ")
}

// needs says what a plant wants in four plain words: light, water, place, CO2. What is not known is left out.
func needs(v words.Locale, s almanac.Species) []string {
	var out []string
	for _, key := range []string{lightClass(s), waterClass(s), s.Placement, "co2-" + s.CO2} {
		if key != "" && key != "co2-" {
			out = append(out, v.Text("need."+key))
		}
	}
	return out
}

// lightClass puts the light at which a plant grows well into the three kinds of light.
func lightClass(s almanac.Species) string {
	good := float64(s.LightGood.Mid())
	switch {
	case !s.LightGood.Known():
		return ""
	case good < mediumLight:
		return "low"
	case good <= brightLight:
		return "medium"
	}
	return "bright"
}

// waterClass names the waters in which a plant is comfortable, from the softest to the hardest.
func waterClass(s almanac.Species) string {
	if !s.KH.Known() {
		return ""
	}
	all := waterBands(s)
	if first, last := all[0], all[len(all)-1]; first != last {
		return first + "-to-" + last
	}
	return all[0] + "-water"
}
