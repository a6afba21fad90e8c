package site

import (
	"bytes"
	"strings"
	"testing"
)

// Two programs pass for one only where Go wrote the same of both into their beginning, or every byte is the same.
func TestAnotherProgramHasAnotherPrint(t *testing.T) {
	id := func(part string) string {
		return strings.TrimSuffix(strings.Repeat(strings.Repeat(part, 5)+"/", 4), "/")
	}
	head := func(id string) string { return "\x7fELF" + strings.Repeat("\x00", 4000) + id }
	long := strings.Repeat("code", 20_000)
	for _, c := range []struct {
		name, one, other string
		same             bool
	}{
		{"itself", head(id("a_B9")) + long, head(id("a_B9")) + long, true},
		{"another ID", head(id("a_B9")) + long, head(id("a-B9")) + long, false},
		{"no ID", head("") + long + "a", head("") + long + "b", false},
		{"no ID, another beginning", "a" + head("") + long, "b" + head("") + long, false},
		{"an ID that somebody chose", head("release/1") + long + "a", head("release/1") + long + "b", false},
		{"an ID elsewhere", head("") + long + id("a_B9") + "a", head("") + long + id("a_B9") + "b", false},
	} {
		var prints []string
		for _, program := range []string{c.one, c.other} {
			p, err := printOf(bytes.NewReader([]byte(program)))
			if err != nil || p == "" {
				t.Fatal(c.name, p, err)
			}
			prints = append(prints, p)
		}
		if (prints[0] == prints[1]) != c.same {
			t.Errorf("%s: %q", c.name, prints)
		}
	}
}
