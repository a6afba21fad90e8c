// Package schema describes the files of a journal and the files that its site publishes as JSON Schema (draft 2020-12),
// so that an editor can complete and check a head and another program can trust what it fetches. It is pure: one table,
// written out.
package schema

import (
	"strings"

	"slipleaf/build/quantity"
)

// value is what may stand behind a key: it writes its own schema.
type value func() members

// mapping is one mapping of a format.
type mapping struct {
	name  string   // as the reader's tables name it
	about string   // what it is, for whoever types it
	needs []string // keys that must be there
	any   []string // keys of which one must be there; several in one string, apart by a space, stand together
	pair  []string // two keys that stand together or not at all
	open  bool     // other keys may stand there: a later version may have written the file
	keys  []key
}

// key is a key of an object.
type key struct {
	name    string
	about   string
	is      value
	example any // a right value; nil where the parts have their own
}

// number of a quantity, as the reader takes it: sign, digits, point, digits.
const number = `[-+−]?([0-9]+(\.[0-9]+)?|\.[0-9]+)`

// blank is the space that may stand around a number: a phone or a page may put other ones than the plain.
const blank = `[ \t\x{a0}\x{2009}\x{202f}]*`

// pattern writes a regular expression so that Go and ECMAScript read it alike.
func pattern(s string) string {
	return strings.NewReplacer(`\x{a0}`, "\u00a0", `\x{2009}`, "\u2009", `\x{202f}`, "\u202f").Replace(s)
}

// removed is what a trim took: a share, parts, a mass or a length.
func removed() members {
	units := []string{"plantlets", "plantlet", "leaves", "leaf", "stems", "stem", "%"}
	units = append(units, quantity.Spellings(quantity.MassKind)...)
	units = append(units, quantity.Spellings(quantity.LengthKind)...)
	return members{{"type", "string"}, {"pattern", pattern(`^` + number + blank + `(` + strings.Join(units, "|") + `)$`)}}
}

// text is words. YAML reads some words as numbers, and the reader takes them as they are written.
func text() members { return members{{"type", []string{"string", "number"}}} }

// day is a calendar date.
func day() members {
	return members{{"type", "string"}, {"format", "date"}, {"pattern", `^[0-9]{4}-[0-9]{2}-[0-9]{2}$`}}
}

// yes is true, false or not known.
func yes() members {
	return members{{"enum", []any{true, false, "unknown", "?"}}}
}

// truth is true or false.
func truth() members { return members{{"type", "boolean"}} }

func whole(low, high int) value {
	return func() members { return members{{"type", "integer"}, {"minimum", low}, {"maximum", high}} }
}

func figure() members { return members{{"type", "number"}} }

func between(low, high float64) value {
	return func() members { return members{{"type", "number"}, {"minimum", low}, {"maximum", high}} }
}

func choice(words ...string) value {
	return func() members { return members{{"enum", words}} }
}

func shaped(p string) value {
	return func() members { return members{{"type", "string"}, {"pattern", p}} }
}

// part is another object of the table.
func part(name string) value {
	return func() members { return members{{"$ref", "#/$defs/" + name}} }
}

func listOf(v value) value {
	return func() members { return members{{"type", "array"}, {"items", v()}} }
}

// mapOf is a mapping whose keys match the pattern.
func mapOf(keys string, v value) value {
	return func() members {
		return members{{"type", "object"}, {"propertyNames", members{{"pattern", keys}}}, {"additionalProperties", v()}}
	}
}
