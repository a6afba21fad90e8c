package quantity

import (
	"fmt"
	"strconv"
	"strings"
	"unicode"
)

// ParseError tells what is wrong with a written quantity, and where.
type ParseError struct {
	Offset  int    // byte of the text at which the fault begins
	Message string // what is wrong, and what is expected
	Hint    string // the nearest right spelling, or ""
}

// Error gives the message.
func (e *ParseError) Error() string { return e.Message }

// Parse reads "NUMBER UNIT", "<NUMBER UNIT", "LOW..HIGH UNIT", "unknown" or "?". A pH is a number alone; every
// other kind needs its unit. Errors are of type *[ParseError].
func Parse[T Scalar](text string) (Reading[T], error) {
	var r Reading[T]
	var v T
	k := v.Kind()
	s := strings.TrimSpace(text)
	lead := strings.Index(text, s)
	if s == "unknown" || s == "?" {
		return Reading[T]{unknown: true}, nil
	}
	if s == "" {
		return r, &ParseError{0, "no value; " + writtenAs(k, 1, ""), ""}
	}
	rest := s
	if strings.HasPrefix(rest, "<") {
		r.below = true
		rest = strings.TrimLeft(rest[1:], " ")
	}
	at := func() int { return lead + len(s) - len(rest) }
	n, rest2, err := number(rest)
	if err != nil {
		return Reading[T]{}, &ParseError{at(), err.Error() + "; " + writtenAs(k, 1, ""), hintNumber(rest)}
	}
	rest = rest2
	r.low, r.high = n, n
	if strings.HasPrefix(rest, "..") {
		if r.below {
			return Reading[T]{}, &ParseError{at(), "a range cannot also be below a limit", ""}
		}
		rest = rest[2:]
		m, rest3, err := number(rest)
		if err != nil {
			return Reading[T]{}, &ParseError{at(), "a range ends with a number, as in 22..26 C", ""}
		}
		if m < n {
			return Reading[T]{}, &ParseError{at(), fmt.Sprintf("the range runs backwards: %s is less than %s", digits(m), digits(n)), fmt.Sprintf("%s..%s", digits(m), digits(n))}
		}
		r.high, rest = m, rest3
	}
	rest = strings.TrimLeft(rest, " \u00a0\u202f")
	r.unit = find(k, rest)
	if r.unit == 0 {
		return Reading[T]{}, unitError(k, r.high, rest, at())
	}
	if r.below {
		r.low = r.high
	}
	return r, nil
}

// number reads a decimal number at the start of s: sign, digits, point, digits. No exponent: nobody writes one, and
// "1e5" is more often a slip.
func number(s string) (n float64, rest string, err error) {
	i := 0
	if i < len(s) && (s[i] == '-' || s[i] == '+') {
		i++
	} else if strings.HasPrefix(s, "−") { // a typographic minus, as our own pages print it
		i += len("−")
	}
	start := i
	for i < len(s) && s[i] >= '0' && s[i] <= '9' {
		i++
	}
	whole := i > start
	if i+1 < len(s) && s[i] == '.' && s[i+1] >= '0' && s[i+1] <= '9' {
		i++
		for i < len(s) && s[i] >= '0' && s[i] <= '9' {
			i++
		}
		whole = true
	}
	if !whole {
		return 0, s, fmt.Errorf("expected a number, found %q", clip(s))
	}
	if i < len(s) && s[i] == ',' {
		return 0, s, fmt.Errorf("numbers have a decimal point, not a comma: %q", clip(s))
	}
	n, err = strconv.ParseFloat(strings.Replace(s[:i], "−", "-", 1), 64)
	if err != nil || !finite(n) {
		return 0, s, fmt.Errorf("the number %q is too large", clip(s[:i]))
	}
	return n + 0, s[i:], nil // + 0 turns −0 into 0
}

// hintNumber offers the same figure with a point where the author wrote a comma.
func hintNumber(s string) string {
	if c := strings.Replace(s, ",", ".", 1); c != s {
		if _, _, err := number(c); err == nil {
			return c
		}
	}
	return ""
}

func unitError(k Kind, n float64, got string, at int) *ParseError {
	var others []string
	for _, o := range kindsOf(got) {
		others = append(others, o.String())
	}
	switch {
	case k == PHKind:
		return &ParseError{at, fmt.Sprintf("pH is a number without a unit, but %q follows it", clip(got)), digits(n)}
	case got == "":
		return &ParseError{at, fmt.Sprintf("%s has no unit; %s", digits(n), writtenAs(k, n, "")), ""}
	case len(others) > 0:
		return &ParseError{at, fmt.Sprintf("%q measures %s; %s", got, strings.Join(others, " or "), writtenAs(k, n, "")), ""}
	}
	hint := ""
	if u := near(k, got); u != "" {
		hint = digits(n) + " " + u
	}
	return &ParseError{at, fmt.Sprintf("unknown unit %q; %s", clip(got), writtenAs(k, n, near(k, got))), hint}
}

// writtenAs says how k is written, with the author's own figure n taken to be in the unit like, or the base unit.
func writtenAs(k Kind, n float64, like string) string {
	if k == PHKind {
		return "pH is written 6.8"
	}
	from := find(k, like)
	if from == 0 {
		from = base(k)
	}
	v := units[from].value(n)
	parts := []string{trim(n, 2) + " " + units[from].name}
	for i := 1; i < len(units) && len(parts) < 3; i++ {
		if u := &units[i]; u.kind == k && uint8(i) != from {
			parts = append(parts, trim(u.number(v), 2)+" "+u.name)
		}
	}
	list := parts[0]
	if len(parts) > 1 {
		list = strings.Join(parts[:len(parts)-1], ", ") + " or " + parts[len(parts)-1]
	}
	return k.String() + " is written " + list
}

// trim writes f to three significant digits or the given places, whichever is finer, without trailing zeros.
func trim(f float64, places int) string {
	s := strconv.FormatFloat(f, 'f', places, 64)
	if a := abs(f); a >= 100 {
		s = strconv.FormatFloat(f, 'f', 0, 64)
	} else if a >= 10 {
		s = strconv.FormatFloat(f, 'f', min(places, 1), 64)
	}
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		return "0"
	}
	return s
}

func abs(f float64) float64 { return max(f, -f) }

// clip shortens what a complaint repeats.
func clip(s string) string {
	s = strings.Map(func(r rune) rune {
		if unicode.IsControl(r) {
			return ' '
		}
		return r
	}, s)
	if r := []rune(s); len(r) > 24 {
		return string(r[:23]) + "…"
	}
	return s
}
