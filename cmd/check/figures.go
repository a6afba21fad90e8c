package main

import (
	"bufio"
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
)

// figures are counts by what was counted.
type figures map[string]int

// figuresFile keeps what the runs counted, by source, so that a run of hours need not be repeated for one of minutes.
var figuresFile = filepath.Join("testdata", "figures.json")

// The table of figures is in measuredFile between these two lines.
const (
	measuredFile = "build/MEASURED.md"
	figuresBegin = "<!-- figures: go run ./cmd/check -only figures -long -update -->\n"
	figuresEnd   = "<!-- end of the figures -->\n"
)

// recorded reads the kept figures. None yet is no error.
func recorded() (map[string]figures, error) {
	kept := map[string]figures{}
	data, err := os.ReadFile(figuresFile)
	if errors.Is(err, fs.ErrNotExist) {
		return kept, nil
	}
	if err != nil {
		return nil, err
	}
	return kept, json.Unmarshal(data, &kept)
}

// record lays what a source counted over what it counted before, with -update only.
func (c *checker) record(source string, f figures) error {
	if !c.update {
		return nil
	}
	kept, err := recorded()
	if err != nil {
		return err
	}
	if kept[source] == nil || source != fuzzInputs && source != fuzzSeconds { // others count all together: what they no longer count goes
		kept[source] = figures{}
	}
	maps.Copy(kept[source], f)
	data, err := json.MarshalIndent(kept, "", "  ") // keys come sorted
	if err != nil {
		return err
	}
	return os.WriteFile(figuresFile, append(data, '\n'), 0o644)
}

// tableOfFigures compares the table with the kept figures; with -update it runs all that counts something and writes both.
func tableOfFigures(ctx context.Context, c *checker) (passed, failed int, err error) {
	if c.update {
		for _, run := range []func(context.Context, *checker) (int, int, error){countingTests, fuzz} {
			p, f, err := run(ctx, c)
			passed, failed = passed+p, failed+f
			if err != nil || f > 0 {
				return passed, failed, err
			}
		}
	}
	kept, err := recorded()
	if err != nil {
		return passed, failed, err
	}
	targets, err := fuzzTargets()
	if err != nil {
		return passed, failed, err
	}
	text, err := os.ReadFile(measuredFile)
	if err != nil {
		return passed, failed, err
	}
	before, rest, ok := strings.Cut(string(text), figuresBegin)
	old, after, ok2 := strings.Cut(rest, figuresEnd)
	if !ok || !ok2 {
		return passed, failed, fmt.Errorf("%s has no place for the figures: the lines %s%s", measuredFile, figuresBegin, figuresEnd)
	}
	table := tableOf(kept, targets)
	switch {
	case old == table:
		return passed + 1, failed, nil
	case c.update:
		return passed + 1, failed, os.WriteFile(measuredFile, []byte(before+figuresBegin+table+figuresEnd+after), 0o644)
	}
	return passed, failed + 1, fmt.Errorf("the figures of %s are not those of %s: go run ./cmd/check -only figures -fuzz 0 -update", measuredFile, figuresFile)
}

// tableOf writes the figures as Markdown: what tests and steps counted, then the fuzz targets that there are.
func tableOf(kept map[string]figures, targets []target) string {
	var b strings.Builder
	b.WriteString("\n| counted | |\n|---|---|\n")
	counted := figures{}
	for source, f := range kept {
		if source != fuzzInputs && source != fuzzSeconds {
			maps.Copy(counted, f)
		}
	}
	for _, name := range slices.Sorted(maps.Keys(counted)) {
		fmt.Fprintf(&b, "| %s | %s |\n", name, thousands(counted[name]))
	}
	b.WriteString("\n| fuzz target | inputs tried | in |\n|---|---|---|\n")
	all := 0
	for _, t := range targets {
		inputs, ok := kept[fuzzInputs][t.String()]
		if !ok {
			continue
		}
		all += inputs
		pkg, name, _ := strings.Cut(t.String(), " ")
		fmt.Fprintf(&b, "| `%s` in `%s` | %s | %s |\n", name, pkg, thousands(inputs), minutes(kept[fuzzSeconds][t.String()]))
	}
	fmt.Fprintf(&b, "| all | %s | |\n\n", thousands(all))
	return b.String()
}

// thousands writes a count with a comma behind every thousand.
func thousands(n int) string {
	s := strconv.Itoa(n)
	for i := len(s) - 3; i > 0; i -= 3 {
		s = s[:i] + "," + s[i:]
	}
	return s
}

func minutes(seconds int) string {
	if seconds < 60 {
		return fmt.Sprintf("%d s", seconds)
	}
	return fmt.Sprintf("%d min", seconds/60)
}

// countingTests runs the tests that count something, and records that by their package. With -target, those of some.
func countingTests(ctx context.Context, c *checker) (passed, failed int, err error) {
	packages, err := countingPackages()
	if err != nil {
		return 0, 0, err
	}
	for _, p := range packages {
		if !strings.Contains(p.dir, c.target) {
			continue
		}
		args := []string{"test", "-json", "-count=1", "-timeout", "4h", "-tags", c.tags(), p.dir, "-run", "^(" + strings.Join(p.tests, "|") + ")$"}
		out, testErr := exec.CommandContext(ctx, "go", args...).Output()
		ok, bad := c.count(bufio.NewScanner(bytes.NewReader(out)))
		passed, failed = passed+ok, failed+bad
		if testErr != nil {
			return passed, failed, testErr
		}
		counted := figures{}
		addFigures(counted, out)
		if err := c.record(strings.TrimPrefix(p.dir, "./"), counted); err != nil {
			return passed, failed, err
		}
	}
	return passed, failed, nil
}

// addFigures takes the figures out of test events: attributes of the form "what: count".
func addFigures(to figures, events []byte) {
	for line := range bytes.Lines(events) {
		var e event
		if json.Unmarshal(line, &e) != nil || e.Action != "attr" || e.Key != "figure" {
			continue
		}
		if at := strings.LastIndex(e.Value, ": "); at > 0 {
			if n, err := strconv.Atoi(e.Value[at+2:]); err == nil {
				to[e.Value[:at]] = n
			}
		}
	}
}

// counting is a package whose tests count something.
type counting struct {
	dir   string
	tests []string
}

var testFunc = regexp.MustCompile(`(?ms)^func (Test\w+)\(.*?^}`)

// countingPackages finds the packages with tests that count something, in order.
func countingPackages() ([]counting, error) {
	names, err := files(".")
	if err != nil {
		return nil, err
	}
	found := map[string][]string{}
	for _, n := range names {
		if !strings.HasSuffix(n, "_test.go") || strings.Contains(n, "node_modules") {
			continue
		}
		data, err := os.ReadFile(n)
		if err != nil {
			return nil, err
		}
		dir := "./" + filepath.ToSlash(filepath.Dir(n))
		for _, m := range testFunc.FindAllSubmatch(data, -1) {
			if bytes.Contains(m[0], []byte(`t.Attr("figure"`)) {
				found[dir] = append(found[dir], string(m[1]))
			}
		}
	}
	var out []counting
	for _, dir := range slices.Sorted(maps.Keys(found)) {
		out = append(out, counting{dir, found[dir]})
	}
	return out, nil
}
