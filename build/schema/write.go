// Package schema describes the files of a journal and the files that its site publishes as JSON Schema (draft 2020-12),
// so that an editor can complete and check a head and another program can trust what it fetches. Those of heads follow from
// the table of the format; those of published files are written down beside it. It is pure.
package schema

import (
	"bytes"
	"embed"
	"encoding/json"
	"fmt"
	"slices"
	"strings"

	"slipleaf/build/format"
)

// members is a JSON object that keeps its order, which is the order in which editors offer keys.
type members []member

type member struct {
	name  string
	value any
}

// MarshalJSON writes the members in their order.
func (m members) MarshalJSON() ([]byte, error) {
	var b bytes.Buffer
	b.WriteByte('{')
	for i, x := range m {
		if i > 0 {
			b.WriteByte(',')
		}
		for j, part := range [...]any{x.name, x.value} {
			if j > 0 {
				b.WriteByte(':')
			}
			out, err := plainJSON(part)
			if err != nil {
				return nil, err
			}
			b.Write(out)
		}
	}
	b.WriteByte('}')
	return b.Bytes(), nil
}

// plainJSON is JSON in which < and > stay readable, as patterns hold them.
func plainJSON(v any) ([]byte, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	err := e.Encode(v)
	return bytes.TrimSuffix(b.Bytes(), []byte("\n")), err
}

// published are the schemas of the files that a site publishes for machines. Such a file may hold more in a later version.
//
//go:embed published
var published embed.FS

// Kinds lists the kinds of files that have a schema: heads first, then published files.
func Kinds() []string { return append(slices.Clone(format.Heads[:]), "growth", "offers", "sheet") }

// Write gives the JSON Schema of a kind of file. An unknown kind is an error that names the known ones.
func Write(kind string) ([]byte, error) {
	if !slices.Contains(Kinds(), kind) {
		return nil, fmt.Errorf("no schema of %q; there is %s", kind, strings.Join(Kinds(), ", "))
	}
	var raw []byte
	var err error
	if slices.Contains(format.Heads[:], kind) {
		raw, err = plainJSON(headOf(kind))
	} else {
		raw, err = published.ReadFile("published/" + kind + ".json")
	}
	if err != nil {
		return nil, err
	}
	var b bytes.Buffer
	if err := json.Indent(&b, bytes.TrimSpace(raw), "", "  "); err != nil {
		return nil, err
	}
	b.WriteByte('\n')
	return b.Bytes(), nil
}

// headOf is the schema of a kind of head with those of its parts.
func headOf(kind string) members {
	table := map[string]format.Mapping{}
	for _, m := range format.Mappings() {
		table[m.Name] = m
	}
	blanks := kind == "entry"
	doc := append(members{{"$schema", "https://json-schema.org/draft/2020-12/schema"}, {"title", kind}}, object(table[kind], blanks)...)
	var defs members
	for _, name := range parts(table, kind, nil) {
		defs = append(defs, member{name, object(table[name], blanks)})
	}
	if len(defs) > 0 {
		doc = append(doc, member{"$defs", defs})
	}
	return doc
}

// object is the schema of one mapping; blanks: its keys may be left blank.
func object(m format.Mapping, blanks bool) members {
	var properties members
	for _, k := range m.Keys {
		p := valueOf(k.Is)
		if blanks {
			p = members{{"anyOf", []members{p, {{"type", "null"}}}}}
		}
		if k.Help.EN != "" {
			p = append(members{{"description", k.Help.EN}}, p...)
		}
		if k.Example != nil {
			p = append(p, member{"examples", []any{k.Example}})
		}
		properties = append(properties, member{k.Name, p})
	}
	out := members{{"description", m.Help.EN}, {"type", "object"}, {"properties", properties}}
	if len(m.Needs) > 0 {
		out = append(out, member{"required", m.Needs})
	}
	if len(m.Any) > 0 {
		var any []members
		for _, name := range m.Any {
			any = append(any, members{{"required", strings.Fields(name)}})
		}
		out = append(out, member{"anyOf", any})
	}
	if len(m.Pair) == 2 {
		out = append(out, member{"dependentRequired", members{{m.Pair[0], m.Pair[1:]}, {m.Pair[1], m.Pair[:1]}}})
	}
	return append(out, member{"additionalProperties", false})
}

// parts lists the mappings within one, directly or not, in the order in which they are met.
func parts(table map[string]format.Mapping, of string, seen []string) []string {
	for _, k := range table[of].Keys {
		if k.Is.Part != "" && !slices.Contains(seen, k.Is.Part) {
			seen = parts(table, k.Is.Part, append(seen, k.Is.Part))
		}
	}
	return seen
}
