package topic

import (
	"math"
	"strconv"

	"slipleaf/build/quantity"
	"slipleaf/build/reckon"
)

// askOxygen gives saturation, and the night's end too where volume and surface are given.
func askOxygen(q *question) {
	t, altitude, measured := need[quantity.Temperature](q, "temperature"), may[quantity.Length](q, "altitude"), may[quantity.Concentration](q, "oxygen")
	r := sure(reckon.OxygenAt(t, altitude.Mid()))
	show(q, "saturation", r.Saturation, "mg/L")
	if measured.Known() {
		q.fraction("share-of-saturation", float64(measured.Mid()/r.Saturation))
	}
	q.done(r.Working)
	if q.has("volume") {
		q.night(reckon.Night{Temperature: t, Altitude: altitude.Mid(), Start: measured})
	}
}

func (q *question) night(n reckon.Night) {
	n.Volume, n.Hours, n.Exchange = need[quantity.Volume](q, "volume"), q.hours(), q.word("exchange")
	n.Surface = quantity.Area(need[quantity.Length](q, "length")*need[quantity.Length](q, "width")) * quantity.SquareCM
	n.Plants, n.Fish = may[quantity.Mass](q, "plants").Mid(), may[quantity.Mass](q, "fish").Mid()
	if n.Hours == 0 {
		q.fail(&reckon.InputError{Kind: reckon.Missing, Name: "hours", Why: "of darkness, for the night's budget"})
	}
	r := sure(n.Dawn())
	showRange(q, "at-dawn", r.Dawn, "mg/L")
	q.done(r.Working, r.Cautions...)
}

func askScale(q *question) {
	ph, gh, w, ca := need[quantity.PH](q, "ph"), need[quantity.Hardness](q, "gh"), q.carbonate(), may[quantity.Concentration](q, "ca")
	r := sure(reckon.Calcite(w, ph, gh, ca))
	index := q.number("saturation-index", r.Index.Best, "")
	index.ends(r.Index.Low, r.Index.High)
	index.shown = quantity.Number(r.Index.Best, 1) + " (" + quantity.Number(r.Index.Low, 1) + " to " + quantity.Number(r.Index.High, 1) + ")"
	show(q, "ph-in-balance", r.PH, "")
	q.answer.Results = append(q.answer.Results, Result{Name: "what-it-means", Word: r.Means().Text()})
	q.done(r.Working)
}

func askUptake(q *question) {
	fresh := need[quantity.Mass](q, "mass")
	r := sure(reckon.TakenOut(fresh))
	showRange(q, "nitrogen", r.Nitrogen, "mg")
	showRange(q, "phosphorus", r.Phosphorus, "mg")
	showRange(q, "potassium", r.Potassium, "mg")
	back := r.Replace()
	showRange(q, "potassium-nitrate", back.Nitrate, "g")
	showRange(q, "monopotassium-phosphate", back.Phosphate, "g")
	showRange(q, "potassium-sulfate", back.Sulfate, "g")
	q.done(r.Working, reckon.CautionPureSalt)
}

func askParcel(q *question) {
	for _, key := range []string{"from", "to", "plant"} { // the sum needs none of them: whoever has a journal answers for it
		q.word(key)
	}
	p := reckon.Package{Mass: need[quantity.Mass](q, "mass"), Length: need[quantity.Length](q, "length"), Width: need[quantity.Length](q, "width"), Height: need[quantity.Length](q, "height"),
		Wall: may[quantity.Length](q, "wall").Mid(), Start: need[quantity.Temperature](q, "start"), Outside: need[quantity.Temperature](q, "outside"), Keeps: may[quantity.Span](q, "keeps").Mid()}
	span := need[quantity.Span](q, "hours")
	p.Hours = int(math.Ceil(float64(span)*24 - 1e-9))
	r := sure(p.Travel())
	for n := 1; n <= p.Hours; n++ {
		if n == p.Hours || n <= 3 || n <= 12 && n%3 == 0 || n%12 == 0 {
			e := r.ByHour[n-1]
			showRange(q, "after-"+strconv.Itoa(n)+"-h", reckon.Range[quantity.Temperature]{Low: min(e.Low, e.High), Best: e.Best, High: max(e.Low, e.High)}, "C")
		}
	}
	q.number("hours-to-37-percent", r.TimeScale.Best, "h").ends(r.TimeScale.Low, r.TimeScale.High)
	if p.Keeps > 0 {
		q.interval("keeping-time-used", reckon.Interval{Value: r.Used.Best, Low: r.Used.Low, High: r.Used.High})
	}
	q.done(r.Working)
}
