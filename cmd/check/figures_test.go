package main

import (
	"bufio"
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"flag"
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
	"testing"
)

// figures are counts by what was counted.
type figures map[string]int

// figuresFile keeps what the runs counted, by source, so that a run of hours need not be repeated for one of minutes.
var figuresFile = filepath.Join("testdata", "figures.json")

// The table of figures is in measuredFile between these two lines.
const (
	measuredFile = "build/MEASURED.md"
	figuresBegin = "<!-- figures: go test ./cmd/check -run Figures -update -long -span 10m -timeout 24h -->\n"
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

// record lays what a source counted over what it counted before.
func record(source string, f figures) error {
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

var (
	update = flag.Bool("update", false, "count what tests and fuzzing count, and write it down")
	long   = flag.Bool("long", false, "with -update: the long tests too")
	span   = flag.Duration("span", 0, "with -update: how long each fuzz target runs; 0: not at all")
	some   = flag.String("target", "", "with -update: count only what has this word in its package (and a fuzz target's name)")
)

// TestFigures holds the table of the measured figures against what is kept. With -update it runs all that counts something first.
func TestFigures(t *testing.T) {
	t.Chdir("../..")
	if *update {
		c := &checker{out: os.Stdout, long: *long, fuzz: *span, target: *some}
		c.tried = func(target string, inputs int) error {
			return errors.Join(record(fuzzInputs, figures{target: inputs}), record(fuzzSeconds, figures{target: int(span.Seconds())}))
		}
		for _, run := range []func(context.Context, *checker) (int, int, error){countingTests, fuzz} {
			if _, failed, err := run(t.Context(), c); err != nil || failed > 0 {
				t.Fatal(failed, err)
			}
		}
	}
	kept, err := recorded()
	targets, err2 := fuzzTargets()
	text, err3 := os.ReadFile(measuredFile)
	if err := errors.Join(err, err2, err3); err != nil {
		t.Fatal(err)
	}
	before, rest, ok := strings.Cut(string(text), figuresBegin)
	old, after, ok2 := strings.Cut(rest, figuresEnd)
	if !ok || !ok2 {
		t.Fatalf("%s has no place for the figures: the lines %s%s", measuredFile, figuresBegin, figuresEnd)
	}
	table := tableOf(kept, targets)
	if *update {
		if err := os.WriteFile(measuredFile, []byte(before+figuresBegin+table+figuresEnd+after), 0o644); err != nil {
			t.Fatal(err)
		}
	} else if old != table {
		t.Errorf("the figures of %s are not those of %s: go test ./cmd/check -run Figures -update", measuredFile, figuresFile)
	}
}

// The sources under which the inputs of each target are recorded, and for how long it ran.
const fuzzInputs, fuzzSeconds = "fuzz inputs", "fuzz seconds"

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
	tags := "browser"
	if c.long {
		tags = "browser,long"
	}
	for _, p := range packages {
		if !strings.Contains(p.dir, c.target) {
			continue
		}
		args := []string{"test", "-json", "-count=1", "-timeout", "4h", "-tags", tags, p.dir, "-run", "^(" + strings.Join(p.tests, "|") + ")$"}
		out, testErr := exec.CommandContext(ctx, "go", args...).Output()
		ok, bad := c.count(bufio.NewScanner(bytes.NewReader(out)))
		passed, failed = passed+ok, failed+bad
		if testErr != nil {
			return passed, failed, testErr
		}
		counted := figures{}
		addFigures(counted, out)
		if err := record(strings.TrimPrefix(p.dir, "./"), counted); err != nil {
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

func TestFiguresOfTests(t *testing.T) {
	got, events := figures{}, `{"Action":"attr","Test":"A","Key":"figure","Value":"kills survived, of send: 25"}
{"Action":"attr","Test":"A","Key":"other","Value":"x: 3"}
{"Action":"attr","Test":"A","Key":"figure","Value":"nothing"}
{"Action":"output","Test":"A","Output":"x: 4"}
no JSON
`
	addFigures(got, []byte(events))
	var said strings.Builder
	if (&checker{out: &said}).count(bufio.NewScanner(strings.NewReader(events))); said.String() != "   kills survived, of send: 25\n   nothing\n   no JSON\n" {
		t.Errorf("the checks print %q", said.String())
	}
	if want := (figures{"kills survived, of send": 25}); !maps.Equal(got, want) {
		t.Errorf("%v", got)
	}
	packages, err := countingPackages()
	if err != nil || len(packages) != 1 || !slices.Contains(packages[0].tests, "TestHostileAddressesAreRefused") || slices.Contains(packages[0].tests, "TestFiguresOfTests") {
		t.Errorf("%v, %v", packages, err)
	}
}

func TestTableOfFigures(t *testing.T) {
	got := tableOf(map[string]figures{
		"build/y": {"b": 1234567, "a": 12}, "build/z": {"c": 100}, fuzzInputs: {"build/x FuzzA": 1000, "build/gone FuzzB": 5}, fuzzSeconds: {"build/x FuzzA": 600},
	}, []target{{"./build/x", "FuzzA"}, {"./build/x", "FuzzNew"}})
	want := "\n| counted | |\n|---|---|\n| a | 12 |\n| b | 1,234,567 |\n| c | 100 |\n" +
		"\n| fuzz target | inputs tried | in |\n|---|---|---|\n| `FuzzA` in `build/x` | 1,000 | 10 min |\n| all | 1,000 | |\n\n"
	if got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}
