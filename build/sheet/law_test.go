package sheet

import (
	"encoding/csv"
	"encoding/json"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"slipleaf/build/almanac"
	"slipleaf/build/journal"
	"slipleaf/build/quantity"
	"slipleaf/build/reckon"
)

// Whatever is told of a tank, a sheet is made, and what is on it makes sense.
func TestEverySheetHolds(t *testing.T) {
	a, err := almanac.Open()
	if err != nil {
		t.Fatal(err)
	}
	all := a.All()
	rapid.Check(t, func(t *rapid.T) {
		s := New(drawCase(t, all))
		checkVerdicts(t, s)
		checkPlan(t, s)
		data, err := s.File(nil, nil).JSON()
		if err != nil || !json.Valid(data) {
			t.Fatalf("sheet.json: %v", err)
		}
	})
}

// Leaves get the light of where they are, wherever the foot is: those that float or stand in the air, that of the surface; all
// others below it, but for what can be put on wood or stone at any height (botany).
func TestLightIsTakenWhereTheLeavesAre(t *testing.T) {
	a, err := almanac.Open()
	if err != nil {
		t.Fatal(err)
	}
	for _, sp := range a.All() {
		c := aCase()
		c.Species = sp
		s := New(c)
		up := s.Kind.Set() == Afloat || s.Kind.Set() == InAir || s.Kind.Is(almanac.FloatingLeaved) || sp.Placement == "surface"
		if up != (s.Place.Row == Surface) && s.Kind.Set() != Fixed {
			t.Errorf("%s (%s): the light %s", sp.Taxon, sp.Kind, s.Place.Row)
		}
	}
}

// Leaves made in the air: those of rhizome plants are leathery and live on under water for months (the almanac says so of each
// Anubias); of all others that go under water many are lost at the least (common practice).
func TestLeavesFromTheAir(t *testing.T) {
	a, err := almanac.Open()
	if err != nil {
		t.Fatal(err)
	}
	for _, sp := range a.All() {
		c := aCase()
		c.Species, c.Grown = sp, "emersed"
		s, own := New(c), melts(c)
		want := min(max(own+1, 2), 3)
		switch {
		case s.Kind.Set() == Afloat || s.Kind.Set() == InAir:
			want = own
		case s.Kind.Firm() == OnRoot:
			want = min(own+1, 3)
		}
		if s.Melt.Level != want || strings.HasPrefix(sp.ConversionNote, "emersed leaves are kept for months") && s.Melt.Level > own+1 {
			t.Errorf("%s (%s): level %d, not %d: %s", sp.Taxon, sp.Kind, s.Melt.Level, want, sp.ConversionNote)
		}
	}
}

// The table of kinds has every kind of the almanac, and its cells are what they are taken for.
func TestKindsAreRead(t *testing.T) {
	a, err := almanac.Open()
	rows, err2 := csv.NewReader(strings.NewReader(kindTable)).ReadAll()
	if err != nil || err2 != nil || len(rows) != len(handlings())+1 {
		t.Fatal(err, err2, len(rows))
	}
	for _, sp := range a.All() {
		if h, ok := handlings()[Kind(sp.Kind)]; !ok || h.firm == "" || h.course == "" {
			t.Errorf("%s: %q is %+v", sp.Taxon, sp.Kind, h)
		}
	}
	for _, r := range rows[1:] {
		h, buried := handlings()[Kind(r[0])], r[2] == "planted" || r[2] == "air"
		for _, cell := range append(r[4:6:6], r[7:]...) {
			if _, err := strconv.ParseFloat(cell, 64); err != nil {
				t.Errorf("%v: %v", r, err)
			}
		}
		if !slices.Contains([]Setting{Planted, Fixed, Afloat, Loose, InAir}, h.set) || (h.deepHigh > 0) != buried || h.deepLow > h.deepHigh || h.spacing <= 0 || h.piece <= 0 || h.judge < 7 {
			t.Errorf("%v: %+v", r, h)
		}
	}
}

func checkVerdicts(t *rapid.T, s Sheet) {
	if len(s.Verdicts) != 6 {
		t.Fatalf("%d verdicts", len(s.Verdicts))
	}
	for _, v := range s.Verdicts {
		if (v.Outcome == NotKnown) != s.Misses(Gap(v.Parameter)) {
			t.Fatalf("%s is %s, and the unknown are %v", v.Parameter, v.Outcome, s.Unknown)
		}
		if v.By != 0 && v.Outcome != Outside || math.IsNaN(v.By) {
			t.Fatalf("%s is %s by %v", v.Parameter, v.Outcome, v.By)
		}
	}
	if s.Summary == OneChange != s.Change.Is() && s.Summary != PoorMatch && s.Summary != CannotSay {
		t.Fatalf("%s with the change %+v", s.Summary, s.Change)
	}
}

