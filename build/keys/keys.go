// Package keys lists every key of the format by what a grower does, for the page of all keys.
package keys

import (
	"cmp"
	"slices"
	"strings"

	"github.com/goccy/go-yaml"

	"slipleaf/build/format"
	"slipleaf/build/quantity"
	"slipleaf/build/words"
)

// Task is what a grower does, and what may be written when doing it.
type Task struct {
	Title    string
	Mappings []Mapping
}

// Mapping is the head of a kind of file, or the keys within another key.
type Mapping struct {
	Name string // the file, or the keys that hold these: tanks/TANK/tank.md, or tap, target
	Help string
	Keys []Line
}

// Line is one key.
type Line struct {
	Name, Help, Takes string // Takes says what may be written; "" for any words
	Words             string // to choose from, as they are typed; "" where it is no choice
	Example           string // as it is written; "" where its own keys have theirs
}

// files are the files whose heads the mappings are.
var files = map[string]string{"journal": "journal.yaml", "tank": "tanks/TANK/tank.md", "entry": "tanks/TANK/DATE.md",
	"sent": "sent/NAME.md", "plant": "plants/PLANT.md", "page": "pages/NAME.md"}

// Tasks lists every key of the format by task, in the words of v.
func Tasks(v words.Locale) ([]Task, error) {
	var tasks []Task
	all := format.Mappings()
	for _, m := range all {
		if int(m.Task) >= len(tasks) {
			tasks = append(tasks, make([]Task, int(m.Task)+1-len(tasks))...)
			tasks[m.Task].Title = words.Item(v.List("keys.tasks"), int(m.Task))
		}
		t := &tasks[m.Task]
		one, err := mapping(v, m, all)
		if err != nil {
			return nil, err
		}
		t.Mappings = append(t.Mappings, one)
	}
	return tasks, nil
}

func mapping(v words.Locale, m format.Mapping, all []format.Mapping) (Mapping, error) {
	out := Mapping{Name: cmp.Or(files[m.Name], strings.Join(heldBy(m.Name, all), ", ")), Help: m.Help.In(v.Lang)}
	for _, k := range m.Keys {
		line := Line{Name: k.Name, Help: k.Help.In(v.Lang), Takes: takes(v, k.Is)}
		if k.Is.Kind == format.Word {
			line.Words = strings.Join(k.Is.Words, " | ")
		}
		if k.Example != nil {
			text, err := flowText(k.Example)
			if err != nil {
				return out, err
			}
			line.Example = k.Name + ": " + text
		}
		out.Keys = append(out.Keys, line)
	}
	return out, nil
}

// heldBy lists the keys that hold a part, each once.
func heldBy(part string, all []format.Mapping) (keys []string) {
	for _, m := range all {
		for _, k := range m.Keys {
			if k.Is.Kind == format.Part && k.Is.Part == part && !slices.Contains(keys, k.Name) {
				keys = append(keys, k.Name)
			}
		}
	}
	return keys
}

// takes says what may be written behind a key.
func takes(v words.Locale, is format.Value) string {
	one := ""
	switch is.Kind {
	case format.Date:
		one = v.Text("keys.date")
	case format.Truth:
		one = v.Text("keys.truth")
	case format.Whole:
		one = v.Text("keys.whole")
		if is.High < format.Most {
			one = v.Text("keys.whole-to", "low", is.Low, "high", is.High)
		}
	case format.Amount:
		if units := quantity.Units(is.Of); len(units) > 0 && is.Of != quantity.PHKind {
			one = v.Text("keys.units", "units", strings.Join(units, ", "))
		}
	case format.Part:
		one = v.Text("keys.part")
	}
	switch {
	case is.ByPlant:
		return v.Text("keys.by-plant")
	case is.List:
		return v.Text("keys.list", "of", one)
	}
	return one
}

// flowText writes a value of an example as YAML on one line; words without quotes where they need none, as diaries have them.
func flowText(v any) (string, error) {
	if s, ok := v.(string); ok && !strings.ContainsAny(s, "{}?") {
		return s, nil
	}
	text, err := yaml.MarshalWithOptions(v, yaml.Flow(true))
	return strings.TrimSpace(string(text)), err
}
