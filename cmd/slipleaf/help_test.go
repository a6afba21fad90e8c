package main

import (
	"bytes"
	"context"
	"reflect"
	"regexp"
	"strings"
	"testing"
)

// Each example of a command's help is one line, with its columns as they are written; no flag waits for "".
func TestHelpKeepsItsExamplesInLines(t *testing.T) {
	t.Parallel()
	example := regexp.MustCompile(`^    \S.*:  +slipleaf [a-z]`)
	examples := 0
	for i := range reflect.TypeFor[commands]().NumField() {
		name := strings.ToLower(reflect.TypeFor[commands]().Field(i).Name)
		if name == "help" {
			continue
		}
		var out bytes.Buffer
		if got := run(context.Background(), []string{name, "--help"}, world{Out: &out, Err: &out}); got != done {
			t.Fatalf("%s --help ends with %d: %s", name, got, out.String())
		}
		for n, line := range strings.Split(out.String(), "\n") {
			if n > 0 && strings.Contains(line, "slipleaf ") {
				examples++
				if !example.MatchString(line) {
					t.Errorf("%s --help runs examples together: %q", name, line)
				}
			}
			if strings.Contains(line, `=""`) {
				t.Errorf("%s --help does not say what a flag takes: %q", name, line)
			}
		}
	}
	if examples < 20 {
		t.Errorf("only %d examples", examples)
	}
}
