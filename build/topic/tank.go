package topic

import (
	"strconv"
	"strings"

	"slipleaf/build/quantity"
	"slipleaf/build/reckon"
)

func askTank(q *question) {
	s := reckon.TankShape{Length: need[quantity.Length](q, "length"), Width: need[quantity.Length](q, "width"), Height: need[quantity.Length](q, "height"),
		WaterDepth: may[quantity.Length](q, "water-depth"), Substrate: may[quantity.Length](q, "substrate-depth"), RimGap: may[quantity.Length](q, "rim-gap")}
	t := sure(s.Measure())
	show(q, "footprint", t.Footprint, "dm2")
	show(q, "gross-volume", t.Gross, "L")
	showRange(q, "net-volume", t.Net, "L")
	showRange(q, "filled-mass", t.Filled, "kg")
	q.number("floor-load", float64(t.Floor.Best), "kPa").ends(float64(t.Floor.Low), float64(t.Floor.High))
	q.number("floor-load", t.Floor.Best.PSF(), "psf").ends(t.Floor.Low.PSF(), t.Floor.High.PSF())
	q.done(t.Working, t.Cautions...)
	for _, d := range t.Design {
		load := reckon.Figure(float64(d.Low))
		if d.Low != d.High {
			load += " to " + reckon.Figure(float64(d.High))
		}
		q.notes = append(q.notes, "for comparison, an ordinary design load: "+d.Where+", "+load+" kPa")
		q.source(d.Source)
	}
}

func askLight(q *question) {
	lamp := reckon.Lamp{Kind: q.word("lamp-kind"), Hours: q.hours()}
	switch q.oneOf("lamp-power", "lamp-output") {
	case "lamp-power":
		lamp.Power, lamp.Efficacy = known[quantity.Power](q, "lamp-power", middleUsed), known[quantity.Efficacy](q, "lamp-efficacy", middleUsed)
	case "lamp-output":
		lamp.Output = known[quantity.LuminousFlux](q, "lamp-output", middleUsed)
		if lamp.Kind == "" {
			q.fail(&reckon.InputError{Kind: reckon.Missing, Name: "lamp-kind", Why: "lumens alone do not tell photons", Hint: "known are " + strings.Join(reckon.LampKinds(), ", ")})
		}
	}
	lamp.Length, lamp.Width = known[quantity.Length](q, "lamp-length", middleUsed), known[quantity.Length](q, "lamp-width", middleUsed)
	lamp.AboveWater = known[quantity.Length](q, "above-water", middleUsed)
	s := reckon.LightSetting{Length: need[quantity.Length](q, "length"), Width: need[quantity.Length](q, "width"), WaterDepth: need[quantity.Length](q, "water-depth"),
		Lamps: []reckon.Lamp{lamp}, Cover: q.cover(), Floating: may[quantity.Share](q, "floating")}
	s.Water = sure(reckon.ClarityNamed(q.word("water")))
	m := sure(s.Model())
	top, bottom, on := m.Surface(), m.Bottom(), m.OnWater()
	showRange(q, "surface", top.Mean, "umol/m2/s")
	showRange(q, "bottom", bottom.Mean, "umol/m2/s")
	show(q, "brightest", bottom.Brightest, "umol/m2/s")
	q.interval("share-arriving", reckon.Interval{Value: float64(bottom.Arriving.Best), Low: float64(bottom.Arriving.Low), High: float64(bottom.Arriving.High)})
	q.fraction("share-on-water", float64(on.Best))
	q.number("dli", float64(bottom.DLI.Best), "mol/m2/d").ends(float64(bottom.DLI.Low), float64(bottom.DLI.High))
	w := m.Working
	w.Notes = append(reckon.Remarks("water = "+s.Water.Name(), "share-arriving is the part of the light just under the surface that reaches the bottom; share-on-water the part of the lamp's light that falls on the water"), w.Notes...)
	q.done(w, m.Cautions...)
}

func askLux(q *question) {
	lux, kind, hours := need[quantity.Illuminance](q, "lux"), q.word("lamp-kind"), q.hours()
	r, w, err := reckon.Photons(lux, kind)
	q.fail(err)
	showRange(q, "light", r, "umol/m2/s")
	q.done(w)
	if hours == 0 {
		return
	}
	var day [3]reckon.LightIntegral
	for i, v := range []quantity.PhotonFlux{r.Low, r.Best, r.High} {
		day[i], err = reckon.DLI(v, hours)
		q.fail(err)
	}
	q.number("dli", float64(day[1]), "mol/m2/d").ends(float64(day[0]), float64(day[2]))
}

func askRoomCO2(q *question) {
	mass := need[quantity.Mass](q, "mass")
	length, width, height := need[quantity.Length](q, "length"), need[quantity.Length](q, "width"), need[quantity.Length](q, "height")
	room := quantity.Volume(float64(length*width*height) / 1000)
	r := sure(reckon.RoomCO2(mass, room))
	q.number("rise", r.Rise*1e6, "ppm")
	q.fraction("share-of-the-air", r.Rise)
	q.done(r.Working, r.Cautions...)
	for _, l := range reckon.AirLimits() {
		q.notes = append(q.notes, "for comparison, a workplace limit: "+l.Body+", "+l.Period+", "+reckon.Figure(l.PPM)+" ppm")
		q.source(l.Source)
	}
}

// hours reads hours a day: a plain number as in the journal, or a time. 0 when it is not given.
func (q *question) hours() float64 {
	text := strings.TrimSpace(q.values["hours"])
	if !q.has("hours") {
		return 0
	}
	h, err := strconv.ParseFloat(text, 64)
	if err != nil {
		h = float64(need[quantity.Span](q, "hours")) * 24
	}
	q.fail(reckon.Inside("hours", h, 0.1, 24, "a day has 24"))
	q.answer.Inputs["hours"] = map[string]any{"value": h, "unit": "h"}
	return h
}

// cover reads a cover by name or by the part of the light that it lets through. By name that is common practice.
func (q *question) cover() quantity.Reading[quantity.Share] {
	switch {
	case !q.has("cover"):
		return quantity.Reading[quantity.Share]{}
	case strings.HasSuffix(strings.TrimSpace(q.values["cover"]), "%"):
		return may[quantity.Share](q, "cover")
	}
	passes := [...]quantity.Share{1, 0.90, 0.70}
	return quantity.Of(passes[sure(reckon.Chosen("cover", q.word("cover"), []string{"none", "clean-glass", "limed-glass"}))])
}

func askShare(q *question) {
	t := reckon.Tally{Yes: q.whole("yes"), Of: q.whole("of")}
	w := sure(reckon.Wilson(t, q.level))
	j := sure(reckon.Jeffreys(t, q.level))
	q.leveled = true
	q.fraction("proportion", w.Value)
	q.interval("wilson", w)
	q.interval("jeffreys", j)
	q.done(reckon.WilsonWorking(t, q.level))
	q.done(reckon.JeffreysWorking(t, q.level))
	if t.Of < 10 {
		q.notes = append(q.notes, "fewer than ten reports: show the counts beside the interval, and no single percent (our choice)")
	}
}

// interval adds a share with its interval.
func (q *question) interval(name string, e reckon.Interval) {
	r := q.fraction(name, e.Value)
	r.Low, r.High = &e.Low, &e.High
	r.shown += " (" + quantity.FormatRange(quantity.Share(e.Low), quantity.Share(e.High), quantity.Metric) + ")"
}
