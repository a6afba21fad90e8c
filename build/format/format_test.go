package format

import (
	"regexp"
	"slices"
	"strings"
	"testing"
)

var keyName = regexp.MustCompile(`^[a-z0-9]+(-[a-z0-9]+)*$`)

// Every key is written as the format says, once in its mapping, with a line of help in each language.
func TestEveryKeyIsNamedAndExplained(t *testing.T) {
	seen := map[string]bool{}
	for _, m := range Mappings() {
		if seen[m.Name] || len(m.Keys) == 0 {
			t.Errorf("%s is there twice, or empty", m.Name)
		}
		seen[m.Name] = true
		helped(t, m.Name, m.Help)
		names := m.Names()
		for i, k := range m.Keys {
			if !keyName.MatchString(k.Name) || slices.Index(names, k.Name) != i {
				t.Errorf("%s: %q", m.Name, k.Name)
			}
			helped(t, m.Name+"."+k.Name, k.Help)
		}
		for _, list := range [][]string{m.Needs, m.Any, m.Pair} {
			for _, name := range strings.Fields(strings.Join(list, " ")) {
				if _, ok := m.Key(name); !ok {
					t.Errorf("%s needs %s, which it does not have", m.Name, name)
				}
			}
		}
	}
	for _, head := range Heads {
		if !seen[head] {
			t.Errorf("no mapping %s", head)
		}
	}
}

func helped(t *testing.T, name string, h Help) {
	t.Helper()
	for _, s := range []string{h.In("en"), h.In("de")} {
		if s == "" || !strings.HasSuffix(s, ".") || strings.TrimSpace(s) != s {
			t.Errorf("%s: the help is %q", name, s)
		}
	}
	if h.EN == h.DE {
		t.Errorf("%s: the German help is the English one: %q", name, h.DE)
	}
}

// What a key needs to be read is there: words of a choice, an order of limits, a part that exists.
func TestEveryValueCanBeWritten(t *testing.T) {
	used := map[string]bool{}
	for _, m := range Mappings() {
		for _, k := range m.Keys {
			v := k.Is
			_, found := Find(v.Part)
			used[v.Part] = true
			switch {
			case v.Kind == Word && (len(v.Words) < 2 || !slices.Contains(v.Words, k.Example.(string))),
				v.Kind == Whole && v.Low >= v.High, (v.Kind == Part) != found, v.Kind != Part && k.Example == nil:
				t.Errorf("%s.%s: %+v, as in %v", m.Name, k.Name, v, k.Example)
			}
		}
	}
	for _, m := range Mappings() {
		if !used[m.Name] && !slices.Contains(Heads[:], m.Name) {
			t.Errorf("no key holds a %s", m.Name)
		}
	}
}
