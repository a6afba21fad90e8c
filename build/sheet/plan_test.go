package sheet

import (
	"math"
	"testing"

	"slipleaf/build/almanac"
	"slipleaf/build/journal"
	"slipleaf/build/quantity"
	"slipleaf/build/reckon"
)

// By hand: 1 dGH is 10/56.077 = 0.17833 mmol/L; gypsum 172.17 g/mol makes 30.70 mg/L, Epsom salt 246.47 g/mol 43.95 mg/L.
// The example of +4 dGH in 100 L at three parts to one: 9.2 g and 4.4 g (molar masses, IUPAC 2021).
func TestRaiseGHByHand(t *testing.T) {
	r := raiseGH(2, 6, 100)
	if r == nil || len(r.Doses) != 2 {
		t.Fatalf("%+v", r)
	}
	for i, want := range []float64{4 * 0.75 * 0.030703 * 100, 4 * 0.25 * 0.043952 * 100} {
		if got := float64(r.Doses[i].Mass); math.Abs(got-want) > 0.005 {
			t.Errorf("%s: %.3f g, want %.3f g", r.Doses[i].Salt.Name, got, want)
		}
	}
	if g, e := float64(r.Doses[0].Mass), float64(r.Doses[1].Mass); math.Abs(g-9.2) > 0.05 || math.Abs(e-4.4) > 0.05 {
		t.Errorf("%.2f g and %.2f g, want 9.2 g and 4.4 g", g, e)
	}
	if r.Days != 4 || math.Abs(float64(r.Doses[0].Daily*4-r.Doses[0].Mass)) > 1e-9 {
		t.Errorf("%d days", r.Days)
	}
	if got := float64(r.Doses[0].Refill); math.Abs(got-0.921) > 0.001 {
		t.Errorf("for 10 L of new water %.3f g, want a tenth of the dose for 100 L", got)
	}
}

// By hand: KHCO3 is 100.115 g/mol, one equivalent; 1 dKH is 0.35665 meq/L, so 35.71 mg/L.
func TestRaiseKHByHand(t *testing.T) {
	r := raiseKH(1, 3, 50)
	if got, want := float64(r.Doses[0].Mass), 2*0.035706*50; math.Abs(got-want) > 0.002 || r.Days != 4 {
		t.Errorf("%.3f g over %d days, want %.3f g over 4", got, r.Days, want)
	}
}

// By hand: a plant that tolerates KH 0 to 8 in a tank of KH 12: the mixture aims at 7, a degree inside; 7/12 tap. One change may
// lower KH by 1 of 12, so 8 %; GH 16 by 2 would allow 12 %. After n of them 0.92ⁿ is left: ln(7/12)/ln(0.92) = 6.5, so 7.
func TestBlendByHand(t *testing.T) {
	s := Sheet{Verdicts: Verdicts{{Parameter: GH, Value: one(16)}, {Parameter: KH, Value: one(12)}}}
	m := s.blend(Verdict{Parameter: KH, Band: Band{KH, 0, 8, true}, Value: one(12)}, 100)
	if m.Volume != 8 || m.Want != 7 || math.Abs(float64(m.Tap)-7.0/12) > 1e-9 || m.Steps != 7 || m.Each != 0.08 {
		t.Errorf("%+v", m)
	}
	if math.Abs(m.GH-16*7.0/12) > 1e-9 {
		t.Errorf("GH comes down to %v", m.GH)
	}
}

// A raise goes a degree above the lower end, never past the middle of a narrow band.
func TestJustInside(t *testing.T) {
	for _, c := range []struct{ lo, hi, in, under float64 }{{2, 15, 3, 14}, {4, 30, 5, 29}, {1, 2, 1.5, 1.5}, {0, 10, 1, 9}, {3, 3, 3, 3}} {
		b := Band{GH, c.lo, c.hi, true}
		if justInside(b) != c.in || justUnder(b) != c.under {
			t.Errorf("%v to %v: %v and %v, want %v and %v", c.lo, c.hi, justInside(b), justUnder(b), c.in, c.under)
		}
	}
}

func aCase() Case {
	p := &journal.Parcel{Count: 5, Sent: quantity.Date{Year: 2026, Month: 4, Day: 22}, How: "post", Region: "GB", Code: "x"}
	return Case{Parcel: p, Lot: &journal.Lot{Plant: "a-plant", Form: "cuttings", Length: quantity.Of(quantity.Length(12))},
		Species: almanac.Species{Taxon: "A plant", Traits: almanac.Traits{Kind: almanac.Stem}, Profile: almanac.Profile{Habit: "stem", Placement: "back", CO2: "helps", Growth: "fast", Height: quantity.Between[quantity.Length](20, 40)}}}
}

