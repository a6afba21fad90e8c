package demo

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io/fs"
	"path"
	"slices"
	"strings"
)

// truth is what is behind one series: what a method that reads only the diary should find.
type truth struct {
	Tank      string   `json:"tank"`
	Plant     string   `json:"plant"`
	Measure   string   `json:"measure"`
	R         float64  `json:"r"`               // per day
	Q         float64  `json:"q"`               // sd of log size per square root of a day
	M         float64  `json:"m"`               // sd of the logarithm of a count
	Holds     float64  `json:"holds,omitempty"` // asymptote, in the measure
	Start     string   `json:"start"`
	StartSize float64  `json:"start-size"`
	End       string   `json:"end"`
	EndSize   float64  `json:"end-size"` // after that day's trims and losses
	Switches  string   `json:"switches,omitempty"`
	Trims     int      `json:"trims"`
	Counts    []sizeOn `json:"true-sizes"` // on each day with a count, before that day's trims
}

type sizeOn struct {
	Date string  `json:"date"`
	Size float64 `json:"size"`
}

// file is one file below the root.
type file struct {
	path string
	data []byte
}

// order is the order of keys in an entry's head; the simulated ones are owned, the others kept.
var (
	order = strings.Fields("title parameters counts plantings trims losses doses water-change lots photos private")
	owned = strings.Fields("parameters counts plantings trims losses doses water-change")
)

// render returns every file of which a part is simulated, with what is written by hand taken from root.
func render(root fs.FS, w world) ([]file, error) {
	var files []file
	for _, e := range w.entries {
		name := path.Join("content/tanks", e.tank, e.name+".md")
		old, err := fs.ReadFile(root, name)
		if err != nil {
			old = []byte("---\ntitle: Untitled\n---\n")
		}
		files = append(files, file{name, e.mergeInto(old)})
	}
	sent, err := fs.Glob(root, "content/sent/*.md")
	if err != nil {
		return nil, err
	}
	for _, name := range sent {
		old, err := fs.ReadFile(root, name)
		if err != nil {
			return nil, err
		}
		files = append(files, file{name, mint(name, old)})
	}
	known, err := json.MarshalIndent(map[string]any{"seed": seed, "series": w.truth}, "", " ")
	if err != nil {
		return nil, err
	}
	plan, err := benchPlan(stream(seed, "bench-plan"))
	if err != nil {
		return nil, err
	}
	return append(files, file{"testdata/demo/truth.json", append(known, '\n')}, file{"content/photos/bench-plan.png", plan}), nil
}

// mergeInto replaces the simulated parts of a head and leaves the rest, prose included, as it is.
func (e entry) mergeInto(old []byte) []byte {
	head, body := split(string(old))
	parts := blocks(head)
	e.losses = append(e.losses, lotLosses(parts["losses"])...)
	for _, k := range owned {
		delete(parts, k)
	}
	put := func(key, flow string) {
		if flow != "" {
			parts[key] = key + ": " + flow + "\n"
		}
	}
	list := func(key string, items []string) {
		if len(items) > 0 {
			parts[key] = key + ":\n  - " + strings.Join(items, "\n  - ") + "\n"
		}
	}
	put("parameters", e.parameters)
	list("counts", e.counts)
	list("plantings", e.plantings)
	list("trims", e.trims)
	list("losses", e.losses)
	put("doses", e.doses)
	put("water-change", e.waterChange)
	var b bytes.Buffer
	b.WriteString("---\n")
	for _, k := range order {
		b.WriteString(parts[k])
	}
	fmt.Fprintf(&b, "---\n%s", body)
	return b.Bytes()
}

// lotLosses are the losses of lots, which are written by hand: the simulation knows only what is in the tanks.
func lotLosses(block string) []string {
	var out []string
	for line := range strings.Lines(block) {
		if item, ok := strings.CutPrefix(strings.TrimSpace(line), "- "); ok && strings.HasPrefix(item, "{lot:") {
			out = append(out, item)
		}
	}
	return out
}

// split parts a file into its head and what follows the second line of dashes.
func split(s string) (head, body string) {
	s = strings.TrimPrefix(s, "---\n")
	head, body, _ = strings.Cut(s, "\n---\n")
	return head + "\n", body
}

// blocks cuts a head at its top-level keys.
func blocks(head string) map[string]string {
	parts := map[string]string{}
	key := ""
	for line := range strings.Lines(head) {
		if k, _, ok := strings.Cut(line, ":"); ok && line[0] != ' ' && line[0] != '-' {
			key = k
		}
		parts[key] += line
	}
	return parts
}

// letters are the 32 of a code: no i, l, o or u.
const letters = "0123456789abcdefghjkmnpqrstvwxyz"

// mint gives a record that has a code one that depends on its name alone.
func mint(name string, old []byte) []byte {
	rng := stream(seed, name)
	code := make([]byte, 25)
	for i := range code {
		code[i] = letters[rng.IntN(len(letters))]
	}
	head, body := split(string(old))
	lines := strings.Split(head, "\n")
	if i := slices.IndexFunc(lines, func(l string) bool { return strings.HasPrefix(l, "code:") }); i >= 0 {
		lines[i] = "code: " + string(code)
	}
	return []byte("---\n" + strings.Join(lines, "\n") + "---\n" + body)
}
