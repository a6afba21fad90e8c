package page_test

import (
	"html"
	"strings"
	"testing"

	"slipleaf/build/format"
)

// The demonstration's page of keys has every key of the format with its line of help.
func TestThePageOfKeysHasEveryKey(t *testing.T) {
	b, err := demoBook()
	if err != nil {
		t.Fatal(err)
	}
	text := html.UnescapeString(file(t, b, "/keys/"))
	for _, m := range format.Mappings() {
		for _, k := range m.Keys {
			if !strings.Contains(text, "<dt><code>"+k.Name+"</code></dt><dd>"+k.Help.EN) {
				t.Errorf("%s.%s is not there with its help", m.Name, k.Name)
			}
		}
	}
}
