package livestock

import "testing"

func TestOf(t *testing.T) {
	for words, want := range map[string]Kind{"dwarf shrimp": Shrimp, "Zwerggarnelen": Shrimp, "ramshorn snails": Snail, "small tetras": Shoal, "Panzerwelse": Bottom, "sparkling gourami": Tall} {
		if a, ok := Of(words, 3); !ok || a.Kind != want || a.Count != 3 {
			t.Errorf("%s: %+v %v", words, a, ok)
		}
	}
	for _, words := range []string{"", "axolotl", "frogs"} {
		if _, ok := Of(words, 2); ok {
			t.Errorf("%q is drawn", words)
		}
	}
}
