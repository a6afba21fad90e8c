package browser

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/goccy/go-yaml"

	"slipleaf/build/almanac"
	"slipleaf/build/feed"
	"slipleaf/build/journal"
	"slipleaf/build/quantity"
	"slipleaf/build/schema"
)

// inModule goes to the module's folder, where the names of files begin, unless the test is there already.
func inModule(t *testing.T) {
	if _, err := os.Stat("go.mod"); err != nil {
		t.Chdir("../../..")
	}
}

// object is a JSON Schema, or a part of one.
type object map[string]any

// fields lists the fields of a schema that take any text, and those that take an address, as paths: lots[].pests.
func fields(kind string) (texts, addresses []string, err error) {
	data, err := schema.Write(kind)
	if err != nil {
		return nil, nil, err
	}
	var doc object
	if err := json.Unmarshal(data, &doc); err != nil {
		return nil, nil, err
	}
	var walk func(s object, at string, within []string)
	walk = func(s object, at string, within []string) {
		if ref, ok := s["$ref"].(string); ok {
			name := strings.TrimPrefix(ref, "#/$defs/")
			if !slices.Contains(within, name) {
				walk(doc["$defs"].(map[string]any)[name].(map[string]any), at, append(slices.Clone(within), name))
			}
			return
		}
		if items, ok := s["items"].(map[string]any); ok {
			walk(items, at+"[]", within)
		}
		if alternatives, ok := s["anyOf"].([]any); ok { // a value or a blank
			for _, one := range alternatives {
				walk(one.(map[string]any), at, within)
			}
		}
		if more, ok := s["additionalProperties"].(map[string]any); ok {
			walk(more, at+".*", within)
		}
		properties, _ := s["properties"].(map[string]any)
		for name, p := range properties {
			walk(p.(map[string]any), at+"."+name, within)
		}
		pattern, shaped := s["pattern"].(string)
		_, choice := s["enum"]
		switch {
		case shaped && (strings.Contains(pattern, "https") || strings.Contains(pattern, "mailto")):
			addresses = append(addresses, at)
		case !shaped && !choice && takesText(s["type"]):
			texts = append(texts, at)
		}
	}
	walk(doc, "", nil)
	return texts, addresses, nil
}

// takesText reports whether a schema's type holds strings.
func takesText(kind any) bool {
	if list, ok := kind.([]any); ok {
		return slices.Contains(list, any("string"))
	}
	return kind == "string"
}

// carried lists the paths under which a value holds one of the words, as [fields] writes them.
func carried(v any, at string, words []string, out map[string]bool) {
	switch v := v.(type) {
	case map[string]any:
		for k, x := range v {
			carried(x, at+"."+k, words, out)
			carried(x, at+".*", words, out)
		}
	case []any:
		for _, x := range v {
			carried(x, at+"[]", words, out)
		}
	case string:
		if slices.ContainsFunc(words, func(w string) bool { return strings.Contains(v, w) }) {
			out[at] = true
		}
	}
}

// headOf gives the kind and the head of a file of a journal.
func headOf(name, text string) (kind, head string) {
	if name == "journal.yaml" {
		return "journal", text
	}
	_, after, _ := strings.Cut(text, "---\n")
	head, _, _ = strings.Cut(after, "\n---")
	if filepath.Base(name) == "tank.md" {
		return "tank", head
	}
	top, _, _ := strings.Cut(name, "/")
	return map[string]string{"tanks": "entry", "plants": "plant", "sent": "sent", "pages": "page"}[top], head
}

