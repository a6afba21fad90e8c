package journal

import (
	"fmt"
	"strconv"
	"strings"

	"slipleaf/build/spelling"
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
		r, message, hint = ruleLimit, fmt.Sprintf("more than %d things are wrong with this file; the rest is not told", maxComplaints), "mend what stands above first"
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
	if n.faulty { // an alias in a list: said already
		return false
	}
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
	d.complain(ruleDuplicateKey, int(kid.keyLine), int(kid.keyColumn), fmt.Sprintf("%q stands twice", spelling.Clip(kid.key)), "keep one of the two")
}

func (d *decoder) unknownKey(kid *node, keys []string) {
	hint := ""
	if near := spelling.Nearest(kid.key, keys); near != "" {
		hint = "did you mean " + near + "?"
	} else if kid.shape == nothing && kid.key != "" && kid.key[0] >= '0' && kid.key[0] <= '9' {
		hint = "numbers have a decimal point, not a comma; texts with commas stand in quotes"
	}
	d.complain(ruleUnknownKey, int(kid.keyLine), int(kid.keyColumn),
		fmt.Sprintf("unknown key %q; known here: %s", spelling.Clip(kid.key), strings.Join(keys, ", ")), hint)
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
		return strconv.Quote(spelling.Clip(n.text))
	}
	return "nothing"
}
