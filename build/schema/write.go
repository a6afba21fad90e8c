package schema

import (
	"bytes"
	"encoding/json"
	"fmt"
	"slices"
	"strings"
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

// Kinds lists the kinds of files that have a schema: heads first, then published files.
func Kinds() []string { return slices.Concat(heads, published) }

// Write gives the JSON Schema of a kind of file. An unknown kind is an error that names the known ones.
func Write(kind string) ([]byte, error) {
	if !slices.Contains(Kinds(), kind) {
		return nil, fmt.Errorf("no schema of %q; there is %s", kind, strings.Join(Kinds(), ", "))
	}
	table := objects()
	top := table[kind]
	if kind == "entry" {
		for name, o := range table {
			table[name] = o.fillIn()
		}
		top = table[kind]
	}
	doc := members{{"$schema", "https://json-schema.org/draft/2020-12/schema"}, {"title", kind}}
	doc = append(doc, top.schema()...)
	var defs members
	for _, name := range parts(table, top, nil) {
		defs = append(defs, member{name, table[name].schema()})
	}
	if len(defs) > 0 {
		doc = append(doc, member{"$defs", defs})
	}
	raw, err := plainJSON(doc)
	if err != nil {
		return nil, err
	}
	var b bytes.Buffer
	if err := json.Indent(&b, raw, "", "  "); err != nil {
		return nil, err
	}
	b.WriteByte('\n')
	return b.Bytes(), nil
}

// schema writes one object.
func (o mapping) schema() members {
	var properties members
	for _, k := range o.keys {
		p := k.is()
		if k.about != "" {
			p = append(members{{"description", k.about}}, p...)
		}
		if k.example != nil {
			p = append(p, member{"examples", []any{k.example}})
		}
		properties = append(properties, member{k.name, p})
	}
	out := members{{"description", o.about}, {"type", "object"}, {"properties", properties}}
	if len(o.needs) > 0 {
		out = append(out, member{"required", o.needs})
	}
	if len(o.any) > 0 {
		var any []members
		for _, name := range o.any {
			any = append(any, members{{"required", strings.Fields(name)}})
		}
		out = append(out, member{"anyOf", any})
	}
	if len(o.pair) == 2 {
		out = append(out, member{"dependentRequired", members{{o.pair[0], o.pair[1:]}, {o.pair[1], o.pair[:1]}}})
	}
	return append(out, member{"additionalProperties", o.open})
}

// parts lists the objects that o refers to, directly or not, in the order in which they are met.
func parts(table map[string]mapping, o mapping, seen []string) []string {
	for _, k := range o.keys {
		raw, err := plainJSON(k.is())
		if err != nil {
			continue // the writer meets the same fault and tells it
		}
		for _, after := range strings.Split(string(raw), `"#/$defs/`)[1:] {
			name, _, _ := strings.Cut(after, `"`)
			if !slices.Contains(seen, name) {
				seen = parts(table, table[name], append(seen, name))
			}
		}
	}
	return seen
}
