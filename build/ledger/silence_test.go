package ledger

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"slipleaf/build/reckon"
)

// settledOf counts made-up results, all of parcels that are old enough; lot tells which lot each parcel is of.
func settledOf(status []reckon.Status, lot func(i int) string) OutcomeCounts {
	var ws []observed
	for i, s := range status {
		ws = append(ws, observed{lot: lot(i), settled: true, Observation: reckon.Observation{Status: s}})
	}
	return countOutcomes(AnyWater, ws)
}

// Of 100 parcels 70 establish; four successes of five and two losses of five are reported. The reports alone say 82 %; with the
// losses taken to be reported half as often it is 70 %, and the silent ones leave all from 56 to 88 %.
func TestWhoDoesNotAnswer(t *testing.T) {
	var status []reckon.Status
	for i := range 100 {
		switch {
		case i < 56:
			status = append(status, reckon.Established)
		case i < 68:
			status = append(status, reckon.Died)
		default:
			status = append(status, reckon.Censored)
		}
	}
	f := settledOf(status, func(i int) string { return fmt.Sprint(i) })
	if math.Abs(f.Share.Value-56./68) > 1e-9 || math.Abs(f.Guess-0.7) > 1e-9 || f.Least != 0.56 || f.Most != 0.88 || !f.Quiet {
		t.Errorf("%+v", f)
	}
}

// An "arrived" is no result, and does not silence the doubt.
func TestArrivalIsNoResult(t *testing.T) {
	all, _, _ := New(parcelsOf(t, reports("", established), reports("", lost), reports("", arrived), reports("", arrived)), day("2026-06-30"), nil).Outcomes()
	if f := all["heteranthera-zosterifolia"].All; f.Heard != 4 || !f.Quiet || f.Least != 0.25 || f.Most != 0.75 {
		t.Errorf("%+v", f)
	}
}

// Plants that die do so early: a journal six weeks old has heard of its losses and not of its successes. They enter together.
func TestYoungParcelsDoNotCount(t *testing.T) {
	j := parcelsOf(t, reports("", established), reports("", lost), reports("", lost))
	young, _, _ := New(j, day("2026-03-20"), nil).Outcomes()
	if f := young["heteranthera-zosterifolia"].All; f.Lost != 2 || f.Settled.Sent != 0 || f.Share != (reckon.Interval{}) || f.Quiet {
		t.Errorf("18 days after sending: %+v", f)
	}
	later, _, _ := New(j, day("2026-05-01"), nil).Outcomes()
	if f := later["heteranthera-zosterifolia"].All; f.Settled.Sent != 3 || f.Settled.Established != 1 || f.Settled.Lost != 2 || math.Abs(f.Share.Value-1./3) > 1e-12 {
		t.Errorf("60 days after sending: %+v", f)
	}
}

// Lots that fare alike: 95 % intervals that take each parcel for itself hold far less often than they say, those with the
// design effect do not; where lots do not matter they cost next to nothing.
func TestLotsThatFareAlikeWidenTheInterval(t *testing.T) {
	rng := rand.New(rand.NewPCG(20, 1))
	for _, c := range []struct {
		spread             float64 // sd of the share of a lot
		plain, least, most float64
	}{{0, 0.91, 0.91, 1}, {0.25, 0.85, 0.89, 1}} {
		plain, wide, runs := 0.0, 0.0, 2000
		for range runs {
			var status []reckon.Status
			for range 12 { // lots
				p := min(max(0.6+c.spread*rng.NormFloat64(), 0.02), 0.98)
				for range 5 {
					s := reckon.Died
					if rng.Float64() < p {
						s = reckon.Established
					}
					status = append(status, s)
				}
			}
			f := settledOf(status, func(i int) string { return fmt.Sprint(i / 5) })
			w, err := reckon.Wilson(f.Tally(), Level)
			if err != nil {
				t.Fatal(err)
			}
			truth := 0.6
			if c.spread > 0 {
				truth = truthOf(c.spread)
			}
			plain += holds(w, truth) / float64(runs)
			wide += holds(f.Share, truth) / float64(runs)
		}
		if c.spread > 0 && plain > c.plain || c.spread == 0 && plain < c.plain {
			t.Errorf("spread %g: each parcel for itself holds in %.3f", c.spread, plain)
		}
		if wide < c.least || wide > c.most {
			t.Errorf("spread %g: with the effect of lots it holds in %.3f, want %g to %g", c.spread, wide, c.least, c.most)
		}
	}
}

