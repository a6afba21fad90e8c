package dynamics

import "fmt"

// TooFewCounts says that a series cannot tell a growth rate yet: "not enough counts".
type TooFewCounts struct {
	Dates    int     // days with a count
	Span     float64 // days from the first to the last of them
	NeedSpan float64 // days that are needed
	DF       int     // degrees of freedom: points − segments − 1
}

// Error says what is missing first.
func (e *TooFewCounts) Error() string {
	switch {
	case e.Dates < FewestDates:
		return fmt.Sprintf("not enough counts: %d dates, %d needed", e.Dates, FewestDates)
	case e.Span < e.NeedSpan:
		return fmt.Sprintf("not enough counts: they span %g days, %g needed", e.Span, e.NeedSpan)
	}
	return "not enough counts between one trim and the next"
}

// TooFast says that counts make a rate that no plant reaches, so that one of them is mistyped.
type TooFast struct {
	Rate float64 // per day
}

// Error names the rate and the limit.
func (e *TooFast) Error() string {
	return fmt.Sprintf("a growth rate of %.2f per day is faster than any plant grows (above %g): one count is probably a typo", e.Rate, FastestRate)
}

// NoLevelling says that no logistic can be found: growth shows no sign of slowing.
type NoLevelling struct{}

// Error says so.
func (*NoLevelling) Error() string { return "growth shows no sign of slowing" }
