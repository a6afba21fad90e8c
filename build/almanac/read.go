package almanac

import (
	"fmt"
	"strconv"
	"strings"

	"slipleaf/build/quantity"
)

// readProfiles reads the table of profiles.
func readProfiles(t *table) []Species {
	out := make([]Species, 0, len(t.rows))
	for _, r := range t.rows {
		s := Species{
			Taxon: r.must("taxon"), Common: r.must("common_name"), commonDE: r.text("common_name_de"), Family: r.must("family"), Profiled: true,
			Profile: readProfile(r), RGR: readRate(r),
			CuttingSize: r.must("cutting_size"), MeltNote: r.must("melt_note"),
			ConversionNote: r.text("conversion_note"), HardyNote: r.text("hardy_note"),
			Sources: readSources(r), bases: readBases(r),
		}
		s.ID = IDOf(s.Taxon)
		for c := range s.bases {
			if !s.hasColumn(c) {
				r.fault("bases", "a basis of %s, which is empty", c)
			}
		}
		out = append(out, s)
	}
	return out
}

func readProfile(r row) Profile {
	p := Profile{
		Temperature: between[quantity.Temperature](r, "temp_min_c", "temp_max_c", "C"),
		PH:          between[quantity.PH](r, "ph_min", "ph_max", ""),
		GH:          between[quantity.Hardness](r, "gh_min_d", "gh_max_d", "dGH"),
		KH:          between[quantity.Alkalinity](r, "kh_min_d", "kh_max_d", "dKH"),
		Light:       between[quantity.PhotonFlux](r, "light_ppfd_min", "light_ppfd_max", "umol/m2/s"),
		LightGood:   single[quantity.PhotonFlux](r, "light_ppfd_good", "umol/m2/s"),
		CO2:         r.one("co2_need", "none", "helps", "needed"),
		Height:      between[quantity.Length](r, "height_min_cm", "height_max_cm", "cm"),
		Spread:      single[quantity.Length](r, "spread_cm", "cm"),
		Spacing:     single[quantity.Length](r, "spacing_cm", "cm"),
		Growth:      strings.ReplaceAll(r.one("growth", "slow", "medium", "fast", "very fast"), " ", "-"),
		Melts:       r.rank("melts_on_moving"),
		Feeding:     r.one("feeding", "water", "root", "both"),
		Placement:   r.one("placement", "back", "middle", "front", "hardscape", "surface"),
		Habit:       readHabit(r, "habit"),
		Propagation: r.must("propagation"),
		Weediness:   r.rank("weediness"),
	}
	if g := p.LightGood.High(); g < p.Light.Low() || g > p.Light.High() {
		r.fault("light_ppfd_good", "lies outside the range of light")
	}
	return p
}

func readHabit(r row, column string) string {
	return r.one(column, "stem", "rosette", "rhizome", "carpet", "floating", "moss", "bulb", "fern")
}

// readRate reads "", "0.12" or "0.06-0.09", per day.
func readRate(r row) Rate {
	s := r.text("rgr_per_day")
	if s == "" {
		return Rate{}
	}
	low, high, isRange := strings.Cut(s, "-")
	if !isRange {
		high = low
	}
	a, err1 := strconv.ParseFloat(low, 64)
	b, err2 := strconv.ParseFloat(high, 64)
	if err1 != nil || err2 != nil || !(0 < a && a <= b && b < 1) { // a plant that triples in a day is a slip
		r.fault("rgr_per_day", "%q is no rate", s)
	}
	return Rate{a, b}
}

// readNames reads the table of names as species without a profile.
func readNames(t *table) []Species {
	out := make([]Species, 0, len(t.rows))
	for _, r := range t.rows {
		s := Species{
			Taxon: r.must("accepted_name"), Family: r.must("family"),
			Profile:  Profile{Habit: readHabit(r, "growth_habit")},
			Synonyms: r.list("older_synonyms"), Misapplied: r.list("misapplied_names"), TradeNames: r.list("trade_names"),
			nameBasis: r.one("basis", Seen, SecondHand, Memory),
		}
		if len(s.TradeNames) > 0 {
			s.Common = s.TradeNames[0]
		}
		s.ID = IDOf(s.Taxon)
		out = append(out, s)
	}
	return out
}

// merge lays the profiles over the names. Every profile must have a name of the same family.
func merge(names, profiles []Species) ([]Species, error) {
	at := map[string]int{}
	for i, n := range names {
		if _, twice := at[n.ID]; twice {
			return nil, fmt.Errorf("names.csv: %q stands there twice", n.Taxon)
		}
		at[n.ID] = i
	}
	for _, p := range profiles {
		i, ok := at[p.ID]
		if !ok || names[i].Family != p.Family {
			return nil, fmt.Errorf("profiles.csv: no name %q of family %s", p.Taxon, p.Family)
		}
		if names[i].Habit != p.Habit {
			return nil, fmt.Errorf("names.csv: %q has habit %s, but %s in profiles.csv", p.Taxon, names[i].Habit, p.Habit)
		}
		if names[i].Profiled {
			return nil, fmt.Errorf("profiles.csv: %q stands there twice", p.Taxon)
		}
		n := &names[i]
		p.Synonyms, p.Misapplied, p.TradeNames, p.nameBasis = n.Synonyms, n.Misapplied, n.TradeNames, n.nameBasis
		names[i] = p
	}
	return names, nil
}

// readPhrases reads the German of the almanac's phrases by their English.
func readPhrases(t *table) map[string]string {
	out := map[string]string{}
	for _, r := range t.rows {
		out[r.must("en")] = r.must("de")
	}
	return out
}
