// Package build_test holds what is true of the compiler as a whole.
package build_test

import (
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// mayImport is the one-way flow: what each package may import of ours. A package that is not listed fails, and so
// does a permission that is not used.
var mayImport = map[string]string{
	"spelling":    "",
	"fingerprint": "",
	"quantity":    "spelling",
	"chart":       "",
	"draw":        "",
	"prose":       "",
	"reckon":      "quantity spelling",
	"dynamics":    "quantity reckon",
	"topic":       "quantity reckon dynamics",
	"almanac":     "quantity spelling",
	"block":       "quantity journal",
	"journal":     "quantity almanac",
	"ledger":      "quantity almanac journal reckon",
	"growth":      "quantity almanac journal ledger reckon dynamics",
	"sheet":       "quantity almanac journal ledger reckon growth",
	"feed":        "quantity almanac journal ledger schema",
	"page":        "quantity almanac journal ledger reckon dynamics growth sheet feed chart draw prose block picture schema words theme papers",
	"words":       "quantity almanac journal ledger",
	"papers":      "quantity journal sheet words theme draw",
	"theme":       "journal words",
	"picture":     "",
	"schema":      "quantity journal",
	"site":        "quantity almanac journal ledger growth sheet page feed prose picture schema theme",
	"gather":      "",
	"preview":     "quantity journal page site theme",
}

// impure are the packages that touch disk, network or clock; all others are pure.
var impure = []string{"site", "preview", "gather"}

// refused is what a pure package does not import.
var refused = []string{"os", "net", "net/http", "os/exec", "math/rand", "log"}

func TestFlowIsOneWay(t *testing.T) {
	dirs, err := os.ReadDir(".")
	if err != nil {
		t.Fatal(err)
	}
	for _, d := range dirs {
		if !d.IsDir() || d.Name() == "testdata" {
			continue
		}
		allowed, listed := mayImport[d.Name()]
		if !listed {
			t.Errorf("package %s has no place in the flow: add it to mayImport", d.Name())
			continue
		}
		for file, imports := range importsOf(t, d.Name()) {
			for _, imp := range imports {
				checkImport(t, d.Name(), file, imp, strings.Fields(allowed))
			}
		}
	}
}

func checkImport(t *testing.T, pkg, file, imp string, allowed []string) {
	t.Helper()
	ours, isOurs := strings.CutPrefix(imp, "slipleaf/")
	test := strings.HasSuffix(file, "_test.go")
	switch {
	case isOurs && strings.HasPrefix(ours, "build/") && path.Base(ours) != pkg && !slices.Contains(allowed, path.Base(ours)) && !test:
		t.Errorf("%s imports %s: data flows one way, and %s comes later", file, imp, path.Base(ours))
	case isOurs && strings.HasPrefix(ours, "cmd/"):
		t.Errorf("%s imports a command", file)
	case isOurs && ours == "themes" && pkg != "site" && pkg != "preview" && !test:
		t.Errorf("%s imports the themes: a page gets its theme handed in", file)
	case !test && !slices.Contains(impure, pkg) && slices.Contains(refused, imp):
		t.Errorf("%s imports %s: only %s touch disk, network and clock", file, imp, strings.Join(impure, ", "))
	}
}

func TestPurePackagesReadNoClock(t *testing.T) {
	for pkg := range mayImport {
		if slices.Contains(impure, pkg) {
			continue
		}
		for _, file := range goFiles(t, pkg) {
			b, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			for _, call := range []string{"time.Now(", "time.Since(", "time.After("} {
				if !strings.HasSuffix(file, "_test.go") && strings.Contains(string(b), call) {
					t.Errorf("%s calls %s): a pure package knows no clock", file, call)
				}
			}
		}
	}
}

// importsOf lists the imports of each file of a package, tests included.
func importsOf(t *testing.T, pkg string) map[string][]string {
	t.Helper()
	out := map[string][]string{}
	for _, file := range goFiles(t, pkg) {
		f, err := parser.ParseFile(token.NewFileSet(), file, nil, parser.ImportsOnly)
		if err != nil {
			t.Fatal(err)
		}
		for _, i := range f.Imports {
			p, err := strconv.Unquote(i.Path.Value)
			if err != nil {
				t.Fatal(err)
			}
			out[file] = append(out[file], p)
		}
	}
	return out
}

func goFiles(t *testing.T, pkg string) []string {
	t.Helper()
	var out []string
	err := filepath.WalkDir(pkg, func(p string, d fs.DirEntry, err error) error {
		if err == nil && strings.HasSuffix(p, ".go") {
			out = append(out, p)
		}
		return err
	})
	if err != nil && !os.IsNotExist(err) {
		t.Fatal(err)
	}
	return out
}
