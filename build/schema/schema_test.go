package schema

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/goccy/go-yaml"
	"github.com/santhosh-tekuri/jsonschema/v6"

	"slipleaf/build/almanac"
	"slipleaf/build/format"
	"slipleaf/build/journal"
	"slipleaf/build/quantity"
)

// compiled is the schema of a kind with formats asserted, as the writer prints it.
func compiled(t *testing.T, kind string) *jsonschema.Schema {
	t.Helper()
	text, err := Write(kind)
	if err != nil {
		t.Fatal(err)
	}
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
		t.Fatalf("%s: %v", kind, err)
	}
	return s
}

// asJSON turns YAML into what a JSON Schema is held against.
func asJSON(t *testing.T, head []byte) any {
	t.Helper()
	var v any
	if err := yaml.Unmarshal(head, &v); err != nil {
		t.Fatalf("%v\n%s", err, head)
	}
	if v == nil {
		v = map[string]any{}
	}
	text, err := json.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	out, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// whole makes a head that holds every key, each with its example.
func everyKey(o format.Mapping) map[string]any {
	out := map[string]any{}
	for _, k := range o.Keys {
		if k.Example != nil {
			out[k.Name] = k.Example
			continue
		}
		part, _ := format.Find(k.Is.Part)
		inner := any(everyKey(part))
		if k.Is.List {
			inner = []any{inner}
		} else if k.Is.ByPlant {
			inner = map[string]any{"heteranthera-zosterifolia": inner}
		}
		out[k.Name] = inner
	}
	return out
}

// files is where the head of a kind is in a journal.
var files = map[string]string{"journal": "journal.yaml", "tank": "tanks/trough/tank.md", "entry": "tanks/trough/2026-04-18.md",
	"plant": "plants/anubias-barteri.md", "sent": "sent/one.md", "page": "pages/asking.md"}

// ofKeys are the reader's rules about keys and values by themselves; what files say together is not a schema's to know.
var ofKeys = []string{"unknown-key", "wrong-shape", "bad-quantity", "bad-word", "bad-number", "bad-date", "bad-text", "bad-address", "bad-region",
	"bad-language", "bad-timezone", "bad-code", "bad-lot", "impossible", "missing-key", "no-value", "no-measure", "yaml"}

// complaints reads a journal in which the head of kind is head, and lists what the reader says of its keys and values.
func complaints(t *testing.T, kind string, head []byte) []string {
	t.Helper()
	fsys := fstest.MapFS{"journal.yaml": {Data: []byte("title: A bench\n")}, "tanks/trough/tank.md": {Data: []byte("---\nname: The trough\n---\n")}}
	if kind != "journal" {
		head = []byte("---\n" + string(head) + "---\n")
	}
	fsys[files[kind]] = &fstest.MapFile{Data: head}
	a, err := almanac.Open()
	if err != nil {
		t.Fatal(err)
	}
	_, cs, err := journal.Read(t.Context(), fsys, a, journal.Options{On: quantity.Date{Year: 2026, Month: 12, Day: 1}})
	if err != nil {
		t.Fatal(err)
	}
	var out []string
	for _, c := range cs {
		if c.File == files[kind] && slices.Contains(ofKeys, c.Rule) {
			out = append(out, fmt.Sprintf("%d: %s: %s", c.Line, c.Rule, c.Message))
		}
	}
	return out
}

func TestRulesOfKeysAreTheReaders(t *testing.T) {
	text, err := os.ReadFile("../journal/rules.go")
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range ofKeys {
		if !bytes.Contains(text, []byte(`"`+r+`"`)) {
			t.Errorf("the reader has no rule %s", r)
		}
	}
}

func TestEveryExampleIsRightForBoth(t *testing.T) {
	for _, kind := range format.Heads {
		m, _ := format.Find(kind)
		head, err := yaml.Marshal(everyKey(m))
		if err != nil {
			t.Fatal(err)
		}
		if err := compiled(t, kind).Validate(asJSON(t, head)); err != nil {
			t.Errorf("%s: %v\n%s", kind, err, head)
		}
		if cs := complaints(t, kind, head); len(cs) > 0 {
			t.Errorf("%s: the reader refuses the schema's examples:\n%s\n%s", kind, strings.Join(cs, "\n"), head)
		}
	}
}

// Every key with a wrong value is refused by both, and so is a key that nobody knows.
func TestMistakesAreRefusedByBoth(t *testing.T) {
	tried := 0
	for _, kind := range format.Heads {
		s := compiled(t, kind)
		wrong := func(head string) {
			tried++
			if s.Validate(asJSON(t, []byte(head))) == nil {
				t.Errorf("%s: the schema takes %q", kind, head)
			}
			if len(complaints(t, kind, []byte(head))) == 0 {
				t.Errorf("%s: the reader takes %q", kind, head)
			}
		}
		m, _ := format.Find(kind)
		for _, k := range m.Keys {
			wrong(k.Name + ": [[7]]\n")
			if _, isQuantity := find(valueOf(k.Is), "$comment"); isQuantity {
				wrong(k.Name + ": 6 parsecs\n")
				wrong(k.Name + ": 6\n")
			}
			if _, isChoice := find(valueOf(k.Is), "enum"); isChoice {
				wrong(k.Name + ": sideways\n")
			}
		}
		wrong("colour: green\n")
	}
	for kind, heads := range map[string][]string{
		"journal": {"friends: [{name: Marsh}]\n", "address: bench.example\n", "requests: javascript:x\n", "post: {months: [13]}\n", "sheet: {colour: red}\n", "region: Ohio\n"},
		"tank": {"tap: {ph: 71}\n", "tap: {gh: 6 dG}\n", "tap: {gh: 6}\n", "light: [{hours: 25}]\n", "inside: {length: 3 kg}\n", "substrate: {depth: 3 cm}\n",
			"trim-when: {heteranthera-zosterifolia: {stem-length: 20}}\n", "target: {temperature: \"1,500 C\"}\n", "target: {nitrate: 5..3..2 mg/L}\n"},
		"entry": {"counts: [{stems: 4}]\n", "counts: [{plant: anubias-barteri}]\n", "counts: [{plant: anubias-barteri, stems: 1.5}]\n",
			"trims: [{plant: anubias-barteri}]\n", "losses: [{plant: anubias-barteri}]\n", "losses: [{stems: 3}]\n", "losses: [{lot: A1}]\n", "losses: [{count: 3}]\n",
			"losses: [{plant: anubias-barteri, stems: 3, lot: A1}]\n", "losses: [{lot: A1, count: 0}]\n", "trims: [{plant: anubias-barteri, removed: 6 parts}]\n", "doses: [{salt: x}]\n",
			"lots: [{lot: a b, plant: anubias-barteri, count: 3}]\n", "lots: [{lot: A1, plant: anubias-barteri}]\n", "lots: [{lot: A1, plant: anubias-barteri, count: 0}]\n",
			"photos: [{file: a.jpg}]\n", "counts: [{plant: anubias-barteri, stems: 3, where: {row: left}}]\n", "water-change: {share: 30 kg}\n"},
		"plant": {"profile: {melts: 4}\n", "profile: {co2: some}\n", "profile: {light: 30 lm}\n"},
		"sent": {"lot: A1\nsent: 2026-05-01\n", "lot: A1\ncount: 2\n", "lot: A1\ncount: 2\nsent: 1.5.2026\n", "lot: A1\ncount: 2\nsent: 2026-05-01\ncode: short\n",
			"lot: A1\ncount: 2\nsent: 2026-05-01\nreports: [{date: 2026-05-02, outcome: fine}]\n", "lot: A1\ncount: 2\nsent: 2026-13-01\n"},
		"page": {"order: 1.5\n", "title: [a, b]\n"},
	} {
		s := compiled(t, kind)
		for _, head := range heads {
			tried++
			if s.Validate(asJSON(t, []byte(head))) == nil {
				t.Errorf("%s: the schema takes %q", kind, head)
			}
			if len(complaints(t, kind, []byte(head))) == 0 {
				t.Errorf("%s: the reader takes %q", kind, head)
			}
		}
	}
	if tried < 100 {
		t.Errorf("only %d mistakes were tried", tried)
	}
}

func find(m members, name string) (any, bool) {
	for _, x := range m {
		if x.name == name {
			return x.value, true
		}
	}
	return nil, false
}

// A journal that has just begun holds as well, and its own file tells an editor where its schema lies: beside the
// journal, in the site as publish puts it.
func TestFirstJournalHolds(t *testing.T) {
	for _, dir := range []string{"../../content", "../../cmd/slipleaf/first"} {
		text, err := os.ReadFile(dir + "/journal.yaml")
		if err != nil {
			t.Fatal(err)
		}
		if first, _, _ := strings.Cut(string(text), "\n"); first != "# yaml-language-server: $schema=../www/schema/journal.json" {
			t.Errorf("%s/journal.yaml begins with %q", dir, first)
		}
	}
	fsys := os.DirFS("../../cmd/slipleaf/first")
	for _, row := range []struct{ pattern, kind string }{{"journal.yaml", "journal"}, {"tanks/*/tank.md", "tank"}, {"tanks/*/entry.md", "entry"}, {"pages/*.md", "page"}} {
		names, err := fs.Glob(fsys, row.pattern)
		if err != nil || len(names) == 0 {
			t.Fatalf("%s: %v", row.pattern, err)
		}
		for _, name := range names {
			head, err := fs.ReadFile(fsys, name)
			if err != nil {
				t.Fatal(err)
			}
			head = bytes.ReplaceAll(head, []byte("{today}"), []byte("2026-04-18"))
			if row.kind != "journal" {
				_, after, _ := bytes.Cut(head, []byte("---\n"))
				head, _, _ = bytes.Cut(after, []byte("\n---"))
			}
			if err := compiled(t, row.kind).Validate(asJSON(t, head)); err != nil {
				t.Errorf("%s: %v", name, err)
			}
		}
	}
}

func TestHeadsOfTheDemonstrationHold(t *testing.T) {
	fsys, seen := os.DirFS("../../content"), map[string]int{}
	schemas := map[string]*jsonschema.Schema{}
	for _, kind := range format.Heads {
		schemas[kind] = compiled(t, kind)
	}
	err := fs.WalkDir(fsys, ".", func(p string, d fs.DirEntry, err error) error {
		kind := kindOf(p)
		if err != nil || d.IsDir() || kind == "" {
			return err
		}
		head, err := fs.ReadFile(fsys, p)
		if err != nil {
			return err
		}
		if kind != "journal" {
			_, after, _ := bytes.Cut(head, []byte("---\n"))
			head, _, _ = bytes.Cut(after, []byte("\n---"))
		}
		seen[kind]++
		if err := schemas[kind].Validate(asJSON(t, head)); err != nil {
			t.Errorf("%s: %v", p, err)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if len(seen) != len(format.Heads) {
		t.Errorf("the demonstration shows only %v", slices.Collect(maps.Keys(seen)))
	}
}

// kindOf is the kind of head of a file of a journal; "" for none.
func kindOf(p string) string {
	top, _, _ := strings.Cut(p, "/")
	switch {
	case p == "journal.yaml":
		return "journal"
	case path.Ext(p) != ".md":
		return ""
	case path.Base(p) == "tank.md":
		return "tank"
	}
	return map[string]string{"tanks": "entry", "plants": "plant", "sent": "sent", "pages": "page"}[top]
}

func TestEverySchemaIsValidAndSaysWhatItIs(t *testing.T) {
	for _, kind := range Kinds() {
		compiled(t, kind)
		text, _ := Write(kind)
		if again, _ := Write(kind); !bytes.Equal(text, again) {
			t.Errorf("%s differs between two runs", kind)
		}
		if !bytes.Contains(text, []byte("\n  \"description\": ")) {
			t.Errorf("%s has no description", kind)
		}
	}
	if _, err := Write("tonk"); err == nil || !strings.Contains(err.Error(), "tank") {
		t.Errorf("an unknown kind: %v", err)
	}
}

// The words of published files that are those of a key of a head are the same: whoever adds one to the format adds it here.
func TestPublishedWordsAreTheFormats(t *testing.T) {
	for _, row := range []struct{ kind, part, key, mapping, name string }{
		{"offers", "offer", "form", "lot", "form"}, {"offers", "needs", "co2", "profile", "co2"}, {"offers", "needs", "place", "profile", "placement"},
		{"sheet", "sheet.verdict", "need", "profile", "co2"},
	} {
		text, err := Write(row.kind)
		if err != nil {
			t.Fatal(err)
		}
		var doc struct {
			Defs map[string]struct {
				Properties map[string]struct {
					Enum []string `json:"enum"`
				} `json:"properties"`
			} `json:"$defs"`
		}
		if err := json.Unmarshal(text, &doc); err != nil {
			t.Fatal(err)
		}
		m, _ := format.Find(row.mapping)
		k, _ := m.Key(row.name)
		if got := doc.Defs[row.part].Properties[row.key].Enum; len(got) == 0 || !slices.Equal(got, k.Is.Words) {
			t.Errorf("%s: %s of %s is one of %v, in the format one of %v", row.kind, row.key, row.part, got, k.Is.Words)
		}
	}
}

// An entry that offers blanks is right for an editor too, and "all" is a number for a loss; elsewhere neither is.
func TestBlanksAreForEntries(t *testing.T) {
	entry := "title:\nparameters: {ph: , gh: }\ncounts: [{plant: anubias-barteri, leaves: }]\nlosses: [{plant: , stems: , cause: }, {plant: anubias-barteri, stems: all}, {lot: A1, count: all}]\nwater-change: {share: , with: tap}\n"
	if err := compiled(t, "entry").Validate(asJSON(t, []byte(entry))); err != nil {
		t.Error(err)
	}
	if cs := complaints(t, "entry", []byte(entry)); len(cs) > 0 {
		t.Error(cs)
	}
	for kind, head := range map[string]string{"tank": "name:\n", "sent": "lot: A1\ncount: all\nsent: 2026-05-01\n", "entry": "counts: [{plant: anubias-barteri, stems: all}]\n"} {
		if compiled(t, kind).Validate(asJSON(t, []byte(head))) == nil {
			t.Errorf("%s: the schema takes %q", kind, head)
		}
		if len(complaints(t, kind, []byte(head))) == 0 {
			t.Errorf("%s: the reader takes %q", kind, head)
		}
	}
}