func TestArrival(t *testing.T) {
	c := aCase()
	if s := New(c); s.Day0.String() != "2026-04-24" {
		t.Errorf("by post: %s", s.Day0)
	}
	c.Parcel.How = "by-hand"
	if s := New(c); s.Day0.String() != "2026-04-22" {
		t.Errorf("by hand: %s", s.Day0)
	}
	c.Parcel.Reports = []journal.Report{{Date: quantity.Date{Year: 2026, Month: 4, Day: 27}, Outcome: "arrived"}}
	if s := New(c); s.Day0.String() != "2026-04-27" {
		t.Errorf("as reported: %s", s.Day0)
	}
	c.Parcel.Reports, c.Parcel.Sent = nil, quantity.Date{}
	s := New(c)
	if !s.Day0.IsZero() || !s.Misses("day") || !s.Days[3].Date.IsZero() {
		t.Errorf("not sent: %s", s.Day0)
	}
}

// Nothing known of the recipient: the sheet still says what it can, and names the rest.
func TestNothingKnown(t *testing.T) {
	s := New(aCase())
	if s.Summary != CannotSay || len(s.Days) != 7 || !s.Trim.Known || !s.Trim.Guess {
		t.Errorf("%s, %d days, %+v", s.Summary, len(s.Days), s.Trim)
	}
	for _, want := range []Gap{"temperature", "gh", "kh", "light", "co2", NoTank, NoVolume, NoSubstrate, NoGrowth} {
		if !s.Misses(want) {
			t.Errorf("%s is not named as unknown: %v", want, s.Unknown)
		}
	}
}

func TestTrimIsWideAndOrdered(t *testing.T) {
	c := aCase()
	c.From.Growth = Growth{Low: 0.03, Best: 0.04, High: 0.05, N: 9}
	c.From.CO2 = journal.Yes
	c.Parcel.Tank = &journal.Recipient{CO2: journal.Yes}
	same := New(c).Trim
	c.Parcel.Tank.CO2 = journal.No
	less := New(c).Trim
	if !(same.Low < same.Best && same.Best < same.High) || same.Guess || same.N != 9 {
		t.Errorf("%+v", same)
	}
	if less.Best <= same.Best {
		t.Errorf("without CO2 it is no slower: %v against %v days", less.Best, same.Best)
	}
	// By hand, with light unknown (0.8) and the same CO2: rest 5 to 14 with 9 for one class of melt, ln(40/12)/(0.04 × 0.8) = 37.6 d, hours of light unknown on both sides.
	if want := 9 + math.Log(40.0/12)/(0.04*0.8); math.Abs(same.Best-want) > 0.1 {
		t.Errorf("%.1f days, want %.1f", same.Best, want)
	}
}

func TestLightFactorSaturates(t *testing.T) {
	s := Sheet{Case: aCase(), Place: Place{Row: Bottom}}
	s.From.Light = reckon.Range[quantity.PhotonFlux]{Low: 100, Best: 100, High: 100}
	s.Light = Light{Known: true}
	factor := func(i quantity.PhotonFlux) float64 {
		s.Light.Rows[2] = LightRow{Row: Bottom, Flux: reckon.Range[quantity.PhotonFlux]{Low: i, Best: i, High: i}}
		f, known := s.lightFactor()
		if !known || f.Low > f.Best || f.Best > f.High {
			t.Fatalf("%+v", f)
		}
		return f.Best
	}
	if f := factor(100); f != 1 {
		t.Errorf("in the same light %v", f)
	}
	// By hand: (50/75)/(100/125) = 0.8333.
	if f := factor(50); math.Abs(f-0.83333) > 1e-4 {
		t.Errorf("in half the light %v", f)
	}
	if f := factor(400); f > 1.2 {
		t.Errorf("in four times the light %v: it does not saturate", f)
	}
}

func TestHours(t *testing.T) {
	for _, c := range []struct {
		name  string
		lamp  float64
		loses bool
		last  float64
		steps int
	}{{"its lamp is not known", 0, true, 8, 5}, {"ten hours", 10, true, 8, 5}, {"seven", 7, true, 7, 3}, {"five: few already", 5, true, 0, 0}, {"it loses no CO2", 10, false, 0, 0}} {
		s := Sheet{Kind: Kind(almanac.Stem), Light: Light{Hours: c.lamp}, Step: Step{Parts: []Part{{Parameter: CO2, Class: SmallStep}}}}
		if c.loses {
			s.Step.Parts[0].Class = LargeStep
		}
		h := s.hours()
		if len(h) != c.steps || c.steps > 0 && (h[0].Hours != 6 || h[len(h)-1].Hours != c.last) {
			t.Errorf("%s: %v", c.name, h)
		}
	}
}
