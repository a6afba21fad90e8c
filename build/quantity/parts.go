package quantity

// Printed is a figure for readers with its unit apart; pages put them together, or leave out a unit that is beside.
type Printed struct{ Number, Unit string }

// String is the figure with its unit.
func (p Printed) String() string {
	if p.Unit == "" {
		return p.Number
	}
	return p.Number + nbsp + p.Unit
}

// PrintRange prints both ends in one unit of the system, or one figure where both print alike.
func PrintRange[T Scalar](lo, hi T, sys System) Printed {
	i := unitFor(lo.Kind(), sys, abs(float64(hi)))
	if !finite(float64(lo)) || !finite(float64(hi)) {
		return Printed{Number: "—"}
	}
	a, b := figure(float64(lo), i), figure(float64(hi), i)
	if a == b {
		return Printed{b, units[i].print}
	}
	return Printed{a + "–" + b, units[i].print}
}
