package sheet

import (
	"math"

	"slipleaf/build/journal"
	"slipleaf/build/quantity"
	"slipleaf/build/reckon"
)

// Row is a height in the water.
type Row string

// The rows of the light table.
const (
	Surface Row = "surface"
	Middle  Row = "mid"
	Bottom  Row = "bottom"
)

// Light is the light of their tank by depth.
type Light struct {
	Known    bool
	Measured bool // a measured value is behind it
	Rows     [3]LightRow
	Hours    float64 // of the longest lamp; 0: not said
	Why      error   // why there is no figure, when there are lamps
	Working  reckon.Working
}

// LightRow is the light at one depth.
type LightRow struct {
	Row  Row
	Flux reckon.Range[quantity.PhotonFlux]
	DLI  reckon.Range[reckon.LightIntegral]
}

// At is the flux in a row; zero when not known.
func (l Light) At(r Row) reckon.Range[quantity.PhotonFlux] {
	for _, row := range l.Rows {
		if row.Row == r && l.Known {
			return row.Flux
		}
	}
	return reckon.Range[quantity.PhotonFlux]{}
}

// lightOf works out their light.
func lightOf(c Case) Light {
	t := c.Parcel.Tank
	if t == nil {
		return measuredOnly(c.Parcel.Water)
	}
	l := LightIn(t.Inside, t.WaterDepth, t.Substrate, t.Light, t.Floating, c.Parcel.Water)
	if !l.Known {
		m := measuredOnly(c.Parcel.Water)
		m.Hours, m.Why = l.Hours, l.Why
		return m
	}
	return l
}

// measuredOnly is a light that was measured at the bottom and nothing else, as good as the meter and what lux tell of photons.
func measuredOnly(w journal.Parameters) Light {
	m, off := measured(w), quantity.PhotonFlux(0.1)
	if !m.Known() {
		return Light{}
	}
	if !w.Light.Known() {
		off = 0.2
	}
	l := Light{Known: true, Measured: true}
	l.Rows[2] = LightRow{Row: Bottom, Flux: reckon.Range[quantity.PhotonFlux]{Low: m.Low() * (1 - off), Best: m.Mid(), High: m.High() * (1 + off)}}
	return l
}

// measured is the photon flux at the substrate as measured, from lux where only those are known (a white LED is taken:
// 1000/15 lux to the µmol/m²/s, Sharakshane 2018, bioRxiv 289280).
func measured(w journal.Parameters) quantity.Reading[quantity.PhotonFlux] {
	if w.Light.Known() {
		return w.Light
	}
	return quantity.Turned(w.Lux, func(lux quantity.Illuminance) quantity.PhotonFlux {
		p, _, err := reckon.Photons(lux, "")
		if err != nil {
			return quantity.PhotonFlux(math.NaN())
		}
		return p.Best
	})
}

// LightIn works out the light in a tank from its lamps, at the surface, half way down and at the bottom. Why says what is
// missing; without lamps and without measures there is nothing to say and no error.
func LightIn(in journal.Inside, depth quantity.Reading[quantity.Length], substrate []journal.Layer, lamps []journal.Lamp, floating quantity.Reading[quantity.Share], w journal.Parameters) Light {
	var l Light
	for _, lamp := range lamps {
		l.Hours = max(l.Hours, lamp.Hours)
	}
	d, ok := WaterDepth(in, depth, layers(substrate))
	if len(lamps) == 0 || !ok || !in.Length.Known() || !in.Width.Known() {
		return l
	}
	set := reckon.LightSetting{Length: in.Length.Mid(), Width: in.Width.Mid(), WaterDepth: d, Floating: floating, Measured: measured(w)}
	for _, lamp := range lamps {
		set.Lamps = append(set.Lamps, reckon.Lamp{Name: lamp.Name, Power: lamp.Power, Efficacy: lamp.Efficacy, Output: lamp.Output, Kind: lamp.Kind,
			Length: lamp.Length, Width: lamp.Width, AboveWater: lamp.AboveWater, Share: lamp.DimmedTo, Hours: lamp.Hours})
	}
	m, err := set.Model()
	if err != nil {
		l.Why = err
		return l
	}
	l.Known, l.Measured, l.Working = true, set.Measured.Known(), m.Working
	for i, at := range []struct {
		row Row
		at  quantity.Length
	}{{Surface, 0}, {Middle, d / 2}, {Bottom, d}} {
		a, err := m.At(at.at)
		if err != nil {
			return Light{Hours: l.Hours, Why: err}
		}
		l.Rows[i] = LightRow{at.row, a.Mean, a.DLI}
	}
	return l
}

// WaterDepth is the depth of water: as given, or the height less 3 cm of rim and the substrate (common practice).
func WaterDepth(in journal.Inside, depth quantity.Reading[quantity.Length], substrate quantity.Length) (quantity.Length, bool) {
	if depth.Known() {
		return depth.Mid(), true
	}
	if !in.Height.Known() {
		return 0, false
	}
	d := in.Height.Mid() - 3 - substrate
	return d, d > 0.5
}
