package page

import "slipleaf/build/schema"

// SchemaAddr is where the JSON Schema of a kind of file is published.
func SchemaAddr(kind string) string { return "/schema/" + kind + ".json" }

// schemas are the outputs under /schema/.
func (b *Site) schemas(add adder) {
	for _, kind := range schema.Kinds() {
		add(SchemaAddr(kind), func(*Site) ([]byte, error) { return schema.Write(kind) })
	}
}
