package keys

import (
	"reflect"
	"strings"
	"testing"

	"github.com/goccy/go-yaml"

	"slipleaf/build/format"
)

// An example is written so that YAML reads it back as it is meant.
func TestExamplesOfKeysReadBack(t *testing.T) {
	for _, m := range format.Mappings() {
		for _, k := range m.Keys {
			if k.Example == nil {
				continue
			}
			var got struct{ Key any }
			flow, err := flowText(k.Example)
			if err == nil {
				err = yaml.Unmarshal([]byte("key: "+flow), &got)
			}
			if err != nil || strings.Contains(flow, "\n") {
				t.Errorf("%s.%s: %v", m.Name, k.Name, err)
			}
			text, err := yaml.Marshal(k.Example)
			if err != nil {
				t.Fatal(err)
			}
			var want any
			if err := yaml.Unmarshal(text, &want); err != nil {
				t.Fatal(err)
			}
			if !reflect.DeepEqual(got.Key, want) {
				t.Errorf("%s.%s: %#v, meant is %#v", m.Name, k.Name, got.Key, want)
			}
		}
	}
}
