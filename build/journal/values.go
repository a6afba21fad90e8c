package journal

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"slipleaf/build/format"
	"slipleaf/build/head"
	"slipleaf/build/quantity"
	"slipleaf/build/spelling"
	"slipleaf/build/usual"
)

// scalar gives the text of a plain value.
func (d *decoder) scalar(n *head.Node, expected string) (string, bool) {
	if n.Shape != head.Scalar {
		d.at(n, ruleWrongShape, fmt.Sprintf("expected %s, but this is %s", expected, n.Describe()), "give one value, without brackets and without a - before it")
		return "", false
	}
	return n.Text, true
}

// text reads words, which may run over several lines.
func (d *decoder) text(n *head.Node) string {
	s, ok := d.scalar(n, "text")
	if !ok {
		return ""
	}
	if k := utf8.RuneCountInString(s); k > d.limits.Text {
		d.at(n, ruleLimit, fmt.Sprintf("the text has %d characters; the limit is %d", k, d.limits.Text), "write long texts below the head")
		return ""
	}
	if i := strings.IndexFunc(s, func(r rune) bool { return unicode.IsControl(r) && r != '\n' && r != '\t' }); i >= 0 {
		d.at(n, ruleBadText, "the text holds a control character", "delete it")
		return ""
	}
	return strings.TrimSpace(s)
}

// line reads words of one line.
func (d *decoder) line(n *head.Node) string {
	s := d.text(n)
	if strings.Contains(s, "\n") {
		d.at(n, ruleBadText, "this must be one line", "remove the line breaks")
		return ""
	}
	return s
}

// date reads a day.
func (d *decoder) date(n *head.Node) quantity.Date {
	s, ok := d.scalar(n, "a date such as 2026-04-18")
	if !ok {
		return quantity.Date{}
	}
	date, err := quantity.ParseDate(s)
	if full := usual.Date(s); err != nil && full != "" {
		if date, err = quantity.ParseDate(full); err == nil {
			d.takeAs(n, full)
		}
	}
	if err != nil {
		d.at(n, ruleBadDate, err.Error(), "")
	}
	return date
}

// choice reads one of a few words.
func (d *decoder) choice(n *head.Node, words ...string) string {
	s, ok := d.scalar(n, "one of "+strings.Join(words, ", "))
	if !ok {
		return ""
	}
	if slices.Contains(words, s) {
		return s
	}
	low := strings.ReplaceAll(strings.ToLower(strings.TrimSpace(s)), " ", "-")
	for _, as := range []string{low, strings.TrimPrefix(low, "by-"), "by-" + low} {
		if slices.Contains(words, as) {
			d.takeAs(n, as)
			return as
		}
	}
	hint := spelling.Hint(s, words)
	d.at(n, ruleBadWord, fmt.Sprintf("%q is not allowed here; use %s", spelling.Clip(s), oneOf(words)), hint)
	return ""
}

// oneOf lists words to choose from: "metric or us", "front, middle or back".
func oneOf(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " or " + words[len(words)-1]
}

// span says in words which numbers are possible.
func span(low, high int) string {
	if high == format.Most {
		return fmt.Sprintf("%d or more", low)
	}
	return fmt.Sprintf("%d to %d", low, high)
}

// yes reads true or false.
func (d *decoder) yes(n *head.Node) Tristate {
	s, ok := d.scalar(n, "true or false")
	if !ok {
		return NotSaid
	}
	switch s {
	case "true":
		return Yes
	case "false":
		return No
	case "unknown", "?":
		return NotSaid
	}
	switch strings.ToLower(s) {
	case "yes", "y", "on", "true":
		d.takeAs(n, "true")
		return Yes
	case "no", "n", "off", "false":
		d.takeAs(n, "false")
		return No
	}
	d.at(n, ruleBadWord, fmt.Sprintf("%q is neither true nor false", spelling.Clip(s)), "write true or false")
	return NotSaid
}

// whole reads a plain count from low to high.
func (d *decoder) whole(n *head.Node, low, high int) (int, bool) {
	s, ok := d.scalar(n, "a whole number")
	if !ok {
		return 0, false
	}
	v, err := strconv.Atoi(s)
	if err != nil || strings.HasPrefix(s, "+") {
		d.at(n, ruleBadNumber, fmt.Sprintf("expected a whole number without a unit, but this is %q", spelling.Clip(s)), leadingDigits(s))
		return 0, false
	}
	if v < low || v > high {
		d.at(n, ruleImpossible, fmt.Sprintf("%s can't be %d; it must be %s", n.Key, v, span(low, high)), "")
		return 0, false
	}
	return v, true
}

// count reads a plain count of plants or their parts.
func (d *decoder) count(n *head.Node) *int {
	if v, ok := d.whole(n, 0, format.Most); ok {
		return &v
	}
	return nil
}

// leadingDigits is the number at the start of s, as a hint, where only a word follows.
func leadingDigits(s string) string {
	digits := s[:len(s)-len(strings.TrimLeft(s, "0123456789"))]
	if digits == "" || !strings.HasPrefix(s[len(digits):], " ") {
		return ""
	}
	return "write " + digits
}

// hoursSaid is a number of hours with its unit, or with a decimal comma.
var hoursSaid = regexp.MustCompile(`^(?i)([0-9]+(?:[.,][0-9]{1,2})?)[ \x{a0}]*(?:h|hrs?|hours?)?$`)

// hours reads a plain number of hours of the day.
func (d *decoder) hours(n *head.Node) float64 {
	s, ok := d.scalar(n, "a number of hours")
	if !ok {
		return 0
	}
	v, err := strconv.ParseFloat(s, 64)
	if m := hoursSaid.FindStringSubmatch(s); err != nil && m != nil {
		number := strings.Replace(m[1], ",", ".", 1)
		if v, err = strconv.ParseFloat(number, 64); err == nil {
			d.takeAs(n, number)
		}
	}
	if err != nil || v != v {
		d.at(n, ruleBadNumber, fmt.Sprintf("expected a number of hours without a unit, but this is %q", spelling.Clip(s)), leadingDigits(s))
		return 0
	}
	if v < 0 || v > 24 {
		d.at(n, ruleImpossible, fmt.Sprintf("hours can't be %s; a day has 24", s), "")
		return 0
	}
	return v
}
