package sheet

import "strings"

// Breaker is the protection that socket circuits have where somebody lives.
type Breaker string

// The breakers. A residual-current device of at most 30 mA: IEC 60364-4-41, 411.3.3 (number from memory), BS 7671, DGUV
// Information 608. North America: ground-fault circuit interrupters that trip at 4 to 6 mA, UL 943 class A (from memory),
// NEC 210.8.
const (
	RCD        Breaker = "rcd"
	GFCI       Breaker = "gfci"
	AnyBreaker Breaker = "any" // where they live is not known
)

// BreakerIn is the protection by region.
func BreakerIn(region string) Breaker {
	switch country, _, _ := strings.Cut(region, "-"); country {
	case "":
		return AnyBreaker
	case "US", "CA", "MX", "PR":
		return GFCI
	}
	return RCD
}
