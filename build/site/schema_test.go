package site

import (
	"bytes"
	"path"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"slipleaf/build/schema"
)

// closed is the schema of a published kind in which nothing unknown may stand.
func closed(t *testing.T, kind string) *jsonschema.Schema {
	t.Helper()
	text, err := schema.Write(kind)
	if err != nil {
		t.Fatal(err)
	}
	text = bytes.ReplaceAll(text, []byte(`"additionalProperties": true`), []byte(`"additionalProperties": false`))
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	c.AssertFormat()
	if err := c.AddResource("schema.json", doc); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile("schema.json")
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func TestPublishedFilesHoldAgainstTheirSchemas(t *testing.T) {
	kinds := map[string]*jsonschema.Schema{"growth.json": closed(t, "growth"), "offers.json": closed(t, "offers"), "sheet.json": closed(t, "sheet")}
	seen := map[string]int{}
	for _, f := range demoFiles(t) {
		s, ok := kinds[path.Base(f.Path)]
		if !ok || strings.HasPrefix(f.Path, "schema/") {
			continue
		}
		seen[path.Base(f.Path)]++
		v, err := jsonschema.UnmarshalJSON(bytes.NewReader(f.Data))
		if err != nil {
			t.Fatalf("%s: %v", f.Path, err)
		}
		if err := s.Validate(v); err != nil {
			t.Errorf("%s: %v", f.Path, err)
		}
		if err := s.Validate(map[string]any{}); err == nil {
			t.Errorf("the schema of %s takes an empty object", f.Path)
		}
	}
	if seen["offers.json"] != 1 {
		t.Errorf("the demonstration has %d offers.json", seen["offers.json"])
	}
	if seen["growth.json"] < 15 {
		t.Errorf("the demonstration has %d growth.json, not one for each plant", seen["growth.json"])
	}
	t.Logf("validated %v", seen)
}

func TestSchemasArePublished(t *testing.T) {
	at := map[string][]byte{}
	for _, f := range demoFiles(t) {
		at[f.Path] = f.Data
	}
	for _, kind := range schema.Kinds() {
		want, err := schema.Write(kind)
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(at["schema/"+kind+".json"], want) {
			t.Errorf("schema/%s.json is not the schema", kind)
		}
	}
}
