package schema

import (
	"regexp"
	"strings"

	"slipleaf/build/format"
	"slipleaf/build/quantity"
)

const (
	httpAddress = `^https?://[^ <>"]+$`
	plantName   = `^[a-z0-9-]+$`
	lotName     = `^[0-9A-Za-z]([0-9A-Za-z-]{0,38}[0-9A-Za-z])?$`
)

// shapes are the patterns of words that have a shape of their own.
var shapes = map[format.Kind]string{
	format.Address:  httpAddress,
	format.Site:     httpAddress,
	format.Requests: `^(mailto:|https://)[^ <>"]+$`,
	format.NewFile:  `^https://[^ <>"]+$`,
	format.Region:   `^[A-Z]{2}(-[A-Z0-9]{1,3})?$`,
	format.Language: `^[A-Za-z]{2,3}(-[A-Za-z0-9]{1,8})*$`,
	format.Zone:     `^(UTC|[A-Z][A-Za-z]+(/[A-Z][A-Za-z0-9_+-]+){1,2})$`,
	format.Folder:   plantName,
	format.TankName: plantName,
	format.Plant:    plantName,
	format.LotName:  lotName,
	format.Code:     `^[0-9abcdefghjkmnpqrstvwxyz]{20,64}$`,
}

// number of a quantity, as the reader takes it: sign, digits, point, digits.
const number = `[-+−]?([0-9]+(\.[0-9]+)?|\.[0-9]+)`

// blank is the space that may stand around a number: a phone or a page may put other ones than the plain.
const blank = `[ \t\x{a0}\x{2009}\x{202f}]*`

// pattern writes a regular expression so that Go and ECMAScript read it alike.
func pattern(s string) string {
	return strings.NewReplacer(`\x{a0}`, "\u00a0", `\x{2009}`, "\u2009", `\x{202f}`, "\u202f").Replace(s)
}

// valueOf is what may be behind a key of a head.
func valueOf(v format.Value) members {
	one := single(v)
	switch {
	case v.ByPlant:
		return members{{"type", "object"}, {"propertyNames", members{{"pattern", plantName}}}, {"additionalProperties", one}}
	case v.List:
		return members{{"type", "array"}, {"items", one}}
	case v.OrAll:
		return members{{"anyOf", []members{one, {{"const", "all"}}}}}
	}
	return one
}

func single(v format.Value) members {
	if p, ok := shapes[v.Kind]; ok {
		return members{{"type", "string"}, {"pattern", p}}
	}
	switch v.Kind {
	case format.Date:
		return members{{"type", "string"}, {"format", "date"}, {"pattern", `^[0-9]{4}-[0-9]{2}-[0-9]{2}$`}}
	case format.Truth: // or not known
		return members{{"enum", []any{true, false, "unknown", "?"}}}
	case format.Whole:
		return members{{"type", "integer"}, {"minimum", v.Low}, {"maximum", v.High}}
	case format.Hours:
		return members{{"type", "number"}, {"minimum", 0}, {"maximum", 24}}
	case format.Word:
		return members{{"enum", v.Words}}
	case format.Amount:
		return amount(v.Of)
	case format.Removed:
		return removed()
	case format.Private: // any keys with words: nothing of it is published
		return members{{"type", "object"}, {"additionalProperties", members{{"type", []string{"string", "number", "boolean"}}}}}
	case format.Part:
		return members{{"$ref", "#/$defs/" + v.Part}}
	}
	// YAML reads some words as numbers, and the reader takes them as they are written.
	return members{{"type", []string{"string", "number"}}}
}

// amount is a quantity of a kind: a number with its unit, a range, a reading below the test's limit, or unknown.
func amount(k quantity.Kind) members {
	const figures = `^(unknown|\?|<?` + blank + number + `(\.\.` + number + `)?`
	if k == quantity.PHKind {
		return members{{"anyOf", []members{
			{{"type", "number"}, {"minimum", 0}, {"maximum", 14}},
			{{"type", "string"}, {"pattern", pattern(figures + `)$`)}},
		}}}
	}
	return members{{"type", "string"},
		{"pattern", pattern(figures + blank + `(` + units(k) + `))$`)},
		{"$comment", k.String() + ", in " + strings.Join(quantity.Units(k), ", ")}}
}

// units are the spellings of a kind's units as alternatives of a pattern.
func units(k quantity.Kind) string {
	var out []string
	for _, u := range quantity.Spellings(k) {
		out = append(out, regexp.QuoteMeta(u))
	}
	return strings.Join(out, "|")
}

// removed is what a trim took: a share, parts, a mass or a length.
func removed() members {
	units := []string{"plantlets", "plantlet", "leaves", "leaf", "stems", "stem", "%"}
	units = append(units, quantity.Spellings(quantity.MassKind)...)
	units = append(units, quantity.Spellings(quantity.LengthKind)...)
	return members{{"type", "string"}, {"pattern", pattern(`^` + number + blank + `(` + strings.Join(units, "|") + `)$`)}}
}