// truthOf is the mean share of a lot that is cut off at 0.02 and 0.98, by summing.
func truthOf(spread float64) float64 {
	sum, weight := 0.0, 0.0
	for z := -6.0; z <= 6; z += 0.001 {
		w := math.Exp(-z * z / 2)
		sum, weight = sum+w*min(max(0.6+spread*z, 0.02), 0.98), weight+w
	}
	return sum / weight
}

func holds(i reckon.Interval, v float64) float64 { return float64(one(i.Low <= v && v <= i.High)) }

// Whoever answers and whoever does not: drawn journals in which a loss is reported half as often as a success. The bounds hold the
// share of all parcels, always; the guess is right on average, where the reports alone say too much.
func TestBoundsHoldAndTheGuessIsFair(t *testing.T) {
	rng := rand.New(rand.NewPCG(20, 2))
	const parcels, runs = 200, 2000
	var off, alone float64
	for range runs {
		p, answer := 0.3+0.6*rng.Float64(), 0.4+0.6*rng.Float64()
		var status []reckon.Status
		established := 0
		for range parcels {
			s, heard := reckon.Died, answer*lossesReported
			if rng.Float64() < p {
				s, heard = reckon.Established, answer
				established++
			}
			if rng.Float64() >= heard {
				s = reckon.Censored
			}
			status = append(status, s)
		}
		f := settledOf(status, func(i int) string { return fmt.Sprint(i) })
		truth := float64(established) / parcels
		if truth < f.Least-1e-12 || truth > f.Most+1e-12 {
			t.Fatalf("%.3f established; bounds %.3f to %.3f", truth, f.Least, f.Most)
		}
		if f.Guess < f.Least || f.Guess > f.Most {
			t.Fatalf("the guess %.3f lies outside of %.3f to %.3f", f.Guess, f.Least, f.Most)
		}
		off += (f.Guess - p) / runs
		alone += (f.Share.Value - p) / runs
	}
	if t.Logf("guess %+.4f, reports alone %+.4f", off, alone); math.Abs(off) > 0.01 || alone < 0.05 {
		t.Errorf("the guess is off by %.4f on average, the reports alone by %.4f", off, alone)
	}
}

// A journal that sends a parcel a day: losses are reported within four weeks, successes after. The share of those that are old enough is
// fair on every day; that of all results so far is not while the journal is young.
func TestTimeAndNotResultLetsAParcelIn(t *testing.T) {
	rng := rand.New(rand.NewPCG(20, 3))
	const p, runs = 0.7, 300
	for _, today := range []int{70, 90, 150} {
		var settled, all float64
		for range runs {
			var ws []observed
			for sent := range today {
				w := observed{lot: fmt.Sprint(sent), settled: today-sent >= SettleDays}
				status, days := reckon.Died, 5+rng.IntN(20)
				if rng.Float64() < p {
					status, days = reckon.Established, 25+rng.IntN(25)
				}
				if sent+days <= today {
					w.Status = status
				}
				ws = append(ws, w)
			}
			f := countOutcomes(AnyWater, ws)
			settled += f.Share.Value / runs
			all += float64(f.Established) / float64(f.Results()) / runs
		}
		if t.Logf("day %d: %.3f, of all results %.3f", today, settled, all); math.Abs(settled-p) > 0.03 || all > p-0.02 {
			t.Errorf("day %d: the share of settled parcels is %.3f on average, of all results %.3f, truly %.2f", today, settled, all, p)
		}
	}
}
