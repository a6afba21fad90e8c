package journal

import (
	"slices"

	"slipleaf/build/doubt"
	"slipleaf/build/quantity"
)

// parameter is a key of [Parameters], and where its reading lies.
type parameter struct {
	key  string
	text func(p *Parameters) string             // as its author may have written it; "" where it was not measured
	keep func(to, from *Parameters) keptReading // moves a reading, if there is one
	// doubt says why a reading can hardly be, and what is likely meant
	doubt func(p, last *Parameters, changed bool) (why, hint string)
}

// keptReading tells what became of a reading that was to be kept.
type keptReading uint8

const (
	readAbsent keptReading = iota
	readAsked              // written as not known, and kept where nothing is known
	readKnown
)

func parameterAt[T quantity.Scalar](key string, at func(p *Parameters) *quantity.Reading[T]) parameter {
	return parameter{
		key:  key,
		text: func(p *Parameters) string { return at(p).String() },
		doubt: func(p, last *Parameters, changed bool) (string, string) {
			return doubt.Of(key, *at(p), *at(last), changed)
		},
		keep: func(to, from *Parameters) keptReading {
			r := *at(from)
			switch {
			case r.Known():
				*at(to) = r
				return readKnown
			case r.Written() && !at(to).Known():
				*at(to) = r
				return readAsked
			}
			return readAbsent
		},
	}
}

// parameters are the keys of parameters, tap, target and a recipient's water.
var parameters = []parameter{
	parameterAt("temperature", func(p *Parameters) *quantity.Reading[quantity.Temperature] { return &p.Temperature }),
	parameterAt("ph", func(p *Parameters) *quantity.Reading[quantity.PH] { return &p.PH }),
	parameterAt("gh", func(p *Parameters) *quantity.Reading[quantity.Hardness] { return &p.GH }),
	parameterAt("kh", func(p *Parameters) *quantity.Reading[quantity.Alkalinity] { return &p.KH }),
	parameterAt("conductivity", func(p *Parameters) *quantity.Reading[quantity.Conductivity] { return &p.Conductivity }),
	parameterAt("light", func(p *Parameters) *quantity.Reading[quantity.PhotonFlux] { return &p.Light }),
	parameterAt("lux", func(p *Parameters) *quantity.Reading[quantity.Illuminance] { return &p.Lux }),
	parameterAt("co2", func(p *Parameters) *quantity.Reading[quantity.Concentration] { return &p.CO2 }),
	parameterAt("ammonia", func(p *Parameters) *quantity.Reading[quantity.Concentration] { return &p.Ammonia }),
	parameterAt("nitrite", func(p *Parameters) *quantity.Reading[quantity.Concentration] { return &p.Nitrite }),
	parameterAt("nitrate", func(p *Parameters) *quantity.Reading[quantity.Concentration] { return &p.Nitrate }),
	parameterAt("phosphate", func(p *Parameters) *quantity.Reading[quantity.Concentration] { return &p.Phosphate }),
	parameterAt("potassium", func(p *Parameters) *quantity.Reading[quantity.Concentration] { return &p.Potassium }),
	parameterAt("calcium", func(p *Parameters) *quantity.Reading[quantity.Concentration] { return &p.Calcium }),
	parameterAt("magnesium", func(p *Parameters) *quantity.Reading[quantity.Concentration] { return &p.Magnesium }),
	parameterAt("iron", func(p *Parameters) *quantity.Reading[quantity.Concentration] { return &p.Iron }),
	parameterAt("oxygen", func(p *Parameters) *quantity.Reading[quantity.Concentration] { return &p.Oxygen }),
}

// Texts gives the readings of p as their keys and what was written, in the order of the format.
func (p Parameters) Texts() (keys, values []string) {
	for _, x := range parameters {
		if s := x.text(&p); s != "" {
			keys, values = append(keys, x.key), append(values, s)
		}
	}
	return keys, values
}

// Water is the newest reading of every parameter of a tank, each of its own day. A reading that is only written as not
// known is there as such where nothing is known.
type Water struct {
	Parameters
	Days map[string]quantity.Date // of each known reading, by its key
}

// Newest is the day of the newest reading of those keys, or of all where none are given; zero where none is known.
func (w Water) Newest(keys ...string) (day quantity.Date) {
	for key, d := range w.Days {
		if d.After(day) && (len(keys) == 0 || slices.Contains(keys, key)) {
			day = d
		}
	}
	return day
}

// WaterOn is a tank's water as known on a day: of two readings of one day, the later in the diary.
func (t *Tank) WaterOn(day quantity.Date) Water {
	n := len(t.Entries)
	for n > 0 && t.Entries[n-1].Date.After(day) {
		n--
	}
	return WaterOf(t.Entries[:n])
}

// WaterOf is the water as the entries of one tank, by date, leave it.
func WaterOf(entries []*Entry) Water {
	w := Water{Days: map[string]quantity.Date{}}
	for _, e := range entries {
		if e.Parameters == (Parameters{}) {
			continue
		}
		for _, x := range parameters {
			if x.keep(&w.Parameters, &e.Parameters) == readKnown {
				w.Days[x.key] = e.Date
			}
		}
	}
	return w
}

// Only is one reading of p by its key.
func (p Parameters) Only(key string) (one Parameters) {
	for _, x := range parameters {
		if x.key == key {
			x.keep(&one, &p)
		}
	}
	return one
}
