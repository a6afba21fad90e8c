package schema

import (
	"regexp"
	"strings"

	"slipleaf/build/format"
	"slipleaf/build/quantity"
)

// heads are the kinds of files that a grower writes.
var heads = format.Heads[:]

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

// objects is the table: every mapping of every format, by name.
func objects() map[string]mapping {
	table := map[string]mapping{}
	for _, m := range format.Mappings() {
		o := mapping{name: m.Name, about: m.Help.EN, needs: m.Needs, any: m.Any, pair: m.Pair}
		for _, k := range m.Keys {
			o.keys = append(o.keys, key{k.Name, k.Help.EN, valueOf(k.Is), k.Example})
		}
		table[o.name] = o
	}
	for _, o := range publishedObjects() {
		table[o.name] = o
	}
	return table
}

// fillIn is a mapping of an entry: its keys may be left blank, and a list may have an item that is.
func (o mapping) fillIn() mapping {
	keys := make([]key, len(o.keys))
	for i, k := range o.keys {
		is := k.is
		k.is = func() members { return members{{"anyOf", []members{is(), {{"type", "null"}}}}} }
		keys[i] = k
	}
	o.keys = keys
	return o
}

// valueOf is what may be behind a key of a head.
func valueOf(v format.Value) value {
	one := single(v)
	switch {
	case v.ByPlant:
		return mapOf(plantName, one)
	case v.List:
		return listOf(one)
	case v.OrAll:
		return func() members { return members{{"anyOf", []members{one(), {{"const", "all"}}}}} }
	}
	return one
}

func single(v format.Value) value {
	if p, ok := shapes[v.Kind]; ok {
		return shaped(p)
	}
	switch v.Kind {
	case format.Date:
		return day
	case format.Truth:
		return yes
	case format.Whole:
		return whole(v.Low, v.High)
	case format.Hours:
		return between(0, 24)
	case format.Word:
		return choice(v.Words...)
	case format.Amount:
		return amount(v.Of)
	case format.Removed:
		return removed
	case format.Private:
		return private
	case format.Part:
		return part(v.Part)
	}
	return text
}

// amount is a quantity of a kind: a number with its unit, a range, a reading below the test's limit, or unknown.
func amount(k quantity.Kind) value {
	return func() members {
		if k == quantity.PHKind {
			return members{{"anyOf", []members{
				{{"type", "number"}, {"minimum", 0}, {"maximum", 14}},
				{{"type", "string"}, {"pattern", pattern(`^(unknown|\?|<?` + blank + number + `(\.\.` + number + `)?)$`)}},
			}}}
		}
		return members{{"type", "string"},
			{"pattern", pattern(`^(unknown|\?|<?` + blank + number + `(\.\.` + number + `)?` + blank + `(` + units(k) + `))$`)},
			{"$comment", k.String() + ", in " + strings.Join(quantity.Units(k), ", ")}}
	}
}

// units are the spellings of a kind's units as alternatives of a pattern.
func units(k quantity.Kind) string {
	var out []string
	for _, u := range quantity.Spellings(k) {
		out = append(out, regexp.QuoteMeta(u))
	}
	return strings.Join(out, "|")
}

// private is any keys with words: nothing of it is published.
func private() members {
	return members{{"type", "object"}, {"additionalProperties", members{{"type", []string{"string", "number", "boolean"}}}}}
}
