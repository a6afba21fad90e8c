package page

import "slipleaf/build/schema"

// SchemaAddr is where the JSON Schema of a kind of file is published.
func SchemaAddr(kind string) string { return "/schema/" + kind + ".json" }

// schemas are the outputs under /schema/.
func (b *Site) schemas() []Output {
	var out []Output
	for _, kind := range schema.Kinds() {
		out = append(out, Output{SchemaAddr(kind), b.deps.frame, func() ([]byte, error) { return schema.Write(kind) }})
	}
	return out
}