// Every field of the format, and of a friend's file, that takes any text or an address carries a hostile one in the
// journal that the checks publish.
func TestTheHostileJournalLeavesNoFieldOut(t *testing.T) {
	found := map[string]map[string]bool{}
	for name, text := range hostileJournal {
		kind, head := headOf(name, strings.NewReplacer("%s", "MARK", "%a", "MARK", "%w", "MARK", "%m", "MARK", "%f", "MARK").Replace(text))
		var v map[string]any
		if err := yaml.Unmarshal([]byte(head), &v); err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		if found[kind] == nil {
			found[kind] = map[string]bool{}
		}
		carried(v, "", []string{"MARK"}, found[kind])
	}
	data, err := hostileOffers()
	if err != nil {
		t.Fatal(err)
	}
	var offers map[string]any
	if err := json.Unmarshal(data, &offers); err != nil {
		t.Fatal(err)
	}
	found["offers"] = map[string]bool{}
	carried(offers, "", append([]string{"alert(30)", "alert(38)"}, hostileWords...), found["offers"])
	count := 0
	for _, kind := range []string{"journal", "tank", "entry", "plant", "sent", "page", "offers"} {
		texts, addresses, err := fields(kind)
		if err != nil || len(texts) == 0 {
			t.Fatalf("%s has no text: %v", kind, err)
		}
		for _, f := range append(texts, addresses...) {
			if count++; !found[kind][f] {
				t.Errorf("the hostile journal has no %s in a head of the kind %s", strings.TrimPrefix(f, "."), kind)
			}
		}
	}
	t.Attr("figure", fmt.Sprintf("hostile fields carried: %d", count))
}

// readHostile reads a hostile journal from a folder.
func readHostile(t *testing.T, dir string) (*journal.Journal, journal.Complaints) {
	t.Helper()
	a, err := almanac.Open()
	if err != nil {
		t.Fatal(err)
	}
	j, complaints, err := journal.Read(t.Context(), os.DirFS(dir), a, journal.Options{On: quantity.Date{Year: 2026, Month: 11, Day: 25}})
	if err != nil {
		t.Fatal(err)
	}
	return j, complaints
}

// The hostile journal is one that the reader takes, and its friend's file one that is shown: else nothing would be tried.
func TestTheHostileJournalIsTaken(t *testing.T) {
	inModule(t)
	for _, words := range hostileRounds() {
		dir := t.TempDir()
		if err := writeHostile(dir, words); err != nil {
			t.Fatal(err)
		}
		j, complaints := readHostile(t, dir)
		for _, c := range complaints {
			if c.Severity == journal.Error || c.Rule == "friend-file" {
				t.Error(c)
			}
		}
		r := feed.NewFriendReader()
		if len(j.Gathered) != 1 {
			t.Fatalf("%d files of friends", len(j.Gathered))
		}
		o, err := r.Read(j.Gathered[0].Data)
		if err != nil || len(o.Offers) != len(hostileWords) {
			t.Errorf("%d offers of the friend, %v", len(o.Offers), err)
		}
	}
}

// No field that takes an address takes one that runs a script or leaves its quotes.
func TestHostileAddressesAreRefused(t *testing.T) {
	inModule(t)
	dir := t.TempDir()
	if err := writeHostile(dir, hostileWords[0]); err != nil {
		t.Fatal(err)
	}
	refused := 0
	for name, text := range hostileJournal {
		for i := range text {
			if !slices.Contains([]string{"%a", "%w", "%m"}, text[i:min(i+2, len(text))]) {
				continue
			}
			for _, address := range hostileAddresses {
				quoted, err := json.Marshal(address)
				if err != nil {
					t.Fatal(err)
				}
				one := text[:i] + string(quoted) + text[i+2:]
				one = strings.NewReplacer("%s", `"a"`, "%a", `"https://a.example/"`, "%w", `"https://b.example/"`, "%m", `"https://c.example/"`, "%f", `"a.png"`).Replace(one)
				if err := os.WriteFile(filepath.Join(dir, filepath.FromSlash(name)), []byte(one), 0o644); err != nil {
					t.Fatal(err)
				}
				_, complaints := readHostile(t, dir)
				if !slices.ContainsFunc(complaints, func(c journal.Complaint) bool {
					return c.File == name && c.Severity == journal.Error && (c.Rule == "bad-address" || c.Rule == "bad-text")
				}) {
					t.Errorf("%s takes %q at %q: %v", name, address, text[max(0, i-12):i], complaints)
				}
				refused++
			}
		}
		if err := writeHostile(dir, hostileWords[0]); err != nil {
			t.Fatal(err)
		}
	}
	t.Attr("figure", fmt.Sprintf("hostile addresses refused: %d", refused))
}
