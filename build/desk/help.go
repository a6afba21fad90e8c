package desk

import "slipleaf/build/format"

// helpLine is what a field means, as the table of the format says it.
type helpLine struct{ Key, Text string }

// helpLines are those of some keys of a mapping; of all where none is named.
func helpLines(lang, mapping string, keys []string) (out []helpLine) {
	m, ok := format.Find(mapping)
	if !ok {
		return nil
	}
	if len(keys) == 0 {
		keys = m.Names()
	}
	for _, name := range keys {
		if k, ok := m.Key(name); ok {
			out = append(out, helpLine{name, k.Help.In(lang)})
		}
	}
	return out
}
