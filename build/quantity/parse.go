package quantity

import (
	"cmp"
	"fmt"
	"strconv"
	"strings"

	"slipleaf/build/spelling"
)

// ParseError tells what is wrong with a written quantity, and where.
type ParseError struct {
	Offset  int    // byte of the text at which the fault begins
	Message string // what is wrong, and what is expected
	Hint    string // the nearest right spelling, or ""
}

// Error gives the message.
func (e *ParseError) Error() string { return e.Message }

// spaces may stand around a number; a non-breaking or thin one is what a phone or our own pages put there.
const spaces = " \t\u00a0\u2009\u202f"

// largest bounds what a number in a journal can be; past it a key was held down.
const largest = 1e12

// Parse reads "NUMBER UNIT", "<NUMBER UNIT", "LOW..HIGH UNIT", "unknown" or "?". A pH is a number alone; every
// other kind needs its unit. Errors are of type *[ParseError].
func Parse[T Scalar](text string) (Reading[T], error) {
	var v T
	k := v.Kind()
	s := strings.TrimSpace(text)
	if s == "unknown" || s == "?" {
		return Reading[T]{anyReading{unknown: true}}, nil
	}
	if s == "" {
		return Reading[T]{}, &ParseError{0, "no value; " + writtenAs(k, 1, ""), ""}
	}
	p := parser{kind: k, text: s, rest: s, lead: strings.Index(text, s)}
	if err := p.numbers(); err != nil {
		return Reading[T]{}, err
	}
	written := len(s) - len(p.rest) // what is before the unit
	p.skipSpace()
	u := find(k, p.rest)
	if u == 0 {
		return Reading[T]{}, p.unitError(s[:written])
	}
	return Reading[T]{anyReading{low: p.low, high: p.high, unit: u, below: p.below}}, nil
}

// parser walks over one written quantity.
type parser struct {
	kind       Kind
	text, rest string // trimmed; what is still to be read
	lead       int    // bytes that trimming took from the front
	low, high  float64
	below      bool
}

// fail blames what is still to be read.
func (p *parser) fail(message, hint string) *ParseError {
	return &ParseError{p.lead + len(p.text) - len(p.rest), message, hint}
}

func (p *parser) skipSpace() { p.rest = strings.TrimLeft(p.rest, spaces) }

// numbers reads "<N", "N" or "N..M".
func (p *parser) numbers() *ParseError {
	if rest, ok := strings.CutPrefix(p.rest, "<"); ok {
		p.below, p.rest = true, rest
		p.skipSpace()
	}
	n, rest, err := number(p.rest)
	if err != nil {
		hint := hintNumber(p.text)
		if strings.EqualFold(p.text, "unknown") {
			hint = "unknown"
		}
		return p.fail(err.Error()+"; "+writtenAs(p.kind, 1, ""), hint)
	}
	p.low, p.high, p.rest = n, n, rest
	if !strings.HasPrefix(p.rest, "..") {
		return nil
	}
	if p.below {
		return p.fail("a range cannot also be below a limit", "")
	}
	p.rest = p.rest[len(".."):]
	return p.upperEnd()
}

// upperEnd reads the second number of a range.
func (p *parser) upperEnd() *ParseError {
	example := "a range is written 22..26, two numbers with two points between"
	if strings.HasPrefix(p.rest, ".") { // 22...26 is not 22 to 0.26
		hint := digits(p.low) + ".." + strings.TrimLeft(p.rest, ".")
		if mended := (parser{text: hint, rest: hint}); mended.numbers() != nil {
			hint = ""
		}
		return p.fail(example, hint)
	}
	m, rest, err := number(p.rest)
	if err != nil {
		return p.fail(example+": "+err.Error(), hintNumber(p.text))
	}
	if m < p.low {
		return p.fail(fmt.Sprintf("the range runs backwards: %s is less than %s", digits(m), digits(p.low)),
			digits(m)+".."+digits(p.low)+rest)
	}
	p.high, p.rest = m, rest
	return nil
}

// number reads a decimal number at the start of s: sign, digits, point, digits. No exponent: nobody writes one, and
// "1e5" is more often a slip.
func number(s string) (n float64, rest string, err error) {
	i := 0
	if i < len(s) && (s[i] == '-' || s[i] == '+') {
		i++
	} else if strings.HasPrefix(s, minus) { // as our own pages print it
		i += len(minus)
	}
	start := i
	i = skipDigits(s, i)
	whole := i > start
	if i+1 < len(s) && s[i] == '.' && isDigit(s[i+1]) {
		i, whole = skipDigits(s, i+1), true
	}
	if !whole {
		return 0, s, fmt.Errorf("expected a number, found %q", spelling.Clip(s))
	}
	if i < len(s) && s[i] == ',' {
		return 0, s, fmt.Errorf("numbers have a decimal point and no comma: %q", spelling.Clip(s))
	}
	n, err = strconv.ParseFloat(strings.Replace(s[:i], minus, "-", 1), 64)
	if err != nil || abs(n) > largest {
		return 0, s, fmt.Errorf("the number %q is too large", spelling.Clip(s[:i]))
	}
	return n + 0, s[i:], nil // + 0 turns −0 into 0
}

func isDigit(c byte) bool { return '0' <= c && c <= '9' }

// skipDigits gives the place of the first byte of s from i on that is no digit.
func skipDigits(s string, i int) int {
	for i < len(s) && isDigit(s[i]) {
		i++
	}
	return i
}

// hintNumber offers a text with a point where the author wrote a comma, as [points] does.
func hintNumber(s string) string {
	out := points(s)
	mended := parser{text: out, rest: out}
	if out == s || mended.numbers() != nil {
		return ""
	}
	return out
}

// unitError blames the unit, which is all that is left; before is what was written ahead of it, for the hint.
func (p *parser) unitError(before string) *ParseError {
	got, k, n := p.rest, p.kind, p.high
	var others []string
	for _, o := range kindsOf(got) {
		others = append(others, o.String())
	}
	switch {
	case k == PHKind:
		return p.fail(fmt.Sprintf("pH is a number without a unit, but %q follows it", spelling.Clip(got)), before)
	case got == "":
		return p.fail(fmt.Sprintf("%s has no unit; %s", before, writtenAs(k, n, "")), asked(k, before))
	case len(others) > 0:
		return p.fail(fmt.Sprintf("%q measures %s; %s", got, strings.Join(others, " or "), writtenAs(k, n, "")), "")
	}
	meant, hint := near(k, got), ""
	if meant != "" {
		hint = before + " " + meant
	}
	return p.fail(fmt.Sprintf("unknown unit %q; %s", spelling.Clip(got), writtenAs(k, n, meant)), hint)
}

// writtenAs says how k is written, with the author's own figure n taken to be in the unit like, or the base unit.
func writtenAs(k Kind, n float64, like string) string {
	if k == PHKind {
		return "pH is written 6.8"
	}
	from := cmp.Or(find(k, like), base(k))
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

// trim writes f to three significant digits or the given places, whichever is coarser, without trailing zeros.
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
