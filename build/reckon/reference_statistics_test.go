package reckon

import (
	"fmt"
	"strconv"
	"strings"
	"testing"

	"slipleaf/build/quantity"
)

// lots reads the made-up lots of a row: day=…; ev=….
func lots(r row) []Observation {
	days, fates := strings.Split(r.in["day"], ","), strings.Split(strings.Fields(r.in["ev"])[0], ",")
	var out []Observation
	for i, d := range days {
		n, err := strconv.ParseFloat(d, 64)
		if err != nil {
			panic(err)
		}
		f, err := strconv.Atoi(fates[i])
		if err != nil {
			panic(err)
		}
		out = append(out, Observation{quantity.Span(n), Status(f)})
	}
	return out
}

// groups are the six made-up plants of rows S89 to S97.
func groups(r row) []Tally {
	x, n := r.in["made-up groups: x"], r.in["n"]
	var out []Tally
	ns := strings.Split(n, ",")
	for i, s := range strings.Split(x, ",") {
		yes, err := strconv.Atoi(s)
		of, err2 := strconv.Atoi(ns[i])
		if FirstError(err, err2) != nil {
			panic(FirstError(err, err2))
		}
		out = append(out, Tally{yes, of})
	}
	return out
}

func TestStatisticsAgainstReference(t *testing.T) {
	var last row // rows "as above" stand for the lots of the row before
	checkRows(t, "statistics.csv", func(r row) (float64, error) {
		if r.in["made-up lots: day"] != "" {
			r.in["day"] = r.in["made-up lots: day"]
			last = r
		}
		if r.in["as"] == "above" {
			r.in["day"], r.in["ev"] = last.in["day"], last.in["ev"]
		}
		return statistic(t, r)
	})
}

func statistic(t *testing.T, r row) (float64, error) {
	q := r.quantity
	switch {
	case strings.HasPrefix(q, "smallest n"):
		return fewestForWidth(), nil
	case strings.HasPrefix(q, "Wilson"):
		e, err := Wilson(Tally{int(r.f("x")), int(r.f("n"))}, quantity.Share(r.or("level", 0.95)))
		return end(q, e), err
	case strings.HasPrefix(q, "Jeffreys"):
		e, err := Jeffreys(Tally{int(r.f("x")), int(r.f("n"))}, 0.95)
		return end(q, e), err
	case r.in["day"] != "":
		return incidenceOf(r)
	case r.in["made-up groups: x"] != "":
		return shrinkage(r)
	case q == "shrunken share with a fixed prior":
		p, err := FixedPrior(r.f("prior mean"), r.f("prior weight"))
		e, err2 := p.Shrink(Tally{int(r.f("x")), int(r.f("n"))}, 0.95)
		return e.Value, FirstError(err, err2)
	}
	return 0, fmt.Errorf("no check for %q", q)
}

// end gives the end of an interval that the words of a row ask for.
func end(q string, e Interval) float64 {
	switch {
	case strings.Contains(q, "width"):
		return e.High - e.Low
	case strings.Contains(q, "lower limit"):
		return e.Low
	}
	return e.High
}

// fewestForWidth is the smallest even n whose Wilson interval at one half is at most 0.30 wide.
func fewestForWidth() float64 {
	for n := 2; ; n += 2 {
		if e, err := Wilson(Tally{n / 2, n}, 0.95); err == nil && e.High-e.Low <= 0.30 {
			return float64(n)
		}
	}
}

func incidenceOf(r row) (float64, error) {
	at := quantity.Span(r.f("t"))
	established, died, err := AalenJohansen(lots(r), 0.95)
	if strings.HasPrefix(r.quantity, "share dead") {
		return died.At(at).Value, err
	}
	return established.At(at).Value, err
}

func shrinkage(r row) (float64, error) {
	p, err := PriorOf(groups(r))
	if err != nil {
		return 0, err
	}
	plant := map[string]Tally{"plant 1": {3, 3}, "plant 3": {1, 4}}
	for name, tally := range plant {
		if !strings.Contains(r.quantity, name) {
			continue
		}
		e, err := p.Shrink(tally, 0.95)
		if strings.Contains(r.quantity, "limit") {
			return end(r.quantity, e), err
		}
		return e.Value, err
	}
	switch {
	case strings.Contains(r.quantity, "pooled"):
		return p.Mean, nil
	case strings.Contains(r.quantity, "rho"):
		return p.Rho, nil
	case strings.Contains(r.quantity, "weight"):
		return p.Weight(), nil
	case strings.Contains(r.quantity, "binomial a"):
		return p.A, nil
	}
	return p.B, nil
}
