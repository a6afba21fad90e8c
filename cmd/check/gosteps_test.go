package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// A test that is skipped in one run must be there for the other, under the name by which both know it.
func TestToilsomeTestsAreWhereTheyAreRun(t *testing.T) {
	for pkg, names := range toilsome {
		files, err := filepath.Glob(filepath.Join("../..", strings.TrimPrefix(pkg, "slipleaf/"), "*_test.go"))
		if err != nil || len(files) == 0 {
			t.Fatal(pkg, err)
		}
		var all strings.Builder
		for _, f := range files {
			b, err := os.ReadFile(f)
			if err != nil {
				t.Fatal(err)
			}
			all.Write(b)
		}
		for _, n := range names {
			if !strings.Contains(all.String(), "\nfunc "+n+"(") {
				t.Errorf("%s has no %s", pkg, n)
			}
		}
	}
}