func checkPlan(t *rapid.T, s Sheet) {
	if tr := s.Trim; tr.Known && !(0 < tr.Low && tr.Low <= tr.Best && tr.Best <= tr.High && tr.High <= farthest) {
		t.Fatalf("the first cut lies between %v, %v and %v days", tr.Low, tr.Best, tr.High)
	}
	last := 0.0
	for _, h := range s.Hours {
		if h.Hours < last || h.Hours > 24 || h.Hours <= 0 {
			t.Fatalf("hours %v", s.Hours)
		}
		last = h.Hours
	}
	for _, r := range []*Raise{s.Water.GH, s.Water.KH} {
		if r == nil {
			continue
		}
		if r.To <= r.From || r.Days < 1 {
			t.Fatalf("raise %+v", r)
		}
		for _, d := range r.Doses {
			if !(d.Mass > 0) || math.Abs(float64(d.Daily)*float64(r.Days)-float64(d.Mass)) > 1e-6 {
				t.Fatalf("dose %+v", d)
			}
		}
	}
	if b := s.Water.Blend; b != nil && (math.Abs(float64(b.Soft+b.Tap)-1) > 1e-9 || b.Soft < 0 || b.Tap < 0) {
		t.Fatalf("blend %+v", b)
	}
	if s.Place.Spacing <= 0 || s.Place.Area <= 0 || s.Melt.Level < 0 || s.Melt.Level > 3 {
		t.Fatalf("place %+v, melt %+v", s.Place, s.Melt)
	}
}

func drawCase(t *rapid.T, all []almanac.Species) Case {
	sp := all[rapid.IntRange(0, len(all)-1).Draw(t, "species")]
	p := &journal.Parcel{Count: rapid.IntRange(0, 40).Draw(t, "count"), Region: rapid.SampledFrom([]string{"", "GB", "DE"}).Draw(t, "region"),
		How: rapid.SampledFrom([]string{"", "post", "by-hand"}).Draw(t, "how"), Water: drawWater(t, "theirs")}
	if rapid.Bool().Draw(t, "sent") {
		p.Sent = quantity.Date{Year: 2026, Month: 4, Day: 22}
	}
	if rapid.Bool().Draw(t, "tank") {
		p.Tank = &journal.Recipient{CO2: journal.Tristate(rapid.IntRange(0, 2).Draw(t, "co2"))}
		p.Tank.Inside = journal.Inside{Length: maybe[quantity.Length](t, "length", 5, 300), Width: maybe[quantity.Length](t, "width", 5, 100), Height: maybe[quantity.Length](t, "height", 5, 90)}
		p.Tank.WaterDepth = maybe[quantity.Length](t, "depth", 1, 90)
		if rapid.Bool().Draw(t, "lamp") {
			p.Tank.Light = []journal.Lamp{{Output: maybe[quantity.LuminousFlux](t, "lumens", 10, 20000), Length: maybe[quantity.Length](t, "lamp length", 1, 200), AboveWater: maybe[quantity.Length](t, "above", 0, 90),
				Hours: rapid.Float64Range(0, 24).Draw(t, "hours")}}
		}
		if rapid.Bool().Draw(t, "ground") {
			p.Tank.Substrate = []journal.Layer{{Material: "gravel", Depth: maybe[quantity.Length](t, "ground depth", 0, 20), Nutrients: rapid.SampledFrom([]string{"", "none", "rich"}).Draw(t, "food")}}
		}
	}
	lot := &journal.Lot{Plant: sp.ID, Form: rapid.SampledFrom([]string{"cuttings", "plantlets", "seeds"}).Draw(t, "form"), Length: maybe[quantity.Length](t, "piece", 1, 60)}
	c := Case{Parcel: p, Lot: lot, Species: sp, Grown: rapid.SampledFrom([]string{"", "submersed", "emersed", "culture"}).Draw(t, "grown")}
	c.From = Giver{Water: drawWater(t, "the giver's"), CO2: journal.Tristate(rapid.IntRange(0, 2).Draw(t, "giver's co2"))}
	if rapid.Bool().Draw(t, "light") {
		l := quantity.PhotonFlux(rapid.Float64Range(1, 400).Draw(t, "giver's light"))
		c.From.Light = reckon.Range[quantity.PhotonFlux]{Low: l * 0.7, Best: l, High: l * 1.3}
	}
	if rapid.Bool().Draw(t, "growth") {
		r := rapid.Float64Range(-0.05, 0.3).Draw(t, "rate")
		c.From.Growth = Growth{Low: r - 0.02, Best: r, High: r + 0.02, N: 6}
	}
	return c
}

func drawWater(t *rapid.T, whose string) journal.Parameters {
	return journal.Parameters{Temperature: maybe[quantity.Temperature](t, whose+" temperature", 2, 38), PH: maybe[quantity.PH](t, whose+" pH", 4, 10),
		GH: maybe[quantity.Hardness](t, whose+" GH", 0, 8), KH: maybe[quantity.Alkalinity](t, whose+" KH", 0, 9), Conductivity: maybe[quantity.Conductivity](t, whose+" conductivity", 0, 5000),
		Light: maybe[quantity.PhotonFlux](t, whose+" light", 0.1, 500)}
}

func maybe[T quantity.Scalar](t *rapid.T, name string, lo, hi float64) quantity.Reading[T] {
	switch rapid.IntRange(0, 3).Draw(t, name+"?") {
	case 0:
		return quantity.Reading[T]{}
	case 1:
		asked, _ := quantity.Parse[T]("unknown")
		return asked
	case 2:
		return quantity.Between(T(rapid.Float64Range(lo, hi).Draw(t, name+" from")), T(rapid.Float64Range(lo, hi).Draw(t, name+" to")))
	}
	return quantity.Of(T(rapid.Float64Range(lo, hi).Draw(t, name)))
}
