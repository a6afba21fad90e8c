package journal

import (
	"fmt"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"slipleaf/build/quantity"
)

// decoder reads the head of one file. What it finds depends on that file and the limits alone.
type decoder struct {
	file   string
	limits Limits
	scan   *scanner
	out    Complaints
}

// maxComplaints is how many complaints are made of one file: whoever has more begins with the first.
const maxComplaints = 200

func (d *decoder) complain(r rule, line, column int, message, hint string) {
	switch {
	case len(d.out) == maxComplaints:
		r, message, hint = ruleLimit, "more is wrong with this file than is worth telling; mend what stands above first", ""
	case len(d.out) > maxComplaints:
		return
	}
	d.out = append(d.out, Complaint{File: d.file, Line: line, Column: column, Severity: rules[r].Severity,
		Rule: rules[r].Name, Message: message, Hint: hint})
}

func (d *decoder) at(n *node, r rule, message, hint string) {
	line, column := n.place()
	d.complain(r, line, column, message, hint)
}

// field is a key of the format and how its value is read into a T.
type field[T any] struct {
	key  string
	read func(d *decoder, n *node, t *T)
}

// readMapping reads the keys of n into t, complaining of every key that fields does not have.
func readMapping[T any](d *decoder, n *node, fields []field[T], t *T) bool {
	if n.shape != mapping {
		d.at(n, ruleWrongShape, fmt.Sprintf("expected a mapping such as {%s: …}, found %s", fields[0].key, n.describe()), "")
		return false
	}
	for i := range n.kids {
		kid := &n.kids[i]
		f := lookup(fields, kid.key)
		switch {
		case kid.faulty:
		case n.before(i):
			d.duplicate(kid)
		case f == nil:
			d.unknownKey(kid, keysOf(fields))
		case kid.shape == nothing:
			d.at(kid, ruleNoValue, fmt.Sprintf("%q has no value", kid.key), "write a value, unknown, or leave the key out")
		default:
			f.read(d, kid, t)
		}
	}
	return true
}

// before tells whether the i-th key stood in n already.
func (n *node) before(i int) bool {
	for j := range i {
		if n.kids[j].key == n.kids[i].key {
			return true
		}
	}
	return false
}

func (d *decoder) duplicate(kid *node) {
	d.complain(ruleDuplicateKey, int(kid.keyLine), int(kid.keyColumn), fmt.Sprintf("%q stands twice", clip(kid.key)), "keep one of the two")
}

func (d *decoder) unknownKey(kid *node, keys []string) {
	hint := ""
	if near := nearest(kid.key, keys); near != "" {
		hint = "did you mean " + near + "?"
	} else if kid.shape == nothing && kid.key != "" && kid.key[0] >= '0' && kid.key[0] <= '9' {
		hint = "numbers have a decimal point, not a comma; texts with commas stand in quotes"
	}
	d.complain(ruleUnknownKey, int(kid.keyLine), int(kid.keyColumn),
		fmt.Sprintf("unknown key %q; known here: %s", clip(kid.key), strings.Join(keys, ", ")), hint)
}

func lookup[T any](fields []field[T], key string) *field[T] {
	for i := range fields {
		if fields[i].key == key {
			return &fields[i]
		}
	}
	return nil
}

func keysOf[T any](fields []field[T]) []string {
	keys := make([]string, len(fields))
	for i, f := range fields {
		keys[i] = f.key
	}
	return keys
}

// readList reads a sequence of mappings. check is called on each, with its node.
func readList[T any](d *decoder, n *node, fields []field[T], check func(d *decoder, n *node, t *T)) []T {
	if n.shape != sequence {
		d.at(n, ruleWrongShape, fmt.Sprintf("%s is a list; found %s", n.key, n.describe()), "begin each part with \"- \", or put it in [ ]")
		return nil
	}
	out := make([]T, 0, len(n.kids))
	for i := range n.kids {
		var t T
		if readMapping(d, &n.kids[i], fields, &t) && check != nil {
			check(d, &n.kids[i], &t)
		}
		out = append(out, t)
	}
	return out
}

// need complains of a mapping without a key.
func (d *decoder) need(n *node, key, of string) bool {
	if n.child(key) != nil {
		return true
	}
	d.at(n, ruleMissingKey, of+" needs "+key, "")
	return false
}

// describe says what n is, in words.
func (n *node) describe() string {
	switch n.shape {
	case mapping:
		return "a mapping"
	case sequence:
		return "a list"
	case scalar:
		return strconv.Quote(clip(n.text))
	}
	return "nothing"
}

// scalar gives the text of a plain value.
func (d *decoder) scalar(n *node, expected string) (string, bool) {
	if n.shape != scalar {
		d.at(n, ruleWrongShape, fmt.Sprintf("expected %s, found %s", expected, n.describe()), "")
		return "", false
	}
	return n.text, true
}

