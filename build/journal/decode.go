package journal

import (
	"fmt"
	"strings"

	"slipleaf/build/head"
	"slipleaf/build/spelling"
)

// decoder reads the head of one file. What it finds depends on that file and the limits alone.
type decoder struct {
	file   string
	limits Limits
	scan   *head.Scanner
	out    Complaints
	fixes  []fix
}

// maxComplaints is how many complaints are made of one file: whoever has more begins with the first.
const maxComplaints = 200

func (d *decoder) complain(r rule, line, column int, message, hint string) {
	switch {
	case len(d.out) == maxComplaints:
		r, message, hint = ruleLimit, fmt.Sprintf("more than %d problems in this file; the rest are not listed", maxComplaints), "fix the ones above first"
	case len(d.out) > maxComplaints:
		return
	}
	d.out = append(d.out, complaint(r, d.file, line, column, message, hint))
}

func (d *decoder) at(n *head.Node, r rule, message, hint string) {
	line, column := n.Place()
	d.complain(r, line, column, message, hint)
}

// field is a key of the format and how its value is read into a T.
type field[T any] struct {
	key  string
	read func(d *decoder, n *head.Node, t *T)
}

// readMapping reads the keys of n into t, complaining of every key that fields does not have.
func readMapping[T any](d *decoder, n *head.Node, fields []field[T], t *T) bool {
	if n.Faulty { // an alias in a list: said already
		return false
	}
	if n.Shape != head.Mapping {
		d.at(n, ruleWrongShape, fmt.Sprintf("expected keys and values such as {%s: …}, but this is %s", fields[0].key, n.Describe()), "")
		return false
	}
	for i := range n.Kids {
		kid := &n.Kids[i]
		f := lookup(fields, kid.Key)
		if f == nil {
			f = writtenOtherwise(d, kid, fields)
		}
		switch {
		case kid.Faulty:
		case n.Before(i):
			d.duplicate(kid)
		case f == nil:
			d.unknownKey(kid, keysOf(fields))
		case kid.Shape == head.Nothing:
			d.at(kid, ruleNoValue, fmt.Sprintf("%q has no value", kid.Key), "give a value, write unknown, or delete the key")
		default:
			f.read(d, kid, t)
		}
	}
	return true
}

func (d *decoder) duplicate(kid *head.Node) {
	d.complain(ruleDuplicateKey, int(kid.KeyLine), int(kid.KeyColumn), fmt.Sprintf("%q appears twice", spelling.Clip(kid.Key)), "delete one")
}

func (d *decoder) unknownKey(kid *head.Node, keys []string) {
	hint := ""
	if near := spelling.Nearest(kid.Key, keys); near != "" {
		hint = "did you mean " + near + "?"
	} else if kid.Shape == head.Nothing && kid.Key != "" && kid.Key[0] >= '0' && kid.Key[0] <= '9' {
		hint = "use a decimal point, not a comma; put text with commas in quotes"
	}
	d.complain(ruleUnknownKey, int(kid.KeyLine), int(kid.KeyColumn),
		fmt.Sprintf("unknown key %q; keys allowed here: %s", spelling.Clip(kid.Key), strings.Join(keys, ", ")), hint)
}

func lookup[T any](fields []field[T], key string) *field[T] {
	for i := range fields {
		if fields[i].key == key {
			return &fields[i]
		}
	}
	return nil
}

// writtenOtherwise finds the key that is written in capitals, or with another sign for its hyphen.
func writtenOtherwise[T any](d *decoder, kid *head.Node, fields []field[T]) *field[T] {
	f := lookup(fields, strings.NewReplacer("_", "-", " ", "-").Replace(strings.ToLower(strings.TrimSpace(kid.Key))))
	if f != nil {
		d.fixes = append(d.fixes, fix{int(kid.KeyLine), int(kid.KeyColumn), kid.Key, f.key})
		kid.Key = f.key
	}
	return f
}

func keysOf[T any](fields []field[T]) []string {
	keys := make([]string, len(fields))
	for i, f := range fields {
		keys[i] = f.key
	}
	return keys
}

// readList reads a sequence of mappings. check is called on each, with its node.
func readList[T any](d *decoder, n *head.Node, fields []field[T], check func(d *decoder, n *head.Node, t *T)) []T {
	if n.Shape != head.Sequence {
		d.at(n, ruleWrongShape, fmt.Sprintf("%s must be a list, but this is %s", n.Key, n.Describe()), "start each item with \"- \" or put them in [ ]")
		return nil
	}
	out := make([]T, 0, len(n.Kids))
	for i := range n.Kids {
		var t T
		if readMapping(d, &n.Kids[i], fields, &t) && check != nil {
			check(d, &n.Kids[i], &t)
		}
		out = append(out, t)
	}
	return out
}

// need complains of a mapping without a key.
func (d *decoder) need(n *head.Node, key, of string) bool {
	if n.Child(key) != nil {
		return true
	}
	d.at(n, ruleMissingKey, of+" needs "+key, "")
	return false
}
