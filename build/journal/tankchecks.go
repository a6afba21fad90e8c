package journal

import (
	"fmt"
	"reflect"
	"slices"
	"strings"

	"slipleaf/build/head"
	"slipleaf/build/spelling"
)

// checkLamp asks for what makes an output of light: lumens mean nothing without the kind of lamp.
func checkLamp(d *decoder, n *head.Node, l *Lamp) {
	if out := n.Child("output"); out != nil && n.Child("kind") == nil {
		d.at(n, ruleMissingKey, "a lamp given in lumens needs kind", "add it, as in kind: white led")
	}
}

// byPlant reads a tank's own habit: a mapping from plant to the sizes at which it is trimmed.
func (d *decoder) byPlant(n *head.Node, b *binding, to reflect.Value) {
	if n.Shape != head.Mapping {
		d.at(n, ruleWrongShape, "in tank.md, trim-when lists plants, but this is "+n.Describe(), "write it as in {heteranthera-zosterifolia: {stem-length: 24 cm}}")
		return
	}
	out := reflect.MakeMapWithSize(to.Type(), len(n.Kids))
	seen := make(map[string]bool, len(n.Kids))
	for i := range n.Kids {
		kid := &n.Kids[i]
		again := seen[kid.Key]
		seen[kid.Key] = true
		if kid.Faulty {
			continue
		}
		if again {
			d.duplicate(kid)
			continue
		}
		one := reflect.New(b.typ).Elem()
		d.mapping(kid, b, one)
		out.SetMapIndex(reflect.ValueOf(kid.Key), one)
	}
	to.Set(out)
}

// private reads what is for the grower's eyes: any keys, each with text.
func (d *decoder) private(n *head.Node) Private {
	if n.Shape != head.Mapping {
		d.at(n, ruleWrongShape, "private must have keys of its own, but this is "+n.Describe(), "write it as in {note: …}")
		return Private{}
	}
	values := make(map[string]sealed, len(n.Kids))
	seen := make(map[string]bool, len(n.Kids))
	for i := range n.Kids {
		kid := &n.Kids[i]
		if low := strings.ToLower(kid.Key); slices.Contains(privateKeys, low) {
			d.rename(kid, low)
		}
		again := seen[kid.Key]
		seen[kid.Key] = true
		switch {
		case kid.Faulty:
		case again:
			d.duplicate(kid)
		case kid.Shape == head.Nothing:
			d.at(kid, ruleNoValue, fmt.Sprintf("%q has no value", spelling.Clip(kid.Key)), "give a value, or delete the key")
		default:
			values[kid.Key] = seal(d.text(kid))
		}
	}
	return Private{values}
}