// text reads words, which may run over several lines.
func (d *decoder) text(n *node) string {
	s, ok := d.scalar(n, "text")
	if !ok {
		return ""
	}
	if k := utf8.RuneCountInString(s); k > d.limits.Text {
		d.at(n, ruleLimit, fmt.Sprintf("the text has %d characters; at most %d are taken", k, d.limits.Text), "write long texts below the head")
		return ""
	}
	if i := strings.IndexFunc(s, func(r rune) bool { return unicode.IsControl(r) && r != '\n' && r != '\t' }); i >= 0 {
		d.at(n, ruleBadText, "the text holds a control character", "leave it out")
		return ""
	}
	return strings.TrimSpace(s)
}

// line reads words of one line.
func (d *decoder) line(n *node) string {
	s := d.text(n)
	if strings.Contains(s, "\n") {
		d.at(n, ruleBadText, "one line is expected here", "")
		return ""
	}
	return s
}

// date reads a day.
func (d *decoder) date(n *node) quantity.Date {
	s, ok := d.scalar(n, "a date such as 2026-04-18")
	if !ok {
		return quantity.Date{}
	}
	date, err := quantity.ParseDate(s)
	if err != nil {
		d.at(n, ruleBadDate, err.Error(), "")
	}
	return date
}

// choice reads one of a few words.
func (d *decoder) choice(n *node, words ...string) string {
	s, ok := d.scalar(n, "one of "+strings.Join(words, ", "))
	if !ok {
		return ""
	}
	for _, w := range words {
		if s == w {
			return s
		}
	}
	hint := ""
	if near := nearest(s, words); near != "" {
		hint = "did you mean " + near + "?"
	}
	d.at(n, ruleBadWord, fmt.Sprintf("%q is not one of %s", clip(s), strings.Join(words, ", ")), hint)
	return ""
}

// yes reads true or false.
func (d *decoder) yes(n *node) Tristate {
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
	hint := ""
	switch strings.ToLower(s) {
	case "yes", "y", "on", "true":
		hint = "write true"
	case "no", "n", "off", "false":
		hint = "write false"
	}
	d.at(n, ruleBadWord, fmt.Sprintf("%q is neither true nor false", clip(s)), hint)
	return NotSaid
}

// whole reads a plain count from low to high.
func (d *decoder) whole(n *node, low, high int) (int, bool) {
	s, ok := d.scalar(n, "a whole number")
	if !ok {
		return 0, false
	}
	v, err := strconv.Atoi(s)
	if err != nil || strings.HasPrefix(s, "+") {
		d.at(n, ruleBadNumber, fmt.Sprintf("expected a whole number without a unit, found %q", clip(s)), leadingDigits(s))
		return 0, false
	}
	if v < low || v > high {
		d.at(n, ruleImpossible, fmt.Sprintf("%d is impossible here; %s lies between %d and %d", v, n.key, low, high), "")
		return 0, false
	}
	return v, true
}

// most is the highest count that is taken: nobody has grown more of a plant at home.
const most = 1_000_000

// count reads a plain count of plants or their parts.
func (d *decoder) count(n *node) *int {
	if v, ok := d.whole(n, 0, most); ok {
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

// hours reads a plain number of hours of the day.
func (d *decoder) hours(n *node) float64 {
	s, ok := d.scalar(n, "a number of hours")
	if !ok {
		return 0
	}
	v, err := strconv.ParseFloat(s, 64)
	if err != nil || v != v {
		d.at(n, ruleBadNumber, fmt.Sprintf("expected a plain number of hours, found %q", clip(s)), leadingDigits(s))
		return 0
	}
	if v < 0 || v > 24 {
		d.at(n, ruleImpossible, fmt.Sprintf("%s is impossible here; a day has 24 hours", s), "")
		return 0
	}
	return v
}

// set reads a quantity that lies within what is possible for its kind.
func set[T quantity.Scalar](d *decoder, n *node, to *quantity.Reading[T]) {
	setFrom(d, n, to, false)
}

// setFromZero is set for a length that may be nothing.
func setFromZero[T quantity.Scalar](d *decoder, n *node, to *quantity.Reading[T]) {
	setFrom(d, n, to, true)
}

func setFrom[T quantity.Scalar](d *decoder, n *node, to *quantity.Reading[T], zero bool) {
	var v T
	s, ok := d.scalar(n, v.Kind().String())
	if !ok {
		return
	}
	r, err := quantity.Parse[T](s)
	if err != nil {
		d.badQuantity(n, err)
		return
	}
	b := possible[v.Kind()]
	low, high := float64(r.Low()), float64(r.High())
	if r.Known() && (low < b.low || high > b.high+1e-9 || b.above && !zero && high <= b.low) {
		d.at(n, ruleImpossible, impossible(r, b), "")
		return
	}
	*to = r
}

func (d *decoder) badQuantity(n *node, err error) {
	e, ok := err.(*quantity.ParseError)
	if !ok {
		e = &quantity.ParseError{Message: err.Error()}
	}
	hint := e.Hint
	if hint != "" {
		hint = "did you mean " + hint + "?"
	}
	line, column := n.within(e.Offset)
	d.complain(ruleBadQuantity, line, column, e.Message, hint)
}
